"""Whether a number is the value of a quantity: in which unit, and with which sign."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import IntEnum
from functools import lru_cache

from leverstep.claims.labels import ValueLabel, place_told
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_quantities import ALONG_AXIS, PageQuantities, Quantity
from leverstep.claims.senses import Senses
from leverstep.claims.worth import Side
from leverstep.entry.body_weight_words import BODY_WEIGHT
from leverstep.statics import kinds
from leverstep.statics.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    MASS_LENGTH,
    MOMENT,
    STANDARD_GRAVITY,
    TABLE,
    Dimension,
    known_unit,
)

_KILOGRAMS_OF_FORCE = re.compile(r"\d\s*(?:kgf|kp|kg[\s·*.-]?(?:c?m|mm|in)\b|kg[-·* ]?f\b)")
_SHARES_OF_BODY = re.compile(
    rf"(?:%|per\s?cent)\s*(?:of\s+)?(?:the\s+)?{BODY_WEIGHT}\b", re.IGNORECASE
)
OF_PARTS = (kinds.WEIGHT_MOMENT, kinds.MASS_MOMENT)
"""Moments whose sign is that of a coordinate, so that no page chooses it."""
_ACROSS_SEGMENT = (kinds.COMPONENT_TRANSVERSE, kinds.REACTION_TRANSVERSE)
"""What counts as positive on the upper side of the segment."""
MOST_ROUNDING = 0.06
"""However few digits are written, no value further off than this share is the same."""

_GRAVITY_TO = {
    FORCE: STANDARD_GRAVITY,
    MOMENT: STANDARD_GRAVITY,
    MASS: 1 / STANDARD_GRAVITY,
    MASS_LENGTH: 1 / STANDARD_GRAVITY,
}
"""What a mass is multiplied by to be a weight, and a weight to be a mass, by what is to be had."""
_WEIGHED = frozenset({
    (MASS, FORCE), (MASS_LENGTH, MOMENT), (FORCE, MASS), (MOMENT, MASS_LENGTH),
})  # fmt: skip


class Match(IntEnum):
    """How a number fits a quantity: not, but for its sign, or wholly."""

    NO = 0
    SIGN = 1
    YES = 2


@dataclass(frozen=True, slots=True)
class Stated:
    """A value as it stands on the page.

    `strict` says that it was written by the quantity's own symbol, `plus` that a plus sign was
    written before it. `senses` are those that the page counts moments in.
    """

    side: Side
    label: ValueLabel
    strict: bool = False
    plus: bool = False
    senses: Senses = field(default_factory=Senses)


@dataclass(frozen=True, slots=True)
class Scales:
    """What a bare number may be multiplied by to be in newtons, metres and kilograms.

    `of_weight` are the units of mass that weights are told in, too.
    """

    lengths: tuple[float, ...]
    forces: tuple[float, ...]
    masses: tuple[float, ...]
    of_weight: frozenset[str] = frozenset({"lb"})

    def of(self, dimension: Dimension) -> tuple[float, ...]:
        """Return the scales of a dimension, that of SI first."""
        if dimension == LENGTH:
            return self.lengths
        if dimension == FORCE:
            return self.forces
        if dimension == MASS:
            return self.masses
        if dimension == MOMENT:
            return _products(self.forces, self.lengths)
        if dimension == MASS_LENGTH:
            return _products(self.masses, self.lengths)
        return (1.0,)

    def factors(self, side: Side, quantity: Quantity) -> tuple[float, ...]:
        """Return what the value of a side may be multiplied by to be of a quantity, in SI.

        None where it is written in a unit that the quantity can't have.
        """
        if side.dimension is None:
            there = self.of(quantity.dimension)
            if not quantity.is_weighed:
                return there
            by = _GRAVITY_TO[quantity.dimension]
            return (*there, *(scale * by for scale in there))
        if side.dimension == quantity.dimension:
            return (1.0,)
        if (side.dimension, quantity.dimension) not in _WEIGHED:
            return ()
        if quantity.is_weighed:
            return (_GRAVITY_TO[quantity.dimension],)
        is_weight = quantity.dimension in (FORCE, MOMENT) and self.of_weight & set(side.units)
        return (STANDARD_GRAVITY,) if is_weight else ()

    def may_be(self, side: Side, quantity: Quantity) -> bool:
        """Return whether a side is written in a unit that a quantity can have, or in none."""
        return bool(self.factors(side, quantity))

    def with_body_weight(self, weight: float) -> Scales:
        """Return these with the weight of the body, in newtons, and a hundredth of it as units of
        force too.
        """
        return replace(self, forces=(*self.forces, weight, weight / 100))

    def nearest(self, side: Side, quantity: Quantity, target: float) -> float:
        """Return what a side is in the unit that brings it nearest to a target, in SI.

        Its own value where it can't be of the quantity.
        """
        values = [side.value * by for by in self.factors(side, quantity)]
        return min(values, key=lambda value: _distance(value, target), default=side.value)


@lru_cache(maxsize=256)
def _products(some: tuple[float, ...], others: tuple[float, ...]) -> tuple[float, ...]:
    """Return each product of two scales, made once: every number of a page asks for them."""
    return tuple(one * other for one in some for other in others)


def _distance(value: float, target: float) -> float:
    """Return how far apart the sizes of two numbers are, as a ratio; 0 where one has none."""
    return abs(math.log(abs(value)) - math.log(abs(target))) if value and target else 0.0


def scales_of(quantities: PageQuantities, text: str = "") -> Scales:
    """Return the scales that go with the units of a problem and of a page.

    Args:
        quantities: those of the problem.
        text: the page, whose kilonewtons and millimetres count too.
    """
    units = {given.unit for given in quantities.question.givens} & TABLE.keys()
    american = {unit for unit in units if TABLE[unit].system == "US customary"}
    lengths = ["m", "cm", *sorted(unit for unit in units if TABLE[unit].dimension == LENGTH)]
    lengths += ["in", "ft"] if american & set(lengths) else []
    lengths += ["mm"] if re.search(r"mm\b", text) else []
    forces = ["N", *(["lbf"] if american else [])]
    forces += ["kN"] if re.search(r"\bkN\b", text) else []
    masses = ["kg", *(["lb"] if american else ["g"] if "g" in units else [])]
    of_weight = frozenset({"lb", "kg"} if tells_weights_in_kilograms(text) else {"lb"})
    return Scales(_sizes(lengths), _sizes(forces), _sizes(masses), of_weight)


def tells_weights_in_kilograms(text: str) -> bool:
    """Return whether a page has forces in kilograms: `61.2 kgf`, `336 kg cm`."""
    return _KILOGRAMS_OF_FORCE.search(text) is not None


def tells_body_weights(text: str) -> bool:
    """Return whether a page has forces as shares of the body's weight: `the rest in % of BW`."""
    return _SHARES_OF_BODY.search(text) is not None


