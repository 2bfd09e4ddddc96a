"""Over which values a given may be moved, and by which steps."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from leverstep.course.numbers import Range, quadrant_of
from leverstep.explore.axes import round_step

LEAST, MOST = Fraction(1, 4), Fraction(5, 2)
"""How far a given may be moved, as shares of the middle of its own range."""
_STEPS = 110
"""About how many steps lead over a range, at most."""


@dataclass(frozen=True)
class GivenSpan:
    """The values that a given may be moved over, and the step of an arrow key."""

    low: Fraction
    high: Fraction
    step: Fraction

    def moved(self, value: Fraction, steps: int) -> Fraction:
        """Return a value some steps further, on a multiple of the step and within the span."""
        places = value / self.step
        start = math.floor(places) if steps > 0 else math.ceil(places)
        return min(max(self.step * (start + steps), self.low), self.high)

    def holds(self, value: Fraction) -> bool:
        """Return whether a value lies in the span."""
        return self.low <= value <= self.high

    def stops(self) -> tuple[Fraction, ...]:
        """Return every multiple of the step in the span."""
        first, last = math.ceil(self.low / self.step), math.floor(self.high / self.step)
        return tuple(self.step * place for place in range(first, last + 1))


def span_of(drawn: Range, unit: str, value: Fraction) -> GivenSpan:
    """Return the span of a given: round numbers from about a quarter to some 2.5 of its middle.

    An angle goes up to a right angle, or stays within its quadrant; a share of a length or a body
    goes up to 1.

    Args:
        drawn: the range that the problem draws it from.
        unit: its unit, "" for a share.
        value: its own value, which is in the span in any case.
    """
    if unit == "deg":
        first, last = quadrant_of(drawn)
        last -= 1 if first else 0  # up to a right angle, or on to where a line lies straight
        return GivenSpan(min(Fraction(first + 1), value), max(Fraction(last), value), Fraction(1))
    middle = (drawn.low + drawn.high) / 2
    low = min(LEAST * middle, drawn.low / 2)
    high = max(MOST * middle, drawn.high * 2)
    if unit == "":
        high = max(min(high, Fraction(1)), drawn.high)
    step = round_step(float(high - low) / _STEPS)
    low = max(step, math.floor(low / (5 * step)) * 5 * step)
    high = math.ceil(high / (5 * step)) * 5 * step
    if unit == "":
        high = min(high, max(Fraction(1), drawn.high))
    return GivenSpan(min(low, value), max(high, value), step)
