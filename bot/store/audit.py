"""The table of what the creator and the operator did: who, when, what, and how to take it back."""

from __future__ import annotations

from enum import StrEnum

from bot.store.database import Database, Transaction
from rules.assessment import Assessment
from rules.recipe import Frozen, Recipe


class Action(StrEnum):
    TAKE = "take"
    DROP = "drop"
    RULE = "rule"
    CORRECT = "correct"
    UNDO = "undo"


class Reading(Frozen):
    """A case as it was read before a correction."""

    title: str
    recipe: Recipe
    assessment: Assessment


class Detail(Frozen):
    """What is needed to take the action back."""

    state_before: str
    ruling: int | None = None
    undid: int | None = None
    reading_before: Reading | None = None


class Entry(Frozen):
    id: int
    at: int
    who: str
    action: Action
    case_id: int
    detail: Detail


class AuditTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def add(
        self, transaction: Transaction, who: str, action: Action, case: int, detail: Detail, now: int
    ) -> None:
        sql = "INSERT INTO audit (at, who, action, case_id, detail) VALUES (?, ?, ?, ?, ?)"
        await transaction.run(sql, (now, who, action, case, detail.model_dump_json()))

    async def last_undoable(self, transaction: Transaction, case: int | None) -> Entry | None:
        """The last action that stands, on this case or on any."""
        sql = (
            "SELECT id, at, who, action, case_id, detail FROM audit WHERE undone = 0 AND action <> 'undo'"
            " AND (:case IS NULL OR case_id = :case) ORDER BY id DESC LIMIT 1"
        )
        for row in await transaction.rows(sql, {"case": case}):
            return _entry(dict(row))
        return None

    async def mark_undone(self, transaction: Transaction, entry: int) -> None:
        await transaction.run("UPDATE audit SET undone = 1 WHERE id = ?", (entry,))

    async def of_case(self, case: int) -> list[Entry]:
        """All that was done to a case, oldest first."""
        sql = "SELECT id, at, who, action, case_id, detail FROM audit WHERE case_id = ? ORDER BY id"
        return [_entry(dict(row)) for row in await self._database.rows(sql, (case,))]


def _entry(row: dict[str, object]) -> Entry:
    detail = Detail.model_validate_json(str(row.pop("detail")))
    return Entry.model_validate({**row, "detail": detail})
