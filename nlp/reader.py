"""The only door: from text to a Reading."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from importlib.resources import as_file, files

from spacy import util
from spacy.language import Language
from spacy.tokens import Doc

from nlp import components as components  # registers the factories
from nlp.assemble import reading_of
from nlp.components.context import Products
from nlp.components.substances import Substances
from nlp.lexicon import ENGLISH, load_lexicon
from nlp.reading import Note, Reading
from rules.catalogue import Catalogue, load_catalogue
from rules.products import Product, load_products

LONGEST = 100_000  # characters; what is longer is read up to here
_BATCH = 256  # messages a memory zone; what one word costs is paid once a zone


class Reader:
    """Reads messages. Holds a spaCy pipeline; not to be shared between threads."""

    def __init__(self, catalogue: Catalogue, products: Mapping[str, Product]) -> None:
        self.pipeline = build_pipeline(catalogue, products)
        # The tables live as long as the process; unfrozen, each collection would walk them all, a third of the time.
        gc.freeze()

    def read(self, text: str) -> Reading:
        """Never fails; what cannot be read is said in the notes."""
        with self.pipeline.memory_zone():
            return _finished(self.pipeline(text[:LONGEST]), text)

    def read_many(self, texts: Iterable[str]) -> Iterator[Reading]:
        """The same for many, in order; faster than one by one."""
        batch: list[str] = []
        for text in texts:
            batch.append(text)
            if len(batch) == _BATCH:
                yield from self._read_batch(batch)
                batch = []
        yield from self._read_batch(batch)

    def _read_batch(self, texts: list[str]) -> list[Reading]:
        with self.pipeline.memory_zone():
            docs = self.pipeline.pipe((text[:LONGEST] for text in texts), batch_size=_BATCH)
            return [_finished(doc, text) for doc, text in zip(docs, texts, strict=True)]


def build_pipeline(catalogue: Catalogue, products: Mapping[str, Product]) -> Language:
    """The pipeline of config.cfg, with the names of this catalogue and these products."""
    with as_file(files("nlp").joinpath("config.cfg")) as path:
        config = util.load_config(path)
    nlp = util.load_model_from_config(config, auto_fill=True)
    substances, kinds = nlp.get_pipe("substances"), nlp.get_pipe("products")
    if not isinstance(substances, Substances) or not isinstance(kinds, Products):
        raise TypeError("config.cfg names other components than this reader knows")
    substances.learn(catalogue)
    kinds.learn(products)
    _keep_common_words(nlp)
    return nlp


def _keep_common_words(nlp: Language) -> None:
    """Words met before the first memory zone outlive every zone; the others are learnt anew in each."""
    lexicon = load_lexicon(ENGLISH)
    for word in frozenset().union(*lexicon.words.values(), lexicon.units, lexicon.whole, lexicon.modifiers):
        _ = nlp.vocab[word]


def _finished(doc: Doc, text: str) -> Reading:
    reading = reading_of(doc, text)
    if len(text) > LONGEST:
        return reading.model_copy(update={"notes": reading.notes | {Note.CUT_SHORT}})
    return reading


@lru_cache(maxsize=1)
def default_reader() -> Reader:
    """The reader on the tables that ship, built at the first call."""
    return Reader(load_catalogue(), load_products())


def read(text: str) -> Reading:
    """Reads one message with the default reader."""
    return default_reader().read(text)
