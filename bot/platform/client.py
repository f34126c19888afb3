"""The connection: the chat library without any privilege, and every event to its part."""

from __future__ import annotations

import asyncio
import hashlib
import json
import logging
from typing import Any

import discord
from discord import app_commands

from bot.platform.answers import tell
from bot.platform.browse import Browse
from bot.platform.buttons import ID, Press
from bot.platform.catchup import CatchUp
from bot.platform.commands import Commands
from bot.platform.delivery import Delivery
from bot.platform.deskview import DeskView
from bot.platform.follow import Follow
from bot.platform.house import House
from bot.platform.intake import Intake
from bot.platform.library import ODD, FairSocket, complete_application, complete_events
from bot.platform.notes import Notes
from bot.platform.notices import Notices
from bot.platform.operator import Operator
from bot.platform.outcome import outcome_of
from bot.platform.patience import Patience
from bot.platform.presses import ReplyPresses
from bot.platform.privacy import Privacy
from bot.platform.review import Review
from bot.platform.rights import Rights
from bot.platform.sender import Sender
from bot.platform.starts import RESERVE, TooManyStartsError, register_start, starts_left
from bot.platform.translation import CommandNames
from bot.platform.wishes import Wishes
from bot.store.errors import StoreError

log = logging.getLogger(__name__)
COMMANDS_MARK = "commands"
BETWEEN_STARTS = 5.0  # seconds; the platform takes no faster
LONGEST_INSIDE = 50.0  # the library gives up on a connection that is not there after a minute


def minimal_intents() -> discord.Intents:
    """Servers, and the posts in them; no privileged one: the platform shows the text of what mentions us."""
    intents = discord.Intents.none()
    intents.guilds = True
    intents.guild_messages = True
    return intents


class Tree(app_commands.CommandTree["Watchglass"]):
    async def on_error(self, interaction: discord.Interaction, error: app_commands.AppCommandError, /) -> None:
        await interaction.client.stumbled(interaction, getattr(error, "original", error))  # type: ignore[attr-defined]


