"""An equation solved for its one unknown."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from leverstep.claims.near_numbers import CONSTANTS, NOTHING, is_near
from leverstep.claims.segments import Chain
from leverstep.claims.worth import Side, calls_in, has_call, numbers_in, plain_value
from leverstep.entry.tree import Call, Name, Number, Tree
from leverstep.entry.vocabulary import INVERSES

_STRAIGHT = 1e-7
"""How far an equation may bend, as a share of its size, and still count as linear."""
_FLAT = 1e-12
"""An equation that changes less, as a share of its size, does not depend on its unknown."""
_ANGLES = {"sin": math.asin, "cos": math.acos, "tan": math.atan}
"""The angle in radians for each value of a function."""
_VALUES = (0.25, 0.5, 0.75)
"""Values of a sine, cosine or tangent that are tried."""
_MOST_ROUNDING = 0.004
"""However few digits its numbers have, a solution is known to this share of it."""


@dataclass(frozen=True, slots=True)
class Equation:
    """Sides that are said to be equal, the values of their symbols, and the one to be found."""

    chain: Chain
    known: Mapping[str, float]
    unknown: str

    @property
    def literals(self) -> list[Number]:
        """Return the numbers in it."""
        return [number for side in self.chain.sides for number in numbers_in(side)]

    @property
    def digits(self) -> frozenset[str]:
        """Return the digits of its numbers, in whatever unit they are: `4.1 cm`, `0.041 m`."""
        sizes = (abs(number.value) for number in self.literals if number.value)
        return frozenset(f"{size:.2e}".partition("e")[0] for size in sizes)

    @property
    def others(self) -> list[str]:
        """Return its symbols but for the unknown."""
        symbols = self.chain.symbols_in(*self.chain.sides)
        return [symbol for symbol in symbols if symbol != self.unknown]

    def solution(self) -> float:
        """Return what the unknown comes to, nan where that can't be told."""
        for one, other in zip(self.chain.sides, self.chain.sides[1:], strict=False):
            if self.unknown in self.chain.symbols_in(one, other):
                value = _root([self._difference(one, other, x) for x in (1.0, 2.0, 3.0)])
                value = self._angle(one, other) if math.isnan(value) else value
                if not math.isnan(value):
                    return value
        return math.nan

    @property
    def is_of_angle(self) -> bool:
        """Return whether its unknown stands in a sine, cosine or tangent."""
        return any(
            self._is_of_unknown(call) for side in self.chain.sides for call in calls_in(side)
        )

    def _is_of_unknown(self, call: Call) -> bool:
        return call.function in INVERSES and self.unknown in self.chain.symbols_in(call.term)

    def _angle(self, one: Tree, other: Tree) -> float:
        """Return the angle in degrees whose one function two sides are linear in, else nan."""
        calls = [c for side in (one, other) for c in calls_in(side) if self._is_of_unknown(c)]
        functions = {call.function for call in calls}
        if len(functions) != 1 or not all(isinstance(call.term, Name) for call in calls):
            return math.nan
        (function,) = functions
        angle = _ANGLES[function]
        root = _root(
            [self._difference(one, other, math.degrees(angle(x))) for x in _VALUES], _VALUES
        )
        is_one = root > 0 and (function == "tan" or root < 1)
        return math.degrees(angle(root)) if is_one else math.nan

    @property
    def has_factor(self) -> bool:
        """Return whether the unknown is multiplied as a force is by its arm.

        A factor of 1 is none, nor is a sine alone, which makes a component of it.
        """
        for one, other in zip(self.chain.sides, self.chain.sides[1:], strict=False):
            change = self._difference(one, other, 2.0) - self._difference(one, other, 1.0)
            if not math.isnan(change) and change:
                calls = (*calls_in(one), *calls_in(other))
                sines = [plain_value(call, self.chain, self.known) for call in calls]
                return all(abs(abs(change) - abs(by)) > NOTHING for by in (1.0, *sines))
        return False

    @property
    def is_identity(self) -> bool:
        """Return whether it holds whatever its unknown is: `A cos 19 = 0.946 A`, or `0 * F = 0`."""
        return self.holds(1.0) and self.holds(2.0)

    @property
    def works_out(self) -> bool:
        """Return whether it works something out, so that even an identity says something."""
        return len(self.literals) > 2 or any(has_call(side) for side in self.chain.sides)

    def holds(self, value: float) -> bool:
        """Return whether all sides come to one number for a value of the unknown."""
        values = {**self.known, self.unknown: value}
        plain = [plain_value(side, self.chain, values) for side in self.chain.sides]
        return all(is_near(one, plain[0], 0.0) for one in plain)

    def solved_side(self, value: float, exact: frozenset[float]) -> Side:
        """Return a solution as a number that was written, as exact as the numbers it is from.

        Args:
            value: the solution.
            exact: numbers that are not rounded, those of the problem.
        """
        slack = max(self._shares_of_rounding(exact), default=0.0)
        return Side(
            Number(value), value, value, None, slack=min(slack, _MOST_ROUNDING) * abs(value)
        )

    def _difference(self, one: Tree, other: Tree, value: float) -> float:
        values = {**self.known, self.unknown: value}
        return plain_value(one, self.chain, values) - plain_value(other, self.chain, values)

    def _shares_of_rounding(self, exact: frozenset[float]) -> Iterator[float]:
        for number in self.literals:
            if number.value and number.half_digit and not _is_exact(number, exact):
                yield number.half_digit / abs(number.value)


def _root(at: list[float], places: Sequence[float] = (1.0, 2.0, 3.0)) -> float:
    """Return where a linear function is 0, by its values at three places that are as far from each
    other; nan where it is none.
    """
    size = max(map(abs, at)) or 1.0
    bend, change = abs(at[2] - 2 * at[1] + at[0]), abs(at[1] - at[0])
    if not (bend <= _STRAIGHT * size and change > _FLAT * size):
        return math.nan  # this is so for nan too
    root = places[0] + (places[1] - places[0]) * at[0] / (at[0] - at[1])
    return root if abs(root) > _FLAT else math.nan  # `F sin 30 = 0.5 F` holds for any F


def _is_exact(number: Number, exact: frozenset[float]) -> bool:
    values = (*exact, *CONSTANTS)
    return any(abs(abs(number.value) - abs(value)) <= 1e-9 * abs(value) for value in values)
