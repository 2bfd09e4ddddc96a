"""How much a student is led: every line asked for, landmarks only, a blank sheet, or an example.

In the last, lines are shown: all of a first working of a kind, then fewer from one to the next.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import TYPE_CHECKING

from leverstep.statics import kinds

if TYPE_CHECKING:  # so that the command line and the first screen need not wait for it
    from leverstep.statics.step import Step


class Guidance(StrEnum):
    """The degrees of guidance."""

    LINES = "lines"
    LANDMARKS = "landmarks"
    BLANK = "blank"
    FADING = "fading"

    @property
    def free(self) -> bool:
        """Return whether the student decides which line comes next."""
        return self in (Guidance.LANDMARKS, Guidance.BLANK)


FOR_ALL = (Guidance.LINES, Guidance.LANDMARKS, Guidance.BLANK)
"""The degrees that rest on nothing a student did before: those of a whole drill and of paper."""

FIRST_OPEN = 2
"""So many lines at the end of an example are the student's own, once one was shown whole."""


_COMPONENTS = {
    *(kinds.REACTION_X, kinds.REACTION_Y, kinds.REACTION_AXIAL, kinds.REACTION_TRANSVERSE),
    *(kinds.RESULTANT_X, kinds.RESULTANT_Y),
}
_OF_A_FORCE = {kinds.COMPONENT_AXIAL, kinds.COMPONENT_TRANSVERSE}
"""What is found where a force alone is resolved."""
_OF_ALL_PARTS = {
    kinds.WEIGHT_MOMENT_SUM, kinds.MASS_MOMENT_SUM, kinds.TOTAL_WEIGHT, kinds.TOTAL_MASS,
}  # fmt: skip


def led_to(steps: tuple[Step, ...], guidance: Guidance) -> tuple[Step, ...]:
    """Return the steps that a student is asked for, in their order.

    A blank sheet asks for what is to be found, landmarks for the sum of the moments too, and the
    total of the parts of a body; all other lines are the student's own choice. Where the first
    lines are shown, whoever shows them takes them out.
    """
    if not guidance.free:
        return steps
    there = {step.kind for step in steps}
    wanted = {kind for kind in there if kind.found} or {kinds.SUM}
    if kinds.REACTION_SIZE not in there:
        wanted |= _COMPONENTS
    if not any(kind.part in (kinds.Part.REACTION, kinds.Part.RESULTANT) for kind in there):
        wanted |= _OF_A_FORCE
    is_short = not there & {kinds.EFFORT, kinds.MASS, kinds.NET_MOMENT, *_COMPONENTS}
    if kinds.CENTRE_X in there or kinds.CENTRE_Y in there:
        if guidance is Guidance.LANDMARKS:
            wanted |= _OF_ALL_PARTS
    elif guidance is Guidance.LANDMARKS or is_short:
        wanted.add(kinds.SUM if kinds.SUM in there else kinds.MOMENT)
    return tuple(step for step in steps if step.kind in wanted)


def lines_open(lines: int, stage: int) -> int:
    """Return how many of the last lines are open: none at first, two, half of them, then all.

    Args:
        lines: how many lines the working has.
        stage: how far examples of its kind have faded for the student, 0 for not at all.
    """
    stages = (0, FIRST_OPEN, max(FIRST_OPEN + 1, -(-lines // 2)), lines)
    return min(lines, stages[min(stage, len(stages) - 1)])


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
        waiting += [
            u
            for u in by_key[key].quantities or by_key[key].uses
            if u in by_key and u not in written | needed
        ]
    return tuple(step for key, step in by_key.items() if key in needed)
