"""Optional, negated, or only standing around: what the words beside a mention say of it."""

from __future__ import annotations

from nlp.components.cues import Cue
from nlp.draft import Draft, Entry

_JOINED = frozenset({",", "or", "and", "nor", "/", "&", "any", "other", "added", "artificial"})
_STOPS = frozenset(
    {",", ".", ";", ":", "(", ")", "•", "and", "but", "-", "i", "we", "use", "used", "add", "you", "it", "with", "then"}
)
_DETERMINERS = frozenset({"the", "my", "your", "old", "any", "that", "dried"})
_REACH = 4  # words that may stand between "no" and the name


def mark_negated(draft: Draft) -> None:
    """ "no parabens, sulfates or dyes", "without honey", "instead of oil", "paraben-free"."""
    ends = {cue.end for cue in draft.cues_with("line.negation")}
    previous: Entry | None = None
    for entry in draft.entries:
        direct = _within_reach(draft, entry, ends) or draft.words.at(entry.end) == "free" or _comes_off(draft, entry)
        carried = (
            previous is not None
            and previous.negated
            and entry.measure is None
            and all(word in _JOINED for word in draft.between(previous, entry))
        )
        entry.negated = direct or carried
        previous = entry


def _within_reach(draft: Draft, entry: Entry, ends: set[int]) -> bool:
    at = entry.start
    for _ in range(_REACH):
        if at in ends:
            return not (entry.measure and at <= entry.measure.start - 1 and draft.words.at(at - 1) == "not")
        at -= 1
        if at < 0 or draft.words.at(at) in _STOPS or draft.words.is_break(at):
            return False
    return False


def _comes_off(draft: Draft, entry: Entry) -> bool:
    """ "to remove lash glue", "gets the lash glue off": what is cleaned away is put on nobody."""
    words, away = draft.words, draft.lexicon.words["away"]
    at = entry.start - 1
    if words.at(at) in _DETERMINERS:
        at -= 1
    return entry.measure is None and (words.at(entry.end) == "off" or words.at(at) in away)


def mark_optional(draft: Draft) -> None:
    """ "(optional)" behind one name, "Optional:" before a line, "if you like" in the same clause."""
    headed: set[int] = set()
    for cue in draft.cues_with("line.optional"):
        line = draft.layout.line[cue.start]
        heads = draft.words.is_break(cue.start - 1) or draft.words.at(cue.start - 1) in "•-*"
        if heads and line not in headed and line in draft.on_line:
            headed.add(line)
            _mark_line(draft, line, draft.layout.sentence[cue.end - 1])
        elif not heads and (target := _target(draft, cue)) is not None:
            target.optional = True
    for entry in draft.entries:
        if entry.head is not None and entry.head.optional:
            entry.optional = True


def _mark_line(draft: Draft, line: int, sentence: int) -> None:
    here = draft.on_line[line]
    for entry in [e for e in here if draft.layout.sentence[e.start] == sentence] or here:
        entry.optional = True


def _target(draft: Draft, cue: Cue) -> Entry | None:
    """The name before a bracket; else the nearest before in the sentence, or after "if you like ... add"."""
    inside = draft.layout.inside(cue.start)
    if inside is not None:
        return draft.last_before(inside[0]) or draft.next_after(inside[1] - 1)
    sentence = draft.layout.sentence
    before, after = draft.last_before(cue.start), draft.next_after(cue.start)
    before = before if before is not None and sentence[before.start] == sentence[cue.start] else None
    after = after if after is not None and sentence[after.start] == sentence[cue.start] else None
    conditional = draft.words.at(cue.start) == "if"
    if conditional and after and (not before or draft.words.at(cue.start - 1) in (".", ",", "-", "•")):
        return after
    return before or after


def mark_surroundings(draft: Draft) -> None:
    """Water of the bath, soap to wash with, what a scent is like: no ingredients, unless an amount was given."""
    washing = draft.cues_with("line.wash_water")
    ends = {cue.end for cue in washing}
    vessels = draft.cues_with("line.vessel")
    holding = {cue.end for cue in vessels}
    inside = {at for cue in (*washing, *vessels) for at in range(cue.start, cue.end)}
    held = _held_lines(draft)
    for entry in draft.entries:
        if draft.layout.line[entry.start] in held:
            entry.dropped = True
        if entry.start in inside and entry.measure is None:
            entry.dropped = True
        before = [at for at in range(max(0, entry.start - 3), entry.start + 1)
                  if draft.layout.sentence[max(0, at - 1)] == draft.layout.sentence[entry.start]]  # fmt: skip
        water = entry.mention.substance == "water"
        if any(at in ends for at in before) and (entry.measure is None or water):
            entry.dropped = True
        if water and any(at in holding for at in before):
            entry.dropped = True
        if draft.words.at(entry.end) in draft.lexicon.words["tool"] and draft.words.at(entry.end) not in _NOT_TOOLS:
            entry.dropped = entry.measure is None
            if entry.measure is not None and draft.words.at(entry.end) in draft.lexicon.words["container"]:
                entry.dropped = True


def _held_lines(draft: Draft) -> set[int]:
    """Lines such as "- Spray bottle with 90 % alcohol": an item of the tools, whatever is in it."""
    words, container = draft.words, draft.lexicon.words["container"]
    held = set()
    for at, word in enumerate(words.norm):
        if word != "with" or words.at(at - 1) not in container:
            continue
        first = at - 1
        while at - first < 5 and (words.is_word(first - 1) or words.at(first - 1).isdigit()):
            first -= 1
        if words.at(first - 1) in ("•", "-", "*") and words.is_break(first - 2):
            held.add(draft.layout.line[at])
    return held


_NOT_TOOLS = frozenset({"use", "fun", "love", "part", "thing", "way", "choice", "color", "colour", "scent", "smell"})
