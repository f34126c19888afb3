"""Somebody is hurt: what the rules say of one sentence, else what the trained part makes of the whole message.

A missed emergency is the worst defect of this reader: either may raise the alarm, and nothing overrules the other.
A rule wants several things in one sentence (who or which part of the body; what happened or how it feels; when), and no
word that takes any of it back: a guess, a warning, a purpose, a time long past.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from spacy.language import Language
from spacy.tokens import Doc

from nlp.alarm import Message, load_alarm
from nlp.components.cues import lexicon_of
from nlp.hurt import mended
from nlp.layout import layout_of
from nlp.reading import Emergency
from nlp.tokens import Words, register
from nlp.told import SPOKEN, Told, told

BAR = 0.25  # chance from which the trained part alone raises the alarm: five parts by turns, MODEL.md
LIST_BAR = 0.75  # the same beside a list of amounts, where much that sounds like harm is a method ("beat", "to taste")
_OTHERS = frozenset({"who.kin", "who.infant", "who.pet"})
_ALL = _OTHERS | {"who.self"}
_WHEN = frozenset({"when.now", "when.plea"})
_PARTS = "eye brow airway chest mouth gut nose face head hand intimate limb trunk"
_BODY = frozenset(f"body.{part}" for part in _PARTS.split())
_CAME = frozenset({"event.contact", "event.spill", "event.stick"})
_SKIN = frozenset({"sign.wound", "sign.rash", "sign.pain", "sign.infect"})
_CHEM = frozenset({"chem.harsh", "chem.hot", "chem.fragile", "chem.product"})
_EVENTS = frozenset(
    f"event.{name}" for name in ["contact", "spill", "stick", "ingest", "inhale", "cut", "fire", "worn"]
)
_FEW = frozenset({"1", "2", "3", "4", "one", "two", "three", "four"})  # years
_LIST = 3  # ingredients with amounts
_SHORT_LIST = 2
_STRONG = ("sign.", "event.", "into.")
_TELLING = ("sign.", "event.", "into.", "body.", "when.")
_Needs = tuple[frozenset[str], ...]
# One of each set must stand in the sentence.
RULES: tuple[_Needs, ...] = (
    (frozenset({"sign.stifle"}), _ALL | _WHEN | _EVENTS),
    (frozenset({"event.inhale"}), frozenset({"sign.breath", "sign.nerve"})),
    (frozenset({"into.eye"}), _CAME, _ALL, _WHEN),
    (frozenset({"body.eye"}), frozenset({"sign.sight", "sign.swell", "event.stick"}), _ALL, _WHEN),
    (frozenset({"event.ingest"}), _OTHERS, _CHEM),
    (frozenset({"event.ingest"}), _ALL, frozenset({"when.plea"})),
    (frozenset({"event.ingest"}), frozenset({"event.mistake"})),
    (frozenset({"event.ingest"}), _ALL, _WHEN, _CHEM),
    (frozenset({"sign.wound"}), _BODY, _ALL | _WHEN | _EVENTS),
    (_SKIN, _BODY, _ALL, _WHEN),
    (frozenset({"sign.swell"}), frozenset({"body.face", "body.mouth", "body.airway"}), _ALL, _WHEN),
    (frozenset({"sign.dire"}), _OTHERS),
    (frozenset({"sign.dire"}), _ALL, _EVENTS | _WHEN),
    (frozenset({"sign.nerve", "sign.gut"}), _ALL, _WHEN, _CHEM | _EVENTS),
    (frozenset({"event.fire"}), _BODY | {"when.plea"}, _ALL | _WHEN),
)
# What somebody may have swallowed is in every list of things to eat or to brush teeth with.
LIST_RULES = tuple(needs for needs in RULES if frozenset({"event.ingest"}) not in needs)


def urgent(doc: Doc) -> Doc:
    """Sets `doc._.message`, `doc._.emergency` (None where nobody seems hurt), `doc._.infant` (it speaks of a baby)."""
    message = doc._.message = message_of(doc)
    doc._.emergency = None
    doc._.infant = _has_infant(message)
    if not _tells(message):
        return doc
    listed = message.measured >= _SHORT_LIST
    rules = LIST_RULES if listed else RULES
    if by_rules(message.told, rules) or load_alarm().hurts(message) >= (LIST_BAR if listed else BAR):
        doc._.emergency = which(message.told, load_alarm().emergencies(message))
    return doc


def _tells(message: Message) -> bool:
    """Whether there is anything to weigh: in a list with amounts only what nothing takes back."""
    if message.measured < _LIST:
        return any(one.label.startswith(_TELLING) for one in message.told)
    return any(one.label.startswith(_STRONG) and one.label != "event.worn" and not one.taken for one in message.told)


def message_of(doc: Doc) -> Message:
    """What rules and models look at."""
    words: Words = doc._.words
    language = lexicon_of(doc).language
    named = [*doc._.product_hits, *(mention for mention in doc._.mentions if mention.end - mention.start > 1)]
    things = {at for piece in named for at in range(piece.start, piece.end)}  # a hand cream is no hand
    norm = mended(words.norm, language)
    found = told(norm, layout_of(words).sentence, language, things)
    measured = sum(1 for entry in doc._.entries if entry.measure is not None)
    return Message(norm, found, [cue.label for cue in doc._.cues], measured, len(doc._.mentions))


def by_rules(found: Iterable[Told], rules: tuple[_Needs, ...] = RULES) -> bool:
    """Whether one sentence tells an emergency by itself, and nothing in it takes that back."""
    sentences: defaultdict[int, set[str]] = defaultdict(set)
    for one in found:
        if not one.taken and one.label not in SPOKEN:
            sentences[one.sentence].add(one.label)
    return any(
        any(all(needed & said for needed in needs) for needs in rules)
        for said in sentences.values()
        if not any(label.startswith("calm.") for label in said)
    )


def which(found: Iterable[Told], chances: dict[Emergency, float]) -> Emergency:
    """What has happened; whoever fights for air needs that line first."""
    if any(one.label == "sign.stifle" and not one.taken for one in found):
        return Emergency.BREATHING
    return max(chances, key=lambda kind: chances[kind])


def _has_infant(message: Message) -> bool:
    """A baby, or years so few that first aid differs; baby shampoo is none."""
    products = {one.start for one in message.told if one.label == "chem.product"}
    babies = any(one.label == "who.infant" and one.end not in products for one in message.told)
    ages = (message.norm[one.start - 1] for one in message.told if one.label == "who.aged" and one.start)
    return babies or any(age in _FEW for age in ages)


@Language.component("watchglass_urgent", assigns=["doc._.emergency"])
def component(doc: Doc) -> Doc:
    return urgent(doc)


register([("message", None), ("emergency", None), ("infant", False)])
