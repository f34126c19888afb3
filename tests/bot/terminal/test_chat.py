"""What counts as one message in a terminal, and what the demo holds."""

from __future__ import annotations

import io
import os

import pytest

from bot.terminal.chat import messages
from bot.terminal.demo import load_messages


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("one\ntwo\n", ["one", "two"]),
        ("one\n\n\ntwo", ["one", "two"]),
        ("mist:\n1 cup water\n1 tbsp honey\n\nnext", ["mist:\n1 cup water\n1 tbsp honey", "next"]),
        ("balm\n- oil\n- wax\nnext", ["balm\n- oil\n- wax", "next"]),
        ("balm\n1. oil\n2) wax\n", ["balm\n1. oil\n2) wax"]),
        ("one \\\nand more\nnext", ["one \nand more\nnext"]),
        ("balm\nmore\nquit\n", ["balm", "more", "quit"]),
        ("MORE\n", ["MORE"]),
        ("", []),
        ("\n\n", []),
    ],
)
def test_lines_become_messages(typed: str, read: list[str]) -> None:
    assert list(messages(io.StringIO(typed), by_hand=False)) == read


def test_what_is_pasted_at_once_is_one_message() -> None:
    """On a real terminal pair: a recipe of several lines, with an empty one in it, is not torn apart."""
    keyboard, screen = os.openpty()
    os.write(keyboard, b"Fog mist\n1 cup rose water\n\nmore rose water\n")
    with os.fdopen(screen, "r") as source:
        read = messages(source, by_hand=True)
        assert next(read) == "Fog mist\n1 cup rose water\nmore rose water"
        os.write(keyboard, b"more\n")
        assert next(read) == "more"
    os.close(keyboard)


def test_the_demo_is_an_evening_of_a_whole_community() -> None:
    evening = load_messages()
    assert len(evening) >= 60
    authors = {message.author for message in evening}
    assert len(authors) >= 40
    texts = " ".join(message.text.lower() for message in evening)
    assert sum("crayon" in message.text.lower() for message in evening) >= 8
    for part in ("in my eye", "correction", "?", "http", "soup"):
        assert part in texts


def test_the_demo_names_only_invented_handles_and_dead_links() -> None:
    for message in load_messages():
        assert message.author == message.author.lower()
        assert "@" not in message.text
        if "http" in message.text or "www." in message.text:
            # .invalid never resolves: RFC 2606
            assert ".invalid" in message.text
