"""One reader for all tests of a worker, on the tables that ship."""

from nlp.reader import default_reader
from nlp.reading import Reading
from rules.recipe import Line


def read(text: str) -> Reading:
    return default_reader().read(text)


def lines(text: str) -> list[Line]:
    return [line for recipe in read(text).recipes for line in recipe.lines]


def table(text: str) -> list[tuple[str, object, str | None]]:
    """Name, figure or (low, high), unit of each line."""
    return [(line.name, _figure(line), str(line.amount.unit) if line.amount else None) for line in lines(text)]


def _figure(line: Line) -> object:
    if line.amount is None or line.amount.written is None:
        return None
    low, high = line.amount.written
    return low if low == high else (low, high)
