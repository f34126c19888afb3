"""The command as a real process: output, exit codes, and no traceback whatever comes in."""

from __future__ import annotations

import json
import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

COMMAND = (sys.executable, "-m", "bot.cli")
MIST = "Face mist: 1 cup water, 1 tbsp glycerin. Keep in a spray bottle."


def watchglass(
    home: Path, *arguments: str, stdin: bytes = b"", **environment: str
) -> subprocess.CompletedProcess[bytes]:
    bare = {"PATH": os.environ["PATH"], "HOME": str(home), "PYTHONPATH": os.environ.get("PYTHONPATH", "")}
    return subprocess.run(
        [*COMMAND, *arguments],
        input=stdin,
        env=bare | environment,
        capture_output=True,
        timeout=120,
        check=False,
    )


def said(done: subprocess.CompletedProcess[bytes]) -> str:
    assert b"Traceback" not in done.stderr
    return done.stdout.decode()


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The demo, played once into a file; its output."""
    home = tmp_path_factory.mktemp("quay")
    done = watchglass(home, "demo", "--db", str(home / "lantern.db"))
    assert done.returncode == 0, done.stderr
    return home, said(done)


def test_the_demo_shows_messages_replies_queue_and_what_to_try_next(evening: tuple[Path, str]) -> None:
    _, output = evening
    assert "[1/66] tidewick:" in output
    assert "Answered 66 of 66 messages" in output
    assert "Eye first" in output
    assert "Leave this one." in output
    assert "The creator's queue:" in output
    assert "asked by" in output
    assert "Try next:" in output
    assert "\x1b" not in output


def test_the_demo_on_the_same_file_answers_nobody_twice(evening: tuple[Path, str]) -> None:
    home, _ = evening
    again = said(watchglass(home, "demo", "--db", str(home / "lantern.db")))
    assert "Answered 0 of 66 messages: all were here before." in again


def test_the_creator_can_list_show_take_drop_rule_and_undo(evening: tuple[Path, str]) -> None:
    home, _ = evening
    db = ("--db", str(home / "lantern.db"))
    listed = said(watchglass(home, "queue", *db)).splitlines()
    assert listed
    number = listed[0].split()[0]
    shown = said(watchglass(home, "queue", "show", number, *db))
    assert "What I read, by mass:" in shown
    assert "why it is here:" in shown
    assert "is taken" in said(watchglass(home, "queue", "take", number, *db))
    taken = said(watchglass(home, "queue", "list", "--state", "taken", *db))
    assert taken.split()[0] == number
    assert "Taken back: take" in said(watchglass(home, "queue", "undo", number, *db))
    other = listed[1].split()[0]
    assert "is dropped" in said(watchglass(home, "queue", "drop", other, *db))
    assert other not in [row.split()[0] for row in said(watchglass(home, "queue", *db)).splitlines()]


def test_her_ruling_is_used_for_the_next_tag_of_the_recipe(tmp_path: Path) -> None:
    environment = {"WATCHGLASS_DB": str(tmp_path / "w.db")}
    first = said(watchglass(tmp_path, "chat", stdin=MIST.encode(), **environment))
    assert first.startswith("Fix it first.")
    ruled = watchglass(tmp_path, "queue", "rule", "1", "avoid", "Mould in four days, seen on camera.", **environment)
    assert ruled.returncode == 0, ruled.stderr
    second = said(watchglass(tmp_path, "chat", "--as", "cobblewren", stdin=MIST.encode(), **environment))
    assert second.startswith("Leave this one, says the chemist. Mould in four days, seen on camera.")


def test_the_chat_takes_piped_lines_and_gives_more(tmp_path: Path) -> None:
    talk = f"{MIST}\nmore\nquit\nnever read\n".encode()
    output = said(watchglass(tmp_path, "chat", "--db", str(tmp_path / "w.db"), stdin=talk))
    assert output.startswith("Fix it first.")
    assert "What I read, by mass:" in output
    assert "Held against the rules of the United States." in output
    assert "never read" not in output


def test_assess_answers_texts_in_order(tmp_path: Path) -> None:
    done = watchglass(tmp_path, "assess", MIST, "Lip balm: 2 tbsp shea butter, 1 tbsp beeswax")
    lines = said(done).splitlines()
    assert lines[0].startswith("Fix it first.")
    assert lines[1].startswith("Fine as it is.")
    assert done.returncode == 0


def test_assess_json_gives_a_line_a_message_and_names_bad_ones(tmp_path: Path) -> None:
    rows = [
        json.dumps({"id": "a", "text": MIST}),
        "[]",
        json.dumps({"id": "c", "text": ""}),
        json.dumps({"id": "d", "text": "1/0 cup water, 999999999 kg beeswax, \u202e\u0000 for lips"}),
    ]
    file = tmp_path / "in.jsonl"
    file.write_bytes("\n".join(rows).encode() + b'\n{"id": "e", "text": "\xff"}\n')
    done = watchglass(tmp_path, "assess", "--json", str(file))
    output = [json.loads(row) for row in said(done).splitlines()]
    assert [row["id"] for row in output] == ["a", None, "c", "d", None]
    assert output[0]["recipes"][0]["verdict"] == "fix"
    assert done.returncode == 1
    assert b"line 2: not an object" in done.stderr
    assert b"line 5: not UTF-8" in done.stderr
    piped = watchglass(tmp_path, "assess", "--json", stdin=file.read_bytes())
    assert piped.stdout == done.stdout


@pytest.mark.parametrize(
    ("arguments", "code", "part"),
    [
        (("nonsense",), 2, b"No such command"),
        (("queue", "show", "0"), 2, b"greater than or equal to 1"),
        (("queue", "show", "7"), 1, b"there is no case 7"),
        (("queue", "rule", "7", "avoid", " "), 2, b"say in a few words why"),
        (("assess", "--json", "nowhere.jsonl"), 2, b"nowhere.jsonl cannot be read"),
        (("assess", str(Path(__file__).parents[2] / "nlp/training/corpus/lips.txt")), 2, b"is a file; for its lines"),
    ],
)
def test_a_wrong_call_ends_in_a_sentence_and_its_code(
    tmp_path: Path, arguments: tuple[str, ...], code: int, part: bytes
) -> None:
    done = watchglass(tmp_path, *arguments)
    assert done.returncode == code
    assert part in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_wrong_setting_ends_in_a_sentence(tmp_path: Path) -> None:
    done = watchglass(tmp_path, "queue", WATCHGLASS_REGION="mars")
    assert done.returncode == 3
    assert b"WATCHGLASS_REGION" in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_database_of_a_newer_version_ends_in_a_sentence(tmp_path: Path) -> None:
    path = tmp_path / "w.db"
    with sqlite3.connect(path) as database:
        database.execute("PRAGMA user_version = 4000")
    database.close()
    done = watchglass(tmp_path, "queue", "--db", str(path))
    assert done.returncode == 4
    assert b"install the newer version" in done.stderr
    assert done.stderr.count(b"\n") == 1


def test_the_queue_loads_no_reader(tmp_path: Path) -> None:
    code = "import sys; from bot.cli import run; run(['queue', '--db', sys.argv[1]]);sys.exit('spacy' in sys.modules)"
    environment = {**os.environ, "HOME": str(tmp_path)}
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path / "w.db")], env=environment, check=False)
    assert done.returncode == 0


def test_a_reader_of_the_output_that_goes_away_is_no_error_to_look_at(tmp_path: Path) -> None:
    rows = "".join(json.dumps({"id": str(n), "text": MIST}) + "\n" for n in range(300))
    file = tmp_path / "in.jsonl"
    file.write_text(rows)
    environment = {**os.environ, "HOME": str(tmp_path)}
    process = subprocess.Popen(
        [*COMMAND, "assess", "--json", str(file)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.readline()
    process.stdout.close()
    errors = process.stderr.read()
    process.stderr.close()
    assert process.wait(60) == 1
    assert errors == b""


def test_ctrl_c_ends_the_talk_at_once(tmp_path: Path) -> None:
    environment = {**os.environ, "HOME": str(tmp_path)}
    process = subprocess.Popen(
        [*COMMAND, "chat", "--db", str(tmp_path / "w.db")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment,
    )
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(b"hello\nhello again\n")
    process.stdin.flush()
    process.stdout.readline()
    process.send_signal(signal.SIGINT)
    _, errors = process.communicate(timeout=60)
    assert process.returncode == 130
    assert b"Traceback" not in errors


def test_check_finds_no_fault_and_counts(tmp_path: Path) -> None:
    done = watchglass(tmp_path, "check")
    output = said(done)
    assert done.returncode == 0, done.stderr
    assert "0 faults" in output
    assert "substances: " in output
    assert "not re-read" in output
