"""Hostile input made from good input: texts cut, doubled and laced; JSON and tables with one thing wrong."""

from __future__ import annotations

import json
import random
from typing import Any

ODD = (
    "\x00", "\x1b[2J", "\ufeff", "\u202e", "\u200b", "\u2028", "\ud800", "İ", "ß", "½", "⅞", "٣", "1/0", "0/0", "-1",
    "1e999", "9" * 400, "nan", "inf", "%s", "{0}", "{a.b}", "$(x)", "'; --", '"', "\\", "<script>", "@everyone",
    "<@1>", "[x](http://x)", "=1+1", "../../etc", "()", "((((", "…", "—", "%", "½ cup", "2-", "-3 tbsp", "1,5 g",
    "🧴" * 30, "e\u0301" * 20, "oil " * 60, "(" * 90, "\n" * 40, ",,,,", "1 tbsp ", " or ", " no ", " 100 %",
)  # fmt: skip
VALUES: tuple[Any, ...] = (
    None, True, -1, 0, 1.5, 1e308, 10**30, "", "x", "\x00", "\ud800", [], {}, [[]], {"a": {}}, "9" * 400, "NaN", [None],
)  # fmt: skip
LONGEST = 3000


def text(dice: random.Random, good: str) -> str:
    """One to eight cuts, doublings, swaps and odd pieces."""
    for _ in range(dice.randint(1, 8)):
        at, to = sorted((dice.randint(0, len(good)), dice.randint(0, len(good))))
        match dice.randrange(5):
            case 0:
                good = good[:at] + good[min(to, at + 20) :]
            case 1:
                good = good[:to] + good[at : at + 60] + good[to:]
            case 2:
                good = good[:at] + chr(dice.choice((dice.randrange(32, 127), dice.randrange(0x11_0000)))) + good[at:]
            case _:
                good = good[:at] + dice.choice(ODD) + good[at:]
    return good[:LONGEST]


def tree(dice: random.Random, good: Any) -> Any:
    """The same JSON value with one to three places replaced, dropped, renamed or moved."""
    good = json.loads(json.dumps(good))
    for _ in range(dice.randint(1, 3)):
        places = list(_places(good))
        if not places:
            return dice.choice(VALUES)
        holder, key = dice.choice(places)
        match dice.randrange(4):
            case 0 if isinstance(holder, dict):
                holder[text(dice, str(key))] = holder.pop(key)
            case 1:
                del holder[key]
            case 2 if isinstance(holder[key], str):
                holder[key] = text(dice, holder[key])
            case _:
                other, name = dice.choice(places)
                moved = other[name] if dice.random() < 0.3 and (other is not holder) else dice.choice(VALUES)
                holder[key] = json.loads(json.dumps(moved))
    return good


def _places(value: Any) -> Any:
    if isinstance(value, dict):
        items: Any = list(value.items())
    elif isinstance(value, list):
        items = list(enumerate(value))
    else:
        return
    for key, below in items:
        yield value, key
        yield from _places(below)


def table(dice: random.Random, good: str) -> str:
    """Some lines of a table, one to three of them spoiled."""
    lines = good.splitlines()
    start = dice.randrange(max(1, len(lines) - 12))
    kept = [lines[0], *lines[start : start + 12]]
    for _ in range(dice.randint(1, 3)):
        at = dice.randrange(len(kept))
        kept[at] = text(dice, kept[at])
    return "\n".join(kept)
