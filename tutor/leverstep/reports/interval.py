"""The interval in which a mean difference lies, by Student's t for paired differences."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from fractions import Fraction

_HALVINGS = 60
_MOST = 1000.0
"""No t is larger: with one degree of freedom, 95 % lie within 12.7."""

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
