"""Whether a number is the value of a quantity: in which unit, and with which sign."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from leverstep.claims.labels import Label
from leverstep.claims.quantities import MASS_LENGTH, Quantities, Quantity
from leverstep.claims.worth import Side
from leverstep.statics.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    MOMENT,
    NUMBER,
    TABLE,
    Dimension,
    metres,
)

TOLERANCE = 0.0105
"""How far a value may lie from what it should be, as a share of it: a hundredth, and rounding."""

_GRAVITY = 9.80665
_POUND = 0.45359237


class Match(Enum):
    """How a number fits a quantity."""

    NO = 0
    SIGN = 1
    YES = 2


@dataclass(frozen=True, slots=True)
class Scales:
    """What a bare number may be multiplied by to be in newtons, metres and kilograms."""

    lengths: tuple[float, ...]
    forces: tuple[float, ...]
    masses: tuple[float, ...]

    def of(self, dimension: Dimension) -> tuple[float, ...]:
        """Return the scales of a dimension, that of SI first."""
        if dimension == LENGTH:
            return self.lengths
        if dimension == FORCE:
            return self.forces
        if dimension == MASS:
            return self.masses
        if dimension == MOMENT:
            return tuple(f * m for f in self.forces for m in self.lengths)
        if dimension == MASS_LENGTH:
            return tuple(f * m for f in self.masses for m in self.lengths)
        return (1.0,)


def scales_of(quantities: Quantities) -> Scales:
    """Return the scales that go with the units of a problem."""
    units = {given.unit for given in quantities.question.givens} & TABLE.keys()
    lengths = {u: metres(u) for u in units if TABLE[u].dimension == LENGTH}
    is_american = bool({"lb", "lbf", "in", "ft", "oz"} & units)
    american = (0.0254, 0.3048) if is_american else ()
    return Scales(
        tuple(dict.fromkeys((1.0, 0.01, *lengths.values(), *american))),
        (1.0, _POUND * _GRAVITY) if is_american else (1.0,),
        (1.0, _POUND) if is_american else (1.0, 0.001) if "g" in units else (1.0,),
    )


def with_units_of(scales: Scales, text: str) -> Scales:
    """Return the scales with those of units that a page writes: kilonewtons, millimetres."""
    forces = (*scales.forces, 1000.0) if re.search(r"\bkN\b", text) else scales.forces
    lengths = (*scales.lengths, 0.001) if re.search(r"mm\b", text) else scales.lengths
    return Scales(tuple(dict.fromkeys(lengths)), tuple(dict.fromkeys(forces)), scales.masses)


def in_units(side: Side, quantity: Quantity, scales: Scales) -> list[tuple[float, float]]:
    """Return what a side may be in the unit of a quantity, each with the factor from as written."""
    if side.dimension is None:
        return [(side.plain * by, by) for by in scales.of(quantity.dimension)]
    if side.dimension == quantity.dimension:
        factor = side.value / side.plain if side.plain else 1.0
        return [(side.value, factor)]
    pounds = "lb" in side.units
    if pounds and (side.dimension, quantity.dimension) in ((MASS, FORCE), (MASS_LENGTH, MOMENT)):
        factor = side.value / side.plain * _GRAVITY if side.plain else _GRAVITY
        return [(side.value * _GRAVITY, factor)]
    if quantity.dimension == NUMBER and side.dimension == NUMBER:
        return [(side.value, 1.0)]
    return []


def is_near(value: float, target: float, slack: float, share: float = TOLERANCE) -> bool:
    """Return whether a value is another, but for rounding."""
    return abs(value - target) <= max(share * abs(target), slack * 1.02) + 1e-9


def match(
    side: Side,
    quantity: Quantity,
    target: float,
    scales: Scales,
    label: Label,
    strict: bool,
    sense: int,
    plus: bool,
    positive: int = 1,
) -> Match:
    """Return whether a side is the value of a quantity.

    Args:
        side: the value.
        quantity: what it may be.
        target: what that is worth.
        scales: what a bare number may be in.
        label: what is said beside it.
        strict: whether it was written by the quantity's own symbol.
        sense: 1 where the page counts moments as the problem does, -1 the other way, 0 unknown.
        plus: whether a plus sign was written before it.
        positive: 1 where the problem counts counter-clockwise moments as positive, else -1.
    """
    best = Match.NO
    for value, factor in in_units(side, quantity, scales):
        slack = side.slack if side.dimension is not None else side.slack * abs(factor)
        slack = min(slack, 0.06 * abs(target))
        if not is_near(abs(value), abs(target), slack):
            continue
        fits = _sign_fits(value, target, quantity, label, strict, sense, plus, positive)
        best = max(best, Match.YES if fits else Match.SIGN, key=lambda one: one.value)
    return best


def _sign_fits(
    value: float,
    target: float,
    quantity: Quantity,
    label: Label,
    strict: bool,
    sense: int,
    plus: bool,
    positive: int,
) -> bool:
    if quantity.dimension == ANGLE or target == 0:
        return True
    if not quantity.signed:
        return value > 0 or not strict
    said = label.sense
    if quantity.dimension == MOMENT:
        if "turn" in said:
            return said["turn"] * target * positive > 0
        if (value < 0 or plus) and sense:
            return value * target * sense > 0
        if quantity.step is not None and quantity.step.kind.name == "net_moment":
            return value * target > 0 if (strict or value < 0 or plus) else True
        return True
    if quantity.axis in said:
        return said[quantity.axis] * target > 0
    return value * target > 0 if strict else True
