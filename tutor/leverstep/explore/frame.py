"""Where the two scales of a plot lie: which values they show, and how many cells a step takes."""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from leverstep.explore.axes import Axis, axis
from leverstep.explore.results import Result, Values
from leverstep.explore.sweep import Sweep

_CUT = 3
"""Times the middle of all values, from where on the scale is cut."""
_CUT_OF_OWN, _CUT_ENDLESS = 4.5, 2.5
"""Times the problem's own value, up to where it is not: so much a force grows at a short arm.

The second is for results that grow without end, of which most would lie flat beneath.
"""
_MOST_TICKS = 10
"""The most steps of a scale."""
_MARGIN = 6
"""Columns on the right for the signs of the lines."""


@dataclass(frozen=True, slots=True)
class PlotPoint:
    """A value of the given with what follows from it, if anything does."""

    at: Fraction
    values: Values | None


@dataclass(frozen=True)
class Frame:
    """Where the two scales lie on the grid: `left` to `right` and `top` to `bottom`, in cells."""

    across: Axis
    up: Axis
    left: int
    right: int
    top: int
    bottom: int

    def place(self, at: float, value: float) -> complex:
        """Return the place of a value of the given and of a result."""
        column = self.left + self.across.share(at) * (self.right - self.left)
        row = self.bottom - self.up.share(value) * (self.bottom - self.top)
        return complex(column, row)


def frame_of(
    found: Sweep, shown: Sequence[Result], own: PlotPoint, width: int, height: int
) -> Frame:
    """Lay out the two scales: what is drawn fits, and 0 is on both."""
    bottom, span = height - 3, found.movable.span
    most = _cut(found, shown, own)
    drawn = [*_drawn(found, shown, most)]
    below, above = min(drawn), max(drawn)
    up = _axis(below, max(above, below + most * 1e-3), bottom - 1, 2)
    left = up.longest + 1
    room = width - 1 - _MARGIN - left
    across = _axis(0.0, float(span.high), room, 0, found.movable.given.unit == "deg")
    top, right = bottom - _even(bottom - 1, up), left + _even(room, across)
    return Frame(across, up, left, right, top, bottom)


def _cut(found: Sweep, shown: Sequence[Result], own: PlotPoint) -> float:
    """Return the size above which no value is drawn: far above most, and above the problem's own.

    The present values have no say in it, so that the scale stands still while the given moves.
    """
    sizes = [
        abs(sample.values[result.key])
        for result in shown
        for sample in found.samples
        if sample.values is not None
    ]
    if not sizes:
        return 1.0
    floor = [_CUT * statistics.median(sizes)]
    if own.values is not None:
        endless = any(border.kind == "singular" for border in found.borders)
        times = _CUT_ENDLESS if endless else _CUT_OF_OWN
        floor += [times * abs(own.values[result.key]) for result in shown]
    return min(max(sizes), max(floor)) or 1.0


@lru_cache(maxsize=64)  # the horizontal one stays, and so does the other while its given moves
def _axis(low: float, high: float, cells: int, apart: int, degrees: bool = False) -> Axis:
    """Return the scale that spreads some values over many cells, with many ticks.

    Its ticks lie `apart` cells or more from each other, or with 0 as far as their numbers need.
    """
    found: list[tuple[float, Axis]] = []
    for most in range(2, _MOST_TICKS + 1):
        scale = axis(low, high, most, degrees)
        if scale.steps * (apart or scale.longest + 3) <= cells:
            spread = (scale.share(high) - scale.share(low)) * _even(cells, scale)
            found.append((spread * scale.steps / (scale.steps + 1), scale))
    return max(found, key=lambda pair: pair[0])[1] if found else axis(low, high, 2, degrees)


def _even(cells: int, scale: Axis) -> int:
    """Return how many of some cells a scale takes: as many to each step."""
    return cells // scale.steps * scale.steps


def _drawn(found: Sweep, shown: Sequence[Result], most: float) -> Iterator[float]:
    """Yield every value, those beyond the cut as the cut, and 0."""
    yield 0.0
    for sample in found.samples:
        if sample.values is not None:
            for result in shown:
                yield min(max(sample.values[result.key], -most), most)
