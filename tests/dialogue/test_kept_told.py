"""A working that is kept in words: when, how far, with which numbers."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from leverstep.bench.kept_workings import Unfinished
from leverstep.bench.record_note import NoteText
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.kept_told import begun_told, kept_told, when_told

NOW = datetime(2026, 11, 29, 19, 0, tzinfo=UTC)
SEESAW = load_shelf().problems["plain-seesaw"]


@pytest.mark.parametrize(
    ("time", "told"),
    [
        (datetime(2026, 11, 29, 14, 5, tzinfo=UTC), "today 14:05"),
        (datetime(2026, 11, 28, 9, 30, tzinfo=UTC), "yesterday 09:30"),
        (datetime(2026, 11, 24, 9, 30, tzinfo=UTC), "Tue 24 Nov"),
        (datetime(2025, 12, 1, 9, 30, tzinfo=UTC), "1 Dec 2025"),
        (datetime(1, 1, 1, tzinfo=UTC), ""),
        (None, ""),
    ],
)
def test_when_is_told_as_one_says_it(time: datetime | None, told: str) -> None:
    assert when_told(time, NOW) == told


def test_days_are_those_of_the_zone_at_hand() -> None:
    east = NOW.astimezone(timezone(timedelta(hours=9)))
    assert when_told(datetime(2026, 11, 29, 14, 59, tzinfo=UTC), east) == "yesterday 23:59"


def test_how_far_is_told_in_lines_or_else_in_entries() -> None:
    one = Unfinished(Path("x"), SEESAW, "4711", 1, NOW, noted=NoteText(7, 16))
    assert kept_told(one, NOW) == "today 19:00, 7 of 16 done, numbers 4711"
    assert begun_told(one, NOW).endswith("before: today 19:00, 7 of 16 done.")
    old = Unfinished(Path("x"), SEESAW, "4711", 1, is_own=True)
    assert kept_told(old, NOW) == "1 entry, numbers 4711 and your own"
