"""A chain is right only where its sides come to one number: the arithmetic before it counts too."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.claims.judged_line import JudgedLine, LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf
from leverstep.slips.page_told import conventions, missing, told_page
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

SHELF = load_shelf()
BRACE = SHELF.problems["elbow-stiff-brace"].question("23")  # F_m 158 N, R_y −137 N, arm 4.3 cm


def line_of(problem: str, seed: str, text: str) -> JudgedLine:
    return judge_page(SHELF.problems[problem].question(seed), [text]).lines[0]


@pytest.mark.parametrize(
    ("problem", "seed", "text"),
    [
        ("elbow-stiff-brace", "23", "F_m = 20.6*0.165/0.043 = 158 N"),
        ("elbow-stiff-brace", "23", "R = 158 + 20.6 = 137 N down"),
        ("elbow-quick-lift", "20", "F_m = 17.7*18/5 = 106 N"),
        ("elbow-quick-lift", "20", "W = 1.8*10 = 17.7 N"),
        ("elbow-quick-lift", "20", "W = 18 = 17.7*2 = 17.7 N"),
        ("wrist-then-elbow", "17", "M_e = 14.7*(24.4+29.5) + 4.41*(24.4+5.3) = 1050 N cm"),
    ],
)
def test_a_right_number_behind_arithmetic_that_is_not_equal_to_it_is_not_right(
    problem: str, seed: str, text: str
) -> None:
    line = line_of(problem, seed, text)
    assert line.standing is LineStanding.UNREAD
    assert [claim.unequal for claim in line.claims] == [True]


@pytest.mark.parametrize(
    ("problem", "seed", "text"),
    [
        ("elbow-stiff-brace", "23", "R = 158 - 20.6 = 137 N down"),
        ("elbow-quick-lift", "20", "W = 1.8*9.81 = 17.66 = 17.7 N"),
        ("elbow-quick-lift", "20", "W = 1.8 kg = 17.7 N"),
        ("elbow-quick-lift", "20", "W = 1800 g / 1000 = 1.8 kg * 9.81 = 17.7 N"),
        ("elbow-quick-lift", "20", "W = 1.8 kg; x 9.81 = 17.7 N"),
    ],
)
def test_rounding_and_units_make_no_two_sides_unequal(problem: str, seed: str, text: str) -> None:
    line = line_of(problem, seed, text)
    assert line.standing.holds
    assert not any(claim.unequal for claim in line.claims)


def test_a_number_of_the_arithmetic_may_be_rounded_as_far_as_it_is_typed() -> None:
    line = line_of("elbow-full-pail", "7", "M_f = 16.2*0.17 = 2.815 N m clockwise")  # 0.1739 m
    assert line.standing is LineStanding.RIGHT


def test_what_is_not_equal_is_told_and_is_still_to_find() -> None:
    page = judge_page(BRACE, ["F_m = 20.6*0.165/0.043 = 158 N"])
    (told,) = told_page(page, CATALOGUE)
    assert told.told == "Not judged: the two sides of the equals sign are not equal."
    assert "F_m" in missing(page)


def test_practice_says_the_same_of_a_symbol_of_the_students_own() -> None:
    working = Working(BRACE, Guidance.BLANK, Rules())
    assert working.write("F_m = 158 N").outcome is Outcome.RIGHT
    verdict = working.write("R = 158 + 20.6 = 137 N down")
    assert verdict.outcome is Outcome.UNREAD
    assert verdict.reason is not None
    assert verdict.reason.code == "sides_differ"


def left_of(problem: str, seed: str, *lines: str) -> set[str]:
    return set(missing(judge_page(SHELF.problems[problem].question(seed), lines)))


def test_an_equation_of_two_unknowns_finds_neither() -> None:
    equation = "T_l sin29 + T_r sin53 = 102.3"
    assert left_of("plain-lamp-two-cords", "56", equation, "T_r = 90.4 N") == {"T_l"}
    assert left_of("plain-lamp-two-cords", "56", equation, "T_r = 90.4 N", "T_l = 62.2 N") == set()


@pytest.mark.parametrize("last", ["F_m = 0 N", "F_m = 1580 N", "F_m = 79 N"])
def test_a_result_that_the_page_contradicts_is_still_to_find(last: str) -> None:
    right = ("F_m = 158 N", "R_y = -137 N", "down")
    assert left_of("elbow-stiff-brace", "23", *right) == set()
    assert left_of("elbow-stiff-brace", "23", *right, last) == {"F_m"}
    assert left_of("elbow-stiff-brace", "23", *right, last, "F_m = 158 N") == set()


def test_a_symbol_of_the_problem_with_another_value_is_told_what_it_stands_for() -> None:
    *_, told = told_page(judge_page(BRACE, ["F_m = 158 N", "F_m = 0 N"]), CATALOGUE)
    assert "F_m is the force of the elbow flexors here" in told.told


def test_g_is_told_only_where_it_is_put_in() -> None:
    crowbar = SHELF.problems["plain-crowbar"].question("211")
    assert conventions(judge_page(crowbar, ["MA = 9.8"])) == ()
    for line in ("W_f = 2.1*9.8 = 20.6 N", "g = 9.8"):
        assert conventions(judge_page(BRACE, [line])) == (
            "You take g as 9.8 m/s²; here it is 9.81 m/s².",
        )
