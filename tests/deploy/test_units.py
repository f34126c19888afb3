"""The service units: what a misspelt or missing line would cost is found before the operator finds it."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from bot.settings import known_variables

DEPLOY = Path(__file__).parents[2] / "deploy"
UNITS = sorted([*DEPLOY.glob("*.service"), *DEPLOY.glob("*.timer")])
# What keeps a program that was broken into from the rest of the machine: systemd.exec(5).
WALLS = (
    "NoNewPrivileges=yes", "ProtectSystem=strict", "ProtectHome=yes", "PrivateTmp=yes", "PrivateDevices=yes",
    "ProtectKernelTunables=yes", "ProtectKernelModules=yes", "ProtectControlGroups=yes", "RestrictNamespaces=yes",
    "RestrictSUIDSGID=yes", "LockPersonality=yes", "SystemCallFilter=@system-service", "UMask=0077",
)  # fmt: skip


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit.suffix == ".service"], ids=lambda unit: unit.name)
def test_no_service_runs_without_its_walls(unit: Path) -> None:
    lines = unit.read_text().splitlines()
    assert [wall for wall in WALLS if wall not in lines] == []


@pytest.mark.parametrize("name", ["watchglass.service", "watchglass-backup.service", "Containerfile", "compose.yaml"])
def test_every_setting_in_deploy_is_one_of_the_program(name: str) -> None:
    named = set(re.findall(r"WATCHGLASS_[A-Z_]+", (DEPLOY / name).read_text()))
    assert named - {"WATCHGLASS_DB"} <= known_variables()


def test_no_secret_stands_in_deploy() -> None:
    for file in DEPLOY.iterdir():
        assert not re.search(r"WATCHGLASS_TOKEN=(?!\.\.\.)\S", file.read_text().replace("`", "")), file.name


def test_the_units_are_what_the_service_manager_understands(tmp_path: Path) -> None:
    """Where systemd's own checker is at hand; the program itself is not installed where the unit says."""
    checker = shutil.which("systemd-analyze")
    for unit in UNITS:
        text = re.sub(r"/opt/watchglass/bin/watchglass", "/bin/true", unit.read_text())
        (tmp_path / unit.name).write_text(text)
        assert [line for line in text.splitlines() if line and not re.match(r"[#\[]|[A-Z]\w+=", line)] == []
    if checker is not None:
        told = subprocess.run(
            [checker, "verify", "--man=no", *map(str, sorted(tmp_path.iterdir()))], capture_output=True, text=True
        )
        assert (told.returncode, told.stderr) == (0, "")
