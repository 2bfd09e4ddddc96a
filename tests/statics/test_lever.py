"""The class of lever: where it is asked for, and that lists say what the working does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers.problem_texts import read_text
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Problem
from leverstep.course.shelf import load_shelf
from leverstep.statics import kinds
from leverstep.statics.derivation import derive

PROBLEMS = load_shelf([shipped("problems")]).problems
PAIL = shipped("problems") / "retired" / "elbow-full-pail.toml"
COMPARED = "lumbar-near-and-far"
"""It compares two forces on one lever, and leaves out the class, which is the same both times."""


def asks_class(problem: Problem) -> bool:
    """Return whether the working asks for the class of its first posture; lists must say so too."""
    question = problem.question("1")
    keys = {step.key for step in question.derivation.asked}
    for view in question.views:
        asked, shown = view.key(kinds.LEVER_CLASS) in keys, view.problem
        assert asked == shown.posture.asks_class
        assert shown.lever_class == (question.right[view.key(kinds.LEVER_CLASS)] if asked else None)
    return question.key(kinds.LEVER_CLASS) in keys


@pytest.mark.parametrize(
    "name",
    ["knee-stool-hold", "wrist-flat-tray", "shoulder-level-broom", "lumbar-leaning-trunk"],
)
def test_no_class_is_asked_for_where_only_a_moment_arm_is_given(name: str) -> None:
    assert not asks_class(PROBLEMS[name])


def test_what_ships_asks_for_the_class_where_every_place_is_given() -> None:
    """Where one is not, the file says so outright, and the statement where the point lies."""
    for problem in PROBLEMS.values():
        assert asks_class(problem) == problem.posture.asks_class, problem.id
        for posture in problem.postures:
            if posture.effort is not None and posture.ratios:
                placed = all(force.is_placed for force in posture.turning)
                asked = problem.id != COMPARED and (placed or posture.class_asked is True)
                assert posture.asks_class == asked, problem.id
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


def read(*changes: tuple[str, str]) -> Problem:
    return read_text(PAIL.read_text("utf-8"), *changes)


def test_a_file_says_otherwise_outright_alone() -> None:
    assert asks_class(read())
    assert not asks_class(read(("[ask]", "[ask]\nclass = false")))
    arm = ("from = 3.5", 'perpendicular = true, turns = "counter-clockwise", from = 3.5')
    assert not asks_class(read(arm))
    assert asks_class(read(arm, ("[ask]", "[ask]\nclass = true")))


def test_a_class_can_not_be_asked_for_without_a_lever() -> None:
    with pytest.raises(FileError) as caught:
        read(("[ask]", "[ask]\nclass = true\nratios = false"))
    assert [fault.key for fault in caught.value.faults] == ["ask.class"]
    assert "ratios = true" in str(caught.value.faults[0])
