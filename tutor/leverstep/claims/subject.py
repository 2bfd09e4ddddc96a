"""What a page is about: a question, all that may be said of it, and what that is worth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from leverstep.claims.labels import ValueLabel
from leverstep.claims.matching import (
    Match,
    Stated,
    is_angle_of_reaction,
    match,
    scales_of,
    tells_body_weights,
    tells_weights_in_kilograms,
)
from leverstep.claims.names_in_use import NamesInUse
from leverstep.claims.near_numbers import is_constant, is_near, is_same
from leverstep.claims.page_quantities import PageQuantities, Quantity
from leverstep.claims.quantity_values import BODY_WEIGHT_KEY
from leverstep.claims.worth import Side
from leverstep.course.problem import Question
from leverstep.entry.tree import Number
from leverstep.statics import kinds
from leverstep.statics.points import Given
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MOMENT, known_unit

_OF_ANY_FORCE = frozenset({"it", "left", "right"})
"""Words by which an angle may be that of the opposite force too."""


class Subject:
    """A question with its quantities, their names, their values, and the units in use."""

    def __init__(self, question: Question, text: str = "") -> None:
        self.question = question
        self.quantities = PageQuantities(question)
        self.all = self.quantities.all
        self.right = self.quantities.right
        self.names = NamesInUse(self.quantities)
        self.scales = scales_of(self.quantities, text)
        self.positive = question.problem.posture.positive
        self.with_line = [q for q in self.all.values() if q.step is not None]
        numbers = question.numbers.values()
        self.every_size = [abs(value) for value in (*self.right.values(), *numbers) if value]
        self._has_body_weights = False
        self._note_body_weights(text)
        self._inputs: dict[str, list[float]] = {}
        self._functions: list[float] | None = None

    def note_units(self, line: str) -> None:
        """Take the units of a further line as those of the page."""
        if tells_weights_in_kilograms(line) and "kg" not in self.scales.of_weight:
            self.scales = replace(self.scales, of_weight=self.scales.of_weight | {"kg"})

        self._note_body_weights(line)

    def _note_body_weights(self, text: str) -> None:
        """Take the body's weight as a unit of the page, where that tells forces as shares of it."""
        weight = self.right.get(BODY_WEIGHT_KEY, 0.0)
        if weight and not self._has_body_weights and tells_body_weights(text):
            self._has_body_weights = True
            self.scales = self.scales.with_body_weight(weight)

    @property
    def finds_whole_reaction(self) -> bool:
        """Return whether the size of the reaction is a line, beside its components."""
        return self.question.key(kinds.REACTION_SIZE) in self.all

    def worth(self, quantity: Quantity | None) -> float:
        """Return what a quantity should be, in SI; nan where that is unknown."""
        return self.right.get(quantity.key, math.nan) if quantity is not None else math.nan

    def along_other_axis(self, part: Quantity) -> list[Quantity]:
        """Return the components along another axis of the force that a component is of."""
        return [
            quantity
            for quantity in self.all.values()
            if quantity.is_component
            and quantity.about == part.about
            and quantity.axis != part.axis
            and not quantity.is_by_segment
        ]

    def match(self, stated: Stated, quantity: Quantity, target: float) -> Match:
        """Return whether a value is that of a quantity, if this is worth `target`."""
        how = match(stated, quantity, target, self.scales, self.positive)
        if how is not Match.YES:
            return how
        if self._points_elsewhere(stated, quantity) or self._lies_elsewhere(stated, quantity):
            return Match.SIGN
        return how

    def _lies_elsewhere(self, stated: Stated, quantity: Quantity) -> bool:
        """Return whether the reaction is said to point above the horizontal, and points below."""
        step = quantity.step
        if step is None or not is_angle_of_reaction(quantity):
            return False
        behind = stated.label.behind
        if "horizontal" not in behind or (stated.label.words | behind) & _OF_ANY_FORCE:
            return False
        said = ("above" in behind) - bool(behind & {"below", "under"})
        is_reaction = step.kind is kinds.REACTION_ANGLE
        upward = kinds.REACTION_Y if is_reaction else kinds.RESULTANT_Y
        return said * self.right.get(self.question.at(step).key(upward), 0.0) < 0

    def _points_elsewhere(self, stated: Stated, quantity: Quantity) -> bool:
        """Return whether words behind the size of a force name a way that it does not point."""
        if quantity.dimension != FORCE or quantity.signed or len(quantity.about) != 1:
            return False
        (force,) = quantity.about
        for axis, way in ValueLabel(stated.label.behind - self.names.all_words).sense.items():
            if way * self.right.get(f"{force}{axis}", 0.0) < 0:
                return True
        return False

    def nearest(self, side: Side, quantity: Quantity) -> float:
        """Return a value in SI, in the unit that brings it nearest to what it should be."""
        return self.scales.nearest(side, quantity, self.worth(quantity))

    def value_of(self, side: Side, quantity: Quantity | None) -> float:
        """Return a value in SI and with the sign of what it is of; a size has none of its own."""
        target = self.worth(quantity)
        if quantity is None or math.isnan(target):
            return side.value
        value = self.nearest(side, quantity)
        takes_sign = value > 0 and quantity.signed and self.scales.may_be(side, quantity)
        return math.copysign(value, target) if takes_sign else value

    def has_number(self, number: float, half_digit: float) -> bool:
        """Return whether a number is a size in SI, or a given as it is stated, but for rounding."""
        return any(is_near(number, size, half_digit) for size in self.every_size)

    def is_given(self, side: Side) -> bool:
        """Return whether a value is one of the givens, in the unit of that or in none."""
        return next(self.givens_like(side), None) is not None

    def givens_like(self, side: Side) -> Iterator[Given]:
        """Yield the givens that a value is, in their unit or in none."""
        for given in self.question.givens:
            number = self.question.numbers[given.key]
            if side.dimension is None:
                if abs(side.plain - number) <= 1e-9 * abs(number):
                    yield given
            elif given.unit:
                is_like = abs(side.value - self.question.in_si(given)) <= 1e-6 * abs(side.value)
                if is_like and side.dimension == known_unit(given.unit).dimension:
                    yield given

    def sizes_given(self, keys: frozenset[str]) -> list[float]:
        """Return the sizes of numbers of the problem whose key or symbol is among some."""
        numbers = self.question.numbers
        found = [abs(number) for key, number in numbers.items() if key in keys]
        return found + [
            abs(numbers[given.key]) for given in self.question.givens if given.sign in keys
        ]

    def inputs_of(self, quantity: Quantity) -> list[float]:
        """Return the sizes of all that a quantity may be worked out from, in SI or as given."""
        if quantity.key not in self._inputs:
            there = self.quantities.rests_on(quantity.key)
            found = self.sizes_given(there)
            found += [
                abs(value)
                for key, value in self.right.items()
                if key in there or self._is_beside(self.all[key], quantity)
            ]
            found += self._functions_of_angles(there)
            self._inputs[quantity.key] = [size for size in found if size]
        return self._inputs[quantity.key]

    def is_function_of_angle(self, number: Number) -> bool:
        """Return whether a decimal is the sine, cosine or tangent of an angle of the problem."""
        if self._functions is None:
            keys = frozenset(given.key for given in self.question.givens) | self.right.keys()
            self._functions = self._functions_of_angles(keys)
        is_decimal = (number.figures or 0) > 1 and not is_constant(number)
        return is_decimal and any(is_same(number, one) for one in self._functions)

    def _functions_of_angles(self, keys: frozenset[str]) -> list[float]:
        """Return the sines, cosines and tangents of the angles among some, as decimals."""
        degrees = [abs(self.right[key]) for key in keys if self._is_angle(key)]
        numbers = self.question.numbers
        degrees += [
            numbers[given.key]
            for given in self.question.givens
            if given.unit == "deg" and keys & {given.key, given.sign}
        ]
        functions = (math.sin, math.cos, math.tan)
        return [abs(of(math.radians(one))) for one in degrees for of in functions]

    def _is_angle(self, key: str) -> bool:
        return key in self.all and self.all[key].dimension == ANGLE and key in self.right

    def _is_beside(self, other: Quantity, quantity: Quantity) -> bool:
        """Return whether a quantity may be worked out from another by some other way."""
        if set(other.about) & set(quantity.about) and other.family != quantity.family:
            return True
        if quantity.family == "reaction" or quantity.whole:
            return True
        is_balance = quantity.family in ("force", "moment") or quantity.is_sum
        return is_balance and other.dimension in (MOMENT, LENGTH)
