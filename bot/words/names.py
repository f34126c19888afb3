"""What things are called in a language: its own tables first, the catalogue's English beside INCI where they are
silent."""

from __future__ import annotations

from functools import lru_cache

from bot.words.clean import clean_phrase
from bot.words.phrases import HOME, Phrases
from rules.catalogue import Substance, load_catalogue
from rules.products import Product

INCI_LENGTH = 40  # characters; a longer INCI name would crowd a sentence


def substance_name(substance: Substance, phrases: Phrases) -> str:
    """The plain name; "name (INCI)" where the language has none, since INCI is the same in all of them."""
    if phrases.has("substance", substance.id):
        return phrases.raw("substance", substance.id)
    inci = substance.inci
    plain = inci is None or len(inci) > INCI_LENGTH or inci.lower() == substance.name.lower()
    return substance.name if phrases.language == HOME or plain else f"{substance.name} ({inci})"


def product_name(product: Product, phrases: Phrases) -> str:
    return phrases.raw("product", product.id) if phrases.has("product", product.id) else product.name


def said(text: str, phrases: Phrases) -> str:
    """A fixed text of rules/ in the language, cleaned; lists of names are said name by name."""
    if phrases.has("said", text):
        return phrases.raw("said", text)
    if phrases.language == HOME:
        return clean_phrase(text)
    parts = text.split(", ")
    if all(part in _by_name() for part in parts):
        return ", ".join(substance_name(_by_name()[part], phrases) for part in parts)
    return clean_phrase(text)


@lru_cache(maxsize=1)
def _by_name() -> dict[str, Substance]:
    return {row.name: row for row in load_catalogue()}
