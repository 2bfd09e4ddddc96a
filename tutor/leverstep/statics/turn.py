"""How forces lie: the turn from an axis to a line of action, and the keys and signs that follow."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from leverstep.statics.acting import BandSize, Force, SharedSize
from leverstep.statics.force_axes import HORIZONTAL, PAIRS, TRANSVERSE, VERTICAL, ForceAxis
from leverstep.statics.geometry import Bearing, force_bearing, segment_bearing, slant
from leverstep.statics.points import Offset
from leverstep.statics.posture import Axes
from leverstep.statics.step import Draft

Function = Literal["sin", "cos", "one", "zero"]


@dataclass(frozen=True, slots=True)
class Turn:
    """Sine and cosine of a bearing, each as a sign and a function of one acute angle.

    `angle` is the key of the given or step that holds the angle, "" where none is needed.
    """

    angle: str
    sine: Function
    sine_sign: int
    cosine: Function
    cosine_sign: int


_SIGNS = ((1, 1), (1, -1), (-1, -1), (-1, 1))
"""The signs of sine and cosine in each quadrant."""


def quadrant(degrees: float) -> int:
    """Return the quadrant of a bearing, 0 from 0° to just below 90°, and so on in both ways.

    Signs are read from it alone, since a derivation is shared by all numbers in its quadrants.
    """
    return math.floor(degrees / 90)


def is_obtuse(degrees: float) -> bool:
    """Return whether a given angle is more than a right one, so that its cosine has a minus."""
    return degrees > 90


def parts_needed(offset: Offset) -> tuple[ForceAxis, ...]:
    """Return the axes along which a force off the segment has a moment about the axis."""
    if offset.up is None:
        return (VERTICAL,)
    return (HORIZONTAL,) if offset.across is None else (HORIZONTAL, VERTICAL)


def horizontal_angle_key(force: Force) -> str:
    """Return the key of the angle between a force and the horizontal: `beta_m` for `F_m`."""
    return force.line_key("beta")


def _angle_key(draft: Draft, force: Force, pair: Axes) -> str:
    """Return the key of the angle between a force and the first of two axes.

    Along a level segment both pairs are one, and the angle is to the line that the file names.
    """
    is_level = draft.posture.inclination is None
    by_segment = force.direction.reference == "segment" if is_level else pair is Axes.SEGMENT
    return force.segment_angle_key if by_segment else horizontal_angle_key(force)


def to_segment(draft: Draft, force: Force) -> Turn | None:
    """Return the turn from the segment to the line of action; None where the arm is given."""
    if force.at.perpendicular or force.offset is not None:
        return None
    return _turn(draft, force, from_segment(draft, force), _angle_key(draft, force, Axes.SEGMENT))


def to_horizontal(draft: Draft, force: Force) -> Turn:
    """Return the turn from the horizontal to the line of action."""
    bearing = force_bearing(draft.posture, force.direction)
    return _turn(draft, force, bearing, _angle_key(draft, force, Axes.LEVEL))


def to_axes(draft: Draft, force: Force, pair: Axes) -> Turn:
    """Return the turn from the first of two axes to the line of action."""
    if pair is Axes.LEVEL:
        return to_horizontal(draft, force)
    turn = _turn(draft, force, from_segment(draft, force), _angle_key(draft, force, pair))
    # Seen along a segment that points left, its upper side lies clockwise of it.
    side = 1 if draft.posture.points == "right" else -1
    return replace(turn, sine_sign=side * turn.sine_sign)


def from_axes(draft: Draft, force: Force, pair: Axes) -> Bearing:
    """Return the angle from the first of two axes round to the line of action."""
    if pair is Axes.LEVEL:
        return force_bearing(draft.posture, force.direction)
    return from_segment(draft, force)


def from_segment(draft: Draft, force: Force) -> Bearing:
    """Return the angle from the segment round to the line of action."""
    return force_bearing(draft.posture, force.direction) - segment_bearing(draft.posture)


def has_own_angle(draft: Draft, force: Force, bearing: Bearing) -> bool:
    """Return whether the acute angle of a bearing is a step of its own.

    It is where it is made of both the inclination and the force's own angle, or of one beyond 90
    degrees.
    """
    turned_far = is_obtuse(slant(draft.posture, force, draft.sample))
    return bool(bearing.turned and (bearing.inclined or turned_far))


def _turn(draft: Draft, force: Force, bearing: Bearing, step_key: str) -> Turn:
    """Return sine and cosine of a bearing, of the angle `step_key` where it has one of its own."""
    degrees = draft.degrees(bearing, force)
    signs = _SIGNS[quadrant(degrees) % 4]
    if has_own_angle(draft, force, bearing):
        return Turn(step_key, "sin", signs[0], "cos", signs[1])
    upright = bearing.constant % 180 != 0
    if not bearing.inclined and not bearing.turned:
        return Turn(
            "", "one" if upright else "zero", signs[0], "zero" if upright else "one", signs[1]
        )
    given = draft.posture.inclination if bearing.inclined else force.direction.angle
    assert given is not None
    functions: tuple[Function, Function] = ("cos", "sin") if upright else ("sin", "cos")
    return Turn(given.key, functions[0], signs[0], functions[1], signs[1])


def is_slanted(draft: Draft, force: Force) -> bool:
    """Return whether a force acts on the segment and is not perpendicular to it."""
    if force.at_axis:
        return False
    turn = to_segment(draft, force)
    return turn is not None and turn.sine != "one"


def part(draft: Draft, force: Force, axis: ForceAxis) -> tuple[int, str]:
    """Return the part of a force along an axis: its sign, and the key that holds it ("" for none).

    A slanting force has a step of its own for each part, which carries its sign itself; only where
    the moments already rest on its part across the segment, that one is used again.
    """
    function, sign = share_along(to_axes(draft, force, axis.pair), axis)
    if function == "zero":
        return 0, ""
    if function == "one":
        return sign, force.symbol
    if axis is TRANSVERSE and component_key(draft, force) != force.symbol:
        return sign, component_key(draft, force)
    return 1, axis.component_key(force)


def acting_along(
    draft: Draft, forces: Iterable[Force], axis: ForceAxis
) -> list[tuple[Force, int, str]]:
    """Return those of some forces that have a part along an axis, each with its sign and key."""
    parts = [(force, *part(draft, force, axis)) for force in forces]
    return [one for one in parts if one[1]]


def share_along(turn: Turn, axis: ForceAxis) -> tuple[Function, int]:
    """Return the function and the sign that a force has along an axis."""
    if axis.is_first:
        return turn.cosine, turn.cosine_sign
    return turn.sine, turn.sine_sign


def part_sign(draft: Draft, force: Force, axis: ForceAxis) -> int:
    """Return the sign of a force's part along an axis."""
    return share_along(to_axes(draft, force, axis.pair), axis)[1]


