"""A case as the creator sees it: what it is, the numbers, the findings with sources, and why it is here."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

import discord

from bot.platform.buttons import button, view_of
from bot.queue.rulings import Ruling
from bot.store.cases import Case
from bot.words.clean import clean_words, cut
from bot.words.finding import Scene
from bot.words.more import long_reply
from bot.words.phrases import Phrases
from rules.assessment import Jurisdiction

EMBED = 4000  # of the platform's 4,096, so that a mark of the cut fits


@dataclass(frozen=True, slots=True)
class CardText:
    """`head` is the post, `body` the embed under it, `rest` what did not fit and stands behind a button."""

    head: str
    body: str
    rest: str

    @property
    def fingerprint(self) -> str:
        return hashlib.sha256(f"{self.head}\0{self.body}".encode()).hexdigest()[:16]


def people_words(words: Phrases, people: int) -> str:
    return (
        words.raw("platform_desk", "people_one") if people == 1 else words.say("platform_desk", "people", people=people)
    )


def card_text(words: Phrases, case: Case, ruling: Ruling | None, region: Jurisdiction) -> CardText:
    head = words.say(
        "platform_desk",
        "head",
        case=case.id,
        title=cut(clean_words(case.title), 90),
        verdict=words.raw("verdict", case.verdict) if case.verdict else "",
        people=people_words(words, case.people),
        score=f"{case.score:.2f}",
        state=words.raw("platform_desk", f"state_{case.state}"),
    )
    if ruling is not None:
        said = words.raw("verdict", ruling.verdict)
        quoted = cut(clean_words(ruling.words), 400)
        head += "\n" + words.say("platform_desk", "ruled", verdict=said, words=quoted)
    if case.why:
        head += f"\n{words.raw('platform_desk', 'why')}: " + "; ".join(case.why)
    body, rest = split(numbers(words, case, ruling, region), EMBED)
    return CardText(head=cut(head, 1900), body=body, rest=rest)


def numbers(words: Phrases, case: Case, ruling: Ruling | None, region: Jurisdiction) -> str:
    """The long form of a case: every line with its w/w %, the measures, findings and sources."""
    if case.recipe is None or case.assessment is None:
        return words.raw("platform_desk", "no_recipe")
    return long_reply(Scene.of(case.recipe, case.assessment, words), region, ruling)


def card_embed(text: CardText) -> discord.Embed:
    return discord.Embed(description=text.body)


def card_view(words: Phrases, case: Case, rest: bool) -> discord.ui.View:
    """Correct and rule need a recipe."""
    acts = ["take", "drop"]
    if case.recipe is not None:
        acts[1:1] = ["correct", "rule"]
    acts.append("undo")
    items = [
        button(f"desk_{act}", case.id, words.raw("platform_desk", act), primary=act == "take", row=0) for act in acts
    ]
    if rest:
        items.append(button("desk_numbers", case.id, words.raw("platform_desk", "all_numbers"), row=1))
    return view_of(*items)


def split(text: str, limit: int) -> tuple[str, str]:
    """The head of a text up to `limit` characters, cut at a line, else at a word; and what is left."""
    if len(text) <= limit:
        return text, ""
    place = text.rfind("\n", 0, limit)
    if place < limit // 2:
        place = text.rfind(" ", 0, limit)
    place = place if place > 0 else limit
    return text[:place].rstrip(), text[place:].lstrip()


def pages(text: str, limit: int) -> list[str]:
    """All of a text in pieces of at most `limit` characters."""
    found = []
    while text:
        head, text = split(text, limit)
        found.append(head)
    return found or [""]
