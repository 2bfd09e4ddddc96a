"""Measures over a class: how its marks lie, and how one line did.

Those of a line come from sums that take no more room for more students.
"""

from __future__ import annotations

import math
import statistics
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from leverstep.marking.marking import LinePlace

BINS = 10
FEW = 5
"""Of fewer students than that the marks are told one by one, and to the teacher alone."""


@dataclass(frozen=True, slots=True)
class Marks:
    """How the marks lie, in per cent of all marks, to a tenth.

    `bins` counts the students from 0 to below 10 per cent and so on; the last holds 100 too.
    `each` has the marks one by one, the lowest first, where they are fewer than `FEW`, else none.
    """

    bins: tuple[int, ...]
    lower: Fraction
    median: Fraction
    upper: Fraction
    each: tuple[Fraction, ...] = ()

    @property
    def names_nobody(self) -> bool:
        """Return whether they may be shown to all: those of a few would tell whose they are."""
        return not self.each


@dataclass(slots=True)
class LineSums:
    """The sums over all students who tried a line.

    `rest` is what a student has beside this line: how many other lines were right at the first try.
    `rest_of_right` is its sum over those alone who had this line right at the first try.
    """

    tried: int = 0
    right: int = 0
    rest: int = 0
    rest_squared: int = 0
    rest_of_right: int = 0

    def add(self, right: bool, rest: int) -> None:
        """Add a student who tried the line."""
        self.tried += 1
        self.right += right
        self.rest += rest
        self.rest_squared += rest * rest
        self.rest_of_right += rest * right

    def add_sums(self, other: LineSums) -> None:
        """Add the sums over other students."""
        self.tried += other.tried
        self.right += other.right
        self.rest += other.rest
        self.rest_squared += other.rest_squared
        self.rest_of_right += other.rest_of_right

    @property
    def facility(self) -> Fraction | None:
        """Return the share that had the line right at the first try, 0 to 1; None without any."""
        return Fraction(self.right, self.tried) if self.tried else None

    @property
    def discrimination(self) -> float | None:
        """Return the point-biserial correlation of the line with the rest, -1 to 1.

        (mean rest of those right - mean rest of the others) / s x sqrt(p (1 - p)), with s the
        standard deviation of the rest over all and p the facility: R. F. Tate, Correlation between
        a discrete and a continuous variable, Ann. Math. Statist. 25 (1954) 603-607. The line itself
        is left out of the total, with which it would agree by nature: S. Henrysson, Correction of
        item-total correlations in item analysis, Psychometrika 28 (1963) 211-218.

        None where all are right or none is, or where the rest is the same for all.
        """
        others = self.tried - self.right
        spread = self.tried * self.rest_squared - self.rest**2  # tried² s²
        if not self.right or not others or not spread:
            return None
        apart = Fraction(self.rest_of_right, self.right)
        apart -= Fraction(self.rest - self.rest_of_right, others)
        return float(apart) * math.sqrt(Fraction(self.right * others, spread))


def stands_out(
    on: Counter[LinePlace], tries: Counter[LinePlace], students: int
) -> LinePlace | None:
    """Return the place at which more than half of so many students slipped, None without any.

    Of places with as many students it is the one with most tries, None where that is a tie.
    """
    ranks = sorted(((on[place], tries[place], place) for place in on), reverse=True)
    first, second = ranks[0], ranks[1] if len(ranks) > 1 else None
    if 2 * first[0] <= students or (second and first[:2] == second[:2]):
        return None
    return first[2]


def weight(on: Counter[LinePlace], facility: Mapping[LinePlace, Fraction | None]) -> Fraction:
    """Return how much there is to teach: students times the share not right at once.

    It is summed over all places where a slip was made, each with the students who made it there.
    """
    return sum(
        (count * (1 - (facility.get(place) or Fraction(0))) for place, count in on.items()),
        Fraction(0),
    )


def spread(percents: Counter[int]) -> Marks | None:
    """Return how marks lie, from the students counted by tenths of a per cent.

    Quartiles are interpolated as definition 7 of R. J. Hyndman and Y. Fan, Sample quantiles in
    statistical packages, The American Statistician 50 (1996) 361-365.
    """
    values = [Fraction(tenths, 10) for tenths in sorted(percents.elements())]
    if not values:
        return None
    each = tuple(values) if len(values) < FEW else ()
    bins = Counter(min(BINS - 1, int(value) * BINS // 100) for value in values)
    if len(values) == 1:
        values *= 2  # quantiles are asked of two at least; all are this one
    lower, median, upper = statistics.quantiles(values, n=4, method="inclusive")
    return Marks(tuple(bins[place] for place in range(BINS)), lower, median, upper, each)
