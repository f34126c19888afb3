"""The creator's desk: what waits, and what she does with it. One way for the terminal and the platform."""

from __future__ import annotations

from collections.abc import Callable

from bot.outbox import milliseconds
from bot.queue.rulings import Ruling
from bot.store.audit import Action, AuditTable, Detail, Entry, Reading
from bot.store.cases import Case, CaseState, CaseTable
from bot.store.database import Database, Transaction
from bot.store.rulings import RulingTable
from rules.assessment import Assessment, Verdict
from rules.recipe import Recipe


class NoSuchCaseError(LookupError):
    def __init__(self, case: int) -> None:
        super().__init__(f"there is no case {case}; see the numbers with: watchglass queue list --all")


class Desk:
    """All changes are kept with who and when, each in one transaction, and each can be undone."""

    def __init__(self, database: Database, clock: Callable[[], int] = milliseconds) -> None:
        self.cases = CaseTable(database)
        self.rulings = RulingTable(database)
        self.audit = AuditTable(database)
        self._database = database
        self._clock = clock

    async def show(self, case: int) -> Case:
        """Raises NoSuchCaseError."""
        found = await self.cases.get(case)
        if found is None:
            raise NoSuchCaseError(case)
        return found

    async def take(self, case: int, who: str) -> None:
        """For an episode. Raises NoSuchCaseError."""
        async with self._database.transaction() as transaction:
            await self._move(transaction, case, CaseState.TAKEN, Action.TAKE, who)

    async def drop(self, case: int, who: str) -> None:
        """Not again. Raises NoSuchCaseError."""
        async with self._database.transaction() as transaction:
            await self._move(transaction, case, CaseState.DROPPED, Action.DROP, who)

    async def rule(self, case: int, verdict: Verdict, words: str, who: str, why: str | None = None) -> None:
        """Her own verdict and words, used from the next tag on. Raises NoSuchCaseError."""
        ruling = Ruling(case=case, verdict=verdict, words=words.strip())
        async with self._database.transaction() as transaction:
            before = await self._state(transaction, case)
            number = await self.rulings.add(transaction, ruling, why, self._clock())
            # What was taken for an episode stays taken.
            state = CaseState.TAKEN if before is CaseState.TAKEN else CaseState.RULED
            await self._move(transaction, case, state, Action.RULE, who, number)

    async def correct(self, case: int, title: str, recipe: Recipe, assessment: Assessment, who: str) -> None:
        """What it should have been read as. Raises NoSuchCaseError, also for a case without a recipe."""
        before = await self.show(case)
        if before.recipe is None or before.assessment is None:
            raise NoSuchCaseError(case)
        reading = Reading(title=before.title, recipe=before.recipe, assessment=before.assessment)
        async with self._database.transaction() as transaction:
            state = await self._state(transaction, case)
            await self.cases.read_as(transaction, case, title, recipe, assessment)
            detail = Detail(state_before=state, reading_before=reading)
            await self.audit.add(transaction, who, Action.CORRECT, case, detail, self._clock())

    async def undo(self, who: str, case: int | None = None) -> Entry | None:
        """Takes back the last action, on this case or on any; returns it, None where nothing is left."""
        async with self._database.transaction() as transaction:
            entry = await self.audit.last_undoable(transaction, case)
            if entry is None:
                return None
            if entry.detail.ruling is not None:
                await self.rulings.undo(transaction, entry.detail.ruling, self._clock())
            if (reading := entry.detail.reading_before) is not None:
                await self.cases.read_as(transaction, entry.case_id, reading.title, reading.recipe, reading.assessment)
            before = await self.cases.set_state(transaction, entry.case_id, CaseState(entry.detail.state_before))
            await self.audit.mark_undone(transaction, entry.id)
            detail = Detail(state_before=before or entry.detail.state_before, undid=entry.id)
            await self.audit.add(transaction, who, Action.UNDO, entry.case_id, detail, self._clock())
            return entry

    async def _state(self, transaction: Transaction, case: int) -> CaseState:
        rows = await transaction.rows("SELECT state FROM cases WHERE id = ?", (case,))
        if not rows:
            raise NoSuchCaseError(case)
        return CaseState(rows[0][0])

    async def _move(
        self,
        transaction: Transaction,
        case: int,
        state: CaseState,
        action: Action,
        who: str,
        ruling: int | None = None,
    ) -> None:
        before = await self.cases.set_state(transaction, case, state)
        if before is None:
            raise NoSuchCaseError(case)
        detail = Detail(state_before=before, ruling=ruling)
        await self.audit.add(transaction, who, action, case, detail, self._clock())
