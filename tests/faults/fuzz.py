"""Every door with hostile input: nothing but the door's own, named error may come out.

    python -m tests.faults.fuzz [--cases 1000000] [--seed 1] [--doors text,lines,...]

The cases are shared among the doors by what one costs. A failure is printed with its door and seed; the same seed gives
the same input again. The short form runs with the tests.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import discord

from bot.archive import ArchiveError, read_archive
from bot.batch import run as run_batch
from bot.episode import EpisodeError, checked_address
from bot.platform.buttons import ID
from bot.platform.forms import filled, verdict_of
from bot.platform.intake import points_elsewhere, spoken
from bot.platform.review import case_number
from bot.settings import CONFIG, SettingsError, load_settings
from bot.terminal.demo import load_messages
from bot.triage import Context, triage
from bot.urgency import looks_urgent
from nlp.reader import default_reader
from rules.assessment import Jurisdiction
from rules.catalogue import CatalogueError, load_catalogue
from rules.catalogue.catalogue import read_tables
from rules.law.rows import BanRow, ColourRow, LimitRow
from rules.law.tables import cross_check, parse, read_text
from rules.sources import load_sources
from tests.bot.made import ScriptedReader, judge
from tests.faults import mutate

LIMIT = 2000  # characters of an answer
SETTINGS = (
    'region = "us"\nqueue_threshold = 0.5\ncreator = "creator"\ndesk_channel = 123456789012345678\n'
    'creator_roles = [123456789012345678]\nretention_days = 30\ntoken = "a.b.c"\npolicy_url = "https://quay.example"\n'
    "health_port = 8080\n[weights]\ndemand = 0.3\n"
)
FORM = {"components": [{"type": 18, "component": {"type": 4, "custom_id": "words", "value": "fix it"}}]}
ARCHIVE = {
    "format": "watchglass-archive-1",
    "cases": [{
        "fingerprint": "f", "title": "t", "verdict": "fix", "sketch": None, "recipe": None, "assessment": None,
        "state": "ruled", "score": 0.5, "interest": {"why": ["w"], "marks": {"demand": 0.5}}, "people": 1,
        "first_seen": 1, "last_seen": 2,
    }],
    "rulings": [{"case": 0, "verdict": "fix", "words": "w", "why": None, "ruled_at": 1, "undone_at": None}],
    "actions": [{"case": 0, "at": 1, "who": "c", "action": "rule", "undone": False,
                 "detail": {"state_before": "seen", "ruling": 0, "undid": None, "reading_before": None}}],
    "episodes": [{"title": "t", "note": "", "address": None, "made_at": 1, "published_at": None,
                  "segments": [{"case": 0, "place": 1, "seconds": 60, "note": ""}]}],
}  # fmt: skip


@lru_cache(maxsize=1)
def texts() -> list[str]:
    return [message.text for message in load_messages()]


def of_text(dice: random.Random) -> None:
    """A fan's message through the whole of reading, judging and wording."""
    said = mutate.text(dice, dice.choice(texts()))
    looks_urgent(said)
    found = triage(said, Context(), reader=default_reader(), jurisdiction=dice.choice(list(Jurisdiction)))
    assert 0 < len(found.reply) <= LIMIT
    found.reply.encode("utf-8")


def of_lines(dice: random.Random) -> None:
    """The batch command: a line out for every line in that is not blank, each of them JSON."""
    good = {"id": "a", "text": "mist"}
    lines = [
        mutate.text(dice, json.dumps(good)) if dice.random() < 0.5 else json.dumps(mutate.tree(dice, good))
        for _ in range(8)
    ]
    raw = "\n".join(lines).encode("utf-8", dice.choice(("surrogatepass", "replace")))
    raw = raw.replace(b"a", bytes([dice.randrange(256)])) if dice.random() < 0.2 else raw
    out: list[str] = []
    run_batch(io.BytesIO(raw), ScriptedReader(), Jurisdiction.US, write=out.append, complain=len, judge=judge)
    assert len(out) == sum(bool(line.strip()) for line in raw.split(b"\n"))
    for line in out:
        json.loads(line)


