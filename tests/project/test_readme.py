"""What README says can be done is done here, with the commands and entries that stand in it."""

from __future__ import annotations

import io
import re
import shlex
from pathlib import Path

import pytest
from helpers.drill_sittings import right_entries
from helpers.material import CATALOGUE
from helpers.source import ROOT
from leverstep.course.shelf import load_shelf
from leverstep.drill.drill_file import read_drill
from leverstep.faces.commands.calls import every_command
from leverstep.faces.commands.cli import main
from leverstep.slips.telling import tell
from leverstep.working.rules import Reasons, Rules
from leverstep.working.working import Working

README = (ROOT / "README.md").read_text(encoding="utf-8")
SHELF = load_shelf()


def section(title: str) -> str:
    """Return the part of README under a heading."""
    return re.split(r"^## ", README.split(f"\n## {title}\n")[1], maxsplit=1, flags=re.M)[0]


def commands(text: str) -> list[list[str]]:
    """Return the arguments of each leverstep command shown, without what is said beside it."""
    shown = re.findall(r"^    leverstep ?(.*?)(?: {3,}.*)?$", text, flags=re.M)
    return [shlex.split(line) for line in shown]


def test_each_command_shown_can_be_called() -> None:
    shown = commands(README)
    assert len(shown) > 10
    for arguments in shown:
        called = every_command().parse_args(arguments)
        assert callable(called.command) == bool(arguments), "without a command it is the problems"


def test_each_problem_that_is_practised_or_set_is_offered() -> None:
    there = {card.id for card in SHELF.cards}
    named = {one for arguments in commands(README) for one in arguments if one in there}
    assert len(named) > 1
    assert named <= {card.id for card in SHELF.offered}


def test_what_a_student_is_told_in_five_minutes() -> None:
    """Each row of the table is entered in turn, with the numbers of the command above it."""
    tour = section("Five minutes for a student")
    (name, seed), *_ = re.findall(r"practise (\S+) --seed (\d+)", tour)
    working = Working(SHELF.find(name).question(seed), rules=Rules(reasons=Reasons.WHEN_ASKED))
    rows = re.findall(r"^\| (\w+) \| `(.+?)` \| (.+?) \|$", tour, flags=re.M)
    assert len(rows) == 5
    for key, typed, told in rows:
        assert tell(working, working.enter(key, typed), CATALOGUE).startswith(told), typed


def test_what_a_teacher_does_in_ten_minutes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The commands are called in their order, in one folder; a student hands in between."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("LEVERSTEP_PLAIN", "1")
    called = commands(section("Ten minutes for a teacher"))
    assert [arguments[0] for arguments in called].count("drill") == 5
    for arguments in called:
        typed = "end\n"
        if arguments[:2] == ["drill", "sit"]:
            tasks = read_drill(Path(arguments[2]), SHELF.problems).tasks("s01")
            lines = [line for task in tasks for line in right_entries(task.question).values()]
            typed = "\n".join(["s01", "", *lines, "hand in", "yes", ""])
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        wrong_line = arguments[0] == "check"
        assert main(arguments) == (1 if wrong_line else 0), arguments
        assert len(capsys.readouterr().out) > 20, arguments
    marks = (tmp_path / "marks" / "marks.csv").read_text(encoding="utf-8")
    assert re.search(r'^"s01",', marks, flags=re.M)
    assert {"steps.csv", "report.md", "report.html"} <= {
        p.name for p in (tmp_path / "marks").iterdir()
    }
    assert len(list((tmp_path / "marks" / "students").iterdir())) == 1


def test_every_file_that_is_linked_is_there() -> None:
    linked = re.findall(r"\]\(([^)#]+)\)", README)
    assert len(linked) > 4
    for path in linked:
        assert (ROOT / path).is_file(), path