class Watchglass(discord.Client):
    """One run of the bot. `parts` run beside it; the house outlives it."""

    def __init__(self, house: House) -> None:
        super().__init__(
            intents=minimal_intents(),
            allowed_mentions=discord.AllowedMentions.none(),
            max_messages=None,
            chunk_guilds_at_startup=False,
            member_cache_flags=discord.MemberCacheFlags.none(),
            guild_ready_timeout=1.0,
            enable_debug_events=False,
        )
        complete_events(self._connection)
        self.house = house
        self.intake = Intake(house)
        self.follow = Follow(house, self.intake, self)
        self.rights = Rights(house)
        self.notices = Notices(house, self)
        self.sender = Sender(house, self, Delivery(house, self), self.notices)
        self.desk = DeskView(house, self, self.notices)
        self.notes = Notes(house, self, self.notices)
        self.catch_up = CatchUp(house, self.intake, self)
        self.patience = Patience(house, self)
        self.operator = Operator(house, self.rights, self.sender, self)
        self.tree = Tree(self)
        self._browse = Browse(house, self.rights)
        self._commands = Commands(
            house, self.intake, self.rights, Privacy(house), self._browse, self.desk, self.operator
        )
        self._acts = self._press_table()

    def _press_table(self) -> dict[str, Press]:
        reply, review = ReplyPresses(self.house, self.follow, self.rights), Review(self.house, self.rights)
        wishes = Wishes(self.house)
        return {
            "more": reply.more,
            "remove": reply.remove,
            "place": reply.place,
            "follow": wishes.follow,
            "show": wishes.show,
            "shown": wishes.shown,
            "show_none": wishes.show_none,
            "paste": self._commands.pasted,
            "desk_take": review.take,
            "desk_correct": review.correct,
            "desk_corrected": review.corrected,
            "desk_rule": review.rule,
            "desk_ruled": review.ruled,
            "desk_drop": review.drop,
            "desk_undo": review.undo,
            "desk_numbers": review.numbers,
            "desk_page": self._browse.turn,
            "desk_sort": self._browse.sort,
            "desk_open": self._browse.case,
        }

    async def application_info(self) -> discord.AppInfo:
        """Who owns the bot; a server that does not say so has no owner, and only the owner's commands are lost."""
        assert self.user is not None  # signed in just before
        try:
            told = dict(await self.http.application_info())
        except discord.NotFound:
            told = {}
        whole: Any = complete_application(told, self.user)
        return discord.AppInfo(self._connection, whole)

    async def setup_hook(self) -> None:
        # The library offers no place to name the class of its socket; without this it is only less fair.
        self.http._HTTPClient__session._ws_response_class = FairSocket  # type: ignore[attr-defined]
        await self.tree.set_translator(CommandNames())
        self._commands.register(self.tree)
        await self.catch_up.start()
        await self._register_commands()
        await self._may_start()

    async def _register_commands(self) -> None:
        """Only when they changed: the platform counts registrations by day."""
        translator = self.tree.translator
        assert translator is not None  # set just before
        rows = [await command.get_translated_payload(self.tree, translator) for command in self.tree.get_commands()]
        now = hashlib.sha256(json.dumps([self.application_id, rows], sort_keys=True).encode()).hexdigest()
        if await self.house.views.mark(COMMANDS_MARK) == now:
            return
        try:
            await self.tree.sync()
        except (discord.HTTPException, *ODD) as error:
            log.error("the commands could not be registered: %s", type(error).__name__)
            return
        await self.house.views.set_mark(COMMANDS_MARK, now)

    async def before_identify_hook(self, shard_id: int | None, *, initial: bool = False) -> None:  # noqa: ARG002
        """The first start of a client was waited for in `setup_hook`, where nothing is timed out by the library."""
        if initial:
            return
        wait = max(BETWEEN_STARTS, await register_start(self.house))
        if wait > LONGEST_INSIDE:
            raise TooManyStartsError
        await asyncio.sleep(wait)

    async def _may_start(self) -> None:
        wait = max(await register_start(self.house), await self._until_reset())
        if wait:
            log.warning("the session starts in %.0f seconds", wait)
            await asyncio.sleep(wait)

    async def _until_reset(self) -> float:
        """Seconds until the platform grants starts again, where the day's are nearly used up."""
        starts = await starts_left(self)
        return starts.seconds if starts is not None and starts.left <= RESERVE else 0.0

    async def close(self) -> None:
        """The library's wait for the last server of a fresh session would outlive its own loop."""
        waiting = self._connection._ready_task
        if waiting is not None:
            waiting.cancel()
        await super().close()

    async def on_ready(self) -> None:
        """After every fresh session; a resumed one replays what was missed by itself."""
        log.info("connected to %d servers", len(self.guilds))
        self.sender.resume()
        await self._guarded("catch_up", self.catch_up.ready())

    async def on_connect(self) -> None:
        self.operator.linked = True
        self.catch_up.connected()

    async def on_resumed(self) -> None:
        self.operator.linked = True
        self.catch_up.resumed()

    async def on_disconnect(self) -> None:
        self.operator.linked = False
        self.catch_up.lost()

    async def on_message(self, message: discord.Message) -> None:
        if self.house.stopping.is_set() or self.user is None:
            return
        self.house.last_seen = max(self.house.last_seen, message.id)
        await self._guarded("accept", self._hear(message, self.user))

    async def _hear(self, message: discord.Message, me: discord.ClientUser) -> None:
        try:
            await self.intake.heard(message, me)
        except StoreError:
            self.catch_up.missed(message.id)
            raise

    async def on_raw_message_edit(self, payload: discord.RawMessageUpdateEvent) -> None:
        if not self.house.stopping.is_set() and self.user is not None:
            await self._guarded("edit", self.follow.edited(payload.message, self.user))

    async def on_raw_message_delete(self, payload: discord.RawMessageDeleteEvent) -> None:
        await self._guarded("delete", self.follow.deleted(payload.message_id))

    async def on_raw_bulk_message_delete(self, payload: discord.RawBulkMessageDeleteEvent) -> None:
        for message_id in payload.message_ids:
            await self._guarded("delete", self.follow.deleted(message_id))

    async def on_guild_channel_update(self, _before: object, _after: object) -> None:
        self.sender.resume()

    async def on_guild_role_update(self, _before: object, _after: object) -> None:
        self.sender.resume()

    async def on_member_update(self, _before: object, _after: object) -> None:
        self.sender.resume()

    async def _guarded(self, part: str, work: Any) -> None:
        """A disk that is full for a moment, or a fault of ours, costs this event and no other."""
        try:
            await work
        except StoreError as error:
            self.house.metrics.failures.labels(part).inc()
            log.error("%s: %s", part, error)
        except Exception as error:
            if self.is_closed():  # what was asked of the platform meanwhile is asked again by the next client
                return
            self.house.metrics.failures.labels(part).inc()
            log.error("%s failed: %s", part, type(error).__name__, exc_info=error)

    async def on_interaction(self, interaction: discord.Interaction) -> None:
        """Every button, select and form, whenever it was put up; commands go to the tree."""
        if interaction.type not in (discord.InteractionType.component, discord.InteractionType.modal_submit):
            return
        data = dict(interaction.data or {})
        match = ID.fullmatch(str(data.get("custom_id", "")))
        act, argument = (match["act"], match["argument"]) if match else ("", "")
        values = [str(value) for value in data.get("values", [])]  # type: ignore[attr-defined]
        await self.pressed(interaction, act, argument, values)

    async def pressed(self, interaction: discord.Interaction, act: str, argument: str, values: list[str]) -> None:
        """What is none of ours, or of a version long gone, is told so."""
        found = self._acts.get(act)
        self.house.metrics.presses.labels(act if found else "unknown").inc()
        try:
            if found is None:
                await tell(interaction, "gone")
            else:
                await found(interaction, argument, values)
        except Exception as error:
            await self.stumbled(interaction, error)

    async def stumbled(self, interaction: discord.Interaction, error: Exception) -> None:
        """Says so to the presser; a press whose time is over cannot be told anything."""
        self.house.metrics.failures.labels("press").inc()
        log.error("a press failed: %s", type(error).__name__, exc_info=None if isinstance(error, StoreError) else error)
        try:
            await tell(interaction, "failed")
        except discord.HTTPException as late:
            log.warning("and could not be told: %s", outcome_of(late).value)
