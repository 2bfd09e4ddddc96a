"""How often a wrong PIN was typed, kept from one start of the program to the next.

It is kept in the user's data: who may change that, or works under another account, can begin anew.
"""

from __future__ import annotations

import json
import math
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from leverstep.course.places import home, put_by
from leverstep.course.plain_files import read_text
from leverstep.drill.drill import same_student
from leverstep.drill.lines import moment_of

MOST_WRONG = 5
"""Wrong PINs after which there is a wait."""

WAIT = timedelta(minutes=5)

_MOST_KEPT, _LARGEST = 500, 1_000_000
"""Students whose tries are kept, the latest; bytes of the file that will be read."""


def tries_left(drill: str, student: str) -> int:
    """Return how often a student may type a wrong PIN before a wait: at least once."""
    count, _ = _kept().get(_whose(drill, student), (0, None))
    return max(1, MOST_WRONG - count % MOST_WRONG)


def seconds_to_wait(drill: str, student: str, now: datetime) -> int:
    """Return how long a student has to wait before another PIN is looked at, 0 for not at all.

    Where the clock was set back it is the whole wait, and no more.
    """
    count, last = _kept().get(_whose(drill, student), (0, None))
    if not count or count % MOST_WRONG or last is None:
        return 0
    left = (last + WAIT - now).total_seconds()
    if left > WAIT.total_seconds():
        _put(drill, student, count, now)
        left = WAIT.total_seconds()
    return max(0, math.ceil(left))


def note_wrong(drill: str, student: str, now: datetime) -> None:
    """Count a wrong PIN."""
    count, _ = _kept().get(_whose(drill, student), (0, None))
    _put(drill, student, count + 1, now)


def note_right(drill: str, student: str) -> None:
    """Forget what was counted of a student."""
    if _whose(drill, student) in _kept():
        _put(drill, student, 0, None)


def _place() -> Path:
    return home() / "pin-tries.json"


def _whose(drill: str, student: str) -> str:
    return f"{drill} {same_student(student)}"


def _put(drill: str, student: str, count: int, last: datetime | None) -> None:
    """Keep the count of a student, the latest first; none where it is 0."""
    whose = _whose(drill, student)
    kept = {key: value for key, value in _kept().items() if key != whose}
    both = {whose: (count, last), **kept} if count else kept
    lines = {
        key: [number, moment.isoformat() if moment else ""]
        for key, (number, moment) in list(both.items())[:_MOST_KEPT]
    }
    put_by(_place(), json.dumps(lines))


def _kept() -> dict[str, tuple[int, datetime | None]]:
    """Return what is kept that makes sense."""
    with suppress(OSError, ValueError, RecursionError):
        lines = json.loads(read_text(_place(), _LARGEST))
        items = lines.items() if isinstance(lines, dict) else ()
        return {key: found for key, value in items if (found := _read(value)) is not None}
    return {}


def _read(value: object) -> tuple[int, datetime | None] | None:
    """Return a count and the time of the last, None where that makes no sense."""
    if not isinstance(value, list) or len(value) != 2:
        return None
    count, last = value
    if type(count) is not int or not 0 < count < 10**6:
        return None
    moment = moment_of(last)
    return count, datetime.now(UTC) if moment is None else moment
