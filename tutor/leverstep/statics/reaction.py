"""Steps to the joint reaction, or to a resultant: components, sum of forces, size, direction."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.convert import sizes_in_use
from leverstep.statics.couples import couple_as_force
from leverstep.statics.force_axes import HORIZONTAL, PAIRS, VERTICAL, ForceAxis
from leverstep.statics.geometry import segment_bearing
from leverstep.statics.kinds import Kind
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Axes, Posture
from leverstep.statics.step import NOTHING, Draft, Expression, Pen, sign_of_term, symbol, total
from leverstep.statics.turn import acting_along, part_sign
from leverstep.statics.turn_steps import all_round, angle_keys, level_part, write_parts

PARTS = (
    *(axis.reaction for pair in PAIRS.values() for axis in pair),
    *(kinds.RESULTANT_X, kinds.RESULTANT_Y),
)
"""What the lines are of all components that a reaction or a resultant may have."""


BEARING = 1.0
"""Degrees by which a bearing that is typed may be off."""


@dataclass(frozen=True, slots=True)
class _WholeForce:
    """A force that comes from the sum of all others, with the kinds of its lines.

    `sense` is 1 where it is that sum, -1 where it balances it. `parts` are its components.
    """

    sense: int
    parts: Mapping[ForceAxis, Kind]
    size: Kind
    angle: Kind
    direction: Kind


_REACTION = _WholeForce(
    -1, {axis: axis.reaction for pair in PAIRS.values() for axis in pair},
    kinds.REACTION_SIZE, kinds.REACTION_ANGLE, kinds.REACTION_DIRECTION,
)  # fmt: skip
_RESULTANT = _WholeForce(
    1, {HORIZONTAL: kinds.RESULTANT_X, VERTICAL: kinds.RESULTANT_Y},
    kinds.RESULTANT_SIZE, kinds.RESULTANT_ANGLE, kinds.RESULTANT_DIRECTION,
)  # fmt: skip


def write_reaction(draft: Draft) -> None:
    """Write the components of slanting forces, then the reaction that balances all forces."""
    for pair in draft.posture.resolved:
        for force in reversed(draft.posture.forces):
            write_parts(draft, force, PAIRS[pair])
    for pair in draft.posture.resolved:
        _write_whole(draft, pair, _REACTION)
    if draft.posture.compression:
        _write_effect(draft)


def write_resultant(draft: Draft) -> None:
    """Write the components of forces through one point, then the one that does what they do."""
    for force in draft.posture.forces:
        write_parts(draft, force, PAIRS[Axes.LEVEL])
    _write_whole(draft, Axes.LEVEL, _RESULTANT)


def _write_whole(draft: Draft, pair: Axes, whole: _WholeForce) -> None:
    """Write a force by its components along a pair of axes, then its size and direction."""
    there = [axis for axis in PAIRS[pair] if _write_sum(draft, axis, whole)]
    is_whole = len(there) == len(PAIRS[pair])
    if is_whole and not draft.has(draft.key(whole.size)):
        _write_size(draft, there, whole)
    if pair is Axes.LEVEL:
        if is_whole:
            _write_angle(draft, whole)
        _write_direction(draft, HORIZONTAL in there, VERTICAL in there, whole)


def write_resolved(draft: Draft, force: Force) -> None:
    """Write the components of one force, where no reaction is asked for."""
    for pair in draft.posture.resolved:
        write_parts(draft, force, PAIRS[pair])


def _write_sum(draft: Draft, axis: ForceAxis, of: _WholeForce) -> bool:
    """Write one component of a force that comes from all others; return whether there is one."""
    from sympy import evaluate

    kind = of.parts[axis]
    pen = Pen(draft, draft.key(kind))
    terms: list[tuple[str, Expression]] = []
    written = ""
    there = acting_along(draft, draft.posture.forces, axis)
    sizes = sizes_in_use(pen, [force for force, _, key in there if key == force.symbol])
    has_effort = any(force is draft.posture.effort for force, _, _ in there)
    alone = pen.choice("effort_alone", 0) if len(there) > 2 and has_effort else 0
    for force, sign, key in there:
        term = sign * (sizes[key] if key == force.symbol else symbol(key))
        if alone and force is not draft.posture.effort:
            term *= 1 - alone
        if key != force.symbol:
            whole = part_sign(draft, force, axis) * symbol(force.symbol)
            term += pen.choice("whole_force", 0, force.symbol) * (whole - term)
        terms.append((force.symbol, term))
        written += f"{sign_of_term(sign * of.sense, written)}{{{key}}}"
    if not terms:
        return False
    summed = terms[0][1]
    if len(terms) > 1:
        summed = total(
            pen.choice("included", 1, about) * pen.choice("flip", 1, about) * term
            for about, term in terms
        )
    summed += total(couple_as_force(pen, couple) for couple in draft.posture.couples)
    expression = of.sense * pen.choice("flip", 1) * summed
    if axis.pair is Axes.SEGMENT and draft.posture.inclination is not None:
        with evaluate(True):  # as what it is made up of
            level = total(level_part(draft, force, axis) for force in draft.posture.forces)
        if level != 0:
            expression += pen.choice("level_axes", 0) * (-level - expression)
    pen.write(kind, "", expression, written)
    return True


def _write_size(draft: Draft, axes: list[ForceAxis], whole: _WholeForce) -> None:
    pen = Pen(draft, draft.key(whole.size))
    first, second = (draft.key(whole.parts[axis]) for axis in axes)
    across = pen.choice("included", 1, first) * symbol(first)
    upward = pen.choice("included", 1, second) * symbol(second)
    size = (across**2 + upward**2) ** pen.choice("root", 0.5)
    expression = size
    added, taken = abs(across) + abs(upward), abs(abs(across) - abs(upward))
    way = pen.choice("added_directly", 0)
    effort = draft.posture.effort
    if effort is not None:
        expression += pen.choice("effort_alone", 0) * (symbol(effort.symbol) - size)
    expression += way * (way + 1) / 2 * (added - size) + way * (way - 1) / 2 * (taken - size)
    if whole is _RESULTANT:
        sizes = total(symbol(force.symbol) for force in draft.posture.forces)
        expression += pen.choice("sizes_added", 0) * (sizes - size)
    pen.write(whole.size, "", expression, f"√({{{first}}}² + {{{second}}}²)")


def _write_angle(draft: Draft, whole: _WholeForce) -> None:
    from sympy import atan2, pi

    pen = Pen(draft, draft.key(whole.angle))
    first, second = (draft.key(whole.parts[axis]) for axis in (HORIZONTAL, VERTICAL))
    power = pen.choice("ratio_power", 1)
    right = atan2(abs(symbol(second)), abs(symbol(first)))
    angle = (pi / 4 + power * (right - pi / 4)) * (180 / pi) ** pen.choice("angle_conversion", 1)
    expression = angle + pen.choice("supplement", 0) * (180 - 2 * angle)
    expression += all_round(pen, angle, "")
    for other in angle_keys(draft):
        expression += pen.choice("other_angle", 0, "", other) * (symbol(other) - angle)
    pen.write(whole.angle, "", expression, f"atan(|{{{second}}}| ÷ |{{{first}}}|)")


def _write_direction(draft: Draft, across: bool, upward: bool, whole: _WholeForce) -> None:
    """Write the direction as a number: 3 x (1 right, -1 left) + (1 up, -1 down)."""
    from sympy import Integer, Piecewise

    pen = Pen(draft, draft.key(whole.direction))
    code: Expression = Integer(0)
    for there, axis, weight in ((across, HORIZONTAL, 3), (upward, VERTICAL, 1)):
        if there:
            key = draft.key(whole.parts[axis])
            sign = Piecewise((1, symbol(key) > NOTHING), (-1, symbol(key) < -NOTHING), (0, True))
            if across and upward:
                sign *= pen.choice("included", 1, key) * pen.choice("flip", 1, key)
            code += weight * sign
    if across or upward:
        code *= pen.choice("flip", 1)
        pen.write(whole.direction, "", code, "")


def _write_effect(draft: Draft) -> None:
    """Write what the reaction does to the segment lengthwise: 1 compression, -1 tension."""
    from sympy import Piecewise

    pen = Pen(draft, draft.key(kinds.AXIAL_EFFECT))
    axial = symbol(draft.key(kinds.REACTION_AXIAL))
    sign = Piecewise((1, axial > NOTHING), (-1, axial < -NOTHING), (0, True))
    pen.write(kinds.AXIAL_EFFECT, "", pen.choice("flip", 1) * sign, "")


def found_reaction(
    posture: Posture, numbers: Numbers, values: Mapping[str, float]
) -> tuple[str, complex] | None:
    """Return the reaction as far as it is found: its key, and what it has to the right and up.

    The key is that of the one component, where no more is found; None where none is.
    """
    for pair in posture.resolved:
        both = [posture.key(axis.reaction) for axis in PAIRS[pair]]
        keys = [key for key in both if key in values]
        if keys:
            first, second = (values.get(key, 0.0) for key in both)
            whole = _level(posture, numbers, pair, first, second)
            return keys[0] if len(keys) == 1 else posture.key(kinds.REACTION_SIZE), whole
    return None


def _level(posture: Posture, numbers: Numbers, pair: Axes, first: float, second: float) -> complex:
    """Return a force to the right and up, by its components along a pair of axes."""
    if pair is Axes.LEVEL:
        return complex(first, second)
    inclination = 0.0 if posture.inclination is None else numbers[posture.inclination.key]
    way = math.radians(segment_bearing(posture).degrees(inclination, 0.0))
    upper = 1 if posture.points == "right" else -1
    return complex(first, upper * second) * complex(math.cos(way), math.sin(way))


def points_at(
    posture: Posture, numbers: Numbers, values: Mapping[str, float], bearing: float
) -> bool:
    """Return whether a reaction or resultant has a bearing, to `BEARING` degrees.

    Args:
        posture: whose force it is.
        numbers: the givens.
        values: the lines found, its components among them.
        bearing: in degrees, anticlockwise from the right.
    """
    found = found_reaction(posture, numbers, values)
    if found is None or abs(found[1]) < NOTHING:
        return False
    points = math.degrees(math.atan2(found[1].imag, found[1].real))
    return abs((points - bearing + 180) % 360 - 180) <= BEARING


def code_of_direction(force: complex) -> float:
    """Return the number of a direction: 3 to the right or -3, and 1 up or -1, added."""
    across, upward = (
        0.0 if abs(part) < NOTHING else math.copysign(1, part) for part in (force.real, force.imag)
    )
    return 3 * across + upward


def ways_of_direction(code: float) -> tuple[int, int]:
    """Return what the number of a direction says: 1 right or -1 left, and 1 up or -1 down."""
    across = round(code / 3)
    return across, round(code) - 3 * across
