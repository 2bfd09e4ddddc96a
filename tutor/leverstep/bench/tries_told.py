"""How often the lines of a working may still be tried, in words."""

from __future__ import annotations

from leverstep.course.phrases import counted
from leverstep.working.verdict import Verdict
from leverstep.working.working import Working

NO_TRY = "No tries are left for this line."


def tries_after(working: Working, verdict: Verdict) -> str:
    """Return how often a line may be tried again, "" where that is not to be said."""
    rules = working.rules
    if not rules.attempts or not verdict.counts or (rules.tells and verdict.settled):
        return ""
    return _how_many_left(working, verdict.step)


def tries_at(working: Working, key: str) -> str:
    """Return what to say first of a line that is gone back to, "" where there is nothing.

    Where it stands right it may be lost, so that the tries left are said.
    """
    line = working.lines.get(key)
    if line is None or not working.rules.attempts:
        return ""
    if not working.rules.tells:
        return _how_many_left(working, key)
    return f"This line is right. {_how_many_left(working, key)}" if line.verdict.settled else ""


def _how_many_left(working: Working, key: str) -> str:
    left = working.tries_left(key)
    return f"{counted(left, 'try is', 'tries are')} left." if left else NO_TRY
