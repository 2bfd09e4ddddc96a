"""Numbers that hang together as in a body, whatever is drawn."""

from __future__ import annotations

import math

import pytest
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

PROBLEMS = load_shelf().problems
SEEDS = [str(number) for number in range(60)]


def right(question: Question) -> dict[str, float]:
    """Return what every line of a question comes to, in SI units."""
    return question.graph.values(question.numbers, {})


@pytest.mark.parametrize(
    ("name", "centimetres"),
    [
        ("elbow-both-attachments", 1.0),
        ("elbow-full-teapot", 1.0),
        ("elbow-pail-of-water", 1.0),
        ("shoulder-arm-to-the-side", 1.0),
        ("shoulder-lantern-held-out", 2.54),
    ],
)
def test_the_grip_lies_where_the_hand_closes(name: str, centimetres: float) -> None:
    """It is 6 to 9 cm beyond the wrist with every length of the arm or forearm."""
    ranges = PROBLEMS[name].ranges
    wrist, grip = ranges["given_L"], ranges["given_d_l"]
    assert wrist.count > 1 < grip.count
    assert (grip.low - wrist.high) * centimetres >= 6
    assert (grip.high - wrist.low) * centimetres <= 9


@pytest.mark.parametrize("seed", SEEDS)
def test_neither_hands_nor_toes_slip_in_a_press_up_with_a_vest(seed: str) -> None:
    values = right(PROBLEMS["body-press-up-top-with-vest"].question(seed))
    assert abs(values["F_hx"]) <= 0.4 * values["F_hy"]
    assert abs(values["R_x"]) <= 0.4 * values["R_y"]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_brachioradialis_pulls_along_the_forearm(seed: str) -> None:
    """Its arm is some 5 cm, and its pull no more than 2 square centimetres of muscle can give."""
    values = right(PROBLEMS["elbow-bag-over-forearm"].question(seed))
    assert 0.045 < values["r_m"] < 0.056
    assert values["MA"] < 1
    assert values["F_m"] < 2 * 75
    assert math.degrees(math.atan2(values["F_my"], -values["F_mx"])) < 15
