"""The text of an attached file, or why there is none to read."""

from __future__ import annotations

from enum import Enum

ENDINGS = (".txt", ".md")
LARGEST = 64 * 1024  # bytes


class Refusal(Enum):
    """Why an attachment is not read; the answer tells it."""

    OTHER_KIND = "other_kind"  # a picture, a document, sound: its name ends otherwise
    TOO_LARGE = "too_large"
    NOT_UTF8 = "not_utf8"
    EMPTY = "empty"


def refused_unopened(name: str, size: int) -> Refusal | None:
    """What speaks against fetching a file of this name and this many bytes at all."""
    if not name.lower().endswith(ENDINGS):
        return Refusal.OTHER_KIND
    if size > LARGEST:
        return Refusal.TOO_LARGE
    return None if size > 0 else Refusal.EMPTY


def text_of(name: str, content: bytes) -> str | Refusal:
    """The text of a .txt or .md file of at most LARGEST bytes in strict UTF-8, without the mark that may begin it.

    Nothing is repaired: a byte that is no UTF-8, or a null byte, makes the whole file NOT_UTF8.
    """
    if refusal := refused_unopened(name, len(content)):
        return refusal
    try:
        text = content.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError:
        return Refusal.NOT_UTF8
    if "\0" in text:
        return Refusal.NOT_UTF8
    return text if text.strip() else Refusal.EMPTY
