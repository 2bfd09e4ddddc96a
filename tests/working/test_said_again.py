"""What was wrong stays wrong however often it is said, and is followed until it is put right."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.guidance import Guidance
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

SHELF = load_shelf()
BRACE = "elbow-stiff-brace"
"""Seed 7: m_f 1.80 kg, d_f 15.5 cm, d_m 4.1 cm, C_b 2.8 N·m; F_m is 135.0 N. Seed 4: m_f 1.70 kg,
d_f 16.0 cm, d_m 4.9 cm, C_b 3.2 N·m; F_m is 119.8 N."""
KETTLEBELL = "elbow-kettlebell"
"""Seed 8: W_f 14.71 N, d_f 17.4 cm, W_l 73.58 N, d_l 32.0 cm, d_m 4.0 cm."""


def written(name: str, seed: str, *lines: str) -> list[Verdict]:
    working = Working(SHELF.problems[name].question(seed), Guidance.BLANK)
    return [working.write(line) for line in lines]


def outcomes(name: str, seed: str, *lines: str) -> list[Outcome]:
    return [verdict.outcome for verdict in written(name, seed, *lines)]


@pytest.mark.parametrize(
    "lines",
    [
        ("F_m*0,041 = 17,66*0,155", "F_m*0,041 = 17,66*0,155 - 2,8", "F_m*0,041 = 17,66*0,155"),
        ("F_m*0,041 = 17,66*0,155 - 2,8", "F_m*4,1 = 17,66*15,5 - 280"),
        ("F*0.041 = 17.66*0.155", "F*4.1 = 17.66*15.5", "17.66*15.5 = F*4.1"),
    ],
)
def test_a_wrong_equation_is_wrong_each_time_it_is_said(lines: tuple[str, ...]) -> None:
    assert outcomes(BRACE, "7", *lines) == [Outcome.WRONG] * len(lines)


def test_what_is_worked_out_from_a_wrong_equation_follows() -> None:
    _, equation, value = written(
        BRACE, "7", "F_m*4.1 = 17.66*15.5", "4.1 F_m = 273.7", "F_m = 273.7/4.1 = 66.8 N"
    )
    assert [equation.outcome, value.outcome] == [Outcome.FOLLOWED, Outcome.FOLLOWED]


@pytest.mark.parametrize("force", ["F", "F_m"])
def test_an_equation_in_newton_centimetres_is_judged_as_one_in_newton_metres(force: str) -> None:
    right, left_out, turned = written(
        BRACE,
        "7",
        f"{force}*4.1 = 17.66*15.5 + 280",
        f"{force}*4.1 = 17.66*15.5",
        f"{force}*4.1 = 17.66*15.5 - 280",
    )
    assert right.outcome is Outcome.RIGHT
    for wrong, difference in ((left_out, ("missing", "M_b")), (turned, ("sign", "M_b"))):
        assert wrong.step == "equation"
        assert wrong.outcome is Outcome.WRONG
        assert wrong.attempt is not None
        assert wrong.attempt.structure is not None
        found = wrong.attempt.structure.differences
        assert [(one.what, one.about) for one in found] == [difference]


def test_a_wrong_value_is_followed_until_it_is_put_right() -> None:
    """From then on the equation does not hold; by a letter of one's own it is asked back."""
    equation = "F*4 = 14,7*17,4 + 73,6*6,5"
    assert outcomes(KETTLEBELL, "8", "d_l = 6,5 cm", equation)[1:] == [Outcome.FOLLOWED]
    put_right = outcomes(KETTLEBELL, "8", "d_l = 6,5 cm", "d_l = 32 cm", equation)
    assert put_right == [Outcome.WRONG, Outcome.RIGHT, Outcome.UNREAD]


def test_a_wrong_equation_is_followed_until_it_is_put_right() -> None:
    wrong, right = "F*4 = 14.7*17.4", "F*4 = 14.7*17.4 + 73.6*32"
    value = "F = 255.8/4 = 63.9 N"
    assert outcomes(KETTLEBELL, "8", wrong, value)[1:] == [Outcome.FOLLOWED]
    assert outcomes(KETTLEBELL, "8", wrong, right, value)[2] is not Outcome.FOLLOWED


def test_no_note_gives_away_a_value_that_was_not_typed() -> None:
    *_, verdict = written(
        BRACE, "4", "M_sum = 3,2 - 2,67 Nm", "F_m = 0,532/0,049 N", "F_m = (2,67-3,2)/0,049 N"
    )
    assert verdict.outcome is Outcome.FOLLOWED
    assert "119.8" not in reason_words(verdict.reason)


@pytest.mark.parametrize(
    "equation",
    ["F_m*0,049 + 3,2 = 16,7*0,16", "F_m*0,049 = 16,7*0,16", "16,7*0,16 = F_m*0,049 + 3,2"],
)
def test_a_wrong_equation_is_not_cut_to_its_right_half(equation: str) -> None:
    """Also where the force in it has a value already."""
    *_, verdict = written(BRACE, "4", "M_sum = 3,2 - 2,67 Nm", "F_m = 0,532/0,049 N", equation)
    assert (verdict.step, verdict.outcome) == ("equation", Outcome.WRONG)
