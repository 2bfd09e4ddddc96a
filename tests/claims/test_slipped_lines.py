"""A line with one slip is not taken for another quantity that happens to have its value."""

from __future__ import annotations

import pytest
from leverstep.claims.judged_line import JudgedLine, LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()


def judged(problem: str, seed: str, *lines: str) -> tuple[JudgedLine, ...]:
    return tuple(judge_page(SHELF.problems[problem].question(seed), lines).lines)


def test_a_component_is_not_that_along_the_other_axis_said_again() -> None:
    *_, line = judged(
        "hip-leg-raise", "133",  # F_mx −694.2 N, F_my 450.8 N
        "force of the hip flexors = 827.7 N",
        "horizontal component of hip flexors = 827.7 * cos(33) = 694.2 N",
        "vertical component of hip flexors = 827.7 * cos(33) = 694.2 N",
    )  # fmt: skip
    assert (line.standing, line.about) == (LineStanding.WRONG, ("F_my",))


@pytest.mark.parametrize("words", ["sum of the moments", "total moment"])
def test_the_moment_of_one_force_is_not_the_sum_of_all(words: str) -> None:
    """What is worked out from it follows."""
    lines = judged(
        "plain-wheelbarrow", "321",  # M_s −239.7 N·m, M_b −77.1 N·m, d_h 1.330 m
        "moment of soil = 564.1 * 0.425 = 239.7 N m",
        f"{words} = 239.7 N m",
        "force of the hands = 239.7 / 1.330 = 180.2 N",
    )  # fmt: skip
    assert lines[0].standing is LineStanding.RIGHT
    assert lines[1].standing is LineStanding.UNREAD
    assert lines[2].standing is LineStanding.FOLLOWS


def test_a_sum_is_right_by_its_words_and_a_moment_by_its_own_symbol() -> None:
    lines = judged(
        "plain-wheelbarrow", "321", "M_s = -239.7 N m", "sum of the moments = -316.8 N m"
    )
    assert [line.standing for line in lines] == [LineStanding.RIGHT] * 2


@pytest.mark.parametrize(
    ("problem", "seed", "text"),
    [
        # another force's arm brings back the weight, or a given
        ("hip-pelvis-held-level", "334", "force hip abductors = 65.40 / 0.1090 = 600.0 N"),
        ("jaw-back-teeth", "200", "force jaw-closing muscle = 12.10 / 0.05500 = 220.0 N"),
        # swapped digits make nearly all of the length
        ("neck-bent-over-a-book", "224", "arm of head and neck = 0.1350 * sin(95) = 0.1345 m"),
    ],
)
def test_a_value_that_is_another_is_not_kept_where_words_name_what_it_is_of(
    problem: str, seed: str, text: str
) -> None:
    (line,) = judged(problem, seed, text)
    assert not line.standing.holds


def test_an_angle_is_no_moment_in_some_unit() -> None:
    *_, line = judged("wrist-hammer", "195", "R_x = 119.5 N", "atan(34.70 / 119.5) = 16.19")
    assert not line.standing.holds


def test_nothing_but_a_moment_is_divided_by_a_moment() -> None:
    """`d / M` is no force, and tells nothing; `M / M` is a share."""
    _, moment, inverted, share = judged(
        "elbow-full-pail",
        "7",  # M_f 2.815 N·m, M_l 17.13 N·m, d_m 0.046 m
        "moment of the forearm = 2.815 N m",
        "moment of the pail = 17.13 N m",
        "0.046 / 17.13 = 0.002685",
        "2.815 / 17.13 = 0.1643",
    )
    assert moment.standing is LineStanding.RIGHT
    assert not inverted.standing.holds
    assert share.standing is LineStanding.KEPT
