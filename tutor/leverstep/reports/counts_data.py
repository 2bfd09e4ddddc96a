"""Counts as data that JSON can hold, and back: so that those of several parts may be added up."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Hashable, Iterable
from fractions import Fraction
from typing import Any, TypeVar

from leverstep.marking.marking import LinePlace

Key = TypeVar("Key", bound=Hashable)

LONGEST = 1000
"""Characters of a text in such data."""

MOST = 10**12
"""No count of a course is larger."""

_EXACT = re.compile(r"[0-9]+(/[1-9][0-9]*)?")


def whole(value: object) -> int:
    """Return a count.

    Raises:
        ValueError: where it is none.
    """
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= MOST:
        raise ValueError("a count is none")
    return value


def word(value: object) -> str:
    """Return a text of one line; ValueError where it is none."""
    if not isinstance(value, str) or len(value) > LONGEST or not value.isprintable():
        raise ValueError("a text is none")
    return value


def exact(value: object) -> Fraction:
    """Return a sum as it was written, such as 7/4; ValueError where it is none."""
    if not _EXACT.fullmatch(word(value)):
        raise ValueError("a sum is none")
    return Fraction(word(value))


def place(value: object) -> LinePlace:
    """Return a line of a task; ValueError where it is none."""
    if not isinstance(value, list) or len(value) != 3:
        raise ValueError("a line is none")
    return LinePlace(whole(value[0]), word(value[1]), word(value[2]))


def counts_as_data(counts: Counter[Any]) -> list[list[object]]:
    """Return counts as pairs, in the order of what is counted; tuples become lists."""
    pairs = sorted((list(k) if isinstance(k, tuple) else k, n) for k, n in counts.items() if n)
    return [[key, count] for key, count in pairs]


def pairs_of(data: object) -> Iterable[tuple[Any, Any]]:
    """Yield pairs of data; ValueError where there are none."""
    if not isinstance(data, list):
        raise ValueError("a list is none")
    for pair in data:
        if not isinstance(pair, list) or len(pair) != 2:
            raise ValueError("a pair is none")
        yield pair[0], pair[1]
