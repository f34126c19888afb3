"""The archive on disk: a JSON document to take in again, tables to look at, training lines for the reader."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from pathlib import Path

from bot.archive import Archive, ArchiveError
from nlp.training.annotated import escape
from rules.recipe import Line, Recipe

DOCUMENT = "watchglass.json"
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def write_archive(archive: Archive, folder: Path) -> list[tuple[Path, int]]:
    """Writes into a new or empty folder; never over a file. Returns each path with its number of rows.

    Raises ArchiveError.
    """
    tables = {
        DOCUMENT: (archive.model_dump_json(indent=1) + "\n", len(archive.cases)),
        "cases.csv": _table(("case", "title", "verdict", "state", "interest", "people"), _cases(archive)),
        "rulings.csv": _table(("case", "verdict", "words", "why", "ruled_at", "undone_at"), _rulings(archive)),
        "segments.csv": _table(("episode", "address", "place", "case", "seconds", "note"), _segments(archive)),
        "training.txt": _training(archive),
    }
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise ArchiveError(f"{folder} is not empty; name a new folder")
        for name, (text, _) in tables.items():
            with (folder / name).open("x", encoding="utf-8", newline="") as file:
                file.write(text)
    except OSError as error:
        raise ArchiveError(f"{folder} cannot be written: {error.strerror or error}") from None
    return [(folder / name, count) for name, (_, count) in tables.items()]


def _table(head: tuple[str, ...], rows: Iterable[tuple[object, ...]]) -> tuple[str, int]:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(head)
    kept = list(rows)
    writer.writerows(tuple(_cell(value) for value in row) for row in kept)
    return out.getvalue(), len(kept)


def _cell(value: object) -> object:
    """A text that a spreadsheet would run as a formula gets a quote before it."""
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA) else value


def _cases(archive: Archive) -> Iterator[tuple[object, ...]]:
    for place, case in enumerate(archive.cases):
        yield place, case.title, case.verdict or "", case.state, case.score, case.people


def _rulings(archive: Archive) -> Iterator[tuple[object, ...]]:
    for line in archive.rulings:
        yield line.case, line.verdict, line.words, line.why, line.ruled_at, line.undone_at


def _segments(archive: Archive) -> Iterator[tuple[object, ...]]:
    for episode in archive.episodes:
        for line in episode.segments:
            yield episode.title, episode.address, line.place, line.case, line.seconds, line.note


def _training(archive: Archive) -> tuple[str, int]:
    """Cases that the creator corrected, in the notation of the reader's corpus."""
    corrected = sorted({line.case for line in archive.actions if line.action == "correct" and not line.undone})
    made = [(case, recipe) for case in corrected if (recipe := archive.cases[case].recipe) is not None]
    return "\n".join(training_block(f"correction-{case}", recipe) for case, recipe in made), len(made)


def training_block(family: str, recipe: Recipe) -> str:
    """One message of the corpus: a header, then an ingredient a line."""
    sites = ",".join(recipe.sites) or "-"
    header = f"=== {family} recipe {recipe.product or '-'} {sites} {recipe.contact or '-'}"
    lines = (f"- [{_marked(line)}]" for line in recipe.lines if line.name.strip())
    return "\n".join([header, *lines, ""])


def _marked(line: Line) -> str:
    fields = [escape(" ".join(line.name.split()), inside=True), _amount(line)]
    if line.optional:
        fields.append("opt")
    return "|".join(fields)


def _amount(line: Line) -> str:
    amount = line.amount
    if amount is None:
        return "-"
    unit = "" if amount.unit is None or amount.unit == "piece" else f" {amount.unit}"
    if amount.written is None:
        return f"-{unit}"
    low, high = (f"{figure:.6f}".rstrip("0").rstrip(".") for figure in amount.written)
    return f"{low if low == high else f'{low}-{high}'}{unit}"
