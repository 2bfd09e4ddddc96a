"""Where the points and parts of a body lie, seen from the axis: x to the right, y up.

A coordinate is held by a given distance or by a step of its own; `Coordinate` says by which.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from leverstep.statics.acting import Force
from leverstep.statics.geometry import force_bearing, lengths
from leverstep.statics.line_keys import beside, with_index
from leverstep.statics.points import BodyPoint, Direction, Distance, Numbers, Offset
from leverstep.statics.posture import Posture

Axis = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class Coordinate:
    """What holds a coordinate: the key of a distance or a step, and -1 where it counts back."""

    key: str
    sign: int = 1


def body_point(posture: Posture, name: str) -> BodyPoint:
    """Return the point of the body that is called so; KeyError where there is none."""
    for point in posture.body_points:
        if point.name == name:
            return point
    raise KeyError(name)


def point_key(posture: Posture, point: BodyPoint, axis: Axis) -> str:
    """Return the key of the line of a coordinate of a point: `x_k`."""
    return with_index(axis, point.suffix, posture.mark)


def part_key(posture: Posture, force: Force, axis: Axis) -> str:
    """Return the key of the line of a coordinate of a part: `x_t` of `W_t`."""
    return beside(axis, force.symbol, posture.mark)


def coordinate_of_distance(distance: Distance | None) -> Coordinate | None:
    """Return the coordinate that a distance across or up is; None for one at the axis."""
    return None if distance is None else Coordinate(distance.symbol, -1 if distance.beyond else 1)


def coordinate_of_point(posture: Posture, name: str, axis: Axis) -> Coordinate | None:
    """Return what holds a coordinate of a point of the body, None where it is 0."""
    if not name:
        return None
    point = body_point(posture, name)
    if point.offset is not None:
        return _of_offset(point.offset, axis)
    assert point.direction is not None
    assert point.length is not None
    start, run = coordinate_of_point(posture, point.start, axis), run_sign(point.direction, axis)
    if not run:
        return start
    if start is None and point.direction.angle is None:
        return Coordinate(point.length.symbol, run)
    return Coordinate(point_key(posture, point, axis))


def coordinate_of_part(posture: Posture, force: Force, axis: Axis) -> Coordinate | None:
    """Return what holds a coordinate of the centre of mass of a part, None where it is 0."""
    if force.between is not None:
        start, end = (
            coordinate_of_point(posture, name, axis)
            for name in (force.between.start, force.between.end)
        )
        return start if start == end else Coordinate(part_key(posture, force, axis))
    if force.offset is not None:
        return _of_offset(force.offset, axis)
    if not force.at.symbol or axis == "y":
        return None
    leftward = force.at.beyond == (posture.points == "right")
    return Coordinate(force.at.symbol, -1 if leftward else 1)


def _of_offset(offset: Offset, axis: Axis) -> Coordinate | None:
    return coordinate_of_distance(offset.across if axis == "x" else offset.up)


def run_sign(direction: Direction, axis: Axis) -> int:
    """Return the sign of the way along an axis, 0 where the direction is square to it.

    Sine and cosine of a bearing bear the sign themselves.
    """
    if direction.reference == "bearing":
        return 1
    if direction.angle is None and (direction.reference == "horizontal") != (axis == "x"):
        return 0
    if axis == "x":
        return 1 if direction.toward == "right" else -1
    return 1 if direction.side == "above" else -1


def place_of_point(posture: Posture, name: str, numbers: Numbers) -> complex:
    """Return where a point of the body lies, in metres: x + iy from the axis."""
    return _place_of_point(posture, name, numbers, lengths(posture, numbers))


def _place_of_point(
    posture: Posture, name: str, numbers: Numbers, known: Mapping[str, float]
) -> complex:
    if not name:
        return 0j
    point = body_point(posture, name)
    if point.offset is not None:
        return place_of_offset(point.offset, known)
    assert point.direction is not None
    assert point.length is not None
    way = math.radians(bearing_to_point(posture, point.direction, numbers))
    start = _place_of_point(posture, point.start, numbers, known)
    return start + cmath.rect(known[point.length.symbol], way)


def bearing_to_point(posture: Posture, direction: Direction, numbers: Numbers) -> float:
    """Return the way to a point from where it starts, in degrees counter-clockwise from right."""
    angle = 0.0 if direction.angle is None else numbers[direction.angle.key]
    return force_bearing(posture, direction).degrees(0.0, angle)


def place_of_offset(offset: Offset, known: Mapping[str, float]) -> complex:
    """Return where an offset leads to from the axis, by the distances in metres."""
    across, up = (
        0.0 if part is None else known[part.symbol] * (-1 if part.beyond else 1)
        for part in (offset.across, offset.up)
    )
    return complex(across, up)


def place_of_part(posture: Posture, force: Force, numbers: Numbers) -> complex:
    """Return where the centre of mass of a part lies, in metres: x + iy from the axis."""
    known = lengths(posture, numbers)
    if force.between is not None:
        start, end = (
            _place_of_point(posture, name, numbers, known)
            for name in (force.between.start, force.between.end)
        )
        return start + numbers[force.between.fraction.key] * (end - start)
    if force.offset is not None:
        return place_of_offset(force.offset, known)
    coordinate = coordinate_of_part(posture, force, "x")
    return 0j if coordinate is None else complex(coordinate.sign * known[coordinate.key])
