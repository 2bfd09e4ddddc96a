"""Steps to the joint reaction: components, sum of forces, size and direction."""

from __future__ import annotations

from leverstep.statics import kinds
from leverstep.statics.convert import sizes_in_use
from leverstep.statics.step import Draft, Expression, Pen, symbol, total
from leverstep.statics.turn import Axis, all_round, angle_keys, part, part_sign, write_parts

ACROSS, UP = kinds.REACTION_X.key, kinds.REACTION_Y.key
SIZE = kinds.REACTION_SIZE.key
ANGLE = kinds.REACTION_ANGLE.key
DIRECTION = kinds.REACTION_DIRECTION.key
NOTHING = 1e-9
"""A part of the reaction smaller than this, in newtons, is what rounding leaves of none."""


def write_reaction(draft: Draft) -> None:
    """Write the components of slanting forces, then the reaction that balances all forces."""
    for force in reversed(draft.posture.forces):
        write_parts(draft, force)
    across = _write_balance(draft, "x")
    upward = _write_balance(draft, "y")
    if across and upward:
        _write_size(draft)
        _write_angle(draft)
    _write_direction(draft, across, upward)


def _write_balance(draft: Draft, axis: Axis) -> bool:
    """Write one component of the reaction; return whether there is one."""
    kind = kinds.REACTION_X if axis == "x" else kinds.REACTION_Y
    pen = Pen(draft, kind.key)
    terms: list[tuple[str, Expression]] = []
    written = ""
    there = [force for force in draft.posture.forces if part(draft, force, axis)[0]]
    sizes = sizes_in_use(pen, there)
    alone = pen.choice("effort_alone", 0) if len(there) > 2 and draft.posture.effort in there else 0
    for force in there:
        sign, key = part(draft, force, axis)
        term = sign * (sizes[key] if key == force.symbol else symbol(key))
        if alone and force is not draft.posture.effort:
            term *= 1 - alone
        if key != force.symbol:
            whole = part_sign(draft, force, axis) * symbol(force.symbol)
            term += pen.choice("whole_force", 0, force.symbol) * (whole - term)
        terms.append((force.symbol, term))
        mark = ("−" if sign > 0 else "") if not written else (" − " if sign > 0 else " + ")
        written += f"{mark}{{{key}}}"
    if not terms:
        return False
    summed = terms[0][1]
    if len(terms) > 1:
        summed = total(
            pen.choice("included", 1, about) * pen.choice("flip", 1, about) * term
            for about, term in terms
        )
    expression = -pen.choice("flip", 1) * summed
    pen.write(kind, "", expression, written)
    return True


def _write_size(draft: Draft) -> None:
    pen = Pen(draft, SIZE)
    across = pen.choice("included", 1, ACROSS) * symbol(ACROSS)
    upward = pen.choice("included", 1, UP) * symbol(UP)
    size = (across**2 + upward**2) ** pen.choice("root", 0.5)
    expression = size
    added, taken = abs(across) + abs(upward), abs(abs(across) - abs(upward))
    way = pen.choice("added_directly", 0)
    effort = draft.posture.effort
    if effort is not None:
        expression += pen.choice("effort_alone", 0) * (symbol(effort.symbol) - size)
    expression += way * (way + 1) / 2 * (added - size) + way * (way - 1) / 2 * (taken - size)
    pen.write(kinds.REACTION_SIZE, "", expression, f"√({{{ACROSS}}}² + {{{UP}}}²)")


def _write_angle(draft: Draft) -> None:
    from sympy import atan2, pi

    pen = Pen(draft, ANGLE)
    power = pen.choice("ratio_power", 1)
    right = atan2(abs(symbol(UP)), abs(symbol(ACROSS)))
    angle = (pi / 4 + power * (right - pi / 4)) * (180 / pi) ** pen.choice("angle_conversion", 1)
    expression = angle + pen.choice("supplement", 0) * (180 - 2 * angle)
    expression += all_round(pen, angle, "")
    for other in angle_keys(draft):
        expression += pen.choice("other_angle", 0, "", other) * (symbol(other) - angle)
    pen.write(kinds.REACTION_ANGLE, "", expression, f"atan(|{{{UP}}}| ÷ |{{{ACROSS}}}|)")


def _write_direction(draft: Draft, across: bool, upward: bool) -> None:
    """Write the direction as a number: 3 x (1 right, -1 left) + (1 up, -1 down)."""
    from sympy import Integer, Piecewise

    pen = Pen(draft, DIRECTION)
    code: Expression = Integer(0)
    for there, key, weight in ((across, ACROSS, 3), (upward, UP, 1)):
        if there:
            sign = Piecewise((1, symbol(key) > NOTHING), (-1, symbol(key) < -NOTHING), (0, True))
            if across and upward:
                sign *= pen.choice("included", 1, key) * pen.choice("flip", 1, key)
            code += weight * sign
    if across or upward:
        code *= pen.choice("flip", 1)
        pen.write(kinds.REACTION_DIRECTION, "", code, "")


def ways_of_direction(code: float) -> tuple[int, int]:
    """Return what the number of a direction says: 1 right or -1 left, and 1 up or -1 down."""
    across = round(code / 3)
    return across, round(code) - 3 * across
