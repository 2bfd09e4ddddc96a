"""A line that would hold with one thing in it otherwise: which, and of what it is then."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain as joined

from leverstep.claims import weights
from leverstep.claims.amendments import Amendment, Choices, amendments, digits_amended
from leverstep.claims.following import Following
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import (
    CONSTANTS,
    REPEATED,
    ROUNDED,
    is_near,
    is_of_si,
    is_same,
    stands_among,
    telling,
)
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity, Ranked, likeliest
from leverstep.claims.subject import Subject
from leverstep.claims.worth import Side, calls_in, numbers_in, plain_value, replaced
from leverstep.entry.tree import Number, Operation, Tree, is_arithmetic
from leverstep.statics.units import ANGLE, LENGTH, Dimension, known_unit

_FEWEST_FIGURES = 3
"""A constant of fewer figures is hardly copied with two of them swapped."""
_ANOTHER = 0.02
"""What lies no further from a number than this share of it is no other."""
_IN_UNITS: dict[Dimension, tuple[float, ...]] = {
    LENGTH: (1.0, 100.0, 1000.0, 1 / 0.0254, 1 / 0.3048),
    ANGLE: (1.0,),
}
"""What a length in metres, or an angle in degrees, is multiplied by to be as it is written."""
_OTHER_ANGLE: Choices = (("other_angle", 1.0),)
_OTHER_LENGTH: tuple[Dimension, Choices] = (
    LENGTH,
    (("other_arm", 1.0), ("whole_length", 1.0), ("other_length", 1.0)),
)
_MOST_TRIED = 100
"""So many ways in which a line may be amended are tried."""


@dataclass(frozen=True, slots=True)
class AmendedLine:
    """What a line is of, once one thing in its arithmetic is amended."""

    quantity: Quantity
    amendment: Amendment

    def proves(self, about: Quantity) -> bool:
        """Return whether a line that is about a quantity is wrong, since it is amended so."""
        return self.quantity is about and self.amendment.is_sure


class Amending:
    """Looks for such a line, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory, following: Following) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following
        self._stated = {abs(number) for number in subject.question.numbers.values()}
        long = {one for one in CONSTANTS if len(f"{one:g}".strip("0.")) >= _FEWEST_FIGURES}
        self._exact = self._stated | long
        self._sizes_of = {of: self._sizes(of) for of in _IN_UNITS}

    def _sizes(self, dimension: Dimension) -> list[float]:
        """Return the sizes of the givens and lines that are lengths, or angles, in SI."""
        question, right = self.subject.question, self.subject.right
        given = (
            question.in_si(one)
            for one in question.givens
            if one.unit and known_unit(one.unit).dimension == dimension
        )
        lines = (right[q.key] for q in self.subject.with_line if q.dimension == dimension)
        return sorted({round(abs(size), 6) for size in (*given, *lines) if size})

    def found(
        self, statement: NumberStated, matching: Callable[[NumberStated], tuple[Ranked, Ranked]]
    ) -> AmendedLine | None:
        """Return what a line would be of and with what amended, None where nothing makes it hold.

        Args:
            statement: the line, whose sides are equal.
            matching: what a line may be of by its value, and what but for its sign.
        """
        best: tuple[float, AmendedLine] | None = None
        meant = [one for one in self.subject.all.values() if self._may_be_meant(one)]
        for amendment, again in self._amended(statement, self._sizes_written(meant, statement)):
            found, signs = matching(again)
            if amendment.choices and amendment.choices[0][0] == "flip":
                found = [*found, *signs]  # the way that is said goes with the wrong sign
            is_converted = ("conversion", -1.0) in amendment.choices
            found = [
                (score, one)
                for score, one in found
                if one in meant
                and self._is_close(again.side, one)
                and (is_converted or not self._is_put_in(one, statement))
            ]
            if not found:
                continue
            score, quantity = likeliest(found)
            if score >= weights.ENOUGH_IF_RIGHT and (best is None or score > best[0]):
                best = (score, AmendedLine(quantity, amendment))
        return best[1] if best is not None else None

    def sum_to_come(
        self, statement: NumberStated, matching: Callable[[NumberStated], tuple[Ranked, Ranked]]
    ) -> AmendedLine | None:
        """Return of which line not yet written a sum would be with one sign otherwise."""
        if statement.chain.is_aside or not statement.arithmetic:
            return None
        tree = statement.arithmetic[0].tree
        if not isinstance(tree, Operation) or tree.operator not in "+-":
            return None
        amended = self.found(statement, matching)
        is_sign = amended is not None and ("flip", -1.0) in amended.amendment.choices
        is_to_come = amended is not None and not self.memory.has(amended.quantity.key)
        return amended if is_sign and is_to_come else None

    @staticmethod
    def _may_be_meant(quantity: Quantity) -> bool:
        """Return whether a quantity is a line that is asked for, or a mass."""
        return quantity.family == "mass" or (quantity.step is not None and quantity.step.asked)

    def _is_put_in(self, quantity: Quantity, statement: NumberStated) -> bool:
        """Return whether an arithmetic takes the value of a quantity that the page has."""
        worth = abs(self.subject.worth(quantity))
        there = telling(statement.literals)
        return self.memory.has(quantity.key) and any(is_of_si(n, worth) for n in there)

    def _sizes_written(self, meant: Iterable[Quantity], statement: NumberStated) -> list[float]:
        """Return the sizes of some quantities as a number may be written for them, in order."""
        scales, side = self.subject.scales, statement.side
        return sorted(
            abs(self.subject.worth(one)) / by for one in meant for by in scales.factors(side, one)
        )

    def _is_close(self, side: Side, quantity: Quantity) -> bool:
        """Return whether a value has the size of a quantity."""
        right = abs(self.subject.worth(quantity))
        return any(
            is_near(abs(side.value * by), right, side.slack * by, REPEATED)
            for by in self.subject.scales.factors(side, quantity)
        )

    def _amended(
        self, statement: NumberStated, sizes: Sequence[float]
    ) -> Iterator[tuple[Amendment, NumberStated]]:
        """Yield the ways to amend a line that make it one of some sizes, and it as it is then, its
        numbers put right.
        """
        right = self.following.put_right(statement.literals)
        symbols = self.following.right_symbols(statement.known)
        for side in (statement.arithmetic or statement.sides[:-1])[:1]:
            ways = joined(
                digits_amended(
                    side.tree, self._is_written, self._is_known, self._stated.__contains__
                ),
                amendments(side.tree),
                self._exchanged(side.tree),
            )
            for one, _ in zip(ways, range(_MOST_TRIED), strict=False):
                plain = plain_value(replaced(one.tree, right), statement.chain, symbols)
                if not plain or not side.plain or not math.isfinite(plain):
                    continue
                again = _as_amended(statement, one, plain / side.plain)
                if is_arithmetic(one.tree) is side.is_arithmetic and _stands_in(sizes, again.side):
                    yield one, again

    def _exchanged(self, tree: Tree) -> Iterator[Amendment]:
        """Yield a tree with another length or angle of the problem in the place of one."""
        of_angles = [number for call in calls_in(tree) for number in numbers_in(call)]
        for number in dict.fromkeys(telling(numbers_in(tree))):
            dimension, choices = (ANGLE, _OTHER_ANGLE) if number in of_angles else _OTHER_LENGTH
            sizes = self._sizes_of[dimension]
            for by in _IN_UNITS[dimension]:
                if not any(is_same(number, size * by) for size in sizes):
                    continue
                for size in sizes:
                    if not is_near(size * by, abs(number.value), 0.0, _ANOTHER):
                        yield Amendment(replaced(tree, {number.value: size * by}), choices)

    def _is_written(self, number: Number) -> bool:
        """Return whether a number stands in the problem or on the page figure by figure."""
        return abs(number.value) in self._exact or self.memory.has_written(number.value)

    def _is_known(self, number: Number) -> bool:
        """Return whether a number is one of the problem or the page, in some unit."""
        return self._is_written(number) or stands_among(number, self.subject.every_size)


def _stands_in(sizes: Sequence[float], side: Side) -> bool:
    """Return whether a value has one of some sizes, which are in order, but for rounding."""
    size = abs(side.value)
    reach = max(REPEATED * size, side.slack) * ROUNDED
    place = bisect_left(sizes, size - reach)
    return place < len(sizes) and sizes[place] <= size + reach


def _as_amended(statement: NumberStated, one: Amendment, ratio: float) -> NumberStated:
    """Return a line as it is once it is amended, and comes to so many times as much."""
    side = statement.side.times(ratio)
    return replace(
        statement,
        sides=[replace(statement.sides[0].times(ratio), tree=one.tree), side],
        stated=replace(statement.stated, side=side),
        literals=list(numbers_in(one.tree)),
    )
