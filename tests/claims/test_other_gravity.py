"""Where two values of g count, a page may be worked with either, whichever it shows."""

from __future__ import annotations

import pytest
from helpers.drill_sittings import SHELF
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page

HELD = "elbow-full-pail"
ACCEPTED = {"g": (9.8, 10.0)}


@pytest.mark.parametrize("g", ACCEPTED["g"])
def test_a_page_with_either_value_of_g_is_right(g: float) -> None:
    problem = SHELF.problems[HELD]
    right = problem.question("7", accepted={"g": (g,)}).right
    lines = [f"{key} = {right[key]:.4g} N" for key in ("W_f", "W_l", "F_m", "R_y")]
    page = judge_page(problem.question("7", accepted=ACCEPTED), lines)
    assert [line.standing for line in page.lines] == [LineStanding.RIGHT] * 4


def test_a_value_of_g_that_does_not_count_is_not_right() -> None:
    problem = SHELF.problems[HELD]
    right = problem.question("7", accepted={"g": (10.5,)}).right
    (line,) = judge_page(
        problem.question("7", accepted=ACCEPTED), [f"W_l = {right['W_l']:.4g} N"]
    ).lines
    assert not line.standing.holds
