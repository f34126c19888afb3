"""The review desk on the platform: one card a case, a view of the database that can be rebuilt at any time."""

from __future__ import annotations

import asyncio
import logging
from dataclasses import dataclass
from typing import Any

import discord

from bot.platform.cardpicture import CardPicture, drawn, picture_of
from bot.platform.cards import CardText, card_embed, card_text, card_view
from bot.platform.house import House
from bot.platform.notices import Notices
from bot.platform.outcome import Outcome, outcome_or_fault, permissions
from bot.store.cases import Case, CaseState
from bot.store.errors import StoreError
from bot.store.views import Card
from bot.words.clean import cut

log = logging.getLogger(__name__)
GATHERED = 0.1  # seconds in which changes are gathered, so that a busy evening is no burden
AT_ONCE = 20
ALL = 1_000_000
MARK = "desk_channel"
REFRESHED_AT_START = 100
SHORTEST, LONGEST = 1.0, 120.0


@dataclass(frozen=True, slots=True)
class Face:
    """All that a card shows."""

    text: CardText
    picture: CardPicture | None

    @property
    def picture_mark(self) -> str:
        return self.picture.fingerprint if self.picture is not None else ""

    @property
    def fingerprint(self) -> str:
        return f"{self.text.fingerprint}.{self.picture_mark}"


class DeskView:
    """Puts up cards for what is queued, and changes those whose case changed. Runs beside everything else."""

    def __init__(self, house: House, client: discord.Client, notices: Notices) -> None:
        self._house, self._client, self._notices = house, client, notices
        self._pause = SHORTEST
        self._refused: set[int] = set()

    async def run(self) -> None:
        """For ever; ends when cancelled. Trouble on the platform makes it wait, never lose a card."""
        if self._house.settings.desk_channel is None:
            return
        await self._settle_in(str(self._house.settings.desk_channel))
        while True:
            self._house.touched.clear()
            try:
                await self._catch_up()
                self._pause = SHORTEST
            except StoreError as error:
                log.error("desk: %s", error)
                await self._wait()
                continue
            except Exception as error:
                outcome = outcome_or_fault(error)
                log.warning("desk: %s (%s)", outcome.value, type(error).__name__)
                if outcome is Outcome.FORBIDDEN:
                    await self._notices.no_permission(str(self._house.settings.desk_channel), [])
                await self._wait()
                continue
            await self._house.touched.wait()
            await asyncio.sleep(GATHERED)

    async def _settle_in(self, desk: str) -> None:
        """On another channel than before every card is put up anew."""
        if await self._house.views.mark(MARK) not in (None, desk):
            await self._house.views.drop_cards()
        await self._house.views.set_mark(MARK, desk)
        self._house.touch(*await self._house.views.carded(REFRESHED_AT_START))

    async def _wait(self) -> None:
        await asyncio.sleep(self._pause)
        self._pause = min(LONGEST, self._pause * 2)

    async def rebuild(self) -> None:
        """Looks at every card again: what is lost or stale is put up anew from the database."""
        await self._house.views.doubt_cards()
        self._house.touch(*await self._house.views.carded(ALL))

    async def _catch_up(self) -> None:
        while new := await self._new():
            for number in new:
                await self._try(number)
        while self._house.dirty:
            number = next(iter(self._house.dirty))
            await self._try(number)
            self._house.dirty.discard(number)

    async def _new(self) -> list[int]:
        found = await self._house.views.without_card(AT_ONCE + len(self._refused))
        return [number for number in found if number not in self._refused]

    async def _try(self, number: int) -> None:
        """A card that is refused, or that we cannot make, holds up no other."""
        try:
            await self._show(number)
        except StoreError:
            raise
        except Exception as error:
            if outcome_or_fault(error) is not Outcome.REFUSED:
                raise
            self._house.metrics.failures.labels("desk").inc()
            log.error("the card of case %d was refused: %s", number, type(error).__name__)
            self._refused.add(number)

    async def _show(self, number: int) -> None:
        case = await self._house.desk.cases.get(number)
        card = await self._house.views.card(number)
        if case is None or (card is None and case.state in (CaseState.SEEN, CaseState.DROPPED)):
            return
        ruling = await self._house.desk.rulings.standing(number)
        face = Face(
            text=card_text(self._house.words, case, ruling, self._house.settings.region),
            picture=picture_of(case, self._house.words) if await self._may_attach() else None,
        )
        if card is not None and (card.shown == face.fingerprint or await self._edit(card, case, face)):
            return
        await self._put_up(case, face, card)

    async def _may_attach(self) -> bool:
        desk = self._client.get_channel(self._house.settings.desk_channel or 0)
        have = permissions(desk) if isinstance(desk, (discord.abc.GuildChannel, discord.Thread)) else None
        if have is None or have.attach_files:
            return True
        await self._notices.no_pictures(str(self._house.settings.desk_channel))
        return False

    async def _edit(self, card: Card, case: Case, face: Face) -> bool:
        """False where the card is no more. A picture that is the same stays where it is."""
        channel, text = self._client.get_partial_messageable(int(card.channel)), face.text
        extras: dict[str, Any] = {}
        if card.shown.partition(".")[2] != face.picture_mark:
            extras["attachments"] = await self._files(case, face)
        try:
            await channel.get_partial_message(int(card.message_id)).edit(
                content=text.head,
                embed=card_embed(text),
                view=card_view(self._house.words, case, bool(text.rest)),
                **extras,
            )
        except discord.NotFound:
            return False
        await self._house.views.put_card(card.model_copy(update={"shown": face.fingerprint}))
        return True

    async def _files(self, case: Case, face: Face) -> list[discord.File]:
        return [await drawn(self._house, case, face.picture)] if face.picture is not None else []

    async def _put_up(self, case: Case, face: Face, lost: Card | None) -> None:
        """A post in a forum, a message elsewhere; the nonce keeps a repeat after a crash from being a second."""
        desk, text = await self._channel(), face.text
        shown: dict[str, Any] = {
            "content": text.head,
            "embed": card_embed(text),
            "view": card_view(self._house.words, case, bool(text.rest)),
            "files": await self._files(case, face),
        }
        if isinstance(desk, discord.ForumChannel):
            name = cut(f"{case.id} · {case.title}", 95)
            made = await desk.create_thread(name=name, **shown)
            message = made.message
        elif isinstance(desk, (discord.TextChannel, discord.Thread)):
            nonce = f"card-{case.id}-{int(lost.message_id if lost else desk.id) % 10**10}"
            message = await desk.send(nonce=nonce, **shown)
        else:
            log.error("the desk channel is neither a forum nor a text channel")
            return
        card = Card(
            case_id=case.id,
            channel=str(message.channel.id),
            message_id=str(message.id),
            shown=face.fingerprint,
        )
        await self._house.views.put_card(card)

    async def _channel(self) -> object:
        number = self._house.settings.desk_channel or 0
        return self._client.get_channel(number) or await self._client.fetch_channel(number)
