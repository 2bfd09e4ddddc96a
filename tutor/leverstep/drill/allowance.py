"""What holds for one student alone, and what is lost by working after a drill was due."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from fractions import Fraction

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Allowance:
    """An exception for one student, and its reason. What is None is as for everybody.

    `factor` is that of the minutes of the drill. `marks` are those set by hand, by the number of
    the task in the drill as it is, and `numbered` those of these tasks that were named by their
    number and not by an id; `passed` are ids of no task of this drill, where an exception that
    names no drill has marks for them, so that they are of another one. Who is `excused` has no
    marks, and is not missed. `plain` has the drill sat in plain lines.
    """

    reason: str
    minutes: int | None = None
    factor: Fraction | None = None
    due: datetime | None = None
    closes: datetime | None = None
    attempts: int | None = None
    sittings: int | None = None
    excused: bool = False
    plain: bool = False
    marks: Mapping[int, Fraction] = field(default_factory=dict, hash=False)
    numbered: frozenset[int] = frozenset()
    passed: tuple[str, ...] = ()

    def minutes_of(self, minutes: int) -> int:
        """Return how many minutes there are in place of those of the drill."""
        if self.minutes is not None:
            return self.minutes
        return minutes if self.factor is None else math.ceil(minutes * self.factor)


@dataclass(frozen=True)
class Late:
    """When a drill is due, and what is lost after that and some minutes of `grace`.

    `per_day` is the share of the marks that each day begun costs; `floor` the share that is left
    at least.
    """

    due: datetime
    grace: int = 0
    per_day: Fraction = Fraction(1, 10)
    floor: Fraction = Fraction(0)

    def days(self, last: datetime | None) -> int:
        """Return how many days late a moment is, each that has begun counted; 0 where unknown."""
        if last is None:
            return 0
        over = last - self.due - timedelta(minutes=self.grace)
        return max(0, math.ceil(over / _DAY))

    def share(self, days: int) -> Fraction:
        """Return the share of the marks that is left after some days."""
        return max(self.floor, 1 - self.per_day * days)
