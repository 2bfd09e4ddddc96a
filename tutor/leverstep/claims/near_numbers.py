"""When two numbers are taken for one: rounding, units, and constants that any line may hold."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise

from leverstep.claims.worth import Side
from leverstep.entry.tree import Number
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.units import FORCE, MASS, MASS_LENGTH, MOMENT, STANDARD_GRAVITY

TOLERANCE = 0.0105
"""How far a value may lie from what it should be, as a share of it: a hundredth, and rounding."""
AGREEING = 0.012
"""How far the sides of a chain may lie from the last, as a share of it: `=` is often `≈`."""
REPEATED = 0.006
"""How far a number may lie from one that it repeats or takes, as a share of that."""
CUT_OFF = 5e-4
"""How far a number may lie from one of the page that it stands for, as a share of that."""
ROUNDED = 1.02
"""Half a unit of the last digit, and a little for what binary fractions leave."""
NOTHING = 1e-9
"""What lies no further from each other than this, is one number."""

CONSTANTS = (
    *(value for convention in CONVENTIONS.values() for value in convention.values),
    10.0, 32.2, 0.4536, 0.454, 0.45359, 28.35, 2.54, 0.0254, 0.3048, 30.48, 12.0,
    57.3, 57.30, 57.296, 57.2958,
    0.001, 0.01, 0.1, 0.5, 1.0, 2.0, 3.0, 4.0, 90.0, 100.0, 180.0, 360.0, 1000.0,
)  # fmt: skip
"""Numbers that any line may hold: gravity, factors of conversion, parts of a turn."""

BETWEEN_UNITS = (
    1.0, 100.0, 0.01, 1000.0, 0.001, 0.0254, 1 / 0.0254, 2.54, 0.3048, 1 / 0.3048, 12.0, 1 / 12,
    0.45359, 2.20462, 4.4482, 1 / 4.4482, 10.0 ** 4, 1e-4,
)  # fmt: skip
"""What a number is multiplied by to be in another unit of the course."""

_FROM_SI = (1.0, 100.0, 1000.0, 1 / 0.0254, 1 / 0.3048, 1 / 4.4482, 2.20462, 0.1019716)
"""What a value in SI is multiplied by to be in cm, mm or g, in, ft, lbf, lb, or in kg by weight."""

_WEIGHT_OF = {MASS: FORCE, MASS_LENGTH: MOMENT}
"""What a mass, or a mass at a distance, is by its weight."""


def is_near(value: float, target: float, slack: float, share: float = TOLERANCE) -> bool:
    """Return whether a value is another, but for rounding.

    Args:
        value: what was written.
        target: what it may be.
        slack: half a unit of the last digit written.
        share: how far it may lie from the target, as a share of that.
    """
    return abs(value - target) <= max(share * abs(target), slack * ROUNDED) + NOTHING


def is_same(number: Number, value: float) -> bool:
    """Return whether a number stands for another, cut to its figures; signs apart."""
    slack = max(number.half_digit * ROUNDED, CUT_OFF * abs(value))
    return abs(abs(number.value) - abs(value)) <= slack


def is_of_si(number: Number, value: float) -> bool:
    """Return whether a number is a value above 0 in SI, in some unit; signs apart."""
    return _is_size_of_si(abs(number.value), number.half_digit * ROUNDED, value)


@lru_cache(maxsize=4096)
def _is_size_of_si(size: float, rounding: float, value: float) -> bool:
    """Return that of a size; the same numbers are laid beside the same values again and again."""
    return any(abs(size - value * by) <= max(rounding, REPEATED * value * by) for by in _FROM_SI)


def is_constant(number: Number) -> bool:
    """Return whether any line may hold a number."""
    return _is_size_of_constant(abs(number.value))


@lru_cache(maxsize=1024)
def _is_size_of_constant(size: float) -> bool:
    return any(abs(size - constant) <= NOTHING for constant in CONSTANTS)


def telling(numbers: Iterable[Number]) -> list[Number]:
    """Return some numbers but for the constants, which tell nothing of a line."""
    return [number for number in numbers if not is_constant(number)]


def stands_among(number: Number, values: Iterable[float]) -> bool:
    """Return whether a number is a constant or one of some values in SI, in some unit."""
    return is_constant(number) or any(is_of_si(number, value) for value in values)


def agree(sides: list[Side]) -> bool:
    """Return whether the sides of a chain come to one number, units and rounding apart: each to
    that of the next, or of the last.
    """
    return all(
        _agrees(side, following) or _agrees(side, sides[-1]) for side, following in pairwise(sides)
    )


def _are_both_measured(side: Side, last: Side) -> bool:
    """Return whether two sides are numbers in units of one dimension: `4.4 mm = 0.0044 m`."""
    is_plain = not side.is_arithmetic and not last.is_arithmetic
    return is_plain and side.dimension is not None and side.dimension == last.dimension


def _plain_slack(side: Side) -> float:
    """Return half a unit of the last digit, or the rounding, of a side as its number is written."""
    return side.slack / abs(side.value / side.plain) if side.plain and side.value else side.slack


def _agrees(side: Side, last: Side) -> bool:
    size = abs(last.plain)
    if _are_both_measured(side, last):
        return is_near(side.value, last.value, last.slack + side.slack, AGREEING)
    slack, own = AGREEING * size + _plain_slack(last) * 1.001 + 1e-12, _plain_slack(side)
    if any(abs(abs(side.plain) * by - size) <= slack + own * by for by in BETWEEN_UNITS):
        return True
    if last.is_arithmetic and last.dimension in _WEIGHT_OF:  # `= 3 = 3 kg * 9.81 = 29.4 N`
        is_of_mass = side.dimension in (None, last.dimension)
        if is_of_mass and is_near(side.plain * STANDARD_GRAVITY, last.plain, own, AGREEING):
            return True
    if side.dimension is None or last.dimension is None:
        return False
    if _WEIGHT_OF.get(side.dimension) == last.dimension:  # `3 kg = 29.4 N`
        weight = side.value * STANDARD_GRAVITY
        return is_near(weight, last.value, last.slack + side.slack * STANDARD_GRAVITY, AGREEING)
    is_alike = side.dimension == last.dimension
    return is_alike and is_near(side.value, last.value, last.slack + side.slack, AGREEING)
