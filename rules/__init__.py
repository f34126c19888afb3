"""The chemistry and the law of a home-made recipe: no text, no chat, no clock, no disk but its own tables."""
