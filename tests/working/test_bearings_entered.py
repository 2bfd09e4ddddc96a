"""A bearing typed where a direction is asked for: right, wrong, or right with an earlier value."""

from __future__ import annotations

from math import atan2, degrees

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

QUESTION = load_shelf().problems["shoulder-three-by-bearing"].question("7")
RIGHT = QUESTION.right


def bearing(across: float, up: float) -> str:
    return f"{degrees(atan2(up, across)) % 360:.1f}°"


@pytest.mark.parametrize(
    ("times", "outcome"), [(1, Outcome.RIGHT), (-1, Outcome.WRONG), (3, Outcome.WRONG)]
)
def test_a_bearing_says_the_way_by_its_angle(times: float, outcome: Outcome) -> None:
    typed = bearing(RIGHT["R_x"], times * RIGHT["R_y"])
    assert Working(QUESTION).enter("R_dir", f"at {typed}").outcome is outcome


@pytest.mark.parametrize(("right", "outcome"), [(True, Outcome.RIGHT), (False, Outcome.FOLLOWED)])
def test_a_bearing_may_follow_from_an_earlier_line(right: bool, outcome: Outcome) -> None:
    working = Working(QUESTION)
    wrong = RIGHT["F_dx"] + 100
    assert working.enter("F_dx", f"{wrong:.1f} N").outcome is Outcome.WRONG
    across = RIGHT["R_x"] if right else RIGHT["R_x"] + 100
    assert working.enter("R_dir", bearing(across, RIGHT["R_y"])).outcome is outcome
