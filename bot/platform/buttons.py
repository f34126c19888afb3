"""Buttons and selects whose id says all, `wg:act:argument`, so that they outlive a restart."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from functools import lru_cache

import discord
from discord import ui

from bot.words.phrases import Phrases, languages, load_phrases
from rules.recipe import Site

ID = re.compile(r"wg:(?P<act>[a-z_]{1,20}):(?P<argument>[0-9A-Za-z_.,-]{0,60})")
Item = ui.Item[ui.View]
Press = Callable[[discord.Interaction, str, list[str]], Awaitable[None]]
GAP = re.compile(r"\{[^{}]*\}")
MORE, REMOVE, PLACE, FOLLOW, SHOW = "more", "remove", "place", "follow", "show"


def custom_id(act: str, argument: object) -> str:
    return f"wg:{act}:{argument}"


def button(act: str, argument: object, label: str, *, primary: bool = False, row: int | None = None) -> Item:
    style = discord.ButtonStyle.primary if primary else discord.ButtonStyle.secondary
    return ui.Button(style=style, label=label, custom_id=custom_id(act, argument), row=row)


def select(
    act: str, argument: object, prompt: str, options: list[tuple[str, str]], *, chosen: str | None = None
) -> Item:
    """`options` are (value, label) pairs, at most 25."""
    return ui.Select(
        custom_id=custom_id(act, argument),
        placeholder=prompt,
        options=[
            discord.SelectOption(label=label[:100], value=value, default=value == chosen)
            for value, label in options[:25]
        ],
    )


def view_of(*items: Item) -> ui.View:
    """Stopped at once: the library then keeps nothing of it, and presses come by their id alone."""
    view = ui.View(timeout=None)
    for item in items:
        view.add_item(item)
    view.stop()
    return view


def reply_view(words: Phrases, message_id: str, *, more: bool, asks_place: bool, public: bool) -> ui.View:
    """What stands under a reply: the place where it must ask, the numbers, the wish to be told, and the way out.

    The answer to a command is seen by its sender alone, who could not be found again to be told.
    """
    items: list[Item] = []
    if asks_place:
        sites = [(site.value, words.raw("site", site)) for site in Site]
        items.append(select(PLACE, message_id, words.raw("platform", "place_prompt"), sites))
    if more:
        items.append(button(MORE, message_id, words.raw("platform", "more_button")))
    if more and public:
        items.append(button(FOLLOW, message_id, words.raw("platform", "follow_button")))
    if public:
        items.append(button(REMOVE, message_id, words.raw("platform", "remove_button")))
    return view_of(*items)


def asks_for_place(text: str) -> bool:
    """Whether a reply asks where it goes, in any language that we write."""
    return any(pattern.search(text) for pattern in _place_questions())


@lru_cache(maxsize=1)
def _place_questions() -> tuple[re.Pattern[str], ...]:
    asked = (
        load_phrases(language).raw(table, key)
        for language in languages()
        for table, key in (("question", "where_does_it_go"), ("kind", "question_no_site"))
    )
    return tuple(re.compile(".{1,80}".join(map(re.escape, GAP.split(phrase)))) for phrase in asked)
