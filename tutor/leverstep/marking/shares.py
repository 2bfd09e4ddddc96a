"""The marks of a task: the shares that its lines earn, and what they come to together."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from leverstep.course.decimals import half_up
from leverstep.drill.drill import Drill, Feedback, Hints, Task, Withdrawn
from leverstep.working.rules import Rung
from leverstep.working.verdict import Outcome

NOTHING, WHOLE = Fraction(0), Fraction(1)
"""The least and the most share of its marks that a line earns."""


def share_of(drill: Drill, outcome: Outcome | None, wrong: int, hints: Sequence[Rung]) -> Fraction:
    """Return the share of its marks that a line earns after some wrong tries and hints."""
    if outcome not in (Outcome.RIGHT, Outcome.FOLLOWED):
        return NOTHING
    scheme = drill.scheme
    share = scheme.follow_through if outcome is Outcome.FOLLOWED else WHOLE
    if wrong and drill.feedback is Feedback.EACH:
        share -= scheme.wrong_try * wrong
    if drill.hints is Hints.COST:
        share -= sum((scheme.hint[rung] for rung in hints), NOTHING)
    return max(NOTHING, share)


def marks_of(task: Task, shares: Sequence[Fraction], left: Fraction) -> Fraction:
    """Return the marks of a task whose lines, diagrams and findings, of one weight, earn shares.

    Of them the share is `left` that comes of when they were made; withdrawn ones stay whole. One
    without any was not in the drill, and earns nothing.

    They are rounded to hundredths, half up, as they are shown, so that what is shown adds up.
    """
    if task.withdrawn is Withdrawn.FULL_MARKS:
        return task.marks
    if not shares:
        return NOTHING
    whole = sum(share == WHOLE for share in shares)  # most are whole or nothing: quick to add
    parts = [share for share in shares if share and share != WHOLE]
    marks = left * marks_each(task, len(shares)) * (whole + sum(parts, NOTHING))
    return Fraction(half_up(100 * marks), 100)


def marks_each(task: Task, lines: int) -> Fraction:
    """Return the marks of one of so many lines asked for, diagrams and findings among them."""
    return task.marks / lines
