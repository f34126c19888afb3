"""Faults on purpose, against the real program in its own process, the loopback platform and the real database."""