def _sizes(units: Iterable[str]) -> tuple[float, ...]:
    """Return what some units are worth, each once."""
    return tuple(float(known_unit(unit).size) for unit in dict.fromkeys(units))


def match(
    stated: Stated, quantity: Quantity, target: float, scales: Scales, positive: int
) -> Match:
    """Return whether a value is that of a quantity.

    Args:
        stated: the value.
        quantity: what it may be.
        target: what that is worth, in SI; nan matches nothing.
        scales: what a bare number may be in.
        positive: 1 where the problem counts anticlockwise moments as positive, else -1.
    """
    side, best = stated.side, Match.NO
    if stated.label.is_from_vertical and is_angle_of_reaction(quantity):
        target = 90.0 - target
    for by in scales.factors(side, quantity):
        value = side.value * by
        slack = min(side.slack * by, MOST_ROUNDING * abs(target))
        if side.dimension is None and side.figures == 1 and by != 1.0:
            slack = 0.0  # one figure in any unit fits too much
        if is_near(abs(value), abs(target), slack):
            fits = _sign_fits(value, target, quantity, stated, positive)
            best = max(best, Match.YES if fits else Match.SIGN)
    return best


def is_angle_of_reaction(quantity: Quantity) -> bool:
    """Return whether a quantity is the angle of the reaction, which is told from the horizontal."""
    return quantity.is_line_of(kinds.REACTION_ANGLE, kinds.RESULTANT_ANGLE)


def _sign_fits(
    value: float, target: float, quantity: Quantity, stated: Stated, positive: int
) -> bool:
    if quantity.dimension == ANGLE or target == 0:
        return True
    is_moment = quantity.dimension == MOMENT or quantity.is_weighed
    if quantity.dimension == MASS_LENGTH and not is_moment and (value < 0 or stated.plus):
        return False  # what is given a sign is meant as a moment
    if not quantity.signed:
        return value > 0
    said = stated.label.sense
    place = place_told(stated.label.behind) if quantity.dimension == LENGTH else {}
    if value > 0 and quantity.along in place:
        return place[quantity.along] * target > 0
    if is_moment:
        return _sense_fits(value, target, quantity, stated, positive)
    if quantity.axis in said:
        return said[quantity.axis] * target > 0
    if way := way_by_segment(stated.label, quantity):
        return way * target > 0
    is_signed = stated.strict or (stated.plus and quantity.is_component)
    return value * target > 0 or not is_signed


def way_by_segment(label: ValueLabel, quantity: Quantity) -> int:
    """Return the sign that words give a part of a force along or across the segment: where it
    points up, or away from the joint, 1; 0 where they say nothing of that.

    What presses a joint is said to point towards it, whichever body it acts on.
    """
    if quantity.is_line_of(*_ACROSS_SEGMENT):
        return label.sense.get("y", 0)
    is_along = quantity.axis == ALONG_AXIS and quantity.family != "reaction"
    return label.along if is_along else 0


def _sense_fits(
    value: float, target: float, quantity: Quantity, stated: Stated, positive: int
) -> bool:
    """Return whether a moment turns as it should, by the words for it, or by what it may count as
    positive.
    """
    same, said = value * target > 0, stated.label.sense
    if "turn" in said:
        return said["turn"] * target * positive > 0
    is_signed = value < 0 or stated.plus
    if quantity.is_line_of(*OF_PARTS) and not is_signed:
        beside = place_told(stated.label.beside)
        if set(beside.values()) != {-1}:  # which side is positive is told with the origin
            return same
    senses = stated.senses
    if senses.is_own and not (is_signed or stated.strict):
        return True  # a size among words
    sense, is_sure = senses.for_line_of(quantity), senses.of_page and is_signed
    if quantity.is_line_of(kinds.NET_MOMENT) and not is_sure:
        return same or value * target * (sense or senses.before(quantity)) > 0
    return not sense or value * target * sense > 0
