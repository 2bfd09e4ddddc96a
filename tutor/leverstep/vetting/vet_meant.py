"""What a file says that its author may not have meant: a joint, a class of lever."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from leverstep.course.faults import Fault
from leverstep.course.plain_text import near
from leverstep.course.problem import Problem, Question
from leverstep.statics import kinds
from leverstep.working.writing import value_text


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
