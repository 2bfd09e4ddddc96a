"""The marks of a task: the shares that its lines earn, and what they come to together."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Protocol

from leverstep.course.decimals import half_up
from leverstep.drill.drill import ONE, Drill, Feedback, Hints, Task, Withdrawn
from leverstep.statics.step import Step
from leverstep.working.rules import Rung
from leverstep.working.verdict import Outcome

NOTHING, WHOLE = Fraction(0), ONE
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


class Earning(Protocol):
    """What shares the marks of a task: a line, a diagram, or what was found of a slip."""

    @property
    def share(self) -> Fraction:
        """The share of its own marks that it earned, from 0 to 1."""

    @property
    def weight(self) -> Fraction:
        """What it counts beside the others."""


def share_earned(earning: Sequence[Earning]) -> Fraction:
    """Return the share of the marks of a task that was earned by some parts, one at least."""
    earned = (
        one.weight if one.share is WHOLE else one.weight * one.share for one in earning if one.share
    )
    return _sum(earned) / weight_of(earning)


def weight_of(earning: Iterable[Earning]) -> Fraction:
    """Return what all that shares the marks of a task counts together."""
    return _sum(one.weight for one in earning)


def _sum(parts: Iterable[Fraction]) -> Fraction:
    """Return the sum of some numbers, most of which are whole: these are added sooner as such."""
    known = list(parts)
    whole = sum(one.numerator for one in known if one.denominator == 1)
    return sum((one for one in known if one.denominator != 1), Fraction(whole))


def marks_of(task: Task, earning: Sequence[Earning], left: Fraction) -> Fraction:
    """Return the marks of a task by what its lines, diagrams and findings earn.

    Of them the share is `left` that comes of when they were made; withdrawn ones stay whole. One
    without any was not in the drill, and earns nothing.

    They are rounded to hundredths, half up, as they are shown, so that what is shown adds up.
    """
    if task.withdrawn is Withdrawn.FULL_MARKS:
        return task.marks
    if not earning:
        return NOTHING
    marks = left * task.marks * share_earned(earning)
    return Fraction(half_up(100 * marks), 100)


def marks_each(task: Task, weight: Fraction) -> Fraction:
    """Return the marks of what counts 1, where all that shares them counts so much together."""
    return task.marks / weight


def marks_by_weight(task: Task, steps: Collection[Step]) -> Mapping[str, Fraction]:
    """Return the marks of each of the lines asked for, by key, where they alone share them."""
    weights = {step.key: task.weight(step) for step in steps}
    each = marks_each(task, sum(weights.values(), NOTHING))
    return {key: weight * each for key, weight in weights.items()}
