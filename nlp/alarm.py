"""Whether somebody is hurt, and how: two linear models over the words of a message and over what it tells of harm.

They vote beside the rules of components/urgent.py and weigh wording that no rule has. What ships is
nlp/model/alarm.npz; `python -m nlp.training.learn_alarm` makes it, MODEL.md has its scores.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib.resources import as_file, files
from itertools import combinations, pairwise
from math import exp

from nlp.linear import Features, Linear, bucket, load_models, numbers
from nlp.reading import Emergency
from nlp.told import Told

_PIECES = (3, 4, 5)  # letters
_LONGEST = 24  # letters of a word that are looked at
_WORDS = 300  # of a message
_SHORT = 45  # words; so short a message is also weighed as one sentence
_MOST = 4  # findings of one group that are counted
_STRONG = ("sign.", "event.", "into.")
_BESIDE = (("who",), ("when",), ("body",), ("body", "when"), ("body", "who"))
_CUES = frozenset({"site", "contact", "kind", "claim", "circumstance", "line", "keeping"})


@dataclass(frozen=True)
class Message:
    """What the models look at. norm: mended words; cues: labels of phrases; measured, named: ingredients."""

    norm: Sequence[str]
    told: Sequence[Told]
    cues: Sequence[str] = ()
    measured: int = 0
    named: int = 0

    @cached_property
    def words(self) -> Features:
        """Words, their pieces, and pairs of words."""
        words = [word for word in self.norm[:_WORDS] if not word.isspace()]
        found: set[int] = set()
        for word in words:
            found.update(_of_word("0" if word[:1].isdigit() else word))
        found.update(_of_pair(a, b) for a, b in pairwise(words))
        return numbers(found)

    @cached_property
    def harm(self) -> tuple[Features, Features]:
        """The words, and what they tell of harm."""
        return self.words, numbers(_of_told(self))


@lru_cache(maxsize=16384)
def _of_word(word: str) -> tuple[int, ...]:
    """A word and its pieces; pieces survive a misspelling."""
    framed = f"<{word[:_LONGEST]}>"
    pieces = {framed[i : i + n] for n in _PIECES for i in range(len(framed) - n + 1)} if word.isalpha() else set()
    return tuple({bucket(feature) for feature in ("w " + word, *pieces)})


@lru_cache(maxsize=32768)
def _of_pair(one: str, other: str) -> int:
    return bucket(f"{one} {other}")


@lru_cache(maxsize=16384)
def _of_label(label: str, other: str = "") -> int:
    return bucket(f"{label}|{other}" if other else label)


def _of_told(message: Message) -> Iterator[int]:
    sentences: defaultdict[int, set[str]] = defaultdict(set)
    groups: Counter[str] = Counter()
    for one in message.told:
        group = one.label.partition(".")[0]
        groups["taken" if one.taken else group] += 1
        if one.taken:
            yield _of_label("~" + one.label)
            yield from (_of_label("~" + kind, one.label) for kind in one.taken)
            continue
        yield _of_label(one.label)
        if group != "calm":
            sentences[one.sentence].add(one.label)
    yield from _of_sentences(list(sentences.values()), whole=len(message.norm) <= _SHORT)
    for group, count in groups.items():
        yield from (_of_label(f"#{group}", str(least)) for least in range(1, min(count, _MOST) + 1))
    yield from _of_frame(message)


def _of_frame(message: Message) -> Iterator[int]:
    """The message as a whole: a recipe, a question, how long."""
    yield _of_label("measured", str(min(message.measured, 3)))
    yield _of_label("named", str(min(message.named, 4)))
    yield _of_label("long", str(min(len(message.norm) // 8, 8)))
    yield _of_label("asks", str("?" in message.norm))
    yield _of_label("first", message.norm[0] if message.norm else "")
    yield from (_of_label("cue", cue) for cue in set(message.cues) if cue.partition(".")[0] in _CUES)


def _of_sentences(sentences: list[set[str]], *, whole: bool) -> Iterator[int]:
    """What stands beside what: pairs in a sentence, and signs beside a body, somebody, a time."""
    if whole:
        sentences.append(set().union(*sentences))
    for said in sentences:
        yield from (_of_label(a, b) for a, b in combinations(sorted(said), 2))
        groups = {label.partition(".")[0] for label in said}
        beside = ["+".join(needed) for needed in _BESIDE if groups.issuperset(needed)]
        yield from (_of_label(label, near) for label in said if label.startswith(_STRONG) for near in beside)


@dataclass(frozen=True)
class Alarm:
    """whether: logit of an emergency; how: which one, given that somebody is hurt."""

    whether: Linear
    how: Linear

    def hurts(self, message: Message) -> float:
        """Chance that somebody is hurt, 0 to 1."""
        logit = float(self.whether.logits(message.harm)[0])
        return 1 / (1 + exp(-logit)) if logit > 0 else exp(logit) / (1 + exp(logit))

    def emergencies(self, message: Message) -> dict[Emergency, float]:
        """Chance of each emergency, given that somebody is hurt; they sum to 1."""
        return {Emergency(label): chance for label, chance in self.how.chances(message.harm).items()}


@lru_cache(maxsize=1)
def load_alarm() -> Alarm:
    """The model that ships."""
    with as_file(files("nlp").joinpath("model", "alarm.npz")) as path:
        return Alarm(**load_models(path))
