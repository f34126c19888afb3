"""The table of cases: one row for a recipe and all its near-duplicates."""

from __future__ import annotations

from enum import StrEnum

from bot.queue.interest import Interest
from bot.queue.likeness import Sketch
from bot.store.database import Database, Transaction
from rules.assessment import Assessment, Verdict
from rules.recipe import Frozen, Recipe

LISTED = "id, title, verdict, state, score, people, interest"


class CaseState(StrEnum):
    """Where a case stands with the creator."""

    SEEN = "seen"  # answered, not interesting enough for a look
    QUEUED = "queued"
    TAKEN = "taken"
    DROPPED = "dropped"
    RULED = "ruled"


class Order(StrEnum):
    """How the queue may be sorted: by the score, by one of its parts, or by age."""

    SCORE = "score"
    DEMAND = "demand"
    NOVELTY = "novelty"
    SEVERITY = "severity"
    UNCERTAINTY = "uncertainty"
    NEWEST = "newest"


ORDERS = {
    Order.SCORE: "score DESC, id",
    Order.DEMAND: "people DESC, score DESC, id",
    Order.NOVELTY: "json_extract(interest, '$.marks.novelty') DESC, score DESC, id",
    Order.SEVERITY: "json_extract(interest, '$.marks.severity') DESC, score DESC, id",
    Order.UNCERTAINTY: "json_extract(interest, '$.marks.uncertainty') DESC, score DESC, id",
    Order.NEWEST: "last_seen DESC, id",
}


RARE = "id IN (SELECT case_id FROM case_hazards WHERE hazard = :hazard)"
COMMON = "EXISTS (SELECT 1 FROM case_hazards WHERE hazard = :hazard AND case_id = cases.id)"
MANY = 2000


class CaseRow(Frozen):
    """A case as a list shows it: nothing of it takes long to parse."""

    id: int
    title: str
    verdict: Verdict | None
    state: CaseState
    score: float
    why: tuple[str, ...]
    people: int


class Case(CaseRow):
    """A case as kept. `recipe` and `assessment` are None for a message that could not be read as a recipe."""

    sketch: Sketch | None
    recipe: Recipe | None
    assessment: Assessment | None
    first_seen: int
    last_seen: int


class NewCase(Frozen):
    """What a message brings for a case; `brought_by` is that message, whose wording the case carries."""

    brought_by: str
    fingerprint: str
    title: str
    sketch: Sketch | None
    recipe: Recipe | None
    assessment: Assessment | None
    interest: Interest


