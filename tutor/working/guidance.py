"""How much a student is led: every line asked for, landmarks only, or a blank sheet."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from tutor.statics.step import Step


class Guidance(StrEnum):
    """The three degrees of guidance."""

    LINES = "lines"
    LANDMARKS = "landmarks"
    BLANK = "blank"


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


def still_missing(
    steps: Iterable[Step], led: Iterable[Step], settled: set[str], written: set[str]
) -> tuple[Step, ...]:
    """Return the lines that lead to the first thing still to be found, itself the last of them.

    Args:
        steps: all lines of the working, each after those that it rests on.
        led: those that are asked for.
        settled: keys of the lines that stand.
        written: keys of all lines that have a value, right or not: what they rest on may be left.
    """
    by_key = {step.key: step for step in steps}
    goal = next((step for step in led if step.key not in settled), None)
    if goal is None:
        return ()
    needed: set[str] = set()
    waiting = [goal.key]
    while waiting:
        key = waiting.pop()
        needed.add(key)
        waiting += [u for u in by_key[key].uses if u in by_key and u not in written | needed]
    return tuple(step for key, step in by_key.items() if key in needed)
