"""From mentions and amounts to the lines of a recipe."""

from __future__ import annotations

from spacy.language import Language
from spacy.tokens import Doc

from nlp.attach import attach
from nlp.benefits import drop_benefits
from nlp.brackets import link_brackets, total_in_bracket
from nlp.choices import link_choices
from nlp.draft import Draft, Entry
from nlp.marks import mark_negated, mark_optional, mark_surroundings
from nlp.measure import Measure
from nlp.oils import settle_names
from nlp.parts import split_entries
from nlp.pick import pick
from nlp.qualities import mark_qualities
from nlp.shares import share_amounts
from nlp.squeezed import join_squeezed
from nlp.strengths import mark_strengths
from nlp.terse import told_in_one_breath
from nlp.titles import drop_titles
from nlp.tokens import register

# Each step reads the marks of those before it.
_STEPS = (
    mark_surroundings,
    drop_titles,
    drop_benefits,
    link_choices,
    link_brackets,
    total_in_bracket,
    share_amounts,
    settle_names,
    join_squeezed,
    mark_negated,
    mark_optional,
    mark_qualities,
    mark_strengths,
)


def draft_lines(doc: Doc) -> Doc:
    """Sets `doc._.recipes`, lists of ingredients in the order of the text, and all of them in `doc._.entries`."""
    draft = Draft.of(doc)
    mentions = list(doc._.mentions)
    starts = {mention.start for mention in mentions}
    measures = [m for m in draft.told if not (m.size or _sizes_container(draft, m, starts))]
    pairs = attach(draft.words, draft.layout, draft.lexicon, mentions, measures)
    draft.fill([Entry(mention, pairs.get(mention.start)) for mention in mentions])
    for step in _STEPS if mentions else ():
        step(draft)
    parts = split_entries(draft, doc._.named, doc._.product_hits)
    doc._.recipes = [picked for part in parts if (picked := pick(draft, part))]
    terse = told_in_one_breath(draft) if sum(map(len, doc._.recipes)) < 2 else []
    if terse:
        unknown = [entry for part in doc._.recipes for entry in part if entry.mention.substance is None]
        doc._.recipes = [sorted([*terse, *unknown], key=lambda entry: entry.start)]
    doc._.terse = bool(terse)
    doc._.entries = [entry for part in doc._.recipes for entry in part]
    doc._.aside = _named_aside(draft, doc._.entries)
    doc._.layout = draft.layout
    return doc


def _named_aside(draft: Draft, taken: list[Entry]) -> tuple[str, ...]:
    """Known substances that are named and neither taken, ruled out, nor plainly a tool or the bath."""
    lines = {entry.mention.substance for entry in taken}
    return tuple(
        dict.fromkeys(
            entry.mention.substance
            for entry in draft.entries
            if entry.mention.substance is not None
            and not (entry.negated or entry.dropped or entry.mention.generic)
            and entry.mention.substance not in lines
        )
    )


def _sizes_container(draft: Draft, measure: Measure, starts: set[int]) -> bool:
    """ "8-10 ounce jar", "empty 15 ml bottle", "bottle (15 ml)": how big a vessel is."""
    words, container = draft.words, draft.lexicon.words["container"]
    for at in range(measure.end, measure.end + 4):
        if at in starts:
            break
        if words.at(at) in container:
            return True
        if not (words.is_word(at) or words.at(at) in ("+", "-")) or words.at(at) in ("of", "and", "in", "to", "into"):
            break
    inside = draft.layout.inside(measure.start)
    return inside is not None and any(words.at(at) in container for at in (inside[0] - 1, inside[0] - 2))


@Language.component("watchglass_lines", assigns=["doc._.entries"])
def component(doc: Doc) -> Doc:
    return draft_lines(doc)


register([("entries", ()), ("aside", ()), ("terse", False), ("recipes", ()), ("layout", None)])