class CaseTable:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def write(self, transaction: Transaction, new: NewCase, known: int | None, now: int) -> int:
        """Adds the case, or brings the known one up to date; returns its number."""
        if known is not None:
            await self._refresh(transaction, known, new.interest, now)
            return known
        sql = (
            "INSERT INTO cases (fingerprint, title, verdict, sketch, recipe, assessment, state, score,"
            " interest, first_seen, last_seen, brought_by) VALUES (:fingerprint, :title, :verdict, :sketch, :recipe,"
            " :assessment, :state, :score, :interest, :now, :now, :brought_by) ON CONFLICT (fingerprint) DO NOTHING"
        )
        if await transaction.run(sql, _values(new, now)) == 0:
            found = await transaction.rows("SELECT id FROM cases WHERE fingerprint = ?", (new.fingerprint,))
            known = int(found[0][0])
            await self._refresh(transaction, known, new.interest, now)
            return known
        case = int((await transaction.rows("SELECT last_insert_rowid()"))[0][0])
        await list_hazards(transaction, case)
        return case

    async def _refresh(self, transaction: Transaction, case: int, interest: Interest, now: int) -> None:
        sql = (
            "UPDATE cases SET score = ?, interest = ?, last_seen = ?,"
            " state = CASE WHEN state = 'seen' AND ? THEN 'queued' ELSE state END WHERE id = ?"
        )
        values = (interest.score, _interest_json(interest), now, interest.queued, case)
        await transaction.run(sql, values)

    async def count_person(self, transaction: Transaction, case: int, author_key: str) -> None:
        """Counts this person, before the tag is written, unless they asked before."""
        asked = "EXISTS (SELECT 1 FROM tags WHERE case_id = cases.id AND author_key = ?)"
        sql = f"UPDATE cases SET people = people + 1 WHERE id = ? AND NOT {asked}"
        await transaction.run(sql, (case, author_key))

    async def set_state(self, transaction: Transaction, case: int, state: CaseState) -> CaseState | None:
        """Sets the state; returns the one before, None where there is no such case."""
        rows = await transaction.rows("SELECT state FROM cases WHERE id = ?", (case,))
        if not rows:
            return None
        await transaction.run("UPDATE cases SET state = ? WHERE id = ?", (state, case))
        return CaseState(rows[0][0])

    async def read_as(
        self, transaction: Transaction, case: int, title: str, recipe: Recipe, assessment: Assessment
    ) -> None:
        """Replaces what the case was read as. What it is compared by stays: later copies are read as it
        was."""
        sql = "UPDATE cases SET title = ?, verdict = ?, recipe = ?, assessment = ? WHERE id = ?"
        await transaction.run(sql, (title, assessment.verdict, _json(recipe), _json(assessment), case))

    async def get(self, case: int) -> Case | None:
        rows = await self._database.rows("SELECT * FROM cases WHERE id = ?", (case,))
        return case_of(dict(rows[0])) if rows else None

    async def page(
        self,
        state: CaseState | None,
        order: Order,
        *,
        verdict: Verdict | None = None,
        hazard: str | None = None,
        limit: int = 20,
        offset: int = 0,
    ) -> list[CaseRow]:
        """One page of the queue, or of cases of every state. Only what is asked for is compared."""
        by, states = ORDERS[order], [state] if state is not None else list(CaseState)
        wanted = "" if verdict is None else " AND verdict = :verdict"
        if hazard is not None and await self._is_rare(hazard):
            inner = f"SELECT id FROM cases WHERE {RARE}{wanted}" + ("" if state is None else " AND +state = :state")
        else:
            wanted += "" if hazard is None else f" AND {COMMON}"
            # The first of each state, read off the index that begins with the state.
            first = f"SELECT id FROM cases WHERE state = '{{}}'{wanted} ORDER BY {by} LIMIT :limit + :offset"
            inner = " UNION ALL ".join(f"SELECT * FROM ({first.format(one.value)})" for one in states)
        sql = f"SELECT {LISTED} FROM cases WHERE id IN ({inner}) ORDER BY {by} LIMIT :limit OFFSET :offset"
        values = {"state": state, "verdict": verdict, "hazard": hazard, "limit": limit, "offset": offset}
        return [row_of(dict(row)) for row in await self._database.rows(sql, values)]

    async def _is_rare(self, hazard: str) -> bool:
        """Whether sorting all its cases is cheaper than looking for it along the index of the order."""
        sql = f"SELECT COUNT(*) FROM (SELECT 1 FROM case_hazards WHERE hazard = ? LIMIT {MANY})"
        return int((await self._database.rows(sql, (hazard,)))[0][0]) < MANY

    async def count(self, state: CaseState) -> int:
        rows = await self._database.rows("SELECT COUNT(*) FROM cases WHERE state = ?", (state,))
        return int(rows[0][0])

    async def sketches_after(self, case: int, limit: int) -> list[tuple[int, Sketch]]:
        """Sketches of the next cases with a higher number, for the index in memory; read off an index of their own,
        since a whole case is a hundred times as long."""
        sql = (
            "SELECT id, sketch FROM cases INDEXED BY cases_sketches WHERE id > ? AND sketch IS NOT NULL"
            " ORDER BY id LIMIT ?"
        )
        rows = await self._database.rows(sql, (case, limit))
        return [(int(row["id"]), Sketch.model_validate_json(row["sketch"])) for row in rows]

    async def standing(self, cases: list[int], author_key: str) -> dict[int, tuple[CaseState, int, bool]]:
        """State, number of people, and whether this author is among them, by case."""
        asked = "EXISTS (SELECT 1 FROM tags WHERE case_id = cases.id AND author_key = ?)"
        gaps = ", ".join("?" * len(cases))
        sql = f"SELECT id, state, people, {asked} AS asked FROM cases WHERE id IN ({gaps})"
        rows = await self._database.rows(sql, (author_key, *cases))
        return {int(row["id"]): (CaseState(row["state"]), int(row["people"]), bool(row["asked"])) for row in rows}


async def list_hazards(transaction: Transaction, case: int) -> None:
    """Keeps the hazards of a new case where they are looked up."""
    sql = (
        "INSERT OR IGNORE INTO case_hazards SELECT value, cases.id FROM cases, json_each(sketch, '$.hazards')"
        " WHERE cases.id = ? AND sketch IS NOT NULL"
    )
    await transaction.run(sql, (case,))


def _values(new: NewCase, now: int) -> dict[str, object]:
    return {
        "fingerprint": new.fingerprint,
        "title": new.title,
        "verdict": new.sketch.verdict if new.sketch else None,
        "sketch": _json(new.sketch),
        "recipe": _json(new.recipe),
        "assessment": _json(new.assessment),
        "state": CaseState.QUEUED if new.interest.queued else CaseState.SEEN,
        "score": new.interest.score,
        "interest": _interest_json(new.interest),
        "now": now,
        "brought_by": new.brought_by,
    }


def _json(model: Frozen | None) -> str | None:
    return None if model is None else model.model_dump_json()


def _interest_json(interest: Interest) -> str:
    return InterestRow(
        why=interest.why, marks={part.name: round(part.mark, 4) for part in interest.parts}
    ).model_dump_json()


class InterestRow(Frozen):
    """The interest as kept: the reasons, and the mark of each part to sort by."""

    why: tuple[str, ...]
    marks: dict[str, float]


def row_of(row: dict[str, object]) -> CaseRow:
    interest = InterestRow.model_validate_json(str(row.pop("interest")))
    return CaseRow.model_validate({**row, "why": interest.why})


def case_of(row: dict[str, object]) -> Case:
    sketch, recipe, assessment = row["sketch"], row["recipe"], row["assessment"]
    interest = InterestRow.model_validate_json(str(row["interest"]))
    return Case(
        id=row["id"],
        title=row["title"],
        verdict=row["verdict"],
        sketch=None if sketch is None else Sketch.model_validate_json(str(sketch)),
        recipe=None if recipe is None else Recipe.model_validate_json(str(recipe)),
        assessment=None if assessment is None else Assessment.model_validate_json(str(assessment)),
        state=row["state"],
        score=row["score"],
        why=interest.why,
        people=row["people"],
        first_seen=row["first_seen"],
        last_seen=row["last_seen"],
    )
