"""Every sentence that people read: phrase tables by language, and the few pages that fill them."""

from bot.words.phrases import Phrases, languages, load_phrases

__all__ = ["Phrases", "languages", "load_phrases"]
