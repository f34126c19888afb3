"""The one way through: a text in; reading, judgement, interest and words out. No clock, no disk, no
network."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

from bot.correction import amend
from bot.queue.interest import NO_INTEREST, THRESHOLD, History, Interest, Weights, interest
from bot.queue.likeness import Sketch, sketch
from bot.queue.rulings import Ruling
from bot.words.answers import kind_reply, question_reply, several, unanswered
from bot.words.clean import whole_characters
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.phrases import Phrases, load_phrases
from bot.words.reply import LIMIT, short_reply
from bot.words.urgent import urgent_reply
from nlp.reading import Emergency, Kind, Note, Reading
from rules.assessment import Assessment, Jurisdiction
from rules.recipe import Frozen, Recipe

Judge = Callable[[Recipe, Jurisdiction], Assessment]
UNREAD_LANGUAGE = "other"
SILENT_KINDS = frozenset({Kind.URGENT, Kind.FOOD, Kind.SPAM, Kind.LINK_ONLY})


class Reads(Protocol):
    """What reads a text: `nlp.reader.Reader`."""

    def read(self, text: str) -> Reading: ...


class Recollection(Frozen):
    """What is known of a recipe before this message: its case, its history, a ruling that reaches it,
    and the address of an episode that covered it. `again`: the same author had it judged before."""

    case: int | None = None
    history: History = History(people=1)
    ruling: Ruling | None = None
    covered_at: str | None = None
    again: bool = False


@dataclass(frozen=True, slots=True)
class Context:
    """What a message meets: the author's last recipe, what is remembered of a recipe, and the creator's
    wishes."""

    last_recipe: Recipe | None = None
    recall: Callable[[Sketch], Recollection] = field(default=lambda _: Recollection())
    weights: Weights = field(default_factory=Weights)
    threshold: float = THRESHOLD
    with_more: bool = True


class Item(Frozen):
    """One recipe of a message with all that was found out about it."""

    recipe: Recipe
    assessment: Assessment
    sketch: Sketch
    interest: Interest
    case: int | None
    ruling: Ruling | None
    reply: str
    more: str


class Triage(Frozen):
    """The whole answer. `reply` is what is said; `more` is empty where there is nothing to add."""

    reading: Reading
    items: tuple[Item, ...]
    reply: str
    more: str
    interest: Interest
    amended: bool = False


class Judged(Frozen):
    """The heavy half: what the text says and what the rules make of it. `asked`: the author was asked about it."""

    reading: Reading
    recipes: tuple[Recipe, ...]
    assessments: tuple[Assessment, ...]
    sketches: tuple[Sketch, ...]
    amended: bool
    asked: bool = False


def triage(
    text: str, context: Context, *, reader: Reads, jurisdiction: Jurisdiction, judge: Judge | None = None
) -> Triage:
    """Everything about one message. Never raises for any text."""
    reading = reader.read(whole_characters(text))
    judged = weigh(reading, context.last_recipe, jurisdiction, judge)
    recalled = tuple(context.recall(known) for known in judged.sketches)
    return conclude(judged, recalled, context, jurisdiction)


def weigh(reading: Reading, last: Recipe | None, jurisdiction: Jurisdiction, judge: Judge | None = None) -> Judged:
    """Judges the recipes of a reading; a correction is judged as the last recipe amended."""
    recipes, amended = _recipes(reading, last)
    assess = judge or _rules
    assessments = tuple(assess(recipe, jurisdiction) for recipe in recipes)
    sketches = tuple(map(sketch, recipes, assessments))
    return Judged(
        reading=reading,
        recipes=recipes,
        assessments=assessments,
        sketches=sketches,
        amended=amended,
        asked=Note.ANSWERED in reading.notes
        or (amended and last is not None and assess(last, jurisdiction).question is not None),
    )


def conclude(
    judged: Judged, recalled: tuple[Recollection, ...], context: Context, jurisdiction: Jurisdiction
) -> Triage:
    """Interest and words, from what was judged and what is remembered of each recipe."""
    phrases = load_phrases(judged.reading.language)
    items = tuple(
        _item(judged, index, recollection, context, jurisdiction, phrases)
        for index, recollection in enumerate(recalled)
    )
    reading = judged.reading
    if not items:
        reply = _without_recipe(reading, jurisdiction, phrases)
        wish = _message_interest(reading, jurisdiction)
        return Triage(reading=reading, items=(), reply=reply, more="", interest=wish)
    reply = several([(item.recipe.product, item.reply) for item in items], phrases)
    if judged.amended:
        reply = several([(None, f"{phrases.raw('frame', 'amended')} {reply}")], phrases)
    return Triage(
        reading=reading,
        items=items,
        reply=reply,
        more="\n\n".join(item.more for item in items),
        interest=max((item.interest for item in items), key=lambda found: (found.queued, found.score)),
        amended=judged.amended,
    )


def _recipes(reading: Reading, last: Recipe | None) -> tuple[tuple[Recipe, ...], bool]:
    if reading.kind in SILENT_KINDS or reading.language == UNREAD_LANGUAGE:
        return (), False
    if reading.kind is Kind.CORRECTION:
        fragment = reading.recipes[0] if reading.recipes else None
        amended = amend(last, fragment) if last is not None and fragment is not None else None
        return ((amended,), True) if amended is not None else ((), False)
    return tuple(recipe for recipe in reading.recipes if recipe.lines), False


def _rules(recipe: Recipe, jurisdiction: Jurisdiction) -> Assessment:
    from rules.assess import assess  # the tables take a moment to load: only where something is judged

    return assess(recipe, jurisdiction=jurisdiction)


def _item(
    judged: Judged,
    index: int,
    recollection: Recollection,
    context: Context,
    jurisdiction: Jurisdiction,
    phrases: Phrases,
) -> Item:
    recipe, assessment, known = judged.recipes[index], judged.assessments[index], judged.sketches[index]
    once = judged.asked or recollection.again
    scene = Scene.of(recipe, _without_question(assessment) if once else assessment, phrases)
    return Item(
        recipe=recipe,
        assessment=assessment,
        sketch=known,
        interest=interest(
            recipe, assessment, known, recollection.history, context.weights, context.threshold, load_phrases()
        ),
        case=recollection.case,
        ruling=recollection.ruling,
        reply=_reply(scene, judged.reading.notes, recollection),
        more=long_reply(scene, jurisdiction, recollection.ruling) if context.with_more else "",
    )


def _without_question(assessment: Assessment) -> Assessment:
    """For the words only: nobody is asked twice about one recipe, whether or not there was an answer."""
    return assessment.model_copy(update={"question": None, "asked_about": None})


def _reply(scene: Scene, notes: frozenset[Note], recollection: Recollection) -> str:
    """The short reply; its end names the episode that covered the recipe."""
    if recollection.covered_at is None:
        return short_reply(scene, notes, recollection.ruling)
    covered = scene.phrases.say("frame", "covered_here", address=recollection.covered_at)
    room = LIMIT - len(covered) - 1
    return f"{short_reply(scene, notes, recollection.ruling, room)} {covered}"


def _without_recipe(reading: Reading, jurisdiction: Jurisdiction, phrases: Phrases) -> str:
    if reading.kind is Kind.URGENT:
        return urgent_reply(phrases, reading.emergency or Emergency.OTHER, jurisdiction, infant=reading.infant)
    if reading.language == UNREAD_LANGUAGE:
        return phrases.raw("kind", "other_language")
    if reading.kind is Kind.QUESTION and reading.question is not None:
        return question_reply(reading.question, jurisdiction, phrases)
    return kind_reply(reading, phrases)


def _message_interest(reading: Reading, jurisdiction: Jurisdiction) -> Interest:
    """A message in a language that is not read, or a question that the tables leave open, goes to the creator."""
    if reading.language != UNREAD_LANGUAGE and reading.kind is Kind.QUESTION and reading.question is not None:
        if not unanswered(reading.question, jurisdiction):
            return NO_INTEREST
        return Interest(queued=True, score=THRESHOLD, why=(load_phrases().raw("why", "question"),))
    if reading.language != UNREAD_LANGUAGE or reading.kind in SILENT_KINDS:
        return NO_INTEREST
    return Interest(queued=True, score=THRESHOLD, why=(load_phrases().raw("why", "language"),))
