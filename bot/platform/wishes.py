"""What a fan may wish for beside an answer: to be told of the episode, and to have the own words shown or not."""

from __future__ import annotations

import discord

from bot.platform.answers import tell, whisper
from bot.platform.buttons import SHOW, button, view_of
from bot.platform.forms import CREDIT, filled, show_form
from bot.platform.house import House
from bot.platform.tongue import of_press
from bot.words.clean import clean_words, cut
from bot.words.phrases import load_phrases


class Wishes:
    """Only the one who asked has them: of nobody else a way back is kept. Whatever is said is seen by them alone."""

    def __init__(self, house: House) -> None:
        self._house = house

    async def follow(self, interaction: discord.Interaction, message_id: str, _values: list[str]) -> None:
        """The first press asks to be told once, the second takes that back."""
        if not await self._theirs(interaction, message_id):
            return
        words, followers = load_phrases(of_press(interaction)), self._house.followers
        if (address := await followers.covered(message_id)) is not None:
            said = words.say("platform", "follow_covered", address=address)
        elif await followers.asked(message_id):
            await followers.withdraw(message_id)
            said = words.raw("platform", "follow_off")
        else:
            await followers.ask(message_id, self._house.clock())
            said = words.raw("platform", "follow_on")
        view = view_of(button(SHOW, message_id, words.raw("platform", "show_button")))
        await whisper(interaction, f"{said}\n{words.raw('platform', 'show_ask')}", view)

    async def show(self, interaction: discord.Interaction, message_id: str, _values: list[str]) -> None:
        """The first press opens the form that is the yes, the second takes it back."""
        if not await self._theirs(interaction, message_id):
            return
        if await self._house.consents.given(message_id):
            await self._house.consents.withdraw(message_id)
            await tell(interaction, "show_off")
        else:
            await interaction.response.send_modal(show_form(load_phrases(of_press(interaction)), message_id))

    async def shown(self, interaction: discord.Interaction, message_id: str, _values: list[str]) -> None:
        """The form was sent: a yes, with the name that was given, or without one."""
        if not await self._theirs(interaction, message_id):
            return
        credit = cut(clean_words(filled(interaction.data or {}).get("credit", "").replace("@", "")), CREDIT)
        await self._house.consents.give(message_id, credit, self._house.clock())
        if credit:
            await tell(interaction, "show_on_named", credit=discord.utils.escape_markdown(credit))
        else:
            await tell(interaction, "show_on")

    async def show_none(self, interaction: discord.Interaction, _argument: str, _values: list[str]) -> None:
        """Every yes of this person is taken back."""
        await self._house.consents.withdraw_all(self._key(interaction))
        await tell(interaction, "shown_off", "platform_data")

    async def _theirs(self, interaction: discord.Interaction, message_id: str) -> bool:
        """Whether the presser asked about this message; else they are told why not."""
        known = await self._house.replies.get(message_id)
        theirs = known is not None and known.author_key == self._key(interaction)
        if not theirs:
            await tell(interaction, "gone" if known is None else "follow_not_yours")
        return theirs

    def _key(self, interaction: discord.Interaction) -> str:
        return self._house.people.key(str(interaction.user.id))
