"""The buttons under a reply: the numbers, the place, the way out."""

from __future__ import annotations

import discord

from bot.platform.answers import acknowledge, tell, whisper
from bot.platform.follow import Follow
from bot.platform.house import House
from bot.platform.placed import without_place
from bot.platform.rights import Rights
from bot.store.replies import Reply
from rules.recipe import Site


class ReplyPresses:
    """Each act checks by itself whether the presser may; ids come from outside and are looked up, never trusted."""

    def __init__(self, house: House, follow: Follow, rights: Rights) -> None:
        self._house, self._follow, self._rights = house, follow, rights

    async def more(self, interaction: discord.Interaction, message_id: str, _values: list[str]) -> None:
        answers = await self._house.outbox.answers(message_id)
        # The last one: a later answer took the place of those before it.
        text = next((answer.more for answer in reversed(answers) if answer.more), None)
        if text:
            await whisper(interaction, text)
        else:
            await tell(interaction, "no_more")

    async def remove(self, interaction: discord.Interaction, message_id: str, _values: list[str]) -> None:
        known = await self._house.replies.get(message_id)
        if known is None or not self._may(interaction, known):
            await tell(interaction, "gone" if known is None else "not_yours")
            return
        if (news := self._beside(interaction, known)) is not None:
            known = known.model_copy(update={"reply_id": str(news)})
        else:
            await self._house.replies.remove(known.message_id, known.channel)
        await tell(interaction, "removed")
        await self._follow.take_down(known)

    async def place(self, interaction: discord.Interaction, message_id: str, values: list[str]) -> None:
        known = await self._house.replies.get(message_id)
        place = next((site for site in Site if [site.value] == values), None)
        if known is None or place is None or not known.text:
            await tell(interaction, "gone")
            return
        if self._author(interaction) != known.author_key:
            await tell(interaction, "not_yours")
            return
        if await acknowledge(interaction):
            await self._follow.revise(known, without_place(known.text)[0], place)

    def _beside(self, interaction: discord.Interaction, known: Reply) -> int | None:
        """The post of ours that was pressed, where it is another than the answer: news of an episode."""
        post, me = interaction.message, interaction.client.user
        ours = post is not None and me is not None and post.author.id == me.id
        return post.id if ours and post is not None and known.reply_id not in (None, str(post.id)) else None

    def _author(self, interaction: discord.Interaction) -> str:
        return self._house.people.key(str(interaction.user.id))

    def _may(self, interaction: discord.Interaction, known: Reply) -> bool:
        """The one who asked, and those who keep order in the channel."""
        return (
            self._author(interaction) == known.author_key
            or interaction.permissions.manage_messages
            or self._rights.creator(interaction)
        )
