"""How much speaks for a number's being of a quantity, beside its value."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.labels import OF_COMPONENTS, ValueLabel
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_constant, is_near, is_of_si, stands_among
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.claims.symbol_fit import is_of_force
from leverstep.claims.worth import Side
from leverstep.entry.tree import Number, Operation
from leverstep.statics import kinds
from leverstep.statics.units import NUMBER

_INDEX_OF_AXIS = re.compile(r"[xyhvXYHV]$|_(?:up|down|left|right|vert|hor)\w*$")
_SIZES = (kinds.REACTION_SIZE, kinds.RESULTANT_SIZE)
"""What is worked out from two components by their squares."""
_NEGLIGIBLE = 0.01
"""A component that is a smaller share of the whole is none."""
_FACTORS = 1e-3
"""How far apart a force may be by the factors of conversion that count, as a share of it."""
_WORDS_FOR_POINTS = frozenset({"about", "check", "from", "to", "between"})


class Evidence:
    """Weighs labels and arithmetic, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory

    def of_right(self, statement: NumberStated, quantity: Quantity) -> float:
        """Return how much speaks for a number that has the value of a quantity."""
        score = self.of_label(statement, quantity)
        if statement.literals:
            score += self._of_support(statement.literals, quantity)
        if statement.key and statement.key != quantity.key:
            score += weights.OTHER_SYMBOL
        return _summed(score)

    def adds_components(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a size is worked out by a sum or difference though it has components along
        two axes, which are added by their squares.
        """
        if quantity.step is None or quantity.step.kind not in _SIZES or not statement.arithmetic:
            return False
        tree, size = statement.arithmetic[0].tree, abs(self.subject.worth(quantity))
        is_sum = isinstance(tree, Operation) and tree.operator in "+-"
        parts = [self.subject.all[use] for use in quantity.step.uses]
        return is_sum and all(
            abs(self.subject.worth(part)) > _NEGLIGIBLE * size for part in parts if part.axis
        )

    def told_again_in(self, side: Side, quantity: Quantity) -> Quantity:
        """Return the line for a force of the page in another unit, where a value in that unit is
        written for it; else the force itself: `C = 200 N`, then `C = 45.0 lbf`.
        """
        if not self.memory.has(quantity.key):
            return quantity
        worth = self.subject.worth
        return next(
            (
                one
                for one in self.subject.with_line
                if _of_unit(side, one) > 0
                and math.isclose(worth(one), worth(quantity), rel_tol=_FACTORS)
            ),
            quantity,
        )

    def of_label(self, statement: NumberStated, quantity: Quantity) -> float:
        """Return how much speaks for a quantity, the numbers of the arithmetic apart."""
        label, side = statement.label, statement.side
        score = self._of_quantity(quantity)
        score += weights.SYMBOL_KNOWN if statement.key == quantity.key else 0.0
        fit = self.subject.names.fit(label, quantity) + _of_horizontal(label, quantity)
        score += max(weights.FIT_LEAST, min(fit, weights.FIT_MOST))
        if side.dimension is not None and quantity.dimension != NUMBER:
            score += weights.UNIT_WRITTEN
        score += _of_unit(side, quantity)
        if quantity.family == "angle" and side.dimension is None and label.is_empty:
            score += weights.BARE_ANGLE
        if quantity.is_component and not self.tells_axis(label, statement.key):
            score += weights.COMPONENT_UNTOLD
            score += weights.COMPONENT_UNTOLD if label.symbol else 0.0
        if quantity.is_elsewhere and not self.tells_point(label):
            score += weights.OTHER_POINT_UNTOLD
        if label.is_empty and self._was_spoken_of(quantity):
            score += weights.SAME_FORCE_AS_BEFORE
        return _summed(score)

    def of_wrong(self, statement: NumberStated, quantity: Quantity) -> float:
        """Return how much speaks for a quantity whose value a number does not have.

        What stands behind a letter of the page may say what it is of: `e = 10.4 mm (tendon)`.
        """
        label = statement.label
        if label.symbol and not label.words and not statement.key:
            label = replace(label, words=label.behind)
        fit = self.subject.names.fit(label, quantity) + _of_horizontal(label, quantity)
        score = min(fit, weights.FIT_MOST) + _of_unit(statement.side, quantity)
        score += weights.OWN_LINE * self._share_of_own_line(statement.literals, quantity)
        if not self.memory.has(quantity.key):
            score += weights.TO_COME_IF_WRONG
        if statement.side.dimension is not None:
            score += weights.UNIT_IF_WRONG
        if quantity.family == self._family_before():
            score += weights.SAME_SORT_AS_BEFORE
        return _summed(score)

    def is_of_problem(self, literals: Sequence[Number], solution: float) -> bool:
        """Return whether some of the numbers are the problem's or the page's, or there are none.

        What only repeats the solution tells nothing: `F + 2 = 435.6`.
        """
        numbers = [
            number
            for number in literals
            if number.value and self._is_telling(number)
            if not is_near(number.value, solution, 0.0)
        ]
        sizes = self.subject.every_size
        known = any(stands_among(n, sizes) or self.memory.holds(n) for n in numbers)
        return known or not any(number.value for number in literals)

    def _is_telling(self, number: Number) -> bool:
        """Return whether a number is no constant, or a given with its figures: 9.8 cm."""
        given = self.subject.question.numbers.values()
        return not is_constant(number) or ((number.figures or 0) > 1 and number.value in given)

    def _family_before(self) -> str:
        """Return the family of what the page wrote last, "" where that is unknown."""
        last = self.memory.last_key
        return self.subject.all[last].family if last in self.subject.all else ""

    def known_share(self, literals: Sequence[Number]) -> float:
        """Return the share of some numbers that the problem or the page has."""
        sizes, is_of_angle = self.subject.every_size, self.subject.is_function_of_angle
        known = sum(
            stands_among(n, sizes) or self.memory.holds(n) or is_of_angle(n) for n in literals
        )
        return known / len(literals) if literals else 1.0

    def _of_quantity(self, quantity: Quantity) -> float:
        """Return what speaks for a quantity whatever is said."""
        score = 0.0 if self.memory.has(quantity.key) else weights.TO_COME
        if quantity.step is not None:
            score += weights.LINE_OF_DERIVATION
            score += weights.LINE_ASKED if quantity.step.asked else 0.0
            if self.memory.posture and quantity.step.mark == self.memory.posture:
                score += weights.POSTURE_NAMED
        if quantity.is_sum:
            some = 0 if quantity.whole else len(quantity.about)
            score += weights.IS_SUM + weights.SUM_OF_SOME * some
        return score

    def _of_support(self, literals: Sequence[Number], quantity: Quantity) -> float:
        """Return what it tells that a quantity is worked out from the numbers of an arithmetic."""
        inputs = self.subject.inputs_of(quantity)
        known = sum(stands_among(n, inputs) or self.memory.holds(n) for n in literals)
        if known == len(literals) > 1:
            return weights.ALL_NUMBERS_ITS_OWN
        return weights.NUMBERS_ITS_OWN * known / len(literals) + weights.NUMBERS_STRANGE

    def tells_axis(self, label: ValueLabel, key: str) -> bool:
        """Return whether something says that a component is meant, not a whole force."""
        return bool(
            self._has_index_of_axis(label.symbol)
            or label.beside & OF_COMPONENTS
            or (key in self.subject.all and self.subject.all[key].axis)
        )

    def _has_index_of_axis(self, symbol: str) -> bool:
        is_other = is_of_force(symbol, self.subject.names.words_of_force)
        return not is_other and _INDEX_OF_AXIS.search(symbol) is not None

    @staticmethod
    def tells_point(label: ValueLabel) -> bool:
        """Return whether words say that something is taken from another point than the axis."""
        return bool(label.words & _WORDS_FOR_POINTS)

    def _was_spoken_of(self, quantity: Quantity) -> bool:
        return bool(self.memory.last_label.words & self.subject.names.words_of(quantity))

    def _share_of_own_line(self, literals: Sequence[Number], quantity: Quantity) -> float:
        """Return the share of what a quantity's own line is made of that some numbers are, as it
        should be or stands on the page.
        """
        if not literals or quantity.step is None:
            return 0.0
        uses = frozenset((*quantity.step.uses, *quantity.step.quantities))
        sizes = [{size} for size in self.subject.sizes_given(uses)]
        sizes += [self._sizes_of(use) for use in uses if use in self.subject.right]
        hits = sum(any(is_of_si(n, one) for n in literals for one in there) for there in sizes)
        return hits / len(sizes) if sizes else 0.0

    def _sizes_of(self, key: str) -> set[float]:
        """Return the size of a line as it should be, and as it stands on the page."""
        right = abs(self.subject.right[key])
        return {right, abs(self.memory.own.get(key, right))}


def _of_horizontal(label: ValueLabel, quantity: Quantity) -> float:
    """Return what it tells that a value is said to be from the horizontal."""
    is_said = "horizontal" in label.beside
    return weights.ANGLE_TO_HORIZONTAL if is_said and quantity.is_from_horizontal else 0.0


def _of_unit(side: Side, quantity: Quantity) -> float:
    """Return what the unit tells of a line for a force in another unit than newtons."""
    step = quantity.step
    if step is None or step.kind is not kinds.OTHER_UNIT:
        return 0.0
    is_written = step.unit.removesuffix("f") in {sign.removesuffix("f") for sign in side.units}
    return weights.UNIT_OF_LINE if is_written else -weights.UNIT_OF_LINE


def _summed(score: float) -> float:
    """Return a score such that what adds up to the same is the same, whatever was added first."""
    return round(score, 6)
