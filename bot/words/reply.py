"""The short reply to one recipe: verdict first, the reason that decides, the safer way, what was not
understood."""

from __future__ import annotations

from dataclasses import dataclass

from bot.queue.rulings import Ruling
from bot.words.clean import clean_words, cut
from bot.words.finding import Scene, instead, reason, sentence, virtue
from bot.words.names import product_name
from nlp.reading import Note
from rules.assessment import Condition, Finding, Severity, Verdict
from rules.products import load_products

LIMIT = 500
NAMES_SHOWN = 2
REASONS = 2
ONLY_IN_MORE = frozenset({"allergen"})  # true of most recipes: said with the numbers, not in passing


@dataclass(frozen=True, slots=True)
class Piece:
    """A sentence with its place in the reply and how much it matters (0 = most)."""

    weight: int
    text: str


def short_reply(scene: Scene, notes: frozenset[Note], ruling: Ruling | None = None, limit: int = LIMIT) -> str:
    """At most `limit` characters; whole sentences go first where room is short, the verdict never."""
    phrases = scene.phrases
    if ruling is not None:
        head = phrases.raw("ruled", ruling.verdict)
        pieces = [Piece(0, head), Piece(1, sentence(clean_words(ruling.words)))]
    else:
        pieces = [Piece(0, phrases.raw("verdict", scene.assessment.verdict)), *_because(scene)]
    pieces += [Piece(2, _not_understood(scene)), Piece(5, _notes(scene, notes))]
    pieces.append(Piece(3, phrases.raw("frame", "caution_short")))
    return fit(pieces, limit)


def fit(pieces: list[Piece], limit: int) -> str:
    """Joins what fits, in the order given; the heaviest choose first, and only weights 0 to 2 may be cut."""
    room = limit
    chosen: dict[int, str] = {}
    reserve = sum(len(piece.text) + 1 for piece in pieces if piece.weight == 2 and piece.text)
    for place, piece in sorted(enumerate(pieces), key=lambda pair: pair[1].weight):
        if not piece.text:
            continue
        kept_back = reserve if piece.weight == 1 else 0  # the verdict itself never makes room
        text = piece.text
        if len(text) > room - kept_back:
            text = cut(text, room - kept_back) if piece.weight <= 2 and room - kept_back > 60 else ""
        if text:
            chosen[place] = text
            room -= len(text) + 1
        if piece.weight == 2:
            reserve -= len(piece.text) + 1
    return " ".join(chosen[place] for place in sorted(chosen))


def deciding(scene: Scene) -> list[Finding]:
    """The findings that stand behind a verdict, the gravest first, one a hazard; notes never decide."""
    grave = (finding for finding in scene.ranked() if finding.severity is not Severity.NOTE)
    by_hazard: dict[str, Finding] = {}
    for finding in grave:
        by_hazard.setdefault(finding.hazard, finding)
    return list(by_hazard.values())


def _because(scene: Scene) -> list[Piece]:
    verdict = scene.assessment.verdict
    if verdict is Verdict.FINE:
        return _why_fine(scene)
    findings = deciding(scene)
    if verdict is Verdict.UNCLEAR:
        # What must be asked decides; a reason that would have decided by itself has another verdict.
        asked = question(scene) or scene.phrases.raw("frame", "nothing_known")
        return [Piece(1, asked), *(Piece(4, reason(scene, finding)) for finding in findings[:1])]
    reasons = [reason(scene, finding) for finding in findings[:REASONS]]
    ways = list(dict.fromkeys(instead(scene, finding) for finding in findings[:REASONS]))
    return [
        *(Piece(4 if place else 1, text) for place, text in enumerate(reasons)),
        *(Piece(6 if place else 1, text) for place, text in enumerate(ways)),
    ]


def _why_fine(scene: Scene) -> list[Piece]:
    said = [text for sound in scene.assessment.virtues if (text := virtue(scene, sound))]
    notes = [finding for finding in scene.ranked() if finding.reason not in ONLY_IN_MORE]
    pieces = [Piece(1 + index, text) for index, text in enumerate(said[:1])]
    if not said:
        key = "only_notes" if notes else "nothing_found"
        pieces.append(Piece(1, scene.phrases.raw("frame", key)))
    if notes:
        pieces.append(Piece(4, reason(scene, notes[0])))
        pieces.append(Piece(6, instead(scene, notes[0])))
    pieces += [Piece(5, text) for text in said[1:2]]
    return pieces


def question(scene: Scene) -> str:
    """The one thing to ask, where the assessment names one."""
    key = scene.assessment.question
    if key is None:
        return ""
    names = unknown_names(scene)
    facts = {
        "name": names[0] if names else "",
        "names": ", ".join(names[:NAMES_SHOWN]),
        "substance": scene.substance_name(scene.assessment.asked_about) or (names[0] if names else ""),
        "site": "",
    }
    return scene.phrases.try_say("question", key, facts) or ""


def unknown_names(scene: Scene) -> list[str]:
    """Cleaned names of the lines that were not understood, each once."""
    lines = (scene.recipe.lines[index] for index in scene.assessment.not_understood)
    return list(dict.fromkeys(scene.line_name(line) for line in lines))


def _not_understood(scene: Scene) -> str:
    names = unknown_names(scene)
    if not names:
        return ""
    phrases = scene.phrases
    shown = names[:NAMES_SHOWN]
    if len(names) > NAMES_SHOWN:
        count = len(names) - NAMES_SHOWN
        return phrases.say("frame", "not_understood_many", names=", ".join(shown), count=count)
    return phrases.say("frame", "not_understood", names=f" {phrases.raw('frame', 'and')} ".join(shown))


def _notes(scene: Scene, notes: frozenset[Note]) -> str:
    known = (Note.AMOUNT_UNCLEAR, Note.CHOICE, Note.CUT_SHORT)
    chosen = any(finding.condition is Condition.IF_CHOSEN for finding in scene.assessment.findings)
    told = notes if chosen else notes - {Note.CHOICE}  # a choice that changes nothing is no news
    said = [scene.phrases.raw("frame", note) for note in known if note in told]
    product = load_products().get(scene.assessment.taken_for or "")
    if product is not None:
        said.insert(0, scene.phrases.say("frame", "use_guessed", product=product_name(product, scene.phrases)))
    return " ".join(said)
