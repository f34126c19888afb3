"""The components of the pipeline, in the order in which they run; importing this registers them with spaCy."""

from nlp.components import amounts, context, cues, kind, lines, substances, unknowns, urgent

__all__ = ["amounts", "context", "cues", "kind", "lines", "substances", "unknowns", "urgent"]
