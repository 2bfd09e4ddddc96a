"""What the lines of a drill's record say, whatever stands in them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

from leverstep.bench.record import Contents
from leverstep.course.phrases import YEARS
from leverstep.drill.drill import Drill, is_student

_LONGEST_CLOCK = 10**8
"""Seconds; no sitting is open for years."""

_KEY = re.compile("[0-9a-f]{64}")

Line = Mapping[str, object]


def shown_in(first: Line) -> list[object]:
    """Return what was shown as given in each task, as the first line of a record has it."""
    tasks = first.get("tasks")
    listed = tasks if isinstance(tasks, list) else []
    return [task.get("givens") if isinstance(task, dict) else None for task in listed]


def owner_in(first: Line, drill: Drill) -> str:
    """Return whose record of a drill it is by its first line, "" where it is none."""
    student = first.get("student")
    if (first.get("kind"), first.get("drill")) != ("drill", drill.id):
        return ""
    return drill.listed(student) if isinstance(student, str) and is_student(student) else ""


def start_key_in(first: Line) -> str:
    """Return the key of the start word, as the first line of a record has it; "" for none."""
    key = first.get("start_key")
    return key if isinstance(key, str) and _KEY.fullmatch(key) else ""


def up_to_end(found: Contents) -> Contents:
    """Return a record up to the line that handed it in: nothing is added after that.

    What is remarked on and reckoned is that of the whole record.
    """
    kinds = [line.get("kind") for line in found.lines]
    size = kinds.index("end") + 1 if "end" in kinds else len(kinds)
    return replace(found, lines=found.lines[:size], links=found.links[:size])


def used_in(found: Contents) -> float:
    """Return how long the clock of a record has run, in seconds."""
    return max((clock_of(line) or 0.0 for line in found.lines), default=0.0)


def clock_of(line: Line) -> float | None:
    """Return the clock of a line, in seconds; None where it makes no sense."""
    used = line.get("used")
    if isinstance(used, bool) or not isinstance(used, int | float):
        return None
    return float(used) if 0 <= used <= _LONGEST_CLOCK else None


def time_of(line: Line) -> datetime | None:
    """Return when a line was written, in UTC; None where that makes no sense."""
    try:
        moment = datetime.fromisoformat(str(line.get("time")))
    except ValueError:
        return None
    return moment.astimezone(UTC) if moment.tzinfo and moment.year in YEARS else None


def task_of(line: Line) -> int:
    """Return the number of the task that a line is about, 0 where it is about none."""
    number = line.get("task")
    return number if isinstance(number, int) and not isinstance(number, bool) else 0


def taken_up_unawares(found: Contents) -> int:
    """Return how often a sitting was gone on with that had not been left before.

    So it is after a program was killed, and where lines were cut from the end of the record. Going
    on within one run of the program names no computer, and tells nothing.
    """
    times, is_away = 0, False
    for line in found.lines:
        if line.get("kind") == "away":
            is_away = True
        elif line.get("kind") == "resumed":
            times += not is_away and "host" in line
            is_away = False
    return times
