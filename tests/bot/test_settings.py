"""Settings: a wrong one is named with what to write; a secret is never shown."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

SHOW = (
    "from bot.settings import *\n"
    "import sys\n"
    "try:\n"
    "    s = load_settings()\n"
    "    print(s.database, s.region, s.weights.demand, s.queue_threshold, repr(s))\n"
    "except SettingsError as error:\n"
    "    print('WRONG', error)\n"
)


def run(home: Path, **environment: str) -> str:
    """A process of its own, so that no variable of this one leaks in."""
    bare = {"PATH": os.environ["PATH"], "HOME": str(home), "PYTHONPATH": os.environ.get("PYTHONPATH", "")}
    done = subprocess.run(
        [sys.executable, "-c", SHOW],
        env=bare | environment,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return done.stdout.strip()


def test_without_any_setting_it_runs_from_the_users_data_directory(tmp_path: Path) -> None:
    assert str(tmp_path / ".local/share/watchglass/watchglass.db") in run(tmp_path)


def test_environment_wins_over_the_file(tmp_path: Path) -> None:
    file = tmp_path / "w.toml"
    file.write_text('region = "eu"\nqueue_threshold = 0.2\n[weights]\ndemand = 0.9\n')
    said = run(tmp_path, WATCHGLASS_CONFIG=str(file), WATCHGLASS_REGION="uk", WATCHGLASS_DB="/x/y.db")
    assert said.startswith("/x/y.db uk 0.9 0.2 ")


def test_the_token_is_never_printed(tmp_path: Path) -> None:
    said = run(tmp_path, WATCHGLASS_TOKEN="very-secret-token-1")
    assert "very-secret" not in said
    assert "**********" in said


@pytest.mark.parametrize(
    ("environment", "part"),
    [
        ({"WATCHGLASS_REGION": "mars"}, "set WATCHGLASS_REGION"),
        ({"WATCHGLASS_QUEUE_THRESHOLD": "7"}, "less than or equal to 1; set WATCHGLASS_QUEUE_THRESHOLD"),
        ({"WATCHGLASS_WEIGHTS__DEMAND": "-1"}, "set WATCHGLASS_WEIGHTS__DEMAND"),
        ({"WATCHGLASS_REGOIN": "eu"}, "no setting of this program; did you mean WATCHGLASS_REGION?"),
        ({"WATCHGLASS_CONFIG": "/nowhere/w.toml"}, "names /nowhere/w.toml, which is not there"),
    ],
)
def test_a_wrong_setting_is_named_with_what_to_do(tmp_path: Path, environment: dict[str, str], part: str) -> None:
    said = run(tmp_path, **environment)
    assert said.startswith("WRONG")
    assert part in said


@pytest.mark.parametrize(
    ("content", "part"),
    [("region = \n", "is not TOML"), ("regoin = 'eu'\n", "regoin"), ("\udcff\udcfe", "cannot be read")],
)
def test_a_faulty_file_is_named(tmp_path: Path, content: str, part: str) -> None:
    file = tmp_path / "w.toml"
    file.write_bytes(content.encode("utf-8", "surrogateescape"))
    said = run(tmp_path, WATCHGLASS_CONFIG=str(file))
    assert said.startswith("WRONG")
    assert part in said


def test_a_secret_in_a_faulty_file_is_not_printed(tmp_path: Path) -> None:
    file = tmp_path / "w.toml"
    file.write_text('token = ["very-secret"]\n')
    assert "very-secret" not in run(tmp_path, WATCHGLASS_CONFIG=str(file))
