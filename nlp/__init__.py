"""Reads what people write: from text to recipes, with the place of every word kept."""
