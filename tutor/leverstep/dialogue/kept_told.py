"""A working that is kept in words: when it was worked at, how far it came, with which numbers."""

from __future__ import annotations

from datetime import datetime, timedelta

from leverstep.bench.kept_workings import Unfinished
from leverstep.course.phrases import YEARS, counted

ANEW_KEEPS = "What you began is kept, even if you start again."


def when_told(time: datetime | None, now: datetime) -> str:
    """Return when something was, for a list: `today 14:05`, `Tue 24 Nov`; "" for no time.

    Args:
        time: with its zone.
        now: what counts as now, with the zone that days are of.
    """
    if time is None or time.year not in YEARS:
        return ""
    local = time.astimezone(now.tzinfo)
    day, today = local.date(), now.date()
    if day == today:
        return f"today {local:%H:%M}"
    if day == today - timedelta(days=1):
        return f"yesterday {local:%H:%M}"
    if day.year == today.year:
        return f"{local:%a} {local.day} {local:%b}"
    return f"{local.day} {local:%b %Y}"


def far_told(one: Unfinished) -> str:
    """Return how far a working came: `7 of 16 done`, or its entries where that is not known."""
    noted = one.noted
    if noted.done is None or noted.asked is None:
        return counted(one.entries, "entry", "entries")
    return f"{noted.done} of {noted.asked} done"


def numbers_told(one: Unfinished) -> str:
    """Return with which numbers it is worked: `numbers 4711`."""
    return f"numbers {one.seed}{' and your own' if one.is_own else ''}"


def kept_told(one: Unfinished, now: datetime) -> str:
    """Return all of it: `today 14:05, 7 of 16 done, numbers 4711`."""
    parts = (when_told(one.latest, now), far_told(one), numbers_told(one))
    return ", ".join(part for part in parts if part)


def begun_told(one: Unfinished, now: datetime) -> str:
    """Return that the very question was begun before, in a sentence."""
    parts = (when_told(one.latest, now), far_told(one))
    told = ", ".join(part for part in parts if part)
    return f"You began this problem with these very numbers before: {told}."
