"""Finds amounts: a number or range with its unit, and the words that are an amount by themselves ("a pinch")."""

from __future__ import annotations

from dataclasses import replace

from spacy.language import Language
from spacy.tokens import Doc

from nlp.components.cues import cues_of, lexicon_of
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.notations import joined_with
from nlp.quantity import Number, Value, and_part, number_at
from nlp.ratios import again, drop_by_drop, equal_parts, ratio_at
from nlp.tokens import Words, figure, register
from rules.recipe import Unit

# A unit word that is an amount without a figure, where "of" follows ("pinch of salt").
_ALONE = frozenset({
    Unit.PINCH, Unit.HANDFUL, Unit.SPLASH, Unit.SQUIRT, Unit.SPOONFUL, Unit.DROP, Unit.TSP, Unit.TBSP, Unit.CUP,
})  # fmt: skip
_FEW = (2.0, 3.0, 6.0)
# Unit words written out: the full stop behind one ends the sentence.
_FULL = frozenset({
    "cup", "drop", "part", "spoon", "gram", "pinch", "dash", "litre", "liter", "scoop", "ounce", "pound", "kilo",
})  # fmt: skip
_OPENS = frozenset({",", "and", "+", "•", "-", "*", ";", ":", "plus", "with", "&", "."})
_ABOUT = frozenset(
    {
        "about",
        "approx",
        "approximately",
        "around",
        ":",
        "~",
        "up",
        "to",
        "roughly",
        "-",
        "is",
        "total",
        "enough",
        "a",
        "of",
        "=",
    }
)
_NUMBERED = frozenset({"recipe", "step", "version", "attempt", "formula", "stage", "day"})
_COLUMN_LINES = 3
_CROWD = 60  # amounts with no word between them; more is a heap of figures and no recipe
_HEADS_COLUMN = frozenset({"/", "(", "in", "|", "wt", "all", "w", "weight", "[", ",", "-"})
_COLUMN = frozenset({Unit.PERCENT, Unit.G, Unit.DROP, Unit.TSP, Unit.TBSP, Unit.ML, Unit.PART, Unit.OZ, Unit.CUP})


def amounts(doc: Doc) -> Doc:
    """Sets `doc._.amounts`, in order, none overlapping."""
    words: Words = doc._.words
    lexicon = lexicon_of(doc)
    skipped = {cue.end for cue in cues_of(doc, "line.yield") if words.text[cue.end - 1].lower() != "make"}
    found: list[Measure] = []
    at = crowd = 0
    starters = lexicon.starters
    while at < len(words):
        word = words.norm[at]
        begins = (word in starters or word[:1].isdigit() or word[:1] == ".") and crowd < _CROWD
        measure = again(words, at, found) or _measure_at(words, at, lexicon) if begins else None
        if measure is None:
            crowd = 0 if len(word) > 2 and word[0].isalpha() and word not in starters else crowd
            at += 1
            continue
        crowd += 1
        if measure.unit is None and found and words.at(measure.end) == "of" and found[-1].unit in _ALONE:
            measure = replace(measure, unit=found[-1].unit)  # "three tablespoons of this and one of that"
        if _is_yield(words, measure, skipped):
            measure = replace(measure, size=True)
        joined = joined_with(words, found[-1], measure) if found else None
        if joined is not None:
            found[-1] = joined
        else:
            found.append(measure)
        at = measure.end
    default = _default_unit(doc, lexicon, found)
    doc._.amounts = [replace(m, unit=default) if m.unit is None and default and m.written else m for m in found]
    return doc


def _default_unit(doc: Doc, lexicon: Lexicon, found: list[Measure]) -> Unit | None:
    """The unit that a heading or the first line names for all figures: "wt%:", "all in grams", a column "%"."""
    words: Words = doc._.words
    bare = sum(1 for measure in found if measure.unit is None and measure.written and not measure.size)
    if bare < 2 or bare * 2 < len(found):
        return None
    closing = [measure for measure in found if words.is_break(measure.end) and not measure.size]
    if len(closing) > _COLUMN_LINES and closing[0].unit in _COLUMN and all(m.unit is None for m in closing[1:]):
        return closing[0].unit  # "Water 77 %", and figures only at the ends of the lines below
    if _are_shares(words, found):
        return Unit.PERCENT
    if [m.unit for m in closing if m.unit is not None] == [Unit.PERCENT] and _make_a_whole(closing):
        return Unit.PERCENT
    taken = {at for measure in found for at in range(measure.start, measure.end)}
    for at in range(len(words)):
        if at in taken or not (words.at(at - 1) in _HEADS_COLUMN or words.at(at - 2) in ("in", "all")):
            continue
        unit, end = _unit_at(words, at, lexicon)
        if unit in _COLUMN and (words.is_break(end) or words.at(end) in ("|", ")", ":", "w", "by", "-", "/")):
            return unit
    return None


