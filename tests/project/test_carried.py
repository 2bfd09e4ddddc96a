"""A room with no network: one file holds all, runs as it is, and runs nothing that lies around it.

The file is made as README says, but for where the packages come from: they are those of the
environment that runs the tests, without their own tests, a third of what would be compiled.
"""

from __future__ import annotations

import csv
import hashlib
import importlib.util
import os
import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import dataclass
from importlib.metadata import distribution
from pathlib import Path
from zipfile import ZIP_STORED, ZipFile

import pytest
from helpers.drill_sittings import right_entries
from helpers.once import made_once
from helpers.packages import PROJECT, ROOT, needed
from leverstep.course.shelf import load_shelf
from leverstep.drill.drill_file import read_drill

README = (ROOT / "README.md").read_text(encoding="utf-8")
SECTION = README.split("\n## A room with no network\n")[1].split("\n## ")[0]
COMMANDS = re.findall(r"^    python3 (.*)$", SECTION, flags=re.M)
CONNECT = "import socket; socket.create_connection(('127.0.0.1', 9), 2)"
TRAPS = (
    "csv.py",
    "json.py",
    "numpy.py",
    "sitecustomize.py",
    "sympy/__init__.py",
    "leverstep/__init__.py",
)
"""Files that Python would take for modules where it looks for them; each leaves a mark."""


def fill(folder: Path) -> None:
    """Put into a folder what a room needs, without a network."""
    for name in needed():
        for file in distribution(name).files or ():
            source = Path(str(file.locate()))
            if {"..", "__pycache__", "tests"}.isdisjoint(file.parts) and source.exists():
                (folder / file).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, folder / file)


def lay_traps(folder: Path, mark: Path) -> None:
    """Put files into a folder that leave a mark when Python runs them."""
    for name in TRAPS:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"open({str(mark)!r}, 'a').write({name!r})\nraise SystemExit(9)\n", "utf-8")


@dataclass(frozen=True)
class Room:
    """A computer of a room: `tutor` is the carried file, `desk` the folder that one works in.

    Traps lie in every folder around; `mark` is there once one went off.
    """

    tutor: Path
    desk: Path
    mark: Path

    @property
    def environment(self) -> dict[str, str]:
        """Return the variables of its user, with Python's own set for harm."""
        home = self.desk.parent / "home"
        return {
            "HOME": str(home),
            "LEVERSTEP_HOME": str(home / "data"),
            "PATH": os.environ["PATH"],
            "PYTHONPATH": str(self.desk),
        }

    def run(self, arguments: list[str], typed: str = "", code: int = 0) -> str:
        """Return what a bare Python without packages prints, without a network."""
        done = subprocess.run(
            [*cut_off(), sys._base_executable, *arguments],
            cwd=self.desk,
            input=typed,
            capture_output=True,
            encoding="utf-8",
            env=self.environment,
            check=False,
        )
        assert done.returncode == code, done.stdout + done.stderr
        return done.stdout

    def call(self, *arguments: str, typed: str = "", code: int = 0) -> str:
        """Return what the tutor prints, called as README says."""
        return self.run(["-I", "-S", self.tutor.name, *arguments], typed, code)


