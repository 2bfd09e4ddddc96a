"""Round numbers: the steps of a scale, and its ticks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from leverstep.course.numbers import Range

DECIMAL: Sequence[int] = (1, 2, 5)
"""Round steps of a scale, times a power of ten."""
DEGREES = (1, 2, 5, 10, 15, 30, 45, 90)
"""Round steps of an angle, whose sines a student knows."""


@dataclass(frozen=True)
class Axis:
    """A scale from its first tick to its last, in steps that are round."""

    low: Fraction
    high: Fraction
    step: Fraction

    @cached_property
    def steps(self) -> int:
        """Return how many steps it has."""
        return int((self.high - self.low) / self.step)

    @property
    def ticks(self) -> tuple[Fraction, ...]:
        """Return the ticks."""
        return tuple(self.low + self.step * number for number in range(self.steps + 1))

    @property
    def longest(self) -> int:
        """Return the characters of its longest number, which stands at an end."""
        return max(len(self.written(end)) for end in (self.low, self.high))

    def written(self, tick: Fraction) -> str:
        """Return the number at a tick, all with the same decimals."""
        return Range(self.low, self.high, self.step).written(tick)

    def share(self, value: float) -> float:
        """Return how far along the scale a value lies, 0 at its beginning and 1 at its end."""
        low, length = self._reach
        return (value - low) / length

    @cached_property
    def _reach(self) -> tuple[float, float]:
        """Return where it begins and how long it is: as floats, since each value asks for them."""
        return float(self.low), float(self.high - self.low)


def round_step(least: float) -> Fraction:
    """Return the smallest of 1, 2, 5, 10, 20 … that is not below a number above 0."""
    power = Fraction(10) ** math.floor(math.log10(least))
    nearly = Fraction(least) * Fraction(10**9 - 1, 10**9)  # so that 0.1 is not above 1/10
    return next(power * size for size in (*DECIMAL, 10, 20) if power * size >= nearly)


def axis(low: float, high: float, most: int, degrees: bool = False) -> Axis:
    """Return a scale that covers some values.

    Args:
        low: the least value.
        high: the greatest value, above it.
        most: how many steps the scale may have, at least 2.
        degrees: whether the values are angles.
    """
    least = (high - low) / most
    step = round_step(least)
    if degrees:
        step = next((Fraction(size) for size in DEGREES if size >= least), step)
    while True:
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        if last - first <= most:
            return Axis(step * first, step * max(last, first + 1), step)
        step = round_step(float(step) * 1.01)
