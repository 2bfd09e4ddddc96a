"""What the lines of a drill's record say, whatever stands in them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import (
    AwayLine,
    DrillBegun,
    EndLine,
    RecordLine,
    ResumedLine,
    TaskShown,
)
from leverstep.course.phrases import YEARS
from leverstep.drill.drill import Drill, Task, is_student

_HEXADECIMAL = re.compile("[0-9a-f]{64}")


def is_as_set(shown: TaskShown, task: Task) -> bool:
    """Return whether a task was shown as it is set now: its numbers, and of a bank its problem.

    What a problem is called is told of a bank alone, so that any other may be called otherwise.
    """
    is_same = not task.drawn or shown.problem == task.drawn
    return is_same and shown.givens == task.question.givens_written


def is_shown(first: RecordLine, tasks: Sequence[Task]) -> bool:
    """Return whether some tasks are those that were shown, by the first line of a record."""
    shown = first.tasks if isinstance(first, DrillBegun) else ()
    return len(shown) == len(tasks) and all(map(is_as_set, shown, tasks))


def owner_in(first: RecordLine, drill: Drill) -> str:
    """Return whose record of a drill it is by its first line, "" where it is none."""
    if not isinstance(first, DrillBegun) or first.drill != drill.id:
        return ""
    student = first.student or ""
    return drill.listed(student) if is_student(student) else ""


def digest_in(first: RecordLine) -> str:
    """Return the hash of the drill's file, as the first line of a record has it; "" for none."""
    digest = first.digest or "" if isinstance(first, DrillBegun) else ""
    return digest if _HEXADECIMAL.fullmatch(digest) else ""


def start_key_in(first: RecordLine) -> str:
    """Return the key of the start word, as the first line of a record has it; "" for none."""
    key = first.start_key or "" if isinstance(first, DrillBegun) else ""
    return key if _HEXADECIMAL.fullmatch(key) else ""


def up_to_end(found: Contents) -> Contents:
    """Return a record up to the line that handed it in: nothing is added after that.

    What is remarked on and reckoned is that of the whole record.
    """
    ends = (number for number, line in enumerate(found.lines, 1) if isinstance(line, EndLine))
    size = next(ends, len(found.lines))
    return replace(found, lines=found.lines[:size], links=found.links[:size])


def used_in(found: Contents) -> float:
    """Return how long the clock of a record has run, in seconds."""
    return max((line.used or 0.0 for line in found.lines), default=0.0)


def left_in(found: Contents, drill: Drill) -> float | None:
    """Return the seconds that a record has left by now of the minutes of a drill, None for any."""
    spent = drill.spent(used_in(found), moment_of(found.first.time), datetime.now(UTC))
    return drill.seconds_left(spent)


def moment_of(written: str | None) -> datetime | None:
    """Return a time as a line has it, in UTC; None where that makes no sense."""
    try:
        moment = datetime.fromisoformat(str(written))
    except ValueError:
        return None
    return moment.astimezone(UTC) if moment.tzinfo and moment.year in YEARS else None


def taken_up_unawares(found: Contents) -> int:
    """Return how often a sitting was gone on with that had not been left before.

    So it is after a program was killed, and where lines were cut from the end of the record. Going
    on within one run of the program names no computer, and tells nothing.
    """
    times, is_away = 0, False
    for line in found.lines:
        if isinstance(line, AwayLine):
            is_away = True
        elif isinstance(line, ResumedLine):
            times += not is_away and line.host is not None
            is_away = False
    return times
