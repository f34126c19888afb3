"""A note to the community when a recipe to avoid is being passed around: once, and never who posted it."""

from __future__ import annotations

import asyncio
import logging

import discord

from bot.platform.house import House
from bot.platform.notices import Notices
from bot.platform.outcome import Outcome, outcome_or_fault
from bot.platform.tongue import of_place
from bot.queue.likeness import LIKE, likeness
from bot.store.cases import Case
from bot.store.errors import StoreError
from bot.words.clean import clean_words, cut
from bot.words.finding import Scene
from bot.words.phrases import load_phrases
from bot.words.reply import short_reply
from rules.assessment import Verdict

log = logging.getLogger(__name__)
LONGEST = 2000
GATHERED = 0.2  # seconds in which tags are gathered
PAUSE_SECONDS = 30.0
LOOKED_BACK = 100


class Notes:
    """Written down before it is sent, so that it cannot be written twice; sent until it stands there."""

    def __init__(self, house: House, client: discord.Client, notices: Notices) -> None:
        self._house, self._client, self._notices = house, client, notices
        self._due = asyncio.Event()
        self._first = True

    def look(self) -> None:
        """A tag was answered: there may be something to note."""
        self._due.set()

    async def run(self) -> None:
        """For ever; ends when cancelled."""
        if self._house.settings.notes_channel is None:
            return
        self._due.set()
        while True:
            await self._due.wait()
            await asyncio.sleep(GATHERED)
            self._due.clear()
            try:
                await self._begin()
                await self._send()
            except StoreError as error:
                log.error("notes: %s", error)
                await self._again()
            except Exception as error:
                outcome = outcome_or_fault(error)
                log.warning("notes: %s (%s)", outcome.value, type(error).__name__)
                if outcome is Outcome.FORBIDDEN:
                    await self._notices.no_permission(str(self._house.settings.notes_channel), [])
                if outcome in (Outcome.LATER, Outcome.FORBIDDEN):
                    await self._again()

    async def _again(self) -> None:
        await asyncio.sleep(PAUSE_SECONDS)
        self._due.set()

    async def _begin(self) -> None:
        """Near-duplicates share one note: the later one is marked as needing none."""
        noted = await self._house.views.noted()
        for case in await self._house.views.without_note(self._house.settings.notes_threshold):
            ruling = await self._house.desk.rulings.standing(case.id)
            if case.sketch is None or (ruling is not None and ruling.verdict is not Verdict.AVOID):
                continue
            like = any(likeness(case.sketch, other) >= LIKE for other in noted)
            await self._house.views.begin_note(case.id, self._house.clock(), "" if like else None)
            noted.append(case.sketch)

    async def _send(self) -> None:
        channel = self._client.get_partial_messageable(self._house.settings.notes_channel or 0)
        for case in await self._house.views.unsent_notes():
            text = await self._text(case)
            message_id = await self._there(channel, text) if self._first else None
            if message_id is None:
                message_id = str((await channel.send(text, nonce=f"note-{case.id}")).id)
            await self._house.views.note_sent(case.id, message_id)
        self._first = False

    async def _there(self, channel: discord.PartialMessageable, text: str) -> str | None:
        """The same note of ours, where the program ended between sending and writing that down."""
        me = self._client.user
        async for post in channel.history(limit=LOOKED_BACK):
            if me is not None and post.author.id == me.id and post.content == text:
                return str(post.id)
        return None

    async def _text(self, case: Case) -> str:
        words = load_phrases(of_place(self._client.get_channel(self._house.settings.notes_channel or 0)))
        ruling = await self._house.desk.rulings.standing(case.id)
        if case.recipe is None or case.assessment is None:
            reply = words.raw("verdict", "avoid")
        else:
            reply = short_reply(Scene.of(case.recipe, case.assessment, words), frozenset(), ruling)
        return cut(words.say("platform_note", "text", title=clean_words(case.title), reply=reply), LONGEST)
