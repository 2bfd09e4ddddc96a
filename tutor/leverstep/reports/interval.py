"""The intervals in which differences lie: of a mean of pairs, of two means, of two shares."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

_HALVINGS = 60
_MOST = 1000.0
"""No t is larger: with one degree of freedom, 95 % lie within 12.7."""

LEAST = 10
"""Of fewer students than that no interval is given, and no line named: they are too few."""

SURE = 0.95


def mean_interval(differences: Sequence[Fraction]) -> tuple[float, float] | None:
    """Return from where to where the mean of paired differences lies, with 95 % confidence.

    mean ± t s / sqrt(n), with s the standard deviation of the differences and t that of n - 1
    degrees of freedom: Student, The probable error of a mean, Biometrika 6 (1908) 1-25.

    None for fewer than two, or where all are the same and so tell no spread.
    """
    count = len(differences)
    if count < 2 or len(set(differences)) == 1:
        return None
    mean = float(statistics.mean(differences))
    half = student_t(count - 1) * statistics.stdev(map(float, differences)) / math.sqrt(count)
    return mean - half, mean + half


@dataclass(slots=True)
class Sums:
    """How many values there are, their sum and that of their squares; those of parts add up."""

    count: int = 0
    total: Fraction = Fraction(0)
    squares: Fraction = Fraction(0)

    def add(self, value: Fraction) -> None:
        """Add a value."""
        self.count += 1
        self.total += value
        self.squares += value * value

    def add_sums(self, other: Sums) -> None:
        """Add the sums of other values."""
        self.count += other.count
        self.total += other.total
        self.squares += other.squares

    @property
    def mean(self) -> Fraction:
        """Return the mean of all values, of which there is one at least."""
        return self.total / self.count

    @property
    def error(self) -> Fraction:
        """Return the square of the standard error of the mean, of two values at least."""
        spread = self.squares - self.total * self.total / self.count
        return spread / (self.count - 1) / self.count


def means_interval(then: Sums, now: Sums) -> tuple[float, float] | None:
    """Return from where to where the difference of two means lies, with 95 % confidence.

    B. L. Welch, The generalization of "Student's" problem when several different population
    variances are involved, Biometrika 34 (1947) 28-35; the degrees of freedom by
    F. E. Satterthwaite, An approximate distribution of estimates of variance components, Biometrics
    Bulletin 2 (1946) 110-114, rounded down, which makes it no narrower.

    None for fewer than two of either, or where neither has a spread.
    """
    if min(then.count, now.count) < 2 or not then.error + now.error:
        return None
    both = then.error + now.error
    freedom = both**2 / sum(one.error**2 / (one.count - 1) for one in (then, now))
    half = student_t(int(freedom)) * math.sqrt(both)
    change = float(now.mean - then.mean)
    return change - half, change + half


def shares_interval(then: tuple[int, int], now: tuple[int, int]) -> tuple[float, float]:
    """Return from where to where the difference of two shares lies, with 95 % confidence.

    From the score intervals of both: R. G. Newcombe, Interval estimation for the difference between
    independent proportions: comparison of eleven methods, Statistics in Medicine 17 (1998) 873-890,
    method 10.

    Args:
        then: how many of how many, of one at least.
        now: the same for the other share, from which the first is taken.
    """
    (least, most), (low, high) = _score_interval(*then), _score_interval(*now)
    before, after = then[0] / then[1], now[0] / now[1]
    change = after - before
    down = math.hypot(after - low, most - before)
    up = math.hypot(high - after, before - least)
    return change - down, change + up


def _score_interval(count: int, of: int) -> tuple[float, float]:
    """Return from where to where a share lies, with 95 % confidence.

    E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of
    the American Statistical Association 22 (1927) 209-212.
    """
    z = statistics.NormalDist().inv_cdf((1 + SURE) / 2)
    middle = (count + z * z / 2) / (of + z * z)
    half = z / (of + z * z) * math.sqrt(count * (of - count) / of + z * z / 4)
    return max(0.0, middle - half), min(1.0, middle + half)


def student_t(freedom: int) -> float:
    """Return the t within which, to both sides, 95 % lie with so many degrees of freedom."""
    low, high = 0.0, _MOST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, freedom) < SURE else (low, middle)
    return high


def _within(t: float, freedom: int) -> float:
    """Return the share of Student's distribution from -t to t.

    M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964), 26.7.3 and 26.7.4.
    """
    angle = math.atan(t / math.sqrt(freedom))
    sine, cosine = math.sin(angle), math.cos(angle)
    is_odd = freedom % 2
    term = cosine if is_odd else 1.0
    total = 0.0 if freedom == 1 else term
    for power in range(2 + is_odd, freedom - 1, 2):
        term *= (power - 1) / power * cosine**2
        total += term
    return 2 / math.pi * (angle + sine * total) if is_odd else sine * total
