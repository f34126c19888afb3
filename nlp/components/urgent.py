"""Somebody is hurt: points for each sentence that names a harm, a body, a person, a time; a caution takes some away.

A missed emergency is the worst defect of this reader, so the bar is low: harm, somebody and some time are enough.
The trained part (nlp/alarm.py) votes beside the points: either may raise the alarm.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from spacy.language import Language
from spacy.tokens import Doc

from nlp.alarm import CALM, buckets_of, load_alarm
from nlp.components.cues import Cue
from nlp.layout import layout_of
from nlp.reading import Emergency
from nlp.tokens import Words, register

DIRE, GRAVE, HARM, SLIGHT = 4.0, 3.0, 2.0, 1.0  # DIRE: nobody waits for more words
_POINTS = {"grave": GRAVE, "harm": HARM, "slight": SLIGHT}
_SHORT = 45  # words; so short a message is also weighed as a whole
_DENIALS = frozenset({"no", "not", "without", "never", "don't", "doesn't", "didn't", "won't"})
_SUPPOSING = frozenset({"will", "would", "does", "do", "can", "could"})
_ASKERS = frozenset({"i", "you", "we", "someone", "anyone"})
_INFANTS = frozenset({"hurt.infant", "circumstance.infant"})
_GROUPS = frozenset({*_POINTS, "hurt"})
BAR = 4.0
_CALM = {
    DIRE: 2.0,
    GRAVE: 2.0,
    HARM: 4.0,
    SLIGHT: 4.0,
}  # a caution weighs less against words that are grave by themselves
_MILD = 1.0
_AT_THE_EYE = frozenset({Emergency.BURN, Emergency.OTHER})
_HURT = 0.2  # chance that somebody is hurt, from which the trained part alone raises the alarm: five parts by turns
_HURT_BESIDE_RECIPE = 0.5  # the same where a recipe with amounts stands in the message
_FIRST = (Emergency.BREATHING, Emergency.SWALLOWED, Emergency.EYE, Emergency.BURN, Emergency.REACTION, Emergency.OTHER)


def urgent(doc: Doc) -> Doc:
    """Sets `doc._.emergency`, None where nobody seems hurt, and `doc._.infant`: the message speaks of a baby."""
    ruled = by_rules(doc)
    labels = [cue.label for cue in doc._.cues]
    chances = load_alarm().chances(buckets_of(doc._.words.norm, labels))
    hurt = 1 - chances.pop(CALM)
    doc._.infant = bool(_INFANTS.intersection(labels))
    measured = sum(1 for entry in doc._.entries if entry.measure is not None)
    if hurt >= (_HURT if measured < 2 else _HURT_BESIDE_RECIPE) or ruled is not None:
        # Which one it is, the rules tell better where they speak (93 against 86 % of
        # train and dev, though the word lists were fitted to these messages and the model was not).
        doc._.emergency = ruled if ruled is not None else Emergency(max(chances, key=lambda kind: chances[kind]))
    else:
        doc._.emergency = None
    return doc


def by_rules(doc: Doc) -> Emergency | None:
    """What the tables of words and the points tell, None where nobody seems hurt."""
    words: Words = doc._.words
    things = {at for hit in doc._.product_hits for at in range(hit.start, hit.end)}  # a hand cream is no hand
    cues = [
        cue
        for cue in doc._.cues
        if cue.label.partition(".")[0] in _GROUPS
        and not (cue.label in ("hurt.body", "hurt.eye") and cue.start in things)
    ]
    measured = sum(1 for entry in doc._.entries if entry.measure is not None)
    return emergency_in(words, cues, whole=measured < 2) if cues else None


def emergency_in(words: Words, cues: Iterable[Cue], *, whole: bool) -> Emergency | None:
    """The gravest thing that any sentence tells; `whole`: a short message is also weighed as one sentence."""
    sentence = layout_of(words).sentence
    by_sentence: defaultdict[int, list[Cue]] = defaultdict(list)
    alarm = 0.0
    for cue in cues:
        if _denied(words, cue):
            continue
        by_sentence[sentence[cue.start]].append(cue)
        alarm = 1.0 if cue.label == "hurt.alarm" else alarm
    groups = list(by_sentence.values())
    if whole and len(words) <= _SHORT:
        groups.append([cue for mates in groups for cue in mates])
    met = [found for mates in groups if mates and (found := _sentence(mates, alarm, _supposes(words, sentence, mates)))]
    found = [emergency for several in met for emergency in several]
    return min(found, key=_FIRST.index) if found else None


def _harm(label: str) -> tuple[float, str]:
    group, _, name = label.partition(".")
    return (DIRE, name) if label == "grave.breathing" else (_POINTS[group], name)


def _denied(words: Words, cue: Cue) -> bool:
    """ "no burning", "without any irritation": said of harm that is not grave by itself."""
    if cue.label.partition(".")[0] not in ("harm", "slight"):
        return False
    before = words.at(cue.start - 2) if words.at(cue.start - 1) in ("any", "more") else words.at(cue.start - 1)
    return before in _DENIALS


def _supposes(words: Words, sentence: list[int], cues: list[Cue]) -> bool:
    """ "will lye burn my skin": a question about what might be."""
    at = cues[0].start
    while at and sentence[at - 1] == sentence[cues[0].start]:
        at -= 1
    return words.at(at) in _SUPPOSING and words.at(at + 1) not in _ASKERS


def _sentence(cues: list[Cue], alarm: float, supposed: bool) -> list[Emergency]:
    said = {cue.label for cue in cues}
    harms = [_harm(cue.label) for cue in cues if cue.label.partition(".")[0] in _POINTS]
    if not harms:
        return []
    points = max(harm for harm, _ in harms)
    points += len({name for _, name in harms}) > 1
    body = "hurt.body" in said or "hurt.eye" in said
    points += body
    kin = "hurt.kin" in said
    points += kin or "hurt.person" in said
    points += max(alarm, "hurt.now" in said)
    gravest = max(harm for harm, _ in harms)
    points -= _CALM[gravest] * ("hurt.calm" in said or supposed) + _MILD * ("hurt.mild" in said and gravest < GRAVE)
    if points < BAR or gravest < HARM or not (body or kin or gravest >= GRAVE):
        return []
    named = [Emergency(name) for harm, name in harms if harm == gravest]
    # Burning and the like at the eye is a matter of the eye; a swelling is a reaction wherever it shows.
    return [Emergency.EYE if "hurt.eye" in said and name in _AT_THE_EYE else name for name in named]


@Language.component("watchglass_urgent", assigns=["doc._.emergency"])
def component(doc: Doc) -> Doc:
    return urgent(doc)


register([("emergency", None), ("infant", False)])
