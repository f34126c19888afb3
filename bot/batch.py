"""Assesses JSON lines in order: what can be read at once is read together, what is known is written at
once."""

from __future__ import annotations

import json
import logging
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any, BinaryIO, Protocol

from bot.contract import error_row, message_row
from bot.triage import Context, Judge, Reads, conclude, weigh
from bot.words.clean import whole_characters
from nlp.reading import Reading
from rules.assessment import Jurisdiction

log = logging.getLogger(__name__)
TOGETHER = 64
LINE_BYTES = 4_000_000
READ_BYTES = 1 << 16


class ReadsMany(Reads, Protocol):
    """What reads many texts at once, in order."""

    def read_many(self, texts: Sequence[str]) -> Iterator[Reading]: ...


@dataclass(frozen=True, slots=True)
class Request:
    """One line of the input. `error` says what is wrong with it, in a sentence."""

    number: int
    id: str | None
    text: str
    error: str | None = None


def requests(source: BinaryIO) -> Iterator[list[Request]]:
    """The lines of a stream in groups of what has arrived, so that a slow writer gets its answers at once."""
    number = 0
    for lines in _arrivals(source):
        found = []
        for line in lines:
            number += 1
            if line is None or line.strip():
                found.append(parse(number, line))
        for start in range(0, len(found), TOGETHER):
            yield found[start : start + TOGETHER]


def parse(number: int, line: bytes | None) -> Request:
    """One JSON line; None is a line longer than the limit."""
    if line is None:
        return Request(number, None, "", f"the line is longer than {LINE_BYTES} bytes")
    try:
        row = json.loads(line.decode("utf-8"))
    except UnicodeDecodeError as error:
        return Request(number, None, "", f"not UTF-8 at byte {error.start}")
    except (json.JSONDecodeError, RecursionError) as error:
        said = error.msg if isinstance(error, json.JSONDecodeError) else "nested too deeply"
        return Request(number, None, "", f"not JSON: {said}")
    except ValueError:
        return Request(number, None, "", "not JSON: a number too long")
    return _from_row(number, row)


def _from_row(number: int, row: Any) -> Request:
    if not isinstance(row, dict):
        return Request(number, None, "", 'not an object; write {"id": "...", "text": "..."}')
    message_id, text = row.get("id"), row.get("text")
    known_id = whole_characters(message_id) if isinstance(message_id, str) else None
    if known_id is None:
        return Request(number, None, "", '"id" is missing or not a string')
    if not isinstance(text, str):
        return Request(number, known_id, "", '"text" is missing or not a string')
    return Request(number, known_id, whole_characters(text))


def rows(
    group: list[Request], reader: ReadsMany, jurisdiction: Jurisdiction, judge: Judge | None = None
) -> Iterator[tuple[Request, dict[str, Any]]]:
    """The output row of each request, in order. A message that cannot be judged has an error of its own."""
    good = [request for request in group if request.error is None]
    readings = iter(_read(good, reader))
    for request in group:
        error = request.error
        reading = next(readings) if error is None else None
        if reading is not None:
            try:
                judged = weigh(reading, None, jurisdiction, judge)
                context = Context(with_more=False)
                recalled = tuple(context.recall(known) for known in judged.sketches)
                yield (
                    request,
                    message_row(request.id or "", conclude(judged, recalled, context, jurisdiction)),
                )
                continue
            except Exception as fault:
                log.warning("line %d could not be judged", request.number, exc_info=True)
                error = f"could not be judged ({type(fault).__name__})"
        yield request, error_row(request.id, error or "could not be read")


def run(
    source: BinaryIO,
    reader: ReadsMany,
    jurisdiction: Jurisdiction,
    *,
    write: Callable[[str], None],
    complain: Callable[[str], None],
    judge: Judge | None = None,
) -> bool:
    """Assesses a whole stream; True where every line was good."""
    all_good = True
    for group in requests(source):
        for request, row in rows(group, reader, jurisdiction, judge):
            write(json.dumps(row, ensure_ascii=False, allow_nan=False))
            if "error" in row:
                all_good = False
                complain(f"line {request.number}: {row['error']}")
    return all_good


def _read(good: list[Request], reader: ReadsMany) -> list[Reading | None]:
    """All together; one by one where that fails, so that one text cannot take the others with it."""
    try:
        readings: list[Reading | None] = list(islice(reader.read_many([r.text for r in good]), len(good)))
        if len(readings) == len(good):
            return readings
    except Exception:
        log.warning("reading together failed; reading one by one", exc_info=True)
    return [_read_one(request, reader) for request in good]


def _read_one(request: Request, reader: ReadsMany) -> Reading | None:
    try:
        return reader.read(request.text)
    except Exception:
        log.warning("line %d could not be read", request.number, exc_info=True)
        return None


def _arrivals(source: BinaryIO) -> Iterator[list[bytes | None]]:
    """Whole lines as they arrive; None for one that is longer than the limit, which is then thrown away."""
    rest = b""
    too_long = False
    # A buffered stream's read1 hands over what has arrived; plain `read` would wait for the whole block.
    read: Callable[[int], bytes] = getattr(source, "read1", source.read)
    while block := read(READ_BYTES):
        *lines, rest = (rest + block).split(b"\n")
        done = [line if len(line) <= LINE_BYTES else None for line in lines]
        if too_long and done:
            done[0], too_long = None, False
        if len(rest) > LINE_BYTES:
            rest, too_long = b"", True
        if done:
            yield done
    if rest or too_long:
        yield [None if too_long else rest]
