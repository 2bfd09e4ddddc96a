"""The numbers of a problem: the range of each given, and one draw for a seed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

LONGEST_SEED = 24

ANGLE_GUESSED = 40.0
"""Degrees of an angle that is to be found, where it can't be or must not be known."""


def is_seed(text: str) -> bool:
    """Return whether numbers can be drawn from a text: a number, or a short word."""
    return 0 < len(text) <= LONGEST_SEED and text.isprintable() and text == text.strip()


@dataclass(frozen=True)
class Range:
    """The values that a given may take: `low`, then in steps of `step` up to `high`.

    `is_ratio` says that the one value there is was written as a ratio of whole numbers: `2/3`.
    """

    low: Fraction
    high: Fraction
    step: Fraction
    is_ratio: bool = False

    @cached_property
    def count(self) -> int:
        """Return how many values there are."""
        if self.step == 0:
            return 1
        return (self.high - self.low) // self.step + 1

    def draw(self, *words: str) -> Fraction:
        """Return one value, the same for the same words on every machine and version."""
        digest = hashlib.sha256("\x1f".join(words).encode()).digest()
        return self.low + self.step * (int.from_bytes(digest[:8], "big") % self.count)

    def middle(self) -> float:
        """Return the value in the middle of the range, or next to it."""
        return float(self.low) + float(self.step) * (self.count // 2)

    def written(self, value: Fraction) -> str:
        """Return a value with the decimals that the range is given with, or as the ratio it is."""
        if self.is_ratio and value == self.low:
            return f"{value.numerator}/{value.denominator}"
        return decimal(value, self._places)

    def stated(self, value: Fraction) -> str:
        """Return one value alone as it is stated: as finely as the steps, or as it is itself."""
        if self.is_ratio and value == self.low:
            return f"{value.numerator}/{value.denominator}"
        return decimal(value, max(_decimals(value), self._decimals_of_step))

    @cached_property
    def _places(self) -> int:
        return max(_decimals(self.low), self._decimals_of_step)

    @cached_property
    def _decimals_of_step(self) -> int:
        return _decimals(self.step)


def middles(ranges: Mapping[str, Range], sought: Iterable[str]) -> dict[str, float]:
    """Return the number in the middle of each range, and a guess at angles to be found, by key."""
    middle = {key: span.middle() for key, span in ranges.items()}
    return middle | dict.fromkeys(sought, ANGLE_GUESSED)


def quadrant_of(drawn: Range) -> tuple[int, int]:
    """Return the multiples of 90 degrees that the values of an angle lie between."""
    low = int(drawn.high) // 90 * 90 if drawn.high > 90 else 0
    return low, low + 90


def _decimals(value: Fraction) -> int:
    """Return the decimals that a value needs, at most six."""
    return next((n for n in range(6) if 10**n % value.denominator == 0), 6)


def decimal(value: Fraction, decimals: int) -> str:
    """Return a value with a fixed number of decimals."""
    return f"{float(value):.{decimals}f}"
