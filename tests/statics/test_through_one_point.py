"""Forces through one point, added again as vectors by numpy."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from leverstep.statics.acting import Force
from leverstep.statics.derivation import derive
from leverstep.statics.graph import graph
from leverstep.statics.points import AT_AXIS, Direction, Given
from leverstep.statics.posture import Find, Posture
from leverstep.statics.reaction import ways_of_direction

WAYS = {"left": 180.0, "right": 0.0, "above": 90.0, "below": -90.0}


@st.composite
def pulls(draw: st.DrawFn, name: str) -> tuple[Force, dict[str, float], np.ndarray]:
    """Return a force at an angle to a line, its numbers, and itself as a vector."""
    line = draw(st.sampled_from(["horizontal", "vertical"]))
    toward, side = (
        draw(st.sampled_from(["left", "right"])),
        draw(st.sampled_from(["above", "below"])),
    )
    angle, size = draw(st.integers(1, 89)), draw(st.integers(1, 900))
    if draw(st.integers(0, 2)) == 0:
        return by_bearing(name, 90 * draw(st.integers(0, 3)) + angle, size)
    direction = Direction(line, Given(f"angle_{name}", "", "deg"), toward, side)
    numbers = {f"angle_{name}": float(angle), f"size_{name}": float(size)}
    along, beside = (toward, side) if line == "horizontal" else (side, toward)
    vector = sum(
        size * share * np.array([cos(radians(WAYS[way])), sin(radians(WAYS[way]))])
        for share, way in ((cos(radians(angle)), along), (sin(radians(angle)), beside))
    )
    return Force(f"F_{name}", AT_AXIS, direction, Given(f"size_{name}", "", "N")), numbers, vector


def by_bearing(name: str, angle: int, size: int) -> tuple[Force, dict[str, float], np.ndarray]:
    """Return a force by its bearing, its numbers, and itself as a vector."""
    direction = Direction("bearing", Given(f"angle_{name}", "", "deg"))
    numbers = {f"angle_{name}": float(angle), f"size_{name}": float(size)}
    vector = size * np.array([cos(radians(angle)), sin(radians(angle))])
    return Force(f"F_{name}", AT_AXIS, direction, Given(f"size_{name}", "", "N")), numbers, vector


def turned_round(
    force: Force, numbers: dict[str, float], vector: np.ndarray
) -> tuple[Force, dict[str, float], np.ndarray]:
    """Return a force that points the other way."""
    direction, angle = force.direction, force.line_key("angle")
    if direction.reference == "bearing":
        return force, numbers | {angle: (numbers[angle] + 180) % 360}, -vector
    toward = "left" if direction.toward == "right" else "right"
    side = "below" if direction.side == "above" else "above"
    other = replace(direction, toward=toward, side=side)
    return replace(force, direction=other), numbers, -vector


@settings(max_examples=60, deadline=None)
@given(st.data(), st.integers(1, 3))
def test_two_forces_that_balance_others_solve_both_equations(
    data: st.DataObject, count: int
) -> None:
    """Whatever their directions, they are what a matrix of both equations gives."""
    made = [data.draw(pulls(name)) for name in "uvabc"[: count + 2]]
    units = [vector / np.hypot(*vector) for _, _, vector in made[:2]]
    held = sum(vector for _, _, vector in made[2:])
    assume(abs(np.linalg.det(units)) > 0.05)
    one, other = np.linalg.solve(np.transpose(units), -held)
    assume(min(abs(one), abs(other)) > 1e-3 * np.hypot(*held))
    made[:2] = [
        pull if size > 0 else turned_round(*pull)
        for pull, size in zip(made[:2], (one, other), strict=True)
    ]
    one, other = abs(one), abs(other)
    numbers = {key: value for _, own, _ in made for key, value in own.items()}
    forces = [
        replace(force, magnitude=None) if n < 2 else force for n, (force, *_) in enumerate(made)
    ]
    posture = Posture(None, tuple(forces), reaction=False, find=Find.TWO_FORCES)
    derivation = derive(posture, numbers)
    values = graph(derivation).values(numbers, {})
    assert (values["F_u"], values["F_v"]) == pytest.approx((one, other), rel=1e-9)
    assert [step.key for step in derivation.asked if step.kind.is_equation] == ["sum_x", "sum_y"]


@settings(max_examples=60, deadline=None)
@given(st.data(), st.integers(2, 4))
def test_the_resultant_is_the_sum_of_the_vectors(data: st.DataObject, count: int) -> None:
    """Its components, size, angle and direction are those of the sum, not of the opposite."""
    made = [data.draw(pulls(name)) for name in "abcd"[:count]]
    numbers = {key: value for _, own, _ in made for key, value in own.items()}
    right, up = sum(vector for _, _, vector in made)
    assume(min(abs(right), abs(up)) > 1e-6)
    posture = Posture(
        None, tuple(force for force, _, _ in made), reaction=False, find=Find.RESULTANT
    )
    values = graph(derive(posture, numbers)).values(numbers, {})
    assert (values["R_x"], values["R_y"]) == pytest.approx((right, up), rel=1e-9, abs=1e-9)
    assert values["R"] == pytest.approx(hypot(right, up), rel=1e-9)
    assert values["phi_R"] == pytest.approx(degrees(atan2(abs(up), abs(right))), rel=1e-6)
    assert ways_of_direction(values["R_dir"]) == (np.sign(right), np.sign(up))


@pytest.mark.parametrize(("way", "angle"), [("left", 180.0), ("above", 90.0)])
@pytest.mark.parametrize("is_first", [True, False])
def test_one_of_two_forces_may_lie_along_an_axis(way: str, angle: float, is_first: bool) -> None:
    """Then one equation has the other force alone."""
    level = way == "left"
    straight = Direction("horizontal", toward="left") if level else Direction("vertical", side=way)
    slanting, beta = Direction("horizontal", Given("beta", "", "deg"), "right", "above"), 35.0
    drawn = [Force("T_a", AT_AXIS, straight), Force("T_b", AT_AXIS, slanting)]
    pulls_there = {"T_a": angle, "T_b": beta}
    held = by_bearing("c", 270 if level else 190, 80)
    order = drawn if is_first else drawn[::-1]
    numbers = {"beta": beta, **held[1]}
    posture = Posture(None, (*order, held[0]), reaction=False, find=Find.TWO_FORCES)
    derivation = derive(posture, numbers)
    values = graph(derivation).values(numbers, {})
    units = [
        (cos(radians(pulls_there[f.symbol])), sin(radians(pulls_there[f.symbol]))) for f in order
    ]
    expected = np.linalg.solve(np.transpose(units), -held[2])
    assert [values[force.symbol] for force in order] == pytest.approx(list(expected), rel=1e-9)
    assert all(step.written for step in derivation.asked if not step.kind.is_equation)
