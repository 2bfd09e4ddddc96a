"""A room with no network: one folder holds all, runs as it is, and needs nothing from outside.

The folder is made as README says, but for where the packages come from: they are those of the
environment that runs the tests.
"""

from __future__ import annotations

import csv
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import distribution
from pathlib import Path

import pytest
from drill_sittings import right_entries

from tutor.course.shelf import load_shelf
from tutor.drill.drill_file import read_drill

ROOT = Path(__file__).resolve().parent.parent
CONNECT = "import socket; socket.create_connection(('127.0.0.1', 9), 2)"


def needed(name: str) -> Iterator[str]:
    """Yield the packages that a package depends on, and those in turn."""
    for wanted in distribution(name).requires or ():
        if "extra ==" not in wanted:
            other = re.split(r"[^\w.-]", wanted, maxsplit=1)[0]
            if distribution(other).files is not None:
                yield other
                yield from needed(other)


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder to carry, made without a network."""
    folder = tmp_path_factory.mktemp("carried") / "room"
    options = ["--no-index", "--no-deps", "--no-build-isolation", "--quiet"]
    install = [sys.executable, "-m", "pip", "install", *options, "--target", str(folder), str(ROOT)]
    subprocess.run(install, check=True, capture_output=True)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {re.split(r"[^\w.-]", one, maxsplit=1)[0] for one in project["dependencies"]}
    for name in wanted | {other for first in wanted for other in needed(first)}:
        for file in distribution(name).files or ():
            source = Path(str(file.locate()))
            if ".." not in file.parts and "__pycache__" not in file.parts and source.exists():
                (folder / file).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, folder / file)
    return folder


def cut_off() -> list[str]:
    """Return what runs a command without a network; nothing where that is not permitted.

    A network namespace of its own has no way out and no loopback.
    """
    command = shutil.which("unshare")
    if command is None:
        return []
    tried = subprocess.run([command, "-rn", "true"], capture_output=True, check=False)
    return [command, "-rn"] if tried.returncode == 0 else []


def run_in(room: Path, *arguments: str, typed: str = "") -> str:
    """Return what the tutor prints, run in a folder by a bare Python without its packages."""
    home = {"LEVERSTEP_HOME": str(room.parent / "home"), "PATH": os.environ["PATH"]}
    done = subprocess.run(
        [*cut_off(), sys._base_executable, "-S", "-m", "tutor", *arguments],
        cwd=room,
        input=typed,
        capture_output=True,
        encoding="utf-8",
        env=home,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_one_folder_serves_every_system(room: Path) -> None:
    """README says so: nothing in it is compiled for one kind of machine."""
    assert (room / "tutor" / "cli.py").is_file()
    compiled = {".so", ".pyd", ".dll", ".dylib", ".exe"}
    assert [path for path in room.rglob("*") if path.suffix in compiled] == []


def test_without_a_network_nothing_is_reached() -> None:
    """The namespace that the tests run in has no network; where there is none, it is said."""
    if not cut_off():
        print("No network namespace can be made here: the network was on in these tests.")
        command = shutil.which("unshare")
        assert command is None or subprocess.run([command, "-rn", "true"]).returncode != 0
        return
    done = subprocess.run(
        [*cut_off(), sys.executable, "-c", CONNECT], capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert "Network is unreachable" in done.stderr or "Cannot assign" in done.stderr


def test_a_drill_is_set_sat_and_marked_from_one_folder(room: Path) -> None:
    """All of a drill's life in the carried folder: written, sat by two students, marked."""
    assert "levers.toml is written" in run_in(room, "drill", "new", "levers.toml", "plain-seesaw")
    drill = read_drill(room / "levers.toml", load_shelf().problems)
    for student in ("s01", "s02"):
        lines = right_entries(drill.tasks(student)[0].question).values()
        sit = ["drill", "sit", "levers.toml", "--student", student, "--plain"]
        typed = "\n".join(["", *lines, "hand in", "yes", ""])
        told = run_in(room, *sit, "--records", "records", typed=typed)
        assert "Right." in told
    run_in(room, "drill", "mark", "levers.toml", "records", "--out", "marks")
    with (room / "marks" / "marks.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["id"] for row in rows] == ["s01", "s02"]
    assert {row["percentage"] for row in rows} == {"100"}


def test_the_full_screen_opens_there(room: Path) -> None:
    """The screen's toolkit and style sheet are in the folder too."""
    script = (
        "import asyncio\n"
        "from tutor.screens.app import LeverstepApp\n"
        "async def main():\n"
        "    app = LeverstepApp()\n"
        "    async with app.run_test(size=(80, 24)) as pilot:\n"
        "        while not app.screen.query('#choices'):\n"
        "            await pilot.pause(0.05)\n"
        "        print(app.screen.query_one('#title').render())\n"
        "asyncio.run(main())\n"
    )
    done = subprocess.run(
        [*cut_off(), sys._base_executable, "-S", "-c", script],
        cwd=room,
        capture_output=True,
        encoding="utf-8",
        env={"LEVERSTEP_HOME": str(room.parent / "home"), "PATH": os.environ["PATH"]},
        check=False,
    )
    assert done.stdout.strip() == "leverstep", done.stderr
