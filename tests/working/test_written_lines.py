"""How a line stands on paper: what it is of, as it was typed, and its value where that has none."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.page import written_line
from leverstep.working.working import Working

PAIL = load_shelf().problems["elbow-pail-of-water"].question("31")


@pytest.mark.parametrize(
    ("key", "typed", "written"),
    [
        ("L", "25,6 cm", "L = 25,6 cm"),
        ("W_l", "15.5/2.205*9.81 N", "W_l = 15.5/2.205*9.81 N = 68.96 N"),
        ("W_l", "15.5/2.205*9.81 = 68,96 N", "W_l = 15.5/2.205*9.81 = 68,96 N"),
        ("W_l", "W_l = 15.5/2.205*9.81 N", "W_l = 15.5/2.205*9.81 N = 68.96 N"),
        ("W_f", "W = 1,65 * 9,81 = 16,19 N", "W = 1,65 * 9,81 = 16,19 N"),
        ("L", "=> 25,6 cm", "L = 25,6 cm"),
        ("L", "so 25,6 cm → 0,256 m", "L = 25,6 cm = 0,256 m"),
        ("class", "third", "class: third"),
        ("equation", "0 = -Wf*df - Wl*dl + Fm*dm", "0 = -Wf*df - Wl*dl + Fm*dm"),
    ],
)
def test_a_line_is_named_unless_it_says_itself_what_it_is_of(
    key: str, typed: str, written: str
) -> None:
    working = Working(PAIL)
    assert working.enter_open(key, typed).settled
    assert written_line(working.step(key), working.lines[key]) == written


def test_what_an_equation_comes_to_is_no_side_of_it() -> None:
    working = Working(PAIL)
    for step in working.steps:
        if step.key == "R_y":
            break
        if step.kind.is_number:
            working.enter(step.key, f"{PAIL.right[step.key]:.6g} {step.unit}")
    assert working.enter_open("R_y", "R_y - W_f - W_l + F_m = 0").settled
    line = working.lines["R_y"]
    assert written_line(working.step("R_y"), line) == (
        "R_y - W_f - W_l + F_m = 0, so R_y = −633.1 N"
    )
