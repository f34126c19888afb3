"""Plain text out of what people paste, with the way back to the place of every character.

The normalised text is free of accents, invisible characters and look-alike letters, has ASCII dashes and quotes,
fractions as figures, pictures as bullets, single spaces, and no run of more than RUN characters without a space.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

RUN = 100

# Vulgar fractions go first: NFKC would glue them to a figure on their left and turn 1½ into 11/2.
_FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_MARKS = {
    **dict.fromkeys("‐‑‒–—―−﹣－", "-"),
    **dict.fromkeys("‘’‚‛′`´ʼ＇", "'"),
    **dict.fromkeys("“”„‟″«»", '"'),
    **dict.fromkeys("∕⁄／÷", "/"),
    **dict.fromkeys("•‣⁃◦▪▫●○■□◆◇►▶➤➢✓✔★☆✦✧❖·∙⋅", "•"),
    "×": "x", "…": " - ", "°": "°", "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ı": "i", "µ": "u",
    "Æ": "Ae", "Œ": "Oe", "Ø": "O",
}  # fmt: skip
# Cyrillic and Greek letters that look Latin; used only where they touch Latin letters.
_LOOKALIKES = dict(zip("авсеһіјкморѕтухАВСЕНІЈКМОРЅТУХαοερικνυτΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
                       "abcehijkmopstyxABCEHIJKMOPSTYXaoepiknutABEZHIKMNOPTYX", strict=True))  # fmt: skip

_SPECIAL = re.compile(
    r"""
    [ \t\n\r\f\v]{2,} | [\t\n\r\f\v]            # any gap but one space
    | (?<=[A-Za-z])-(?=[A-Za-z])                # tea-tree
    | \.{3,} | _{3,}                            # leaders
    | ([^\w\s]|[^\x00-\x7f])\1{7,}              # (((((((( and the same picture or fraction again and again
    | (?<![A-Za-z])w/(?=[ ]?[A-Za-z]{2})        # w/ honey
    | [^\x20-\x7e]+
    """,
    re.VERBOSE,
)
_LONG = re.compile(rf"\S{{{RUN}}}(?=\S)")


@dataclass(frozen=True, slots=True)
class Normalised:
    """`starts[i]` and `ends[i]` are the bounds in the original text of the character `text[i]`."""

    text: str
    starts: list[int] | range
    ends: list[int] | range

    def original(self, start: int, end: int) -> tuple[int, int]:
        """Bounds in the original text of the normalised `text[start:end]`, which must not be empty."""
        return self.starts[start], self.ends[end - 1]


def normalise(text: str) -> Normalised:
    """Linear in the length of the text; never fails."""
    parts: list[str] = []
    starts: list[int] = []
    done = 0
    for match in _SPECIAL.finditer(text):
        begin = match.start()
        parts.append(text[done:begin])
        starts.extend(range(done, begin))
        for piece, at in _rewritten(text, match):
            parts.append(piece)
            starts.extend([at] * len(piece))
        done = match.end()
    if not done:
        return _broken_up(Normalised(text, range(len(text)), range(1, len(text) + 1)))
    parts.append(text[done:])
    starts.extend(range(done, len(text)))
    return _broken_up(Normalised("".join(parts), starts, [at + 1 for at in starts]))


def _rewritten(text: str, match: re.Match[str]) -> list[tuple[str, int]]:
    found, begin = match.group(), match.start()
    if found == "-":
        return [(" ", begin)]
    if found[0].isascii() and len(found) > 7 and not found[0].isalnum() and found[0] not in "._":
        return [(found[:3], begin)]
    if found[0] in "._":
        return [(" - ", begin)]
    if found == "w/":
        return [("with ", begin)]
    if found.isspace():
        return [(_gap(found), begin)]
    before = text[begin - 1] if begin else " "
    after = text[match.end()] if match.end() < len(text) else " "
    latin = _letter(before) or _letter(after)
    pieces: list[tuple[str, int]] = []
    if len(found) > 7 and found == found[0] * len(found):
        found = found[:3]
    pictures = 0
    for at, char in enumerate(found, begin):
        piece = _LOOKALIKES.get(char, "") if latin else ""
        piece = piece or _character(char, before)
        if char in _FRACTIONS and at + 1 == match.end() and _letter(after):
            piece += " "
        pictures = pictures + 1 if piece == "•" else pictures if not piece else 0
        if pictures > 3:
            piece = ""  # a row of pictures says no more than three
        pieces.append((piece, at))
        before = char
    return pieces


def _gap(spaces: str) -> str:
    lines = spaces.count("\n") or spaces.count("\r") or spaces.count("\v") or spaces.count("\f")
    return " " if not lines else "\n" if lines == 1 else "\n\n"


def _character(char: str, before: str) -> str:
    if char in _FRACTIONS:
        return (" " if before.isdigit() else "") + _FRACTIONS[char]
    return _plain(char)


@lru_cache(maxsize=4096)
def _plain(char: str) -> str:
    if char in _MARKS:
        return _MARKS[char]
    category = unicodedata.category(char)
    if category == "So" or category == "Sk" or category == "Co":
        return "•"
    if category in ("Zl", "Zp") or char == "\x85":
        return "\n"
    if category == "Zs":
        return " "
    if category[0] == "C" or category[0] == "M":
        return ""
    plain = unicodedata.normalize("NFKD", char)
    return "".join(part for part in plain if not unicodedata.combining(part)).replace("\u2044", "/")


def _letter(char: str) -> bool:
    return char.isascii() and char.isalpha()


def _broken_up(plain: Normalised) -> Normalised:
    """Puts a space into endless words, so that no later step can meet a long one."""
    if not _LONG.search(plain.text):
        return plain
    parts: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    done = 0
    for match in _LONG.finditer(plain.text):
        stop = match.end()
        parts += [plain.text[done:stop], " "]
        starts += [*plain.starts[done:stop], plain.starts[stop - 1]]
        ends += [*plain.ends[done:stop], plain.ends[stop - 1]]
        done = stop
    parts.append(plain.text[done:])
    starts += plain.starts[done:]
    ends += plain.ends[done:]
    return Normalised("".join(parts), starts, ends)
