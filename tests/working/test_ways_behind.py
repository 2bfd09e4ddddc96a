"""The way that a force points, said behind its value or as an answer of its own."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.shelf import load_shelf
from leverstep.entry.way_behind import turn_as_sign, way_as_sign
from leverstep.slips.telling import tell
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

SHELF = load_shelf()
KNEE = "knee-half-straight"  # numbers 7: F_mx −182.8 N, R_x 182.8 N, R_y −375.0 N, down and right
PAN = "wrist-then-elbow"  # numbers 7: H_y −17.66 N


def opened(guidance: Guidance, name: str = KNEE, rules: Rules | None = None) -> Working:
    return Working(SHELF.problems[name].question("7"), guidance, rules)


@pytest.mark.parametrize(
    ("text", "axis", "signed"),
    [
        ("R_x = 182.8 N to the left", "x", "R_x = -182.8 N"),
        ("182,8 N forward", "x", "182,8 N"),
        ("12 N straight down.", "y", "-12 N"),
        ("12 N down", "x", "12 N down"),
        ("-12 N down", "y", "-12 N down"),
        ("12 N", "y", "12 N"),
    ],
)
def test_a_way_behind_a_value_is_its_sign(text: str, axis: str, signed: str) -> None:
    assert way_as_sign(text, axis) == signed


@pytest.mark.parametrize(
    ("text", "signed"),
    [
        ("45.4 N m clockwise", "-45.4 N m"),
        ("M = 45.4 N m (counter-clockwise)", "M = 45.4 N m"),
        ("45.4 N m, anti clockwise.", "45.4 N m"),
        ("45.4 N m cw", "-45.4 N m"),
        ("45.4 N m -clockwise", "45.4 N m -clockwise"),
    ],
)
def test_a_turn_behind_a_moment_is_its_sign(text: str, signed: str) -> None:
    assert turn_as_sign(text, positive=1) == signed


VALUES = [
    (KNEE, "F_mx", "182.8 N to the left", Outcome.RIGHT),
    (KNEE, "F_mx", "182.8 N to the right", Outcome.WRONG),
    (KNEE, "F_mx", "170.0 N to the left", Outcome.WRONG),
    (KNEE, "R_x", "182.8 N forward", Outcome.RIGHT),
    (KNEE, "R_x", "182.8 N back", Outcome.WRONG),
    (KNEE, "R_y", "375,0 N down", Outcome.RIGHT),
    (KNEE, "R_y", "375 N up", Outcome.WRONG),
    (KNEE, "R_y", "375 N to the left", Outcome.UNREAD),
    (PAN, "H_y", "17.66 N down", Outcome.RIGHT),
    (PAN, "H_y", "17.66 N up", Outcome.WRONG),
]


@pytest.mark.parametrize(("problem", "key", "value", "outcome"), VALUES)
def test_the_way_of_a_component_is_read_under_every_guidance(
    problem: str, key: str, value: str, outcome: Outcome
) -> None:
    asked, blank = opened(Guidance.LINES, problem), opened(Guidance.BLANK, problem)
    drill = opened(Guidance.LINES, problem, Rules(marked=True))
    assert asked.enter_open(key, value).outcome is outcome
    assert asked.enter_open(key, f"{key} = {value}").outcome in (outcome, Outcome.SAME)
    assert blank.write(f"{key} = {value}").outcome is outcome
    assert drill.enter(key, value).outcome is outcome


def test_a_component_by_its_way_alone_is_found_on_a_blank_sheet() -> None:
    working = opened(Guidance.BLANK)
    for text, key in (("182.8 N to the left", "F_mx"), ("182.8 N to the right", "R_x")):
        verdict = working.write(text)
        assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)
    verdict = working.write("120 N to the left")
    assert tell(working, verdict, CATALOGUE).startswith("Not judged: begin with the symbol")


def test_a_size_that_is_said_to_point_another_way_is_told_so() -> None:
    working = opened(Guidance.BLANK)
    assert working.write("W_s = 29.4 N down").outcome is Outcome.RIGHT
    verdict = working.write("W_s = 29.4 N up")
    told = "Not yet: the size of W_s is right, and it does not point that way."
    assert tell(working, verdict, CATALOGUE) == told
    asked = opened(Guidance.LINES).enter_open("W_s", "23.4 N down")
    assert asked.outcome is Outcome.UNREAD


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("down and forward", Outcome.RIGHT),
        ("up and forward", Outcome.WRONG),
        ("down and back", Outcome.WRONG),
        ("direction: downwards and forwards", Outcome.RIGHT),
    ],
)
@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
def test_forward_is_to_the_right_where_a_direction_is_asked_for(
    text: str, outcome: Outcome, guidance: Guidance
) -> None:
    working = opened(guidance)
    is_asked = guidance is Guidance.LINES
    verdict = working.enter_open("R_dir", text) if is_asked else working.write(text)
    assert (verdict.step, verdict.outcome) == ("R_dir", outcome)
