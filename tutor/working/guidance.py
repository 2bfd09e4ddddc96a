"""How much a student is led: every line asked for, landmarks only, or a blank sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # so that the command line and the first screen need not wait for it
    from tutor.statics.step import Step


class Guidance(StrEnum):
    """The three degrees of guidance."""

    LINES = "lines"
    LANDMARKS = "landmarks"
    BLANK = "blank"

    @property
    def free(self) -> bool:
        """Return whether the student decides which line comes next."""
        return self is not Guidance.LINES


_FOUND = (
    "effort",
    "mass",
    "distance_found",
    "net_moment",
    "advantage",
    "arm_ratio",
    "class",
    "reaction_size",
    "reaction_direction",
)
_PARTS = ("reaction_x", "reaction_y")


def led_to(steps: tuple[Step, ...], guidance: Guidance) -> tuple[Step, ...]:
    """Return the steps that a student is asked for, in their order.

    A blank sheet asks for what is to be found, landmarks for the sum of the moments too; all other
    lines are the student's own choice.
    """
    if guidance is Guidance.LINES:
        return steps
    kinds = {step.kind for step in steps}
    wanted = set(_FOUND) if kinds & set(_FOUND) else {"sum"}
    if "reaction_size" not in kinds:
        wanted |= set(_PARTS)
    if guidance is Guidance.LANDMARKS or not kinds & {"effort", "mass", "net_moment", *_PARTS}:
        wanted.add("sum" if "sum" in kinds else "moment")
    return tuple(step for step in steps if step.kind in wanted)


def leading_to(goal: Step, steps: Iterable[Step], written: set[str]) -> tuple[Step, ...]:
    """Return the lines that lead to one of them, itself the last.

    Args:
        goal: where they lead.
        steps: all lines of the working, each after those that it rests on.
        written: keys of all lines that have a value, right or not: what they rest on may be left.
    """
    by_key = {step.key: step for step in steps}
    needed: set[str] = set()
    waiting = [goal.key]
    while waiting:
        key = waiting.pop()
        needed.add(key)
        waiting += [u for u in _rests_on(by_key[key]) if u in by_key and u not in written | needed]
    return tuple(step for key, step in by_key.items() if key in needed)


def _rests_on(step: Step) -> Iterable[str]:
    """Return the quantities that stand in a line; for one in words, all that it uses."""
    return re.findall(r"\{(\w+)\}", step.written) or step.uses
