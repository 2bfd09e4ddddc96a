"""The class of lever: where it is asked for, and that lists say what the working does."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Problem
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.statics.derivation import derive

PROBLEMS = load_shelf([shipped("problems")]).problems
PAIL = shipped("problems") / "elbow" / "elbow-full-pail.toml"


def asks_class(problem: Problem) -> bool:
    """Return whether the working asks for the class; lists must say the same."""
    question = problem.question("1")
    asked = any(step.key == "class" for step in question.derivation.asked)
    assert asked == problem.posture.asks_class
    assert problem.lever_class == (question.right["class"] if asked else None)
    return asked


@pytest.mark.parametrize(
    "name",
    ["knee-stool-hold", "wrist-flat-tray", "shoulder-level-broom", "lumbar-leaning-trunk"],
)
def test_no_class_is_asked_for_where_only_a_moment_arm_is_given(name: str) -> None:
    assert not asks_class(PROBLEMS[name])


def test_what_ships_asks_for_the_class_where_every_place_is_given() -> None:
    """Where one is not, the file says so outright, and the statement where the point lies."""
    for problem in PROBLEMS.values():
        posture = problem.posture
        if posture.effort is not None and posture.ratios:
            placed = all(force.is_placed for force in posture.turning)
            assert asks_class(problem) == (placed or posture.class_asked is True), problem.id
    finger = PROBLEMS["finger-key-press"]
    assert asks_class(finger)
    assert not finger.posture.effort.is_placed
    assert "between this joint and the fingertip" in finger.statement


def test_a_posture_may_say_otherwise() -> None:
    pail = PROBLEMS["elbow-full-pail"]
    assert asks_class(pail)
    assert not asks_class(replace(pail, posture=replace(pail.posture, class_asked=False)))
    stool = PROBLEMS["knee-stool-hold"].posture
    numbers = PROBLEMS["knee-stool-hold"].question("1").numbers
    said = derive(replace(stool, class_asked=True), numbers)
    assert "class" in [step.key for step in said.asked]


def read(folder: Path, *changes: tuple[str, str]) -> Problem:
    text = PAIL.read_text("utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = folder / PAIL.name
    path.write_text(text, "utf-8")
    return read_problem(path)


def test_a_file_says_otherwise_outright_alone(tmp_path: Path) -> None:
    assert asks_class(read(tmp_path))
    assert not asks_class(read(tmp_path, ("[ask]", "[ask]\nclass = false")))
    arm = ("from = 3.5", 'perpendicular = true, turns = "counter-clockwise", from = 3.5')
    assert not asks_class(read(tmp_path, arm))
    assert asks_class(read(tmp_path, arm, ("[ask]", "[ask]\nclass = true")))


def test_a_class_can_not_be_asked_for_without_a_lever(tmp_path: Path) -> None:
    with pytest.raises(FileError) as caught:
        read(tmp_path, ("[ask]", "[ask]\nclass = true\nratios = false"))
    assert [fault.key for fault in caught.value.faults] == ["ask.class"]
    assert "[effort]" in str(caught.value.faults[0])
