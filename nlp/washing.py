"""What the words say of contact: washed off after a while, or left where it is put. The last instruction holds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from nlp.components.cues import Cue
from nlp.tokens import Words, figure
from rules.recipe import Contact, Site

LONGEST_WASHED = 5.0  # hours; what stays longer counts as left on
_SENTENCE = frozenset({".", "!", "?", ";"})
_NEXT = frozenset({"next", "following", "the"})  # "in the morning", "the next day"
_COMMA = _SENTENCE | {","}
_UNTIL = frozenset({"until", "till", "while"})
_COOKING = frozenset({"low", "medium", "high", "too", "water", "sun", "dark", "warm"})
_NEVER = frozenset({"no", "not", "don't", "dont", "never", "without", "cannot", "didn't", "doesn't"})
_MAY = frozenset({"will", "would", "may", "might", "can", "could", "won't", "it'll", "should've"})
# "after rinsing", "freshly washed": what was done before, not what comes after.
_EARLIER = frozenset({"after", "when", "freshly", "just", "than", "since", "between", "post"})
_CAN = frozenset({"rinse", "wash", "wipe", "peel"})  # "washes out": what it can do
_PERSON = frozenset({"you", "i", "we", "your", "my", "the"})
_A_RINSE = frozenset({"a", "an", "the", "this", "my", "final", "last", "hair", "mouth", "as"})
_OF = frozenset({"the", "your", "my", "a", "all", "any", "some", "each", "every", "off", "out", "his", "her", "those"})
_EACH = frozenset({"every", "each", "a", "at", "per", "this", "to", "one", "once", "twice"})
_BACK, _AHEAD = 14, 8  # words looked at for a time, a warning, a place
_WASHED_ANYWAY = frozenset({Site.HAIR, Site.BATH, Site.MOUTH})  # a night there says nothing against washing


@dataclass(frozen=True, slots=True)
class Scene:
    """What a telling word stands among. `names`: tokens of ingredients; `places`: tokens that name the body."""

    words: Words
    classes: Mapping[str, frozenset[str]]
    names: frozenset[int]
    places: frozenset[int]
    sites: tuple[Site, ...]

    def before(self, at: int, most: int = _BACK, marks: frozenset[str] = _SENTENCE) -> range:
        """Tokens of the sentence before `at`, at most so many; of the clause with the marks of one."""
        first = at
        while at - first < most and not self.words.is_break(first - 1) and self.words.at(first - 1) not in marks:
            first -= 1
        return range(first, at)

    def behind(self, at: int, most: int = _AHEAD) -> range:
        """Tokens of the sentence from `at` on, at most so many."""
        last = at
        while last - at < most and not self.words.is_break(last) and self.words.at(last) not in _SENTENCE:
            last += 1
        return range(at, last)

    def has(self, tokens: Iterable[int], name: str) -> bool:
        return any(self.words.at(at) in self.classes[name] for at in tokens)

    def lasts(self, tokens: Iterable[int]) -> float | None:
        """Hours of the first time told among the tokens; None where none is told. A night counts as 8."""
        for at in tokens:
            word = self.words.at(at)
            if word in self.classes["minutes"]:
                return 0.5
            if word in self.classes["hours"]:
                return figure(self.words.at(at - 1)) or (8.0 if self.words.at(at - 1) in ("for", "all") else 1.0)
            if word in self.classes["nights"] or word in self.classes["days"]:
                return 8.0
        return None


def contact_said(scene: Scene, cues: Iterable[Cue]) -> Contact | None:
    """Of the cues "washing.*", in the order of the text; None where nothing is said that decides."""
    said: Contact | None = None
    for cue in cues:
        said = _READ[cue.label.partition(".")[2]](scene, cue) or said
    return said


def _removed(scene: Scene, cue: Cue) -> Contact | None:
    words = scene.words
    if _is_something_else(scene, cue) or _is_aside(scene, cue):
        return None
    if any(words.at(at) in _NEVER for at in scene.before(cue.start, 3)):
        return Contact.LEAVE_ON
    if _comes_next_day(scene, cue):
        capped = any(words.at(at) == "cap" for at in scene.before(cue.start))
        return Contact.RINSE_OFF if capped or _WASHED_ANYWAY & set(scene.sites) else Contact.LEAVE_ON
    return Contact.RINSE_OFF


def _stays(scene: Scene, cue: Cue) -> Contact | None:
    if _is_something_else(scene, cue) or Site.MOUTH in scene.sites[:1]:
        return None
    if scene.words.at(cue.end) in {"for", *_UNTIL}:
        hours = scene.lasts(scene.behind(cue.end, 6))
        return Contact.RINSE_OFF if hours is not None and hours < LONGEST_WASHED else None
    return Contact.LEAVE_ON


def _left(scene: Scene, cue: Cue) -> Contact | None:
    """ "Leave on": for how long? On what: the skin, or the stove?"""
    ahead, after = scene.behind(cue.end), scene.words.at(cue.end)
    if after in _OF and not scene.places & set(ahead):
        return None
    hours = scene.lasts(ahead)
    if hours is not None:
        return Contact.RINSE_OFF if hours < LONGEST_WASHED else Contact.LEAVE_ON
    if after in _UNTIL or after in _COOKING or scene.has(ahead[:2], "waiting"):
        return None
    in_hair = scene.words.at(cue.end - 1) == "in"
    worn = scene.places & {*scene.before(cue.start), *ahead}
    return Contact.LEAVE_ON if in_hair or worn or not ahead or after == "in" else None


def _night(scene: Scene, cue: Cue) -> Contact | None:
    """A night on the skin; a night in the jar, or under a cap on the hair, decides nothing."""
    around = scene.before(cue.start, _AHEAD)
    clause = scene.before(cue.start, _AHEAD, _COMMA)
    if scene.has(clause, "waiting") or _WASHED_ANYWAY & set(scene.sites):
        return None
    on_body = scene.places & {*around, *scene.behind(cue.end, 5)}
    worn = any(scene.words.at(at) in ("on", "sock", "glove", "bandage", "plaster", "wear", "sleep") for at in around)
    return Contact.LEAVE_ON if on_body or worn or scene.words.at(cue.start) in ("sleep", "wear") else None


def _comes_next_day(scene: Scene, cue: Cue) -> bool:
    ahead = scene.behind(cue.end, 4)
    if any(scene.words.at(at) in scene.classes["days"] and scene.words.at(at - 1) in _NEXT for at in ahead):
        return True
    for at in reversed(scene.before(cue.start)):
        if scene.words.at(at) in scene.classes["nights"]:
            return scene.words.at(at - 1) not in _EACH
        hours = scene.lasts((at,))
        if hours is not None and scene.words.at(at) not in scene.classes["days"]:
            return hours >= LONGEST_WASHED
    return False


def _is_something_else(scene: Scene, cue: Cue) -> bool:
    """A tool is rinsed, or the rice; or "rinse" is the name of the thing."""
    words = scene.words
    if words.at(cue.start) == "rinse" and cue.end - cue.start == 1 and words.at(cue.start - 1) in _A_RINSE:
        return True
    at = cue.end
    while at - cue.end < 3 and words.at(at) in _OF:
        at += 1
    if words.at(at) == "hand":
        return Site.HANDS not in scene.sites
    if at in scene.names or words.at(at) in scene.classes["mess"]:
        return True
    before = words.at(cue.start - 1)
    last = cue.start - 1 - (before in (",", "well"))
    return words.text[cue.end - 1].lower().endswith("ed") and (before == "(" or last in scene.names)


def _is_aside(scene: Scene, cue: Cue) -> bool:
    """A warning ("if it gets in the eyes rinse"), what it can do ("washes out"), what was done before."""
    words = scene.words
    before = words.at(cue.start - 1)
    if (words.at(cue.start) in _CAN and words.text[cue.start].lower().endswith("s")) or before in _MAY:
        return True
    if before in _EARLIER or (before in _PERSON and words.at(cue.start - 2) in {*_EARLIER, "before", "until"}):
        return True
    return any(words.at(at) == "if" for at in scene.before(cue.start))


_READ = {"removed": _removed, "stays": _stays, "left": _left, "night": _night}
