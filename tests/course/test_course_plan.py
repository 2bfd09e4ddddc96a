"""The plan of a course: its weeks, and every fault in one clear sentence."""

from __future__ import annotations

from pathlib import Path

import pytest
from leverstep.course.course_plan import MOST_WEEKS, Week, read_plan
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.faces.commands.cli import main

KNOWN = ("plain-seesaw", "plain-crowbar", "elbow-full-pail")
JOINTS = ("elbow", "plain")
LEVERS = '[[week]]\ntitle = "Week 1: levers"\nproblems = ["plain-seesaw", "plain-crowbar"]\n'
ARM = '[[week]]\ntitle = "Week 2: the arm"\nproblems = ["elbow-full-pail"]\n'
WORDS = """
[words.joint]
elbow = "Block 2: the elbow"
[words.level]
1 = "first steps"
[words.asks]
"net moment" = "moment of the muscles"
"""


def plan(folder: Path, text: str) -> Path:
    path = folder / "course.toml"
    path.write_text(text, "utf-8")
    return path


def test_the_weeks_are_read_in_their_order(tmp_path: Path) -> None:
    found, faults = read_plan(plan(tmp_path, LEVERS + ARM), KNOWN, JOINTS)
    assert faults == ()
    assert found.weeks == (
        Week("Week 1: levers", ("plain-seesaw", "plain-crowbar")),
        Week("Week 2: the arm", ("elbow-full-pail",)),
    )


@pytest.mark.parametrize(
    ("text", "told", "weeks"),
    [
        ("", 'course.toml: week: missing; expected one or more tables [[week]], each with "title" '
         'and "problems"', 0),
        ("[[week]\n", "course.toml: line 1 can't be read", 0),
        ("week = 5\n", "course.toml: week: found 5; expected", 0),
        (LEVERS.replace("title", "titel") + ARM, "week[1].title: missing", 1),
        (LEVERS.replace("title", "titel") + ARM, 'unknown key (did you mean "title"?)', 1),
        (LEVERS.replace("seesaw", "sesaw"), 'no problem is called "plain-sesaw" (did you mean '
         '"plain-seesaw"?); expected a name that `leverstep problems` lists', 1),
        (LEVERS.replace("crowbar", "seesaw"), '"plain-seesaw" stands there twice', 1),
        (LEVERS + LEVERS, '"Week 1: levers" is taken; expected a title of its own', 2),
        (ARM.replace('["elbow-full-pail"]', "[]"), "found no problem", 0),
        (ARM.replace('["elbow-full-pail"]', "[5]"), "expected a list of texts", 0),
        (ARM.replace("problems", "problem"), "problems: missing; expected a list", 0),
        (ARM.replace("Week 2: the arm", "x" * 61), "found 61 characters; expected at most 60", 1),
        (ARM.replace("Week 2: the arm", "a\\u001b[2Jb"), "found a control character", 0),
        ("words = 5\n", "words: found 5; expected a table such as [words.level]", 0),
        ('[words.joint]\nelbo = "x"\n', 'words.joint.elbo: there is no such joint (did you mean '
         '"elbow"?); expected one of elbow, plain', 0),
        ('[words.level]\n4 = "x"\n', "there is no such level; expected one of 1, 2, 3", 0),
        ('[words.level]\n1 = 5\n', "words.level.1: found 5; expected a text of at most 14", 0),
        (f'[words.asks]\nload = "{"x" * 31}"\n', "found 31 characters; expected at most 30", 0),
        ('[words.kind]\nload = "x"\n', "words.kind: unknown key", 0),
        (ARM * (MOST_WEEKS + 1), f"found {MOST_WEEKS + 1}; expected at most", MOST_WEEKS),
    ],
)  # fmt: skip
def test_each_fault_is_told_and_leaves_the_other_weeks_alone(
    text: str, told: str, weeks: int, tmp_path: Path
) -> None:
    found, faults = read_plan(plan(tmp_path, text), KNOWN, JOINTS)
    assert [one for one in map(str, faults) if told in one], list(map(str, faults))
    assert len(found.weeks) == weeks


def test_a_course_calls_joints_levels_and_kinds_what_it_likes(tmp_path: Path) -> None:
    found, faults = read_plan(plan(tmp_path, WORDS), KNOWN, JOINTS)
    words = found.words
    assert (found.weeks, faults) == ((), ())
    assert [words.joint("elbow"), words.joint("plain")] == ["Block 2: the elbow", "Plain levers"]
    assert [words.level(1), words.level(2)] == ["first steps", "level 2"]
    assert [words.kind("net moment"), words.kind("load")] == [
        "moment of the muscles", "load held in balance",
    ]  # fmt: skip


def test_a_shelf_has_the_weeks_of_a_teachers_own_folder(tmp_path: Path) -> None:
    plan(tmp_path, LEVERS)
    shelf = load_shelf([shipped("problems")], [tmp_path])
    assert [week.title for week in shelf.weeks] == ["Week 1: levers"]
    assert shelf.faults == ()
    assert not shelf.own


def test_a_broken_plan_leaves_every_problem_on_the_shelf(tmp_path: Path) -> None:
    plan(tmp_path, "[[week\n")
    shelf = load_shelf([shipped("problems")], [tmp_path])
    assert shelf.weeks == ()
    assert [fault.file for fault in shelf.faults] == ["course.toml"]
    assert len(shelf.cards) == len(load_shelf([shipped("problems")]).cards)


def test_vet_tells_the_faults_of_a_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vet", str(plan(tmp_path, LEVERS))]) == 0
    assert "course.toml: no faults" in capsys.readouterr().out
    assert main(["vet", str(plan(tmp_path, LEVERS.replace("seesaw", "sesaw")))]) == 2
    assert 'did you mean "plain-seesaw"?' in capsys.readouterr().out
