"""Equations that have no value, or hold for large powers alone, are never called right."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.guidance import Guidance
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

SHELF = load_shelf()
RIGHT = "F_m*d_m - W_f*d_f - W_l*d_l"


def working(guidance: Guidance = Guidance.LINES, name: str = "elbow-full-pail") -> Working:
    return Working(SHELF.problems[name].question("7"), guidance=guidance)


@pytest.mark.parametrize(
    "text",
    [
        "F_m^30*F_m^30=1",
        "d_m*F_m^30*F_m^28=W_f",
        "W_f^30*W_f^30*W_f^30*W_f^30*F_m^30*F_m^30*F_m^30=0",
        "(F_m+W_l)^30*(F_m+W_f)^30*(F_m+L)^30=1",
        "F_m^30*F_m^30*F_m^30*F_m^30=1",
    ],
)
@pytest.mark.parametrize("name", ["elbow-full-pail", "hip-leg-raise"])
def test_no_power_makes_nonsense_right(name: str, text: str) -> None:
    assert not working(name=name).enter("equation", text).settled


@pytest.mark.parametrize(
    "text",
    [
        f"({RIGHT})/0 = 0",
        f"({RIGHT})/({RIGHT}) = 0",
        f"({RIGHT})/tan(180) = 0",
        f"({RIGHT})*tan(90) = 0",
        f"{RIGHT} = 0/0",
        f"{RIGHT} + 1/0 = 0",
        "F_m/0 = 0",
        "F_m*d_m/d_m = (W_f*d_f + W_l*d_l)/0",
        f"({RIGHT})/(W_l-W_l) = 0",
    ],
)
def test_an_equation_without_a_value_is_not_judged(text: str) -> None:
    verdict = working().enter("equation", text)
    assert verdict.outcome is Outcome.UNREAD
    assert "value" in reason_words(verdict.reason)


@pytest.mark.parametrize("sign", ["", "-", "2*", "1/W_f*"])
def test_a_right_equation_stays_right_whatever_it_is_multiplied_by(sign: str) -> None:
    for text in (f"{sign}({RIGHT}) = 0", f"0 = {sign}({RIGHT})", f"{sign}({RIGHT})/d_m = 0"):
        assert working().enter("equation", text).outcome is Outcome.RIGHT, text


@pytest.mark.parametrize(
    "text",
    [
        "F_m = M_sum/0",
        "F_m = (W_f*d_f + W_l*d_l)/0",
        "AR = d_m/0",
        "d_f = L/0",
        "MA=(W_f+W_l)/0",
        "W_l = W_f/0",
        "W_l = W_f*0/0",
        "M_l = -L/0",
        "M_f=-W_f/0",
        "M_f/0 = M_l",
    ],
)
@pytest.mark.parametrize("guidance", [Guidance.BLANK, Guidance.LANDMARKS])
def test_a_formula_without_a_value_is_not_judged(guidance: Guidance, text: str) -> None:
    verdict = working(guidance).write(text)
    assert verdict.outcome is Outcome.UNREAD, verdict


@pytest.mark.parametrize("text", ["tan(90) N", "tan(270) N", "1/cos(90) N", "1/sin(180) N"])
def test_a_pole_has_no_value(text: str) -> None:
    assert working().enter("F_m", text).outcome is Outcome.UNREAD
