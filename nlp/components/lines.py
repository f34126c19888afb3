"""From mentions and amounts to the lines of a recipe."""

from __future__ import annotations

from dataclasses import replace

from spacy.language import Language
from spacy.tokens import Doc

from nlp.attach import attach
from nlp.draft import Draft, Entry
from nlp.groups import link_alternatives, link_brackets, share_amounts
from nlp.marks import mark_negated, mark_optional, mark_surroundings
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.pick import pick
from nlp.tokens import register


def draft_lines(doc: Doc) -> Doc:
    """Sets `doc._.entries`: what is an ingredient, in the order of the text, each once."""
    draft = Draft.of(doc)
    mentions = list(doc._.mentions)
    measures = [m for m in draft.measures if not m.size and not _sizes_container(draft, m, mentions)]
    measures = _without_strengths(draft, measures)
    pairs = attach(draft.words, draft.layout, draft.lexicon, mentions, measures)
    draft.entries = [Entry(mention, pairs.get(mention.start)) for mention in mentions]
    for step in (mark_surroundings, link_alternatives, link_brackets, share_amounts, mark_negated, mark_optional):
        step(draft)
    doc._.entries = pick(draft)
    doc._.layout = draft.layout
    return doc


def _sizes_container(draft: Draft, measure: Measure, mentions: list[Mention]) -> bool:
    """ "8-10 ounce jar", "empty 15 ml bottle", "bottle (15 ml)": how big a vessel is."""
    words, container = draft.words, draft.lexicon.words["container"]
    starts = _starts(mentions)
    for at in range(measure.end, measure.end + 4):
        if words.at(at) in container:
            return True
        if at in starts or not (words.is_word(at) or words.at(at) in ("+", "-")) or words.at(at) in ("of", "and", "in", "to", "into"):
            break
    inside = draft.layout.inside(measure.start)
    return inside is not None and any(words.at(at) in container for at in (inside[0] - 1, inside[0] - 2))


def _starts(mentions: list[Mention]) -> set[int]:
    return {mention.start for mention in mentions}


def _without_strengths(draft: Draft, measures: list[Measure]) -> list[Measure]:
    """ "1/2 cup (3%) hydrogen peroxide": the percentage behind another amount is a strength."""
    kept: list[Measure] = []
    for measure in measures:
        before = kept[-1] if kept else None
        strength = (
            before is not None
            and measure.unit == "percent"
            and before.unit not in (None, "percent")
            and all(word in ("of", "(", "a", "the") for word in draft.words.norm[before.end : measure.start])
        )
        if strength and before is not None:
            end = measure.end + (draft.words.at(measure.end) == ")")
            kept[-1] = replace(before, end=end)
        else:
            kept.append(measure)
    return kept






@Language.component("watchglass_lines", assigns=["doc._.entries"])
def component(doc: Doc) -> Doc:
    return draft_lines(doc)


register([("entries", ()), ("layout", None)])

