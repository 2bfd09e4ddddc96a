"""What a page says of components and of where a force points, beside the lines of the working."""

from __future__ import annotations

import math

import pytest
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
BY_BEARINGS = SHELF.problems["shoulder-three-by-bearing"].question("7")
TEAPOT = SHELF.problems["elbow-full-teapot"].question("7")


@pytest.mark.parametrize(
    ("turned", "mirrored", "standing"),
    [
        (0, False, LineStanding.RIGHT),
        (45, False, LineStanding.WRONG),
        (180, False, LineStanding.UNREAD),  # the force on the other body
        (0, True, LineStanding.UNREAD),  # measured clockwise from the vertical
    ],
)
def test_a_bearing_behind_a_size_is_judged_unless_it_may_be_measured_otherwise(
    turned: float, mirrored: bool, standing: LineStanding
) -> None:
    across, up = BY_BEARINGS.right["R_x"], BY_BEARINGS.right["R_y"]
    bearing = math.degrees(math.atan2(up, across)) + turned
    told = 90 - bearing if mirrored else bearing
    line = f"R = {math.hypot(across, up):.4g} N at {told:.1f}°"
    size, way = judge_page(BY_BEARINGS, [line]).lines[0].claims
    assert (size.key, size.standing) == ("R", LineStanding.RIGHT)
    assert way.standing is standing


@pytest.mark.parametrize(
    ("written", "standing"),
    [
        ("Fy = F sin {angle}", LineStanding.RIGHT),
        ("Fy = F cos {angle}", LineStanding.WRONG),
        ("Fy = {along} F", LineStanding.WRONG),
        ("Fy = F sin 20.5", LineStanding.UNREAD),  # it may be along an axis of the student's own
    ],
)
def test_what_a_component_is_said_to_be_of_a_force_is_judged_by_both_axes(
    written: str, standing: LineStanding
) -> None:
    right = TEAPOT.right
    angle = math.degrees(math.atan2(abs(right["F_my"]), abs(right["F_mx"])))
    along = f"{abs(right['F_mx'] / right['F_m']):.3f}"
    line = written.format(angle=f"{angle:.1f}", along=along)
    assert judge_page(TEAPOT, [line]).lines[0].standing is standing
