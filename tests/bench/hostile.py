"""The slowest text of the platform's length: `python -m tests.bench.hostile`.

Repeats every piece that the reader knows a rule for, alone and in pairs, up to 6,000 characters, and prints the worst
by processor time, the least of several readings. Asserts nothing.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterable, Iterator
from itertools import islice, product
from random import Random

from nlp.lexicon import LANGUAGES, load_lexicon
from nlp.reader import LONGEST, Reader
from rules.catalogue import load_catalogue
from rules.products import load_products

PLATFORM = 6_000  # characters
LENGTHS = (2_000, 4_000, PLATFORM)
READINGS = 5
WORST = 15
QUICK = 1_500  # characters in the first sieve
SIGNS = (
    "(", ")", "[", "]", "{", "}", "((", "()", "(]", "•",
    "- ", "* ", "1. ", "1) ", "#", "> ", "/", "1/", "1/2 ", "½", "1½ ",
    "⅛", "1:", "1:1 ", "2:1:1 ", "1-2 ", "1 - ", "1,", "1.",
    ".5 ", "1,5 ", "1 ", "12", "%", "5% ", "5 %\n", "\n", "\n\n",
    " \n", "\t", "\r", "🍋", "👩‍🔬", "🏳️‍🌈", "e\u0301",
    "\u0301", "\u0300\u0301", "\u200b", "\u202e", "\ufeff", "ﷺ", "ｇ",
    "а", "ß", "漢", "ש", "a", "aa ", "a-",
    "a'", "a.", "https://a.example/", "www.a.example ", "a@b.example ", "@a ", "#a ",
    "...", "___", "!!!", "?!", "x", "x 2 ", "2x ", "2 x ", "or ",
    "and ", "/ ", "~", "=", "|", "| 1 ", ":", ";", ",", '"',
    "'", "\\", "<", "&", "\x00", "\x07", "w/ ",
    "w/", "°", "$1 ", "1 tsp zorb\n", "zorb 1 tsp\n", "zorb, ", "half a ",
    "a few drops ", "oil (or jojoba) ", "optional beeswax ", "beeswax 1 tsp\n",
    "1 tsp beeswax ", "beeswax, ", "no ",
    "beeswax or ", "beeswax (optional)\n", "balm\n", "balm: ",
    "1 cup ", "juice of ", "half that amount ", "each ",
)  # fmt: skip


def pieces() -> Iterator[str]:
    """Signs, every unit, number and class word of every language, every phrase, and a few names."""
    yield from SIGNS
    seen: set[str] = set()
    for language in LANGUAGES:
        lexicon = load_lexicon(language)
        words = [*lexicon.units, *lexicon.exact, *lexicon.whole, *lexicon.part, *lexicon.vague, *lexicon.other_units]
        phrases = [phrase for group in lexicon.cues.values() for phrase in group]
        for word in [*words, *lexicon.modifiers, *phrases, *(w for ws in lexicon.words.values() for w in ws)]:
            if word not in seen:
                seen.add(word)
                yield f"{word} "


def pairs(seed: int, how_many: int) -> Iterator[str]:
    every = list(pieces())
    draw = Random(seed)
    yield from (a + b for a, b in islice(product(SIGNS, SIGNS), None))
    yield from (draw.choice(every) + draw.choice(every) + draw.choice(SIGNS) for _ in range(how_many))


def taken(reader: Reader, text: str, readings: int) -> float:
    """Milliseconds of processor time, the least of several readings."""
    least = float("inf")
    for _ in range(readings):
        start = time.process_time()
        reader.read(text)
        least = min(least, (time.process_time() - start) * 1000)
    return least


def worst(reader: Reader, units: Iterable[str]) -> list[tuple[float, str]]:
    quick = sorted(((taken(reader, (unit * QUICK)[:QUICK], 1), unit) for unit in units), reverse=True)
    return sorted(
        ((taken(reader, (unit * PLATFORM)[:PLATFORM], READINGS), unit) for _, unit in quick[:60]), reverse=True
    )


def main() -> None:
    reader = Reader(load_catalogue(), load_products())
    say = sys.stdout.write
    for name, units in (("pieces", list(pieces())), ("pairs", list(pairs(1, 3_000)))):
        say(f"{name}: {len(units)}\n")
        for _, unit in worst(reader, units)[:WORST]:
            short = "  ".join(f"{taken(reader, (unit * n)[:n], READINGS):6.1f}" for n in LENGTHS)
            longest = taken(reader, (unit * LONGEST)[:LONGEST], 1)
            say(f"  {short} ms at {LENGTHS}; {longest:8.0f} at {LONGEST}  {unit!r}\n")


if __name__ == "__main__":
    main()
