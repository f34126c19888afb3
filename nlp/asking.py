"""What a question asks: may it be used, how much of it, can it stand in for another."""

from __future__ import annotations

from collections.abc import Iterator

from spacy.tokens import Doc

from nlp.components.context import Context
from nlp.components.cues import Cue, lexicon_of
from nlp.lexicon import Lexicon
from nlp.measure import Measure
from nlp.mention import Mention
from nlp.reading import Asks, Question
from nlp.tokens import Words
from rules.catalogue import load_catalogue
from rules.interval import Interval
from rules.recipe import Amount, Contact, Site, Unit

_VOLUMES = frozenset({Unit.CUP, Unit.FLOZ, Unit.TBSP, Unit.TSP, Unit.ML, Unit.L, Unit.OZ, Unit.G})
_INTO = frozenset({"per", "in", "into", "for", "to"})
_LONGEST_UNKNOWN = 4  # words
_REACH = 4  # words between "for" and what it is for: "for 500 g of"


def asked(doc: Doc) -> Question:
    """Reads the finished document of a question; never fails."""
    return _Asked(doc).question()


class _Asked:
    def __init__(self, doc: Doc) -> None:
        self.words: Words = doc._.words
        self.lexicon: Lexicon = lexicon_of(doc)
        self.cues: list[Cue] = doc._.cues
        self.mentions: list[Mention] = [m for m in doc._.mentions if m.substance]
        self.measures: list[Measure] = doc._.amounts
        self.context: Context = doc._.contexts[0]

    def question(self) -> Question:
        named = dict.fromkeys(m.substance for m in self.mentions if m.substance)
        asks, substances, old = self._swap() or self._much() or (Asks.MAY, tuple(named), None)
        guessed = self.context.guessed
        return Question(
            asks=asks,
            substances=substances,
            old=old,
            product=None if guessed else self.context.product,
            sites=self._said_sites() if guessed else self.context.sites,
            contact=self._contact(),
            batch=self._batch(),
            share=next((m.best for m in self.measures if m.unit is Unit.PERCENT and m.written), None),
            claims=self.context.claims,
            circumstances=self.context.circumstances,
            into=next(
                (m.substance for m in self.mentions if m.substance not in substances and self._goes_into(m)), None
            ),
            unknown="" if named else self._unknown(),
        )

    def _of(self, label: str) -> Iterator[Cue]:
        return (cue for cue in self.cues if cue.label == label)

    def _after(self, at: int) -> Mention | None:
        return next((m for m in self.mentions if m.start >= at), None)

    def _before(self, at: int) -> Mention | None:
        return next((m for m in reversed(self.mentions) if m.end <= at), None)

    def _swap(self) -> tuple[Asks, tuple[str, ...], str | None] | None:
        """Which would go (`old`) and which would come; the words between the two tell their order."""
        for cue in self._of("ask.instead"):
            old, new = self._after(cue.end), self._before(cue.start)
            if old is not None:
                return _swapped(new or self._other(old, cue.end), old)
        for cue in self._of("ask.out"):
            old = self._after(cue.end)
            if old is not None and (new := self._other(old, cue.end)) is not None:
                return _swapped(new, old)
        for label, comes_first in (("ask.swap", False), ("ask.substitute", True)):
            for cue in self._of(label):
                first = self._after(cue.end)
                second = None if first is None else self._other(first, first.end)
                if first is not None and second is None and (new := self._before(cue.start)) is not None:
                    return _swapped(new, first)  # "can X replace Y"
                if first is None or second is None:
                    continue
                between = self.words.norm[first.end : second.start]
                comes = comes_first and not {"with", "by"}.intersection(between)
                return _swapped(first, second) if comes else _swapped(second, first)
        return None

    def _other(self, than: Mention, at: int) -> Mention | None:
        others = (m for m in self.mentions if m.start >= at and m.substance != than.substance)
        return next((m for m in others if self.words.at(m.start - 1) not in ("in", "into")), None)

    def _into(self, asked_about: tuple[str, ...]) -> str | None:
        into = (m.substance for m in self.mentions if m.substance not in asked_about and self._goes_into(m))
        return next(into, None)

    def _goes_into(self, mention: Mention) -> bool:
        """ "in oil", "for 500 g of olive oil"."""
        return not _INTO.isdisjoint(self.words.norm[max(0, mention.start - _REACH) : mention.start])

    def _much(self) -> tuple[Asks, tuple[str, ...], None] | None:
        """How much of the first thing named after the asking words; what it goes into is not asked about."""
        for cue in self._of("ask.much"):
            found = self._after(cue.end) or self._before(cue.start)
            if found is not None and found.substance:
                drops = "drop" in self.words.norm[cue.start : cue.end]
                return Asks.HOW_MUCH, (_oil_of(found.substance) if drops else found.substance,), None
        return None

    def _said_sites(self) -> tuple[Site, ...]:
        said = (cue.label.partition(".")[2] for cue in self.cues if cue.label.startswith("site."))
        return tuple(dict.fromkeys(Site(name) for name in said if name in set(Site)))

    def _contact(self) -> Contact | None:
        said = (cue.label.partition(".")[2] for cue in self.cues if cue.label.startswith("contact."))
        return next((Contact(name) for name in said if name in set(Contact)), None)

    def _batch(self) -> Amount | None:
        """The size of what it goes into: "per cup", "in 100 ml of oil"."""
        for measure in self.measures:
            if measure.unit in _VOLUMES and self._leads_into(measure.start):
                return measure.amount()
        for at, word in enumerate(self.words.norm):
            unit = self.lexicon.units.get(word)
            if unit in _VOLUMES and self._leads_into(at):
                return Amount(quantity=Interval.exact(1), unit=unit, written=(1, 1))
        return None

    def _leads_into(self, at: int) -> bool:
        before = self.words.at(at - 1)
        return before in _INTO or (before in ("a", "one", "each", "every") and self.words.at(at - 2) in _INTO)

    def _unknown(self) -> str:
        """The longest run of words that nothing here knows: most likely the name of what is asked about."""
        best: list[str] = []
        run: list[str] = []
        taken = {at for cue in self.cues for at in range(cue.start, cue.end)}
        known = self.lexicon.words["stop"] | self.lexicon.words["asks"]
        for at, word in enumerate(self.words.norm):
            if self.words.is_word(at) and word not in known and at not in taken and self.words.at(at - 1) != "@":
                run.append(self.words.text[at])
                best = run if len(run) > len(best) else best
            else:
                run = []
        return " ".join(best[:_LONGEST_UNKNOWN])


def _oil_of(substance: str) -> str:
    """ "Drops of lavender" are of its oil, not of its flowers."""
    oil = f"{substance.partition('_')[0]}_essential_oil"
    return oil if oil in load_catalogue() else substance


def _swapped(new: Mention | None, old: Mention) -> tuple[Asks, tuple[str, ...], str | None]:
    substances = () if new is None or new.substance is None else (new.substance,)
    return Asks.SWAP, substances, old.substance