def own_keys(draft: Draft, force: Force) -> Iterator[str]:
    """Yield the keys of the steps about a force that are made from its symbol."""
    if draft.posture.has_moments:
        yield moment_key(force)
    if isinstance(force.source, BandSize):
        yield force.stretch_key
    if isinstance(force.source, SharedSize) and force.source.other is not None:
        yield force.rule_key
    if is_slanted(draft, force):
        key = component_key if draft.posture.by_components else arm_key
        yield key(draft, force)
    yield from _keys_of_parts(draft, force)


def _keys_of_parts(draft: Draft, force: Force) -> Iterator[str]:
    """Yield the keys of the parts of a force, and of the angles that they rest on."""
    angles: dict[str, None] = {}
    if is_slanted(draft, force) and has_own_angle(draft, force, from_segment(draft, force)):
        angles[_angle_key(draft, force, Axes.SEGMENT)] = None
    for pair in dict.fromkeys((Axes.LEVEL, *draft.posture.resolved)):
        bearing = from_axes(draft, force, pair)
        if bearing.inclined or bearing.turned:
            yield from (axis.component_key(force) for axis in PAIRS[pair])
        if has_own_angle(draft, force, bearing):
            angles[to_axes(draft, force, pair).angle] = None
    yield from angles


def passes_axis(draft: Draft, force: Force) -> bool:
    """Return whether a force acts through the axis, or along the segment: it has no moment."""
    if force.at_axis:
        return True
    if force.offset is not None:
        return not any(part(draft, force, axis)[0] for axis in parts_needed(force.offset))
    turn = to_segment(draft, force)
    return turn is not None and turn.sine == "zero"


def moment_key(force: Force) -> str:
    """Return the key of the moment of a force: `M_l` for `W_l`."""
    return force.line_key("M")


def arm_key(draft: Draft, force: Force) -> str:
    """Return the key of the length that a force is multiplied by in the moment equation."""
    if is_slanted(draft, force) and not draft.posture.by_components:
        return force.line_key("r")
    return force.at.symbol


def component_key(draft: Draft, force: Force) -> str:
    """Return the key of the force that is multiplied by the arm in the moment equation."""
    if is_slanted(draft, force) and draft.posture.by_components:
        return force.line_key("P")
    return force.symbol


def moment_sign(draft: Draft, force: Force) -> int:
    """Return the sign of a force's moment under the posture's sign convention."""
    turn = to_segment(draft, force)
    if turn is None:
        assert force.turns is not None, f"{force.symbol}: a given moment arm needs its sense"
        return force.turns * draft.posture.positive
    assert not force.at_axis, f"{force.symbol} has no moment"
    side = -1 if force.at.beyond else 1
    return side * turn.sine_sign * draft.posture.positive
