"""The value of a tree: a number with its dimension, in kilograms, metres, seconds and degrees."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from leverstep.entry.tree import (
    Call,
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
)
from leverstep.statics.units import ANGLE, DEGREES, NUMBER, Dimension, known_unit

LARGEST_VALUE = 1e30

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


class Amount(NamedTuple):
    """A value in kg, m, s and degrees, with its dimension.

    `bare` says that no unit was written anywhere in it; `number` is the number that a given is
    written with, where its unit is not one of these.
    """

    value: float
    dimension: Dimension = NUMBER
    bare: bool = True
    number: float | None = None

    @property
    def without_radians(self) -> Amount:
        """Return it with its radians as bare numbers: N·m × rad/s are watts. An angle stays one."""
        mass, length, time, angle = self.dimension
        if not any((mass, length, time)):
            return self
        dimension = mass, length, time, 0
        return self._replace(value=self.value / DEGREES**angle, dimension=dimension)

    @property
    def as_number(self) -> Amount:
        """Return the number that it is written with, as a bare number."""
        return Amount(self.value if self.number is None else self.number)


def evaluate(tree: Tree, known: Mapping[str, Amount]) -> Amount:
    """Return the value of a tree.

    Args:
        tree: what was read.
        known: the symbols that have a value; nan stands for none yet.

    Raises:
        Unreadable: where a symbol has no value yet, units don't go together, or the result is not
            a finite number.
    """
    try:
        amount = _evaluate(tree, known)
    except (ArithmeticError, ValueError) as error:
        raise Unreadable("not_finite") from error
    if not math.isfinite(amount.value) or abs(amount.value) > LARGEST_VALUE:
        raise Unreadable("not_sensible")
    return amount


def _evaluate(tree: Tree, known: Mapping[str, Amount]) -> Amount:
    match tree:
        case Operation():
            left, right = _evaluate(tree.left, known), _evaluate(tree.right, known)
            return _operate(tree.operator, left, right)
        case Number():
            return Amount(tree.value)
        case Name():
            if tree.symbol not in known or math.isnan(known[tree.symbol].value):
                raise Unreadable("no_value_yet", tree.place, name=tree.symbol)
            return known[tree.symbol]
        case Negative():
            inner = _evaluate(tree.term, known)
            return Amount(-inner.value, inner.dimension, inner.bare)
        case Measured():
            return _measured(tree, _evaluate(tree.term, known))
        case Call(function="atan", term=Operation(operator="/") as slope):
            return _angle_of_slope(_evaluate(slope.left, known), _evaluate(slope.right, known))
        case Call():
            return _call(tree.function, _evaluate(tree.term, known))


@lru_cache(maxsize=256)
def unit_size(units: tuple[tuple[str, int], ...]) -> Amount:
    """Return what a written unit is worth, such as `N m` or `m/s^2`."""
    value, dimension = 1.0, NUMBER
    for spelling, power in units:
        one = known_unit(spelling)
        value *= float(one.size) ** power
        dimension = _combine(dimension, one.dimension, power)
    return Amount(value, dimension, bare=False)


def spelled(units: tuple[tuple[str, int], ...]) -> str:
    """Return a written unit in its short signs: `kN`, `lbf·ft`, `mm²/cm²`."""
    signs = [(known_unit(spelling).sign, power) for spelling, power in units]
    raised = [
        sign if abs(power) == 1 else f"{sign}{str(abs(power)).translate(_RAISED)}"
        for sign, power in signs
    ]
    above = [sign for sign, (_, power) in zip(raised, signs, strict=True) if power > 0]
    below = [sign for sign, (_, power) in zip(raised, signs, strict=True) if power < 0]
    return "/".join(["·".join(above), *below])


def _combine(left: Dimension, right: Dimension, power: int) -> Dimension:
    mass, length, time, angle = right
    return (
        left[0] + power * mass, left[1] + power * length,
        left[2] + power * time, left[3] + power * angle,
    )  # fmt: skip


def _measured(tree: Measured, term: Amount) -> Amount:
    size = unit_size(tree.units)
    dimension = _combine(term.dimension, size.dimension, 1)
    return Amount(term.value * size.value, dimension, bare=False)


def _operate(operator: str, left: Amount, right: Amount) -> Amount:
    bare = left.bare and right.bare
    if operator == "*":
        return Amount(left.value * right.value, _combine(left.dimension, right.dimension, 1), bare)
    if operator == "/":
        return Amount(left.value / right.value, _combine(left.dimension, right.dimension, -1), bare)
    if operator == "^":
        power = int(right.value)
        return Amount(left.value**power, _combine(NUMBER, left.dimension, power), left.bare)
    if {left.dimension, right.dimension} == {ANGLE, NUMBER}:
        bare_angle = left if left.dimension == NUMBER else right
        if bare_angle.bare:  # `90 + θ`: degrees are understood
            left, right = (part._replace(dimension=ANGLE) for part in (left, right))
    if left.dimension != right.dimension and left.dimension[:3] == right.dimension[:3]:
        left, right = left.without_radians, right.without_radians
    if left.dimension != right.dimension:
        raise Unreadable("units_of_sum")
    value = left.value + right.value if operator == "+" else left.value - right.value
    return Amount(value, left.dimension, bare)


def _angle_of_slope(rise: Amount, run: Amount) -> Amount:
    """Return the angle whose tangent is a ratio: a right angle where there is a rise and no run."""
    if run.value == 0 and rise.value != 0 and run.dimension == rise.dimension:
        return Amount(math.copysign(90.0, rise.value), ANGLE, bare=False)
    return _call("atan", _operate("/", rise, run))


_INVERSE = {"asin": math.asin, "acos": math.acos, "atan": math.atan}
_LEFT_BY_ROUNDING = 1e-15


def _of_degrees(function: Callable[[float], float], degrees: float) -> float:
    """Return a sine or a cosine, 0 where rounding alone keeps it from that."""
    value = function(math.radians(degrees))
    return 0.0 if abs(value) < _LEFT_BY_ROUNDING else value


_DIRECT: dict[str, Callable[[float], float]] = {
    "sin": lambda degrees: _of_degrees(math.sin, degrees),
    "cos": lambda degrees: _of_degrees(math.cos, degrees),
    "tan": lambda degrees: _of_degrees(math.sin, degrees) / _of_degrees(math.cos, degrees),
}


def _call(function: str, term: Amount) -> Amount:
    if function == "abs":
        return Amount(abs(term.value), term.dimension, term.bare)
    if function == "sqrt":
        if any(power % 2 for power in term.dimension):
            raise Unreadable("root_of_unit")
        mass, length, time, angle = (power // 2 for power in term.dimension)
        return Amount(math.sqrt(term.value), (mass, length, time, angle), term.bare)
    if function in _DIRECT:
        if term.dimension not in (NUMBER, ANGLE):
            raise Unreadable("needs_angle", function=function)
        return Amount(_DIRECT[function](term.value), NUMBER, bare=True)
    if term.dimension != NUMBER:
        raise Unreadable("needs_number", function=function)
    if function != "atan" and abs(term.value) > 1:
        raise Unreadable("beyond_one", function=function)
    return Amount(math.degrees(_INVERSE[function](term.value)), ANGLE, bare=False)


def written_units(tree: Tree) -> Iterator[Measured]:
    """Yield the terms with a unit from left to right, those inside a function left out."""
    match tree:
        case Measured():
            yield from written_units(tree.term)
            yield tree
        case Negative():
            yield from written_units(tree.term)
        case Operation():
            yield from written_units(tree.left)
            yield from written_units(tree.right)
        case Call(function="abs" | "sqrt"):
            yield from written_units(tree.term)


def without_units(tree: Tree) -> Tree:
    """Return a tree with the units outside functions taken off."""
    match tree:
        case Measured():
            return without_units(tree.term)
        case Negative():
            return Negative(without_units(tree.term))
        case Operation():
            return Operation(tree.operator, without_units(tree.left), without_units(tree.right))
        case Call(function="abs" | "sqrt"):
            return Call(tree.function, without_units(tree.term))
        case _:
            return tree


def in_base_units(tree: Tree) -> Tree:
    """Return a tree with each unit as what it is worth, so that bare numbers may stand beside it.

    Angles in functions stay as they are.
    """
    match tree:
        case Measured():
            return Operation("*", in_base_units(tree.term), Number(unit_size(tree.units).value))
        case Negative():
            return Negative(in_base_units(tree.term))
        case Operation():
            return Operation(tree.operator, in_base_units(tree.left), in_base_units(tree.right))
        case Call(function="abs" | "sqrt"):
            return Call(tree.function, in_base_units(tree.term))
        case _:
            return tree
