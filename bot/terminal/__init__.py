"""The same conversation in a terminal: the embedded default, no server, no token."""
