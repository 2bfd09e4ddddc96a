"""Arithmetic that would hold with one thing in it otherwise: what is tried, what comes of it."""

from __future__ import annotations

import pytest
from leverstep.claims.amendments import amendments, digits_amended, written
from leverstep.claims.judged_line import JudgedLine, LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.claims.segments import Chain, chains_of
from leverstep.claims.worth import plain_value
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import Number

PAIL = load_shelf().problems["elbow-full-pail"].question("7")
# W_f 16.19 N (1.65 kg), W_l 48.94 N (11 lb), d_f 0.1739 m (0.682 of 25.5 cm), d_l 35 cm,
# d_m 4.6 cm, M_f −2.815 N·m, M_l −17.13 N·m, F_m 433.6 N, R_y −368.4 N


def chain(text: str) -> Chain:
    return chains_of(text, set())[0]


def last(*lines: str) -> JudgedLine:
    return judge_page(PAIL, lines).lines[-1]


@pytest.mark.parametrize(
    ("text", "value", "kind"),
    [
        ("3 + 2", 1.0, "flip"),
        ("3 - 2", 5.0, "flip"),
        ("3 - 2", 5.0, "subtracted"),
        ("sqrt(25 - 9)", 34.0**0.5, "flip"),
        ("10 * sin 30", 10 * 0.75**0.5, "other_function"),
        ("10 * tan 30", 5.0, "tangent"),
        ("2.205 * 22.05", 10.0, "conversion"),
        ("9.81 / 2", 2 / 9.81, "ratio_power"),
        ("20 / 9.81", 196.2, "gravity"),
        ("20 * 9.81 * 3", 60.0, "gravity"),
        ("20 * cos 60", 20.0, "trig_again"),
        ("20 / 5", 100.0, "arm_power"),
    ],
)
def test_a_sign_a_factor_or_a_function_is_amended(text: str, value: float, kind: str) -> None:
    read = chain(text)
    found = {
        (round(plain_value(one.tree, read, {}), 6), made)
        for one in amendments(read.sides[0])
        for made, _ in one.choices
    }
    assert (round(value, 6), kind) in found


def test_a_number_that_nothing_has_is_taken_for_one_with_its_digits_otherwise() -> None:
    (tree,) = chain("53.5 * 0.35").sides
    known = {35.5, 0.35, 535.0}
    found = list(
        digits_amended(
            tree,
            lambda number: number.value in known,
            lambda number: number.value in known,
            lambda number: number in known,
        )
    )
    assert [(one.typed, one.meant) for one in found if one.typed] == [("53.5", "35.5")]
    assert [one.choices for one in found if not one.typed] == [(("power_of_ten", -1.0),)]


@pytest.mark.parametrize(
    ("number", "text"),
    [(Number(0.5, 0.005), "0.50"), (Number(1200.0, 0.5), "1200"), (Number(-3.0, 0.05), "3.0")],
)
def test_a_number_is_written_with_its_decimals(number: Number, text: str) -> None:
    assert written(number) == text


@pytest.mark.parametrize(
    ("lines", "key"),
    [
        (["bag 84.94 x 35 = 2973 N cm"], "M_l"),  # 48.94 copied wrongly
        (["in newtons 11 / 4.448 = 2.47 N"], "W_l"),
        (["2.82 - 17.13 = -14.31 N m"], "M_sum"),
        (["pail 84.94 N * 0.35 = 29.7 N m"], "M_l"),
    ],
)
def test_what_a_line_is_of_is_seen_by_what_is_amended(lines: list[str], key: str) -> None:
    claims = last("W_l = 48.94 N", "M_f = -2.82 N m", "M_l = -17.13 N m", *lines).claims
    assert [claim.key for claim in claims if claim.amended] == [key]
    assert not last(*lines).standing.holds


@pytest.mark.parametrize(
    "lines",
    [
        ["18.0 * 0.35 = 6.3 N m"],  # nothing in it is of the problem
        ["W_l = 48.9 N", "48.9 + 16.2 = 65.1 N"],  # a sum that is right
    ],
)
def test_what_holds_or_says_nothing_is_amended_by_nothing(lines: list[str]) -> None:
    line = last(*lines)
    assert not any(claim.amended for claim in line.claims)
    assert line.standing is not LineStanding.WRONG


def test_what_comes_of_a_wrong_value_by_other_numbers_follows() -> None:
    lines = ["D = (16.19*17.39 + 48.94*35)/(4.6 sin 19)", "D = 1994.4/1.4976 = 1332 N"]
    first, then = judge_page(PAIL, lines).lines
    assert not first.standing.holds
    assert then.standing is not LineStanding.WRONG