def _are_shares(words: Words, found: list[Measure]) -> bool:
    """Bare figures of a list that make a hundred: "Water 70 Aloe 20 Glycerin 5 ..."; a stated pH is none of them."""
    plain = [m for m in found if not m.size and words.at(m.start - 1) not in ("ph",)]
    return all(m.unit is None and m.written and not (m.shared or m.ratio) for m in plain) and _make_a_whole(plain)


def _make_a_whole(shares: list[Measure]) -> bool:
    return len(shares) > _COLUMN_LINES and 95 <= sum(measure.best for measure in shares) <= 105


def _measure_at(words: Words, at: int, lexicon: Lexicon) -> Measure | None:
    ratio = ratio_at(words, at)
    if ratio and _unit_at(words, ratio.end, lexicon)[0] is None:
        return ratio
    number = number_at(words, at, lexicon) if words.at(at - 1) != "#" else None
    if number is None:
        return equal_parts(words, at) or drop_by_drop(words, at) or _bare_unit(words, at, lexicon)
    if _is_index(words, at, number) or _in_name(words, at, lexicon):
        return None
    return _with_unit(words, at, number, lexicon)


def _with_unit(words: Words, at: int, number: Number, lexicon: Lexicon) -> Measure | None:
    after = _skip(words, number.end, lexicon)
    unit, end = _unit_at(words, after, lexicon)
    if unit is None and words.is_break(number.end) and (words.is_break(at - 1) or words.at(at - 1) in "•-*"):
        unit, end = _unit_at(words, number.end + 1, lexicon)
    if unit is None:
        return _without_unit(words, at, number, lexicon)
    low, best, high = number.low, number.best, number.high
    if unit is Unit.PERCENT and low >= 100:
        return Measure(at, end, low, best, high, unit, size=True)
    if words.at(end) in ("-", "to") and number.low == number.high:
        upper = number_at(words, end + 1, lexicon)
        if upper and upper.exact and upper.best > best:
            unit_again, end_again = _unit_at(words, _skip(words, upper.end, lexicon), lexicon)
            if unit_again is unit:
                high, end, best = upper.high, end_again, (low + upper.high) / 2
    if number.low == number.high and (part := and_part(words, Value(best, end), lexicon)).end > end:
        low = best = high = part.value  # "a cup and a half"
        end = part.end
    if unit is Unit.ML and words.at(end) == "spoon":
        end += 1  # "a 5 ml spoon"
    if words.at(end) in ("total", "altogether") and words.at(end + 1) != "of":
        return Measure(at, end + 1, low, best, high, unit, size=True)
    shared = words.at(end) in lexicon.words["each"] or words.at(end + 1) in lexicon.words["each"]
    return Measure(at, end, low, best, high, unit, number.exact, shared)


def _without_unit(words: Words, at: int, number: Number, lexicon: Lexicon) -> Measure | None:
    """A count ("two eggs") or the size of something else ("10 minutes"); "a" alone is neither."""
    after = _skip(words, number.end, lexicon)
    if _counts_things(words, after, lexicon):
        return Measure(at, after + 1, number.low, number.best, number.high, None, number.exact)
    if words.at(after) in lexicon.other_units and not _times(words, after):
        return Measure(at, after + 1, number.low, number.best, number.high, None, size=True)
    if _times(words, after):
        each = number_at(words, after + 1, lexicon)
        unit, end = _unit_at(words, _skip(words, each.end, lexicon), lexicon) if each else (None, at)
        if each and unit:
            times = number.best
            return Measure(at, end, each.low * times, each.best * times, each.high * times, unit)
    if words.at(at) in ("a", "an") and number.exact and number.best == 1:
        return None
    return Measure(at, number.end, number.low, number.best, number.high, None, number.exact)


def _times(words: Words, at: int) -> bool:
    return words.at(at) in ("x", "*") and figure(words.at(at + 1)) is not None


def _counts_things(words: Words, at: int, lexicon: Lexicon) -> bool:
    """ "2 x eggs", but not "2x a week" or "10x smoother"."""
    follows = words.at(at + 1)
    known = follows in lexicon.words["stop"] or follows in lexicon.other_units or follows in lexicon.units
    return words.at(at) == "x" and words.is_word(at + 1) and not known and not follows.endswith(("er", "ly"))