def of_presses(dice: random.Random) -> None:
    """What comes with a press, a form or a post, before anything is looked up."""
    acts = ("wg:more:1", "wg:desk_take:12", "wg:desk_page:score.3", "wg:place:99")
    said = mutate.text(dice, dice.choice(acts))
    if match := ID.fullmatch(said):
        assert case_number(match["argument"]) >= 0
    case_number(said)
    form = mutate.tree(dice, FORM)
    if isinstance(form, dict):
        filled(form)
    verdict_of(mutate.text(dice, "Avoid"))
    points_elsewhere(spoken(mutate.text(dice, "<@123456789012345678> is this ok?")))
    discord.utils.escape_markdown(said[:40])


def of_settings(dice: random.Random) -> None:
    with tempfile.NamedTemporaryFile("wb", suffix=".toml", dir=folder()) as file:
        file.write(mutate.text(dice, SETTINGS).encode("utf-8", "surrogatepass"))
        file.flush()
        with setting(CONFIG, file.name), refused(SettingsError):
            load_settings()


@lru_cache(maxsize=1)
def tables() -> list[tuple[str, str]]:
    found = [file for file in files("rules.catalogue").iterdir() if file.name.endswith(".toml")]
    return [(file.name, file.read_text("utf-8")) for file in found]


def of_tables(dice: random.Random) -> None:
    """The program's own tables, spoiled by a slip of the one who edits them."""
    name, model = dice.choice((("colourants", ColourRow), ("prohibited", BanRow), ("restricted", LimitRow)))
    rows, _ = parse(name, mutate.table(dice, read_text(name)), model)
    cross_check(name, rows, load_catalogue(), load_sources())
    family, good = dice.choice(tables())
    parts = good.split("[[substance]]")
    some = "[[substance]]".join(["", *dice.sample(parts[1:], min(3, len(parts) - 1))])
    with refused(CatalogueError):
        read_tables([(family, mutate.text(dice, some))])


def of_import(dice: random.Random) -> None:
    """An archive that somebody sends, and the address of an episode."""
    with refused(ArchiveError):
        read_archive(
            mutate.text(dice, json.dumps(ARCHIVE)) if dice.random() < 0.3 else json.dumps(mutate.tree(dice, ARCHIVE))
        )
    with refused(EpisodeError):
        checked_address(mutate.text(dice, "https://quay.example/episode/1"))


# Each door, and its part of the cases.
DOORS: dict[str, tuple[Callable[[random.Random], None], float]] = {
    "text": (of_text, 0.1),
    "lines": (of_lines, 0.2),
    "presses": (of_presses, 0.3),
    "settings": (of_settings, 0.1),
    "tables": (of_tables, 0.1),
    "import": (of_import, 0.2),
}


@contextmanager
def refused(error: type[Exception]) -> Iterator[None]:
    """The one error that a door may raise."""
    with suppress(error):
        yield


@contextmanager
def setting(name: str, value: str) -> Iterator[None]:
    """One environment variable, and no other of the program's."""
    before = {key: os.environ.pop(key) for key in list(os.environ) if key.startswith("WATCHGLASS_")}
    os.environ[name] = value
    try:
        yield
    finally:
        del os.environ[name]
        os.environ.update(before)


@lru_cache(maxsize=1)
def folder() -> Path:
    """In memory where there is such a place: the long form writes a hundred thousand files."""
    return Path("/dev/shm") if Path("/dev/shm").is_dir() else Path(tempfile.gettempdir())


def fuzz(door: str, cases: int, seed: int) -> list[str]:
    """The failures, a line each."""
    work, failures = DOORS[door][0], []
    for number in range(cases):
        try:
            work(random.Random(f"{door} {seed} {number}"))
        except Exception as error:
            failures.append(f"{door} seed {seed} case {number}: {type(error).__name__}: {str(error)[:200]!r}")
    return failures


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--doors", default=",".join(DOORS))
    given = parser.parse_args()
    failures: list[str] = []
    for door in given.doors.split(","):
        began, cases = time.monotonic(), round(given.cases * DOORS[door][1])
        found = fuzz(door, cases, given.seed)
        failures += found
        sys.stdout.write(f"{door}: {cases} cases, {len(found)} failures, {time.monotonic() - began:.0f} s\n")
        sys.stdout.write("".join(f"  {line}\n" for line in found[:20]))
        sys.stdout.flush()
    sys.exit(bool(failures))


if __name__ == "__main__":
    main()
