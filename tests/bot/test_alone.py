"""Nothing but the platform is spoken to: no command that needs none opens a connection or asks for a name."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

# Ends the process at the first connection or look-up; stays in force whatever the program does.
WATCHED = """
import sys
def refuse(event, arguments):
    if event in ("socket.connect", "socket.sendto", "socket.getaddrinfo", "socket.gethostbyname"):
        sys.stderr.write(f"went outside: {event}\\n")
        sys.stderr.flush()
        import os
        os._exit(99)
sys.addaudithook(refuse)
from bot.cli import main
main()
"""
LINKS = "look at https://lantern-quay.example/balm.png 1 tbsp beeswax, 2 tbsp coconut oil\n"


def alone(folder: Path, *arguments: str, said: str = "") -> subprocess.CompletedProcess[str]:
    kept = {key: value for key, value in os.environ.items() if not key.startswith("WATCHGLASS_")}
    return subprocess.run(
        [sys.executable, "-c", WATCHED, *arguments],
        env=kept | {"WATCHGLASS_DB": str(folder / "w.db")}, input=said, capture_output=True, text=True, timeout=120,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "said"), [(("demo",), ""), (("assess", LINKS), ""), (("chat",), LINKS), (("doctor", "--quick"), "")]
)
def test_it_speaks_to_nobody(tmp_path: Path, arguments: tuple[str, ...], said: str) -> None:
    run = alone(tmp_path, *arguments, said=said)
    assert run.returncode == 0, run.stderr


def test_the_watch_itself_would_see_a_connection(tmp_path: Path) -> None:
    code = WATCHED.replace(
        "from bot.cli import main\nmain()", "import socket; socket.socket().connect(('127.0.0.1', 9))"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=60).returncode == 99


PERILOUS = re.compile(
    r"^\s*(?:import|from) (?:pickle|marshal|shelve|yaml|subprocess)\b|(?<![\w.])(?:eval|exec)\(|yaml\.load|os\.system",
    re.MULTILINE,
)


def test_nothing_of_a_fan_can_be_run_or_unpickled() -> None:
    home = Path(__file__).parents[2]
    sources = [file for room in ("bot", "nlp", "rules") for file in (home / room).rglob("*.py")]
    assert len(sources) > 100
    assert [str(file) for file in sources if PERILOUS.search(file.read_text("utf-8"))] == []
