"""An episode in the making: collect, order, note, publish. One way for the terminal and the platform."""

from __future__ import annotations

import random
from collections.abc import Callable
from urllib.parse import urlsplit

from bot.desk import Desk, NoSuchCaseError
from bot.episode_order import suggested
from bot.outbox import milliseconds
from bot.queue.rulings import Ruling
from bot.store.cases import Case, CaseState, Order
from bot.store.consents import Consent, ConsentTable
from bot.store.database import Database
from bot.store.episodes import Episode, EpisodeTable, Segment
from bot.store.followers import FollowerTable
from bot.store.outbox import OutboxTable
from bot.tag import Answer
from bot.words.phrases import load_phrases
from rules.assessment import Severity
from rules.recipe import Frozen

TITLE, NOTE, ADDRESS = 120, 2000, 200
# Our own guess of the time on camera, no source: an opening, and more for each thing to explain.
OPENING_SECONDS, FINDING_SECONDS, MOST_SECONDS = 60, 30, 240


class EpisodeError(LookupError):
    """Something that was asked of an episode cannot be done; the message says what to do instead."""


class Planned(Frozen):
    """One segment with its case, None where that is gone, and who of those who asked lets their words be shown."""

    segment: Segment
    case: Case | None
    consent: Consent = Consent()


class Plan(Frozen):
    """An episode with its segments in order."""

    episode: Episode
    segments: tuple[Planned, ...]

    @property
    def seconds(self) -> int:
        return sum(planned.segment.seconds for planned in self.segments)


