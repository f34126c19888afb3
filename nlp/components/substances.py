"""Finds names of the catalogue in the text, the longest first, with the form words that belong to them."""

from __future__ import annotations

from dataclasses import replace

from spacy.language import Language
from spacy.tokens import Doc

from nlp.components.cues import lexicon_of
from nlp.lexicon import ENGLISH, Lexicon, load_lexicon
from nlp.mention import Found, Mention
from nlp.names import Names, is_watery
from nlp.tokens import NormalisingTokenizer, Words, register
from rules.catalogue import Catalogue, Role, Substance

_INFUSED_IN = frozenset({"oil", "butter"})
_GLITTER = frozenset({"glitter_craft", "glitter_cosmetic"})


class Substances:
    """Sets `doc._.mentions`, in order, none overlapping. `learn` fills it, as patterns fill an entity ruler."""

    def __init__(self, tokenizer: NormalisingTokenizer) -> None:
        self._tokenizer = tokenizer
        self._catalogue: Catalogue | None = None
        self._names: dict[str, Names] = {}

    def learn(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._names = {ENGLISH: Names(catalogue, self._tokenizer, load_lexicon(ENGLISH))}

    def names_in(self, language: str) -> Names:
        """Names of one language, made when the first message in it comes."""
        if self._catalogue is None:
            raise ValueError("the component `substances` has not learnt any names")
        if language not in self._names:
            self._names[language] = Names(self._catalogue, self._tokenizer, load_lexicon(language))
        return self._names[language]

    def __call__(self, doc: Doc) -> Doc:
        words: Words = doc._.words
        lexicon = lexicon_of(doc)
        names = self.names_in(lexicon.language)
        counted = {at for measure in doc._.amounts for at in range(measure.start, measure.end)}
        hits = [
            hit
            for hit in names.find_all(words.norm)
            if not (hit.start in counted and hit.end - 1 in counted and _in_one(doc, hit.start, hit.end))
        ]
        mentions = [self._mention(words, hit.start, hit.end, lexicon, names) for hit in hits]
        mentions = _with_heads(words, _blends(words, mentions, names.catalogue), lexicon, names)
        mentions = _oils_of(words, mentions, names)
        inside = {at for mention in mentions for at in range(mention.start, mention.end)}
        doc._.amounts = [m for m in doc._.amounts if not (m.start in inside and m.end - 1 in inside)]
        doc._.mentions = [m for before, m in zip([None, *mentions], mentions, strict=False)
                          if before is None or m.start >= before.end]  # fmt: skip
        doc._.names = names
        return doc

    def _mention(self, words: Words, start: int, end: int, lexicon: Lexicon, names: Names) -> Mention:
        substance = names.find(words.norm[start:end])
        found = Found.NAME if substance else Found.BARE
        start = _trimmed(words, start, end, substance, lexicon, names)
        end, same = _extended(words, end, substance, lexicon)
        if words.at(end) == "#" and words.at(end + 1).isdigit() and words.glued(end + 1):
            end += 2  # "liquid oil #2"
        if not same and (whole := _whole_name(words, start, end, lexicon, names)) is not None:
            substance, same = whole, True  # "raw shea" + "butter"
        if not same:
            return Mention(start, end, None, Found.UNKNOWN)
        if substance is None:
            return Mention(start, end, None, found)
        return Mention(start, end, substance.id, found, substance.generic)


def _in_one(doc: Doc, start: int, end: int) -> bool:
    """Whether the words are part of one unit ("cuillere a cafe")."""
    return any(m.start < start and end <= m.end and m.unit is not None for m in doc._.amounts)


def _blends(words: Words, mentions: list[Mention], catalogue: Catalogue) -> list[Mention]:
    """ "A (and) B (and) C": one trade blend; it counts as its emulsifier, or else as its first part."""
    joined: list[Mention] = []
    for mention in mentions:
        before = joined[-1] if joined else None
        if before is not None and words.norm[before.end : mention.start] == ["(", "and", ")"]:
            leads = _emulsifies(mention, catalogue) and not _emulsifies(before, catalogue)
            joined[-1] = replace(mention if leads else before, start=before.start, end=mention.end)
        else:
            joined.append(mention)
    return joined


def _oils_of(words: Words, mentions: list[Mention], names: Names) -> list[Mention]:
    """ "oil of clove": the oil of that plant, and neither an oil nor the spice."""
    whole: list[Mention] = []
    for mention in mentions:
        first = mention.start - 2
        oil = names.completed(words.norm[mention.start : mention.end], ["essential oil", "oil"])
        if words.norm[max(0, first) : mention.start] != ["oil", "of"] or oil is None:
            whole.append(mention)
            continue
        if whole and whole[-1].end == first + 1:
            first = whole.pop().start
        whole.append(Mention(first, mention.end, oil.id, Found.NAME, oil.generic))
    return whole


def _emulsifies(mention: Mention, catalogue: Catalogue) -> bool:
    substance = catalogue.get(mention.substance)
    return substance is not None and Role.EMULSIFIER in substance.roles


def _with_heads(words: Words, mentions: list[Mention], lexicon: Lexicon, names: Names) -> list[Mention]:
    """ "rose fragrance oil": of two names side by side the last says what it is."""
    merged: list[Mention] = []
    for mention in mentions:
        before = merged[-1] if merged else None
        if before is None or not _belongs(words, before, mention, lexicon):
            merged.append(mention)
        elif mention.generic and not before.generic:
            one = names.completed(words.norm[before.start : before.end], ["essential oil"])
            which = one.id if one is not None and mention.substance == "essential_oil" else mention.substance
            merged[-1] = replace(mention, start=before.start, substance=which, generic=which == mention.substance)
        elif mention.substance in _GLITTER or _is_product_of(words, before, mention, names.catalogue):
            merged[-1] = replace(mention, start=before.start)  # "soap glitter", "goat milk soap base"
        elif before.end == mention.start and words.at(before.end - 1) == "proof" and mention.substance is not None:
            merged[-1] = replace(before, start=mention.start, end=mention.end)  # "190 proof vodka"
        else:
            merged.append(mention)
    return merged


def _belongs(words: Words, before: Mention, mention: Mention, lexicon: Lexicon) -> bool:
    """Side by side, or turned round for a list: "Lavender, Bulgarian essential oil"."""
    between = words.norm[before.end : mention.start]
    turned = len(between) > 1 and between[0] == "," and all(word in lexicon.words["grade"] for word in between[1:])
    return not between or (turned and mention.substance == "essential_oil")


def _is_product_of(words: Words, before: Mention, mention: Mention, catalogue: Catalogue) -> bool:
    """An amount or a bullet stands before both, so that they are one thing and no list without commas."""
    substance = catalogue.get(mention.substance)
    if substance is None or before.end != mention.start or before.generic:
        return False
    first = before.start - 1
    heads = not words.is_word(first) or words.at(first) == "of" or words.at(first - 1)[:1].isdigit()
    return heads and (Role.SOAP in substance.roles or catalogue.family(substance.id) == "finished_products")


def _trimmed(words: Words, start: int, end: int, substance: Substance | None, lexicon: Lexicon, names: Names) -> int:
    """Leaves words of grade and figures outside the name, as long as the rest still names the same."""
    best = start
    while substance and start + 1 < end and _is_aside(words.norm[start], lexicon):
        start += 1
        if names.find(words.norm[start:end]) is substance:
            best = start
    return best


def _is_aside(word: str, lexicon: Lexicon) -> bool:
    return word in lexicon.words["grade"] or word in lexicon.starters or word == "/" or word.isdigit()


def _whole_name(words: Words, start: int, end: int, lexicon: Lexicon, names: Names) -> Substance | None:
    """What the name with its form words is called in the catalogue, without the grades before and inside it."""
    kept = [word for word in words.norm[start:end] if word not in lexicon.words["grade"]]
    return names.find(kept)


def _extended(words: Words, end: int, substance: Substance | None, lexicon: Lexicon) -> tuple[int, bool]:
    """Takes in form words ("pellets"); the flag is False where one makes another thing of it ("milk powder")."""
    same = True
    if words.at(end) in lexicon.words["grade"] and words.at(end + 1) in _INFUSED_IN:
        return end + 2, substance is not None and substance.phase == "oil"  # "calendula herbal oil"
    while words.at(end) in lexicon.words["form"]:
        word = words.at(end)
        if word in lexicon.words["changes"] or (word == "powder" and substance is not None and is_watery(substance)):
            same = same and word in ("oil",) and substance is not None and substance.phase == "oil"
        end += 1
    return end, same


@Language.factory("watchglass_substances", assigns=["doc._.mentions"])
def create(nlp: Language, name: str) -> Substances:  # noqa: ARG001 spaCy calls a factory with the name of the pipe
    return Substances(nlp.tokenizer)  # type: ignore[arg-type]


register([("mentions", ()), ("names", None)])


def names_of(doc: Doc) -> Names:
    names: Names = doc._.names
    return names