def _skip(words: Words, at: int, lexicon: Lexicon) -> int:
    """Past "heaped", "large", "+", "of a" and the like, between figure and unit."""
    for _ in range(3):
        if not _is_between(words, at, lexicon):
            break
        at += 1
    return at


def _is_between(words: Words, at: int, lexicon: Lexicon) -> bool:
    word = words.at(at)
    if word in lexicon.modifiers:
        return True
    if word in ("+", "/", "-", "~") and words.glued(at) and not words.is_break(at + 1):
        return True
    if word == "+" and words.is_word(at + 1):
        return True
    if word == "x" and words.at(at + 1) in lexicon.starters:
        return True
    return word in ("of", "a", "an") and words.at(at - 1) not in ("few", "several", "some")


def _unit_at(words: Words, at: int, lexicon: Lexicon) -> tuple[Unit | None, int]:
    """The unit that begins at token `at` and the token after it, its full stop included."""
    if at >= len(words):
        return None, at
    unit, length = None, 1
    for length in lexicon.unit_lengths.get(words.norm[at], ()):
        if at + length > len(words):
            continue
        unit = lexicon.units.get(" ".join(words.norm[at : at + length]))
        if unit is not None:
            break
    if unit is None or length == 1:
        unit, length = lexicon.exact.get(words.text[at], unit), 1
    if unit is None:
        return None, at
    end = at + length
    if words.at(end) == "." and words.glued(end) and len(words.at(end - 1)) <= 5 and words.at(end - 1) not in _FULL:
        end += 1
    if words.at(end) == "by" and words.at(end + 1) in ("weight", "volume"):
        end += 2
    if unit is Unit.PERCENT and words.norm[end : end + 3] in (["w", "/", "w"], ["w", "/", "v"], ["v", "/", "v"]):
        end += 3
    return unit, end


def _bare_unit(words: Words, at: int, lexicon: Lexicon) -> Measure | None:
    """ "pinch of salt", "drops of lavender", "tablespoon of honey": one, or a few where the word is a plural."""
    unit, end = _unit_at(words, at, lexicon)
    if words.at(end) in ("my", "your", "the", "it", "them"):
        return None  # "spritz my curls", "scoop it out"
    if (
        unit not in _ALONE
        or len(words.text[at]) < 3
        or not (words.at(end) == "of" or words.at(at - 1) == "x" or _opens_item(words, at, end, lexicon))
    ):
        return None
    if unit is Unit.DROP and words.text[at].lower().endswith("s"):
        return Measure(at, end, *_FEW, unit, False)
    return Measure(at, end, 1.0, 1.0, 1.0, unit)


def _opens_item(words: Words, at: int, end: int, lexicon: Lexicon) -> bool:
    """ "tsp honey", "handful dried sage" at the head of a line or of an item of a list."""
    before = at - 1 if words.at(at - 1) in lexicon.modifiers else at
    named = words.is_word(end) and words.norm[end] not in lexicon.words["stop"]
    return named and (words.is_break(before - 1) or words.at(before - 1) in _OPENS)


def _is_index(words: Words, at: int, number: Number) -> bool:
    """ "1." or "2)" at the head of a line counts steps, not ingredients."""
    head = words.is_break(at - 1) or (words.at(at - 1) in "(#" and words.is_break(at - 2))
    return head and number.end == at + 1 and words.at(at + 1) in (".", ")", "]") and words.at(at).isdigit()


def _in_name(words: Words, at: int, lexicon: Lexicon) -> bool:
    """ "PA-3", "Recipe 1 - 2% balm", "double boiler": figures that count nothing."""
    if words.norm[at : at + 2] == ["double", "boiler"]:
        return True
    if not words.at(at).isdigit() or _unit_at(words, at + 1, lexicon)[0] is not None:
        return False
    code = words.at(at - 1) == "-" and words.glued(at) and words.glued(at - 1) and words.is_word(at - 2)
    return words.at(at - 1) in _NUMBERED or (code and words.is_word(at + 1) and not words.glued(at + 1))


def _is_yield(words: Words, measure: Measure, after: set[int]) -> bool:
    """The figure stands right behind "makes", "yield:", "SPF" and the like."""
    at = measure.start
    while at not in after:
        at -= 1
        if measure.start - at > 3 or words.at(at) not in _ABOUT:
            return False
    return True


@Language.component("watchglass_amounts", assigns=["doc._.amounts"])
def component(doc: Doc) -> Doc:
    return amounts(doc)


register([("amounts", ())])
