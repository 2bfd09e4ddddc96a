"""Measures of one line over a class, from sums that take no more room for more students."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction


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
