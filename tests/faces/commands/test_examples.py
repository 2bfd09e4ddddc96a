"""The help of every command ends with an example, and every example runs."""

from __future__ import annotations

import io
import re
import shlex
import shutil
from pathlib import Path

import pytest
from helpers.commands import parsers
from helpers.drill_sittings import right_entries
from helpers.drills import SHELF, drill_file
from helpers.material import CATALOGUE
from helpers.source import PACKAGE, ROOT
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands import calls, drill_cli
from leverstep.faces.commands.calls import every_command
from leverstep.faces.commands.cli import main
from leverstep.reports.gathering import ClassFigures
from leverstep.reports.part_sums import sums_text

TYPED = {
    "drill sit": "s01\n\nstop\n",
    "drill start-word": "blue heron\nblue heron\n",
    "practise": "stop\n",
    "board": "\n" * 40,
}
"""What is typed where a command asks, by its beginning."""


HELPS = {parser.prog: parser.format_help() for parser in parsers(every_command())}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with what the examples name: a drill, records of it, and a course."""
    place = tmp_path / "place"
    place.mkdir()
    drill = read_drill(drill_file(place), SHELF.problems)
    for student in ("s01", "s02"):
        Sitting.start(drill, CATALOGUE, student, place / "records").pause()
    sums = sums_text(drill, ClassFigures(drill, CATALOGUE))
    (place / "north.json").write_text(sums, encoding="utf-8")
    (place / "south.json").write_text(f"{sums}\n", encoding="utf-8")
    right = right_entries(SHELF.find("elbow-pail-of-water").question("7"))
    page = "".join(f"{key} = {entry}\n" for key, entry in right.items())
    (place / "working.txt").write_text(page, encoding="utf-8")
    (place / "course.toml").write_text('[[drill]]\nfile = "levers.toml"\n', encoding="utf-8")
    (place / "my-course").mkdir()
    shutil.copy(ROOT / "problems" / "plain" / "plain-seesaw.toml", place / "my-course")
    return place


def test_every_command_has_a_help() -> None:
    assert len(HELPS) > 12
    assert {"leverstep", "leverstep check", "leverstep drill mark"} < set(HELPS)


def test_every_command_that_is_written_is_one_of_the_program() -> None:
    modules = (PACKAGE / "faces" / "commands").glob("*_cli.py")
    code = "\n".join(path.read_text("utf-8") for path in modules)
    written = set(re.findall(r"^def (add_\w+)", code, re.MULTILINE))
    assert len(written) > 8
    assert written <= vars(calls).keys() | vars(drill_cli).keys(), "or a command within `drill`"


@pytest.mark.usefixtures("home_in_use")
@pytest.mark.parametrize("prog", HELPS)
def test_the_example_of_a_help_runs(
    prog: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is the last line, is of that command, and ends with 0."""
    last = HELPS[prog].rstrip().splitlines()[-1]
    assert last.startswith(f"example: {prog}")
    assert HELPS[prog].count("example:") == 1
    command = last.removeprefix("example: leverstep ")
    if command.startswith("drill new"):
        (folder / "levers.toml").unlink()  # a new drill needs a new file
    arguments, _, written = command.partition(" > ")
    typed = next((told for begun, told in TYPED.items() if command.startswith(begun)), "")
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(typed.encode())))
    monkeypatch.chdir(folder)
    before = set(folder.rglob("*"))
    code = main(shlex.split(arguments))
    said, complained = capsys.readouterr()
    assert (code, complained) == (0, "")
    assert said.strip() or set(folder.rglob("*")) > before
    assert not written or "leverstep" in said
