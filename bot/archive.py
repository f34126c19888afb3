"""The creator's own data as one document: her cases, rulings, actions and episodes. Written, and taken in again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import Field, ValidationError

from bot.queue.likeness import Sketch
from bot.store.archive import ArchiveTable, put_action, put_case, put_episode, put_ruling, put_segment
from bot.store.audit import Action, Detail
from bot.store.cases import CaseState, InterestRow
from bot.store.database import Database
from rules.assessment import Assessment, Verdict
from rules.recipe import Frozen, Recipe

Known = dict[int, int]  # a number in one place to the number in the other


class ArchiveError(ValueError):
    """The document cannot be taken in; the message says why."""


class CaseLine(Frozen):
    fingerprint: str = Field(min_length=1)
    title: str
    verdict: Verdict | None
    sketch: Sketch | None
    recipe: Recipe | None
    assessment: Assessment | None
    state: CaseState
    score: float = Field(ge=0, le=1)
    interest: InterestRow
    people: int = Field(ge=0)
    first_seen: int
    last_seen: int


class RulingLine(Frozen):
    """`case` is the place of the case in the document, from 0. Who ruled stands in the actions; older documents
    say it here as well."""

    case: int = Field(ge=0)
    verdict: Verdict
    words: str
    why: str | None
    ruled_by: str | None = Field(default=None, exclude=True)
    ruled_at: int
    undone_at: int | None


class ActionLine(Frozen):
    """`detail.ruling` and `detail.undid` are places in the document, from 0."""

    case: int = Field(ge=0)
    at: int
    who: str
    action: Action
    detail: Detail
    undone: bool


class SegmentLine(Frozen):
    case: int | None = Field(default=None, ge=0)
    place: int = Field(ge=1)
    seconds: int = Field(ge=1)
    note: str


class EpisodeLine(Frozen):
    title: str
    note: str
    address: str | None
    made_at: int
    published_at: int | None
    segments: tuple[SegmentLine, ...]


class Archive(Frozen):
    format: Literal["watchglass-archive-1"] = "watchglass-archive-1"
    cases: tuple[CaseLine, ...] = ()
    rulings: tuple[RulingLine, ...] = ()
    actions: tuple[ActionLine, ...] = ()
    episodes: tuple[EpisodeLine, ...] = ()


class TakenIn(Frozen):
    """How many rows were new, and how many were known already."""

    cases: int = 0
    rulings: int = 0
    actions: int = 0
    episodes: int = 0
    known: int = 0


async def collect(database: Database) -> Archive:
    """Everything that is the creator's; nothing of who posted."""
    table = ArchiveTable(database)
    cases, rulings = await table.cases(), await table.rulings()
    actions, segments = await table.actions(), await table.segments()
    case_at = {row.pop("id"): place for place, row in enumerate(cases)}
    ruling_at = {row.pop("id"): place for place, row in enumerate(rulings)}
    actions = [row for row in actions if row["case_id"] in case_at]
    action_at = {row.pop("id"): place for place, row in enumerate(actions)}
    return Archive(
        cases=tuple(_case(row) for row in cases),
        rulings=tuple(RulingLine(case=case_at[row.pop("case_id")], **row) for row in rulings),
        actions=tuple(_action(row, case_at, ruling_at, action_at) for row in actions),
        episodes=tuple([_episode(row, segments, case_at) for row in await table.episodes()]),
    )


def _case(row: dict[str, Any]) -> CaseLine:
    models: Mapping[str, type[Frozen]] = {
        "sketch": Sketch, "recipe": Recipe, "assessment": Assessment, "interest": InterestRow
    }  # fmt: skip
    read = {name: model.model_validate_json(row[name]) for name, model in models.items() if row[name] is not None}
    return CaseLine.model_validate({**row, **read})


def _action(row: dict[str, Any], case_at: Known, ruling_at: Known, action_at: Known) -> ActionLine:
    detail = _renumbered(Detail.model_validate_json(row.pop("detail")), ruling_at, action_at)
    return ActionLine(case=case_at[row.pop("case_id")], detail=detail, **row)


def _renumbered(detail: Detail, rulings: Known, actions: Known) -> Detail:
    changes = {
        "ruling": None if detail.ruling is None else rulings.get(detail.ruling),
        "undid": None if detail.undid is None else actions.get(detail.undid),
    }
    return detail.model_copy(update=changes)


def _episode(row: dict[str, Any], segments: list[dict[str, Any]], case_at: Known) -> EpisodeLine:
    number = row.pop("id")
    own = (segment for segment in segments if segment["episode_id"] == number)
    kept = tuple(
        SegmentLine(
            case=case_at.get(segment["case_id"]),
            place=segment["place"],
            seconds=segment["seconds"],
            note=segment["note"],
        )
        for segment in own
    )
    return EpisodeLine(segments=kept, **row)


def read_archive(text: str) -> Archive:
    """Raises ArchiveError with the first fault."""
    try:
        archive = Archive.model_validate_json(text)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"])) or "the document"
        raise ArchiveError(f"this is no archive of this program: {place}: {first['msg']}") from None
    count = len(archive.cases)
    named = [ruling.case for ruling in archive.rulings] + [action.case for action in archive.actions]
    named += [s.case for episode in archive.episodes for s in episode.segments if s.case is not None]
    if any(case >= count for case in named):
        raise ArchiveError(f"the archive names a case beyond its {count}; it was cut or changed")
    return archive


async def take_in(database: Database, archive: Archive) -> TakenIn:
    """All or nothing; what is known already is left as it is, so that a second time changes nothing."""
    counts = dict.fromkeys(TakenIn.model_fields, 0)

    def count(kind: str, new: bool) -> None:
        counts[kind if new else "known"] += 1

    async with database.transaction() as transaction:
        cases: Known = {}
        for place, case in enumerate(archive.cases):
            cases[place], new = await put_case(transaction, case.model_dump(mode="json"))
            count("cases", new)
        rulings: Known = {}
        for place, ruling in enumerate(archive.rulings):
            row = ruling.model_dump(mode="json", exclude={"case"})
            rulings[place], new = await put_ruling(transaction, cases[ruling.case], row)
            count("rulings", new)
        actions: Known = {}
        for place, action in enumerate(archive.actions):
            row = action.model_dump(mode="json", exclude={"case", "detail"})
            row["detail"] = _renumbered(action.detail, rulings, actions).model_dump(mode="json")
            actions[place], new = await put_action(transaction, cases[action.case], row)
            count("actions", new)
        for episode in archive.episodes:
            row = episode.model_dump(mode="json", exclude={"segments"})
            number, new = await put_episode(transaction, row)
            count("episodes", new)
            for segment in episode.segments if new else ():
                within = None if segment.case is None else cases[segment.case]
                await put_segment(transaction, number, within, segment.model_dump(mode="json", exclude={"case"}))
    return TakenIn(**counts)
