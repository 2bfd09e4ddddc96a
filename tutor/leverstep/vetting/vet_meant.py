"""What a file says that its author may not have meant: a turn, a joint, a class of lever."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from leverstep.course.faults import Fault
from leverstep.course.plain_text import near
from leverstep.course.posture_checks import table_of
from leverstep.course.problem import Problem, Question
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.step import Draft
from leverstep.statics.turn import from_segment
from leverstep.working.writing import value_text

_SURE = 0.99
"""The sine of the angle to the segment from where on a force turns it as its direction says."""

_HARDLY = 0.01
"""The sine from where down a force points along the segment, and may turn it either way."""


def unlikely_turns(problem: Problem, file: str, *, sure: bool) -> Iterator[Fault]:
    """Yield the moment arms said to turn the other way than direction and side of the axis do.

    Args:
        problem: what is vetted.
        file: what its file is called.
        sure: whether to yield those of forces across the segment, which can't turn it so, or those
            of slanting ones, whose line of action may pass the axis on its other side.
    """
    draft = Draft(problem.posture, problem.middle)
    for force in problem.posture.forces:
        if force.turns is None:
            continue
        sine = _sine_about(draft, force)
        if sine * force.turns < -_HARDLY and (abs(sine) > _SURE) is sure:
            said, other = ("counter-clockwise", "clockwise")[:: force.turns]
            side = "far" if force.at.beyond else "near"
            found = f'{force.symbol} is said to turn "{said}", but by its direction, on the {side}'
            found += f' side of the axis, it turns "{other}"'
            if not sure:
                found += ", unless its line of action passes the axis on the other side"
            place = f"{table_of(problem.posture, force)}.at.turns"
            yield Fault(file, place, found, f'"{other}", or another direction')


def _sine_about(draft: Draft, force: Force) -> float:
    """Return the sine of the angle from the segment to a force, turned by its side of the axis."""
    degrees = draft.degrees(from_segment(draft, force), force)
    return math.sin(math.radians(degrees)) * (-1 if force.at.beyond else 1)


def unlikely_joint(problem: Problem, file: str, joints: Iterable[str]) -> Iterator[Fault]:
    """Yield a remark where the joint of a problem is new, and nearly called as another is."""
    there = set(joints)
    meant = "" if not there or problem.joint in there else near(problem.joint, there)
    if meant:
        found = f'no problem that ships has the joint "{problem.joint}"{meant}'
        yield Fault(file, "joint", found, "a joint there is, or a new one")


def varying_class(drawn: Sequence[Question], file: str) -> Iterator[Fault]:
    """Yield a remark where the class of lever is another with other numbers."""
    found: Counter[str] = Counter()
    for question in drawn:
        step = next((s for s in question.derivation.asked if s.kind is kinds.LEVER_CLASS), None)
        if step is not None:
            found[value_text(step, question.right[step.key])] += 1
    if len(found) > 1:
        each = ", ".join(f"{word} with {times}" for word, times in found.most_common())
        told = f"it is not the same for all students: of {len(drawn)} numbers it is {each}"
        yield Fault(file, "the line class", told, "numbers of one class")
