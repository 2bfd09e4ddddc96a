"""Lines turned round to nothing, and equations whose one unknown is what is asked for."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import value_text, worked_line

SHELF = load_shelf()


def worked_up_to(problem: str, seed: str, key: str) -> Working:
    """Return a working with the right lines before one that is asked for."""
    question = SHELF.problems[problem].question(seed)
    working = Working(question)
    for step in working.steps:
        if step.key == key:
            break
        right = question.right.get(step.key, 0.0)
        number = value_text(step, right) if step.kind.is_number else ""
        assert working.enter(
            step.key, number or worked_line(question, step, question.right)
        ).settled
    return working


@pytest.mark.parametrize(
    ("asked", "typed", "of"),
    [
        ("W_l", "W_f - 16,68 N = 0", "W_f"),
        ("W_l", "0 = W_f - 16,68 N", "W_f"),
        ("MA", "F_m*d_m - W_f*d_f - W_l*d_l = 0", "equation"),
        ("MA", "F_m*d_m - 25,68 = 0", "equation"),
        ("MA", "F_m*d_m + M_sum = 0", "equation"),
        ("MA", "F_m - 558 N = 0", "F_m"),
        ("M_l", "M_f + W_f*d_f = 0", "M_f"),
        ("M_f", "M_f + W_f*d_f = 0", "M_f"),
        ("F_m", "M_sum - M_f - M_l = 0", "M_sum"),
        ("M_sum", "M_l + 22,66 = 0", "M_l"),
    ],
)
def test_a_line_turned_to_nothing_is_that_line_and_no_value_of_nothing(
    asked: str, typed: str, of: str
) -> None:
    working = worked_up_to("elbow-kettlebell", "11", asked)  # F_m is 558.2 N
    verdict = working.enter_open(asked, typed)
    assert (verdict.step, verdict.settled) == (of, True)


@pytest.mark.parametrize("typed", ["M_f - W_f*d_f = 0", "0 = W_f*d_f - M_f"])
def test_a_line_turned_to_nothing_has_its_sign(typed: str) -> None:
    working = worked_up_to("elbow-kettlebell", "11", "M_f")
    verdict = working.enter_open("M_f", typed)
    assert (verdict.step, verdict.outcome) == ("M_f", Outcome.WRONG)


def test_a_reaction_turned_to_nothing_is_that_line() -> None:
    working = worked_up_to("knee-made-stiff", "4", "phi_R")
    verdict = working.enter_open("phi_R", "R - √(R_x²+R_y²) = 0")
    assert (verdict.step, verdict.settled) == ("R", True)


@pytest.mark.parametrize(
    "typed", ["W_f*d_f + W_l*d_l = 0", "W_f - 17,68 N = 0", "M_f - W_l*d_l = 0"]
)
def test_what_does_not_hold_is_not_right_for_having_nothing_on_one_side(typed: str) -> None:
    working = worked_up_to("elbow-kettlebell", "11", "MA")
    assert not working.enter_open("MA", typed).settled


@pytest.mark.parametrize(
    "typed",
    [
        "T_l*1,887 = 53,39",
        "1,887 T_l = 53,39",
        "0 = 1,887*T_l - 53,39",
        "0,5446*T_l + 1,3425*T_l = 53,39",
        "T_l*(sin(33°) + 1,583*sin(58°)) = 53,39 N",
    ],
)
def test_two_equations_made_one_are_right_where_they_come_to_the_force(typed: str) -> None:
    working = worked_up_to("plain-lamp-two-cords", "11", "T_l")  # T_l is 28.30 N
    verdict = working.enter_open("T_l", typed)
    assert (verdict.step, verdict.outcome) == ("T_l", Outcome.RIGHT)
    wrong = worked_up_to("plain-lamp-two-cords", "11", "T_l")
    assert not wrong.enter_open("T_l", typed.replace("53,39", "63,39")).settled


def test_what_an_equation_came_to_is_what_later_lines_rest_on() -> None:
    working = worked_up_to("elbow-kettlebell", "11", "F_m")
    assert working.enter_open("F_m", "F_m*0,046 = 25,68").settled
    verdict = working.enter_open("MA", "0 = R_y + F_m - W_f - W_l")
    assert (verdict.step, verdict.outcome) == ("R_y", Outcome.RIGHT)


@pytest.mark.parametrize("guidance", Guidance)
def test_the_moment_equation_stays_one_while_its_force_is_to_be_found(guidance: Guidance) -> None:
    working = Working(SHELF.problems["elbow-kettlebell"].question("11"), guidance)
    for text in ("W_f = 16,68 N", "W_l = 68,67 N"):
        working.enter_open(working.current().key, text)  # type: ignore[union-attr]
    verdict = working.write("F_m*d_m - W_f*d_f - W_l*d_l = 0")
    assert verdict.step == "equation"
