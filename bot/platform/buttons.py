"""Buttons and selects whose id says all, `wg:act:argument`, so that they outlive a restart."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from typing import Any, Self

import discord
from discord import ui

from bot.words.phrases import Phrases, languages, load_phrases
from rules.recipe import Site

ID = re.compile(r"wg:(?P<act>[a-z_]{1,20}):(?P<argument>[0-9A-Za-z_.,-]{0,60})")
Press = Callable[[discord.Interaction, str, str, list[str]], Awaitable[None]]
MORE, REMOVE, PLACE = "more", "remove", "place"


def custom_id(act: str, argument: object) -> str:
    return f"wg:{act}:{argument}"


class Pressed(ui.DynamicItem[ui.Item[Any]], template=ID):
    """Any of our components; the press goes to `house_press` of the client that received it."""

    def __init__(self, item: ui.Item[Any], act: str, argument: str) -> None:
        super().__init__(item)
        self.act, self.argument = act, argument

    @classmethod
    async def from_custom_id(
        cls, _interaction: discord.Interaction, item: ui.Item[Any], match: re.Match[str], /
    ) -> Self:
        return cls(item, match["act"], match["argument"])

    async def callback(self, interaction: discord.Interaction) -> None:
        values = list(getattr(self.item, "values", []))
        await interaction.client.pressed(interaction, self.act, self.argument, values)  # type: ignore[attr-defined]


def button(
    act: str, argument: object, label: str, *, primary: bool = False, row: int | None = None
) -> Pressed:
    style = discord.ButtonStyle.primary if primary else discord.ButtonStyle.secondary
    made: ui.Button[ui.View] = ui.Button(
        style=style, label=label, custom_id=custom_id(act, argument), row=row
    )
    return Pressed(made, act, str(argument))


def select(
    act: str, argument: object, prompt: str, options: list[tuple[str, str]], *, chosen: str | None = None
) -> Pressed:
    """`options` are (value, label) pairs, at most 25."""
    made: ui.Select[ui.View] = ui.Select(
        custom_id=custom_id(act, argument),
        placeholder=prompt,
        options=[
            discord.SelectOption(label=label[:100], value=value, default=value == chosen)
            for value, label in options[:25]
        ],
    )
    return Pressed(made, act, str(argument))


def view_of(*items: Pressed) -> ui.View:
    view = ui.View(timeout=None)
    for item in items:
        view.add_item(item)
    return view


def reply_view(words: Phrases, message_id: str, *, more: bool, asks_place: bool, public: bool) -> ui.View:
    """What stands under a reply: the place where it must ask, the numbers, and the way out."""
    items: list[Pressed] = []
    if asks_place:
        sites = [(site.value, words.raw("site", site)) for site in Site]
        items.append(select(PLACE, message_id, words.raw("platform", "place_prompt"), sites))
    if more:
        items.append(button(MORE, message_id, words.raw("platform", "more_button")))
    if public:
        items.append(button(REMOVE, message_id, words.raw("platform", "remove_button")))
    return view_of(*items)


def asks_for_place(text: str) -> bool:
    """Whether a reply ends in the question where it goes, in any language that we write."""
    phrases = (load_phrases(language).raw("question", "where_does_it_go") for language in languages())
    return any(phrase in text for phrase in phrases)
