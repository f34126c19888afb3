"""Looking back, and the creator's data out of one database and into another."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from bot.archive import Archive, ArchiveError, collect, read_archive, take_in
from bot.archive_files import training_block, write_archive
from bot.desk import Desk
from bot.episode import Studio
from bot.inbox import Inbox
from bot.outbox import Outbox
from bot.people import People
from bot.stats import look_back
from bot.store import Database, open_database
from bot.worker import Worker
from nlp.training.annotated import strip_markup
from rules.assessment import Verdict
from tests.bot.made import MIST, WHEN, ScriptedReader, judge, line, recipe, tag

NOW = int(WHEN.timestamp() * 1000)
FORMULA = "=HYPERLINK(1)"


async def lived_in(database: Database) -> None:
    """A town after an evening: tags, a ruling, an undone one, a correction, two episodes."""
    inbox, outbox = Inbox(database, People(b"s" * 32)), Outbox(database, lambda: NOW + 2000)
    reader = ScriptedReader(tint=recipe(line("crayon", 5), line("coconut_oil", 20)))
    worker = Worker(database, inbox, outbox, reader, judge=judge)
    for number, text in enumerate(("mist", "tint", "mist", "balm", "hello"), start=1):
        await inbox.accept(tag(number, text, f"fan{number}"))
        await worker.step()
    async for outgoing in outbox.pending():
        await outbox.sent(outgoing.id, f"p{outgoing.id}")
    desk, studio = Desk(database, lambda: NOW), Studio(database, lambda: NOW)
    await desk.rule(1, Verdict.FINE, FORMULA, "chemist", "freshly made")
    await desk.rule(2, Verdict.AVOID, "Chalk is no lipstick.", "chemist")
    await desk.undo("chemist", 2)
    shown = await desk.show(1)
    assert shown.recipe is not None
    assert shown.assessment is not None
    await desk.correct(1, "mist", MIST, shown.assessment, "chemist")
    number = await studio.new("Fog and wax")
    await studio.add(number, 1, "chemist")
    await studio.add(number, 2, "chemist")
    await studio.publish(number, "https://lantern-quay.example/1")
    await studio.new("Salt")


async def test_an_export_that_is_taken_in_gives_the_same_export(tmp_path: Path) -> None:
    async with open_database(tmp_path / "one.db") as one, open_database(tmp_path / "two.db") as two:
        await lived_in(one)
        written = dict(write_archive(await collect(one), tmp_path / "out"))
        document = (tmp_path / "out" / "watchglass.json").read_text("utf-8")
        done = await take_in(two, read_archive(document))
        assert (done.cases, done.rulings, done.episodes) == (2, 2, 2)
        assert await collect(two) == await collect(one)
        assert await Studio(two).episodes.address_of(1) == "https://lantern-quay.example/1"
        again = await take_in(two, read_archive(document))
        assert again.model_dump(exclude={"known"}) == dict.fromkeys(("cases", "rulings", "actions", "episodes"), 0)
        assert await collect(two) == await collect(one)
        assert len(written) == 5


async def test_an_export_holds_nothing_of_who_posted_and_runs_no_formula(tmp_path: Path) -> None:
    async with open_database(tmp_path / "one.db") as one:
        await lived_in(one)
        write_archive(await collect(one), tmp_path / "out")
    whole = "".join(path.read_text("utf-8") for path in (tmp_path / "out").iterdir())
    assert "fan1" not in whole
    assert People(b"s" * 32).key("fan1") not in whole
    with (tmp_path / "out" / "rulings.csv").open(newline="") as file:
        assert next(csv.DictReader(file))["words"] == f"'{FORMULA}"


async def test_an_export_never_writes_over_anything(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "watchglass.json").write_text("mine")
    with pytest.raises(ArchiveError, match="not empty"):
        write_archive(Archive(), tmp_path / "out")
    with pytest.raises(ArchiveError, match="cannot be written"):
        write_archive(Archive(), tmp_path / "out" / "watchglass.json" / "below")
    assert (tmp_path / "out" / "watchglass.json").read_text() == "mine"


@pytest.mark.parametrize(
    "text",
    ["", "{}x", "[]", '{"format": "other"}', '{"format": "watchglass-archive-1", "path": "/etc"}',
     '{"format": "watchglass-archive-1", "rulings": [{"case": 3, "verdict": "fix", "words": "", "why": null,'
     ' "ruled_by": "a", "ruled_at": 1, "undone_at": null}]}'],
)  # fmt: skip
def test_a_document_that_is_none_is_refused_in_words(text: str) -> None:
    with pytest.raises(ArchiveError):
        read_archive(text)


def test_a_correction_becomes_a_line_that_the_reader_can_learn_from() -> None:
    block = training_block("correction-0", recipe(line("water", 90), line(None, 2.5, "odd [thing] | x")))
    text, golds = strip_markup(block.split("\n", 1)[1])
    assert [text[slice(*gold.span)] for gold in golds] == ["water", "odd [thing] | x"]
    assert [gold.figures for gold in golds] == [(90.0, 90.0), (2.5, 2.5)]
    assert block.startswith("=== correction-0 recipe - face -\n")


async def test_a_period_is_counted_with_its_disagreements(tmp_path: Path) -> None:
    async with open_database(tmp_path / "one.db") as one:
        await lived_in(one)
        found = await look_back(one, NOW - 10, NOW + 10)
        assert (found.messages, found.recipes, found.different) == (5, 4, 3)
        assert found.verdicts == {"fix": 2, "avoid": 1, "fine": 1}
        assert found.hazards == {"needs_preservative": 2, "non_cosmetic_material": 1}
        assert (found.reply.count, found.reply.median) == (5, 2000)
        assert (found.agreement.ruled, found.agreement.agreed, found.milder, found.stricter) == (1, 0, 1, 0)
        assert found.by_hazard["needs_preservative"].ruled == 1
        assert list(found.by_month) == ["2026-03"]
        assert found.waiting["taken"] == 2
        nothing = await look_back(one, 0, 10)
        assert (nothing.messages, nothing.reply.median, nothing.agreement.ruled) == (0, None, 0)
