"""Steps to the joint reaction: components, sum of forces, size and direction."""

from __future__ import annotations

from typing import Literal

from tutor.statics.posture import Force
from tutor.statics.step import Draft, Expression, Pen, symbol, total
from tutor.statics.turn import to_horizontal, trigonometric, write_horizontal_angle

ACROSS, UP = "R_x", "R_y"
SIZE = "R"
ANGLE = "phi_R"
DIRECTION = "R_dir"

Axis = Literal["x", "y"]


def write_reaction(draft: Draft) -> None:
    """Write the components of slanting forces, then the reaction that balances all forces."""
    for force in reversed(draft.posture.forces):
        write_horizontal_angle(draft, force)
        for axis in ("x", "y"):
            _write_component(draft, force, axis)
    across = _write_balance(draft, "x")
    upward = _write_balance(draft, "y")
    if across and upward:
        _write_size(draft)
        _write_angle(draft)
    _write_direction(draft, across, upward)


def _part(draft: Draft, force: Force, axis: Axis) -> tuple[int, str]:
    """Return the part of a force along an axis: its sign, and the key that holds it ("" for none).

    A slanting force has a step of its own for each part, which carries its sign itself.
    """
    turn = to_horizontal(draft, force)
    function = turn.cosine if axis == "x" else turn.sine
    sign = turn.cosine_sign if axis == "x" else turn.sine_sign
    if function == "zero":
        return 0, ""
    if function == "one":
        return sign, force.symbol
    return 1, f"{force.symbol}{axis}"


def _write_component(draft: Draft, force: Force, axis: Axis) -> None:
    turn = to_horizontal(draft, force)
    function = turn.cosine if axis == "x" else turn.sine
    sign = turn.cosine_sign if axis == "x" else turn.sine_sign
    if function in ("one", "zero"):
        return
    pen = Pen(draft, f"{force.symbol}{axis}")
    expression = sign * pen.choice("flip", 1, force.symbol) * symbol(force.symbol)
    expression *= trigonometric(pen, function, turn.angle, force.symbol)
    product = f"{{{force.symbol}}} × {function}({{{turn.angle}}})"
    written = product if sign > 0 else f"−({product})"
    pen.write(f"component_{axis}", force.symbol, "N", expression, written)


def _write_balance(draft: Draft, axis: Axis) -> bool:
    """Write one component of the reaction; return whether there is one."""
    pen = Pen(draft, ACROSS if axis == "x" else UP)
    terms: list[Expression] = []
    written = ""
    for force in draft.posture.forces:
        sign, key = _part(draft, force, axis)
        if not sign:
            continue
        kept = pen.choice("included", 1, force.symbol) * pen.choice("flip", 1, force.symbol)
        terms.append(sign * kept * symbol(key))
        mark = ("−" if sign > 0 else "") if not written else (" − " if sign > 0 else " + ")
        written += f"{mark}{{{key}}}"
    if not terms:
        return False
    expression = -pen.choice("flip", 1) * total(terms)
    pen.write(f"reaction_{axis}", "", "N", expression, written)
    return True


def _write_size(draft: Draft) -> None:
    pen = Pen(draft, SIZE)
    across = pen.choice("included", 1, ACROSS) * symbol(ACROSS)
    upward = pen.choice("included", 1, UP) * symbol(UP)
    size = (across**2 + upward**2) ** pen.choice("root", 0.5)
    expression = size + pen.choice("added_directly", 0) * (abs(across) + abs(upward) - size)
    pen.write("reaction_size", "", "N", expression, f"√({{{ACROSS}}}² + {{{UP}}}²)")


def _write_angle(draft: Draft) -> None:
    from sympy import atan2, pi

    pen = Pen(draft, ANGLE)
    power = pen.choice("ratio_power", 1)
    right = atan2(abs(symbol(UP)), abs(symbol(ACROSS)))
    angle = (pi / 4 + power * (right - pi / 4)) * (180 / pi) ** pen.choice("angle_conversion", 1)
    expression = angle
    slants = [to_horizontal(draft, force).angle for force in draft.posture.forces]
    given = [given.key for given in draft.posture.givens() if given.unit == "deg"]
    for other in dict.fromkeys([*given, *(slant for slant in slants if slant)]):
        expression += pen.choice("other_angle", 0, "", other) * (symbol(other) - angle)
    pen.write("reaction_angle", "", "deg", expression, f"atan(|{{{UP}}}| ÷ |{{{ACROSS}}}|)")


def _write_direction(draft: Draft, across: bool, upward: bool) -> None:
    """Write the direction as a number: 3 x (1 right, -1 left) + (1 up, -1 down)."""
    from sympy import Integer, Piecewise

    pen = Pen(draft, DIRECTION)
    code: Expression = Integer(0)
    for there, key, weight in ((across, ACROSS, 3), (upward, UP, 1)):
        if there:
            kept = pen.choice("included", 1, key) * pen.choice("flip", 1, key)
            sign = Piecewise((1, symbol(key) > 0), (-1, symbol(key) < 0), (0, True))
            code += weight * kept * sign
    if across and upward:
        code *= pen.choice("flip", 1)
    if across or upward:
        pen.write("reaction_direction", "", "", code, "")
