"""Which lines of a record were written in time, and so count."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from leverstep.bench.record_lines import RecordLine
from leverstep.drill.drill import Drill

GRACE = 5.0
"""Seconds after the end of the time in which an entry that was begun before still counts."""


class Timed(NamedTuple):
    """A line with its link, the clock in seconds and the time in UTC when it was written."""

    line: RecordLine
    link: str
    clock: float
    moment: datetime | None


def is_in_time(drill: Drill, one: Timed, begun: datetime | None) -> bool:
    """Return whether a line was written before the drill closed, and within its minutes."""
    if drill.closes is not None and one.moment is not None and one.moment > drill.closes:
        return False
    if drill.minutes is None:
        return True
    return drill.spent(one.clock, begun, one.moment) <= 60 * drill.minutes + GRACE
