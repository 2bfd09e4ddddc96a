"""What checks the project finds a Python that it can use, or says that there is none."""

from __future__ import annotations

import shutil
import stat
import subprocess
from pathlib import Path

import pytest
from helpers.packages import PROJECT, ROOT

PASSED_BY = 7


@pytest.fixture
def commands(tmp_path: Path) -> Path:
    """Return a folder with all the commands that the check may find before it has a Python."""
    folder = tmp_path / "commands"
    folder.mkdir()
    for name in ("bash", "dirname", "env"):
        found = shutil.which(name)
        assert found is not None
        (folder / name).symlink_to(found)
    return folder


def add(commands: Path, name: str, code: int) -> None:
    """Add a Python that answers the question for its version with a code, and makes no room."""
    path = commands / name
    text = f'#!/usr/bin/env bash\n[ "$1" = -c ] && exit {code}\necho "$0 $*"\nexit {PASSED_BY}\n'
    path.write_text(text, encoding="utf-8")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)


def check(commands: Path) -> subprocess.CompletedProcess[str]:
    """Run the check in an empty clone, as CI does: with no input, and these commands alone."""
    copy = commands.parent / "clone" / ".ci" / "run"
    copy.parent.mkdir(parents=True)
    shutil.copyfile(ROOT / ".ci" / "run", copy)
    return subprocess.run(
        ["bash", str(copy)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        env={"PATH": str(commands), "CI": "true"},
        check=False,
    )


@pytest.mark.parametrize("names", [[], ["python3"], ["python3", "python3.11"]])
def test_without_a_python_that_is_new_enough_it_says_so(commands: Path, names: list[str]) -> None:
    for name in names:
        add(commands, name, code=1)
    done = check(commands)
    assert done.returncode == 1
    oldest = PROJECT["requires-python"].removeprefix(">=")
    assert (
        done.stderr == f"No Python {oldest} or newer that has venv is on the PATH: install one.\n"
    )


@pytest.mark.parametrize("name", ["python3", "python3.11", "python3.12", "python3.13"])
def test_a_python_that_is_new_enough_is_taken(commands: Path, name: str) -> None:
    add(commands, "python3", code=1)
    add(commands, name, code=0)
    done = check(commands)
    assert done.returncode == PASSED_BY
    assert done.stdout == f"{commands / name} -m venv .venv\n"