@pytest.fixture(scope="module")
def tutor(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file to carry, made by README's commands, once for all workers of a run."""
    return made_once(tmp_path_factory, "carried", make_tutor) / "build" / "leverstep.pyz"


def make_tutor(folder: Path) -> None:
    """Make the file to carry in a folder."""
    fetch, install, *make = [shlex.split(command) for command in COMMANDS[:4]]
    assert fetch[:4] == ["-m", "pip", "install", "--require-hashes"]
    assert fetch[-4:] == ["--target", "build/room", "-r", "tutor/room.txt"]
    fill(folder / "build" / "room")
    alone = ["--no-index", "--no-build-isolation", "--quiet"]
    for command in ([*install[:-1], *alone, str(ROOT)], *make):
        subprocess.run([sys.executable, *command], cwd=folder, check=True)


@pytest.fixture
def room(tutor: Path, tmp_path: Path) -> Room:
    """Return a computer where the tutor, the drill and the records lie among traps."""
    room = Room(tmp_path / "desk" / "leverstep.pyz", tmp_path / "desk", tmp_path / "mark")
    for folder in (room.desk, room.desk / "records"):
        lay_traps(folder, room.mark)
    shutil.copyfile(tutor, room.tutor)
    room.tutor.chmod(0o444)
    return room


def cut_off() -> list[str]:
    """Return what runs a command without a network; nothing where that is not permitted.

    A network namespace of its own has no way out and no loopback.
    """
    command = shutil.which("unshare")
    if command is None:
        return []
    tried = subprocess.run([command, "-rn", "true"], capture_output=True, check=False)
    return [command, "-rn"] if tried.returncode == 0 else []


def test_one_file_serves_every_system(tutor: Path) -> None:
    """README says so: nothing in it is compiled for one kind of machine."""
    with ZipFile(tutor) as archive:
        names = set(archive.namelist())
    assert "leverstep/faces/commands/cli.py" in names
    compiled = (".so", ".pyd", ".dll", ".dylib", ".exe")
    assert [name for name in names if name.endswith(compiled)] == []


def test_what_was_compiled_beforehand_serves_wherever_it_is_copied(tutor: Path) -> None:
    """Python would compile all at each start, if it went by a time that another zone shifts."""
    with ZipFile(tutor) as archive:
        names = set(archive.namelist())
        ours = [name for name in names if re.fullmatch(r"(leverstep|sympy|textual)/.*\.py", name)]
        assert len(ours) > 1000
        for name in ours:
            head = archive.read(f"{name}c")[:8]
            assert head[:4] == importlib.util.MAGIC_NUMBER
            assert head[4:] == b"\1\0\0\0", "goes by a hash that is not looked at"


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


@pytest.mark.parametrize("module", ["csv", "json", "numpy", "sympy", "leverstep"])
def test_the_traps_go_off_where_python_looks_at_them(room: Room, module: str) -> None:
    """So the mark would be there, had one been run."""
    room.run(["-S", "-c", f"import {module}"], code=9)
    assert room.mark.exists()


def test_a_drill_is_set_sat_and_marked_with_one_file(room: Room) -> None:
    """All of a drill's life among traps: written, sat by two students, marked, with README's calls.

    Nothing but the tutor is run, and the tutor stays as it is.
    """
    before = hashlib.sha256(room.tutor.read_bytes()).hexdigest()
    sit, mark = [shlex.split(one)[2:] for one in COMMANDS if one.startswith("-I leverstep.pyz ")]
    assert "levers.toml has been written" in room.call(
        "drill", "new", "levers.toml", "plain-seesaw"
    )
    drill = read_drill(room.desk / "levers.toml", load_shelf().problems)
    for student in ("s01", "s02"):
        lines = right_entries(drill.tasks(student)[0].question).values()
        typed = "\n".join(["", *lines, "hand in", "yes", ""])
        assert "Right." in room.call(*sit, "--student", student, "--plain", typed=typed)
    room.call(*mark)
    with (room.desk / "marks" / "marks.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["id"] for row in rows] == ["s01", "s02"]
    assert {row["percentage"] for row in rows} == {"100"}
    assert not room.mark.exists()
    assert hashlib.sha256(room.tutor.read_bytes()).hexdigest() == before


def test_what_ships_is_all_in_the_file(room: Room) -> None:
    """Problems, hints, segments and the number of the version are read out of it."""
    assert room.call("--version") == f"leverstep {PROJECT['version']}\n"
    listed = {line.split()[0] for line in room.call("problems").splitlines()}
    shipped_ids = {path.stem for path in (ROOT / "problems").rglob("*.toml")}
    assert listed == shipped_ids - {path.stem for path in (ROOT / "problems/retired").iterdir()}
    with ZipFile(room.tutor) as archive:
        for kind in ("problems", "hints"):
            shipped = [path.relative_to(ROOT) for path in (ROOT / kind).rglob("*.toml")]
            assert shipped
            for path in shipped:
                assert archive.read(f"leverstep/{path.as_posix()}") == (ROOT / path).read_bytes()
    check = ["check", "elbow-full-pail", "--seed", "7", "--step", "W_l", "11.0 N"]
    assert "pounds left as newtons" in room.call(*check, code=1)
    assert not room.mark.exists()


def test_a_newer_file_lists_its_own_problems(room: Room) -> None:
    """What was kept of the lists of an older file is not believed; all in the newer is vetted.

    It has few problems and hints: vetting all that ship is slow, and done in `tests/vetting`.
    """
    assert "plain-seesaw " in room.call("problems")
    newer = room.tutor.with_suffix(".new")
    with ZipFile(room.tutor) as old, ZipFile(newer, "w") as archive:
        for entry in old.infolist():
            if re.match(
                r"leverstep/(problems/(?!plain/)|hints/(?!steps)).*\.toml$", entry.filename
            ):
                continue
            text = old.read(entry)
            if entry.filename.endswith("plain-seesaw.toml"):
                text = re.sub(rb"(?m)^title = .*$", b'title = "A new title"', text)
            archive.writestr(entry, text, ZIP_STORED)
    newer.replace(room.tutor)
    listed = room.call("problems")
    assert "A new title" in listed
    vetted = room.call("vet").splitlines()
    named = {Path(line.split(": no faults")[0]).stem for line in vetted if ": no faults" in line}
    assert named == {"steps"} | {line.split()[0] for line in listed.splitlines()}


def test_the_full_screen_opens_there(room: Room) -> None:
    """The screen's toolkit and style sheet are in the file too."""
    script = (
        "import asyncio, sys\n"
        f"sys.path.insert(0, {str(room.tutor)!r})\n"
        "from leverstep.course.libraries import Libraries\n"
        "from leverstep.faces.material import Material\n"
        "from leverstep.faces.screens.app import LeverstepApp\n"
        "async def main():\n"
        "    app = LeverstepApp(Material(Libraries()))\n"
        "    async with app.run_test(size=(80, 24)) as pilot:\n"
        "        while not app.screen.query('#choices'):\n"
        "            await pilot.pause(0.05)\n"
        "        print(app.screen.query_one('#title').render())\n"
        "asyncio.run(main())\n"
    )
    assert room.run(["-I", "-S", "-c", script]).strip() == "leverstep"
    assert not room.mark.exists()