class Studio:
    """All that is done to episodes, each change in one transaction. Everything raises EpisodeError."""

    def __init__(self, database: Database, clock: Callable[[], int] = milliseconds) -> None:
        self.episodes = EpisodeTable(database)
        self.followers = FollowerTable(database)
        self._consents = ConsentTable(database)
        self._desk = Desk(database, clock)
        self._outbox = OutboxTable(database)
        self._database = database
        self._clock = clock

    async def new(self, title: str) -> int:
        title = title.strip()[:TITLE]
        if not title:
            raise EpisodeError("an episode needs a title; give it in quotes")
        async with self._database.transaction() as transaction:
            return await self.episodes.add(transaction, title, self._clock())

    async def plan(self, episode: int) -> Plan:
        found = await self.episodes.get(episode)
        if found is None:
            raise EpisodeError(f"there is no episode {episode}; see them with: watchglass episode list")
        segments = await self.episodes.segments(episode)
        cases = [await self._desk.cases.get(s.case_id) if s.case_id else None for s in segments]
        consents = [await self._consents.of_case(case.id) if case else Consent() for case in cases]
        planned = (
            Planned(segment=segment, case=case, consent=consent)
            for segment, case, consent in zip(segments, cases, consents, strict=True)
        )
        return Plan(episode=found, segments=tuple(planned))

    async def rulings(self, plan: Plan) -> dict[int, Ruling]:
        """The creator's rulings in force on the cases of a plan, by case."""
        cases = [planned.case.id for planned in plan.segments if planned.case is not None]
        found = {case: await self._desk.rulings.standing(case) for case in cases}
        return {case: ruling for case, ruling in found.items() if ruling is not None}

    async def add(self, episode: int, case: int, who: str) -> bool:
        """Takes the case for the episode; False where it is in it already. Raises NoSuchCaseError too."""
        await self.plan(episode)
        found = await self._desk.show(case)
        if found.recipe is None:
            raise EpisodeError(f"case {case} holds no recipe that was read; correct it first or leave it out")
        if found.state is not CaseState.TAKEN:
            await self._desk.take(case, who)
        async with self._database.transaction() as transaction:
            return await self.episodes.add_segment(transaction, episode, case, seconds_for(found))

    async def remove(self, episode: int, place: int) -> None:
        segment = (await self._at(episode, place)).segment
        async with self._database.transaction() as transaction:
            await self.episodes.remove_segment(transaction, segment.id)

    async def order(self, episode: int, places: list[int]) -> Plan:
        """By the places as they stand now; without any, in the suggested order."""
        plan = await self.plan(episode)
        count = len(plan.segments)
        if places and sorted(places) != list(range(1, count + 1)):
            raise EpisodeError(f"name each place from 1 to {count} once, in the new order")
        order = [place - 1 for place in places] or suggested([planned.case for planned in plan.segments])
        async with self._database.transaction() as transaction:
            await self.episodes.put_order(transaction, [plan.segments[i].segment.id for i in order])
        return await self.plan(episode)

    async def note(self, episode: int, place: int | None, note: str | None, seconds: int | None) -> None:
        """A note on the episode, or a note and the time of one segment."""
        if place is None:
            await self.plan(episode)
            async with self._database.transaction() as transaction:
                await self.episodes.set_note(transaction, episode, (note or "").strip()[:NOTE])
            return
        segment = (await self._at(episode, place)).segment
        changed = segment.model_copy(
            update={
                "note": segment.note if note is None else note.strip()[:NOTE],
                "seconds": seconds or segment.seconds,
            }
        )
        async with self._database.transaction() as transaction:
            await self.episodes.change_segment(transaction, changed)

    async def publish(self, episode: int, address: str) -> int:
        """Marks it published; those who asked to be told are told once. Returns how many that are."""
        plan = await self.plan(episode)
        if not plan.segments:
            raise EpisodeError(f"episode {episode} covers nothing yet; add a case first")
        address = checked_address(address)
        now = self._clock()
        async with self._database.transaction() as transaction:
            await self.episodes.publish(transaction, episode, address, now)
            waiting = await self.followers.to_tell(transaction, episode)
            for follower in waiting:
                words = load_phrases(follower.language).say("frame", "covered_now", address=address)
                told = {"message_id": follower.message_id, "channel": follower.channel, "text": words}
                answer = Answer(**told, more=None, urgent=False, news=True)
                await self._outbox.add(transaction, answer, now)
            await self.followers.told(transaction, episode, now)
        return len(waiting)

    async def surprise(self, chance: random.Random) -> Case | None:
        """Any of the cases that wait, each as likely as the other; None where none waits."""
        count = await self._desk.cases.count(CaseState.QUEUED)
        if count == 0:
            return None
        place = chance.randrange(count)
        found = await self._desk.cases.page(CaseState.QUEUED, Order.SCORE, limit=1, offset=place)
        return await self._desk.cases.get(found[0].id) if found else None

    async def _at(self, episode: int, place: int) -> Planned:
        plan = await self.plan(episode)
        if not 1 <= place <= len(plan.segments):
            raise EpisodeError(f"episode {episode} has {len(plan.segments)} segments and no place {place}")
        return plan.segments[place - 1]


def seconds_for(case: Case) -> int:
    """The time on camera that we suggest."""
    findings = case.assessment.findings if case.assessment is not None else ()
    grave = {finding.hazard for finding in findings if finding.severity is not Severity.NOTE}
    return min(MOST_SECONDS, OPENING_SECONDS + FINDING_SECONDS * max(1, len(grave)))


def checked_address(address: str) -> str:
    """A web address that may stand in a reply. Raises EpisodeError."""
    address = address.strip()
    if any(mark in address for mark in " <>\"'`|()[]{}\\@"):
        raise EpisodeError("the address holds a space, bracket or quote; give it as the browser shows it")
    parts = urlsplit(address) if address.isprintable() and address.isascii() else None
    if parts is None or parts.scheme not in ("http", "https") or not parts.hostname or len(address) > ADDRESS:
        raise EpisodeError(f"give the whole web address, https://…, at most {ADDRESS} plain characters")
    return address


__all__ = ["EpisodeError", "NoSuchCaseError", "Plan", "Planned", "Studio", "checked_address", "seconds_for"]
