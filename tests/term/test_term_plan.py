"""The plan of a term: its drills, and every fault in one clear sentence."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drills import SHELF, drill_text
from helpers.source import ROOT
from leverstep.course.course_plan import NO_PLAN, read_plan
from leverstep.course.faults import FileError
from leverstep.faces.commands.cli import main
from leverstep.term.term_plan import MOST_DRILLS, RECORDS, read_term

LEVERS = '[[drill]]\nfile = "levers.toml"\n'
ARM = '[[drill]]\nfile = "arm.toml"\nrecords = "sat/arm"\nname = "the arm"\nweight = 2.5\n'
WEEK = '[[week]]\ntitle = "Week 1"\nproblems = ["plain-seesaw"]\n'


def plan(folder: Path, text: str) -> Path:
    """Write a plan beside two drills, and return its path."""
    for ident in ("levers", "arm"):
        (folder / f"{ident}.toml").write_text(drill_text("", ident), "utf-8")
    path = folder / "course.toml"
    path.write_text(text, "utf-8")
    return path


def test_the_drills_are_read_in_their_order_and_weeks_may_stand_beside_them(tmp_path: Path) -> None:
    top = 'title = "Spring"\nlowest_left_out = 1\n'
    path = plan(tmp_path, f"{top}{WEEK}{LEVERS}required = true\n{ARM}{LEVERS}".removesuffix(LEVERS))
    term = read_term(path, SHELF.problems)
    assert (term.title, term.lowest_left_out) == ("Spring", 1)
    levers, arm = term.drills
    assert (levers.name, levers.drill.id, levers.records) == ("levers",) * 2 + (
        tmp_path / "records",
    )
    assert (arm.name, arm.drill.id, arm.records) == ("the arm", "arm", tmp_path / "sat" / "arm")
    assert [(one.weight, one.required) for one in term.drills] == [
        (1, True),
        (Fraction(5, 2), False),
    ]
    found, faults = read_plan(path, ["plain-seesaw"], ["plain"])
    assert (len(found.weeks), faults) == (1, ())
    assert read_plan(plan(tmp_path, LEVERS), [], []) == (NO_PLAN, ())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (WEEK, 'drill: missing; expected one or more tables [[drill]], each with "file"'),
        ("[drill]\n[drill]\n", "line 2 repeats what is above: [drill]; expected [[drill]] for one"),
        ('[[drill]]\nname = "x"\n', "drill[1].file: missing; expected the file of a drill, from"),
        (LEVERS.replace("levers", "lever"), "lever.toml: there is no such file (did you mean"),
        (LEVERS.replace("file", "files"), 'unknown key (did you mean "file"?)'),
        (LEVERS * 2, "drill[2].file: it is the drill 'levers', as 'levers.toml' is; expected each"),
        (
            f'{LEVERS}name = "The ARM"\n{ARM}',
            "name: 'the arm' is taken; expected a name of its own",
        ),
        (f'{LEVERS}name = "{"x" * 41}"\n', "name: found 41 characters; expected a name of at most"),
        (f"{LEVERS}weight = 1001\n", "weight: found 1001; expected a number from 0 to 1000"),
        (f"{LEVERS}weight = -1\n", "drill[1].weight: found -1; expected a number from 0 to 1000"),
        (f'{LEVERS}required = "yes"\n', "required: found 'yes'; expected true or false"),
        (
            f"lowest_left_out = 2\n{LEVERS}{ARM}",
            "found 2; expected at most 1: one drill has to count",
        ),
        (f"lowest_left_out = 1\n{LEVERS}required = true\n{ARM}required = true\n", "at most 0: one"),
        (
            f"lowest_left_out = 1\n{LEVERS}weight = 0\n{ARM}",
            "expected at most 0: one drill has to count",
        ),
        (
            f"lowest_left_out = 0.5\n{LEVERS}",
            "lowest_left_out: found 0.5; expected a whole number from 0",
        ),
        (
            f"lowest_left_ot = 1\n{LEVERS}",
            'lowest_left_ot: unknown key (did you mean "lowest_left_out"?)',
        ),
        (LEVERS * (MOST_DRILLS + 1), f"found {MOST_DRILLS + 1}; expected at most {MOST_DRILLS}"),
    ],
)
def test_each_fault_is_one_clear_sentence(text: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(FileError) as raised:
        read_term(plan(tmp_path, text), SHELF.problems)
    assert any(told in one for one in map(str, raised.value.faults)), str(raised.value)


def test_a_drill_in_place_of_a_plan_is_told_in_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    path.write_text(drill_text(), "utf-8")
    with pytest.raises(FileError) as raised:
        read_term(path, SHELF.problems)
    told = "levers.toml: it is a drill; expected a plan that names drills, as [[drill]]"
    assert str(raised.value) == told


def test_the_faults_of_a_drill_are_those_of_the_term(tmp_path: Path) -> None:
    path = plan(tmp_path, LEVERS + ARM)
    (tmp_path / "arm.toml").write_text(drill_text('hints = "none at all"', "arm"), "utf-8")
    with pytest.raises(FileError, match=r"^arm.toml: hints: found 'none at all'; expected one of"):
        read_term(path, SHELF.problems)


def test_the_example_of_the_document_is_read_as_it_says(tmp_path: Path) -> None:
    """Every comment of it that begins with a value names what stands there when it is left out."""
    text = (ROOT / "problems" / "DRILLS.md").read_text("utf-8")
    (example,) = re.findall(r"```toml\n(title = .*?\[\[drill\]\].*?)```", text, re.DOTALL)
    path = plan(tmp_path, example)
    (tmp_path / "levers-old.toml").write_text(drill_text("minutes = 5"), "utf-8")
    term = read_term(path, SHELF.problems)
    levers, arm = term.drills
    assert (term.title, term.lowest_left_out) == ("Biomechanics, spring", 1)
    assert (levers.name, levers.weight, levers.required) == ("levers", 2, True)
    assert (levers.records, levers.codes) == (
        tmp_path / "collected" / "levers", tmp_path / "codes-levers.csv"
    )  # fmt: skip
    assert [one.minutes for one in levers.drill.sat_with] == [5]
    assert (arm.records, arm.weight) == (tmp_path / RECORDS, 1)
    assert (arm.required, arm.codes, arm.name, arm.drill.sat_with) == (False, None, "arm", ())
    least = read_term(plan(tmp_path, ARM), SHELF.problems)
    said = {
        "title": f'"{least.title}"',
        "lowest_left_out": least.lowest_left_out,
        "records": f'"{RECORDS}"',
        "weight": arm.weight,
        "required": str(arm.required).lower(),
    }
    for key, value in said.items():
        assert re.search(rf"^{key} = .*# {value}($|[:;])", example, re.MULTILINE), key


def test_vet_takes_a_plan_with_a_term(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vet", str(plan(tmp_path, LEVERS + ARM))]) == 0
    said = capsys.readouterr().out
    assert f"course.toml: no faults\n  remark: records: {tmp_path / 'records'} is not there" in said
    assert main(["vet", str(plan(tmp_path, f"{LEVERS}wieght = 2\n{WEEK}extra = 1\n"))]) == 2
    said = capsys.readouterr().out
    assert 'drill[1].wieght: unknown key (did you mean "weight"?)' in said
    assert "week[1].extra: unknown key" in said
    assert main(["vet", str(plan(tmp_path, "[[drill]\n"))]) == 2
    assert capsys.readouterr().out.count("line 1 can't be read") == 1
