"""Records of practice among those of a drill: whoever had the numbers of a task practised them.

Practice tells at once what is right, and works lines out. So a student who practises with the very
numbers of a drill, which follow from its id and the student's, may know its answers.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from leverstep.bench.record_lines import PracticeBegun
from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill
from leverstep.drill.lines import moment_of
from leverstep.marking.marking import Marked, tasks_marked


@dataclass(frozen=True, slots=True)
class PractisedNumbers:
    """A record of practice: what it is called, its problem, what was given, and when it began."""

    record: str
    problem: str
    givens: Mapping[str, str]
    begun: str

    @classmethod
    def of(cls, name: str, first: PracticeBegun) -> PractisedNumbers:
        """Return what the first line of a record says."""
        return cls(name, first.problem or "", first.givens or {}, first.time or "")


def practised_remarks(
    drill: Drill, sitting: Marked, practised: Collection[PractisedNumbers]
) -> Iterator[str]:
    """Yield for which tasks of a sitting the very numbers were practised before it was over.

    Tasks with the same numbers for all tell nothing of anybody.
    """
    if not practised or not sitting.is_marked:
        return
    last = moment_of(sitting.last)
    for task in tasks_marked(drill.for_student(sitting.student), sitting):
        if drill.task_items[task.number - 1].fixed:
            continue
        shown = task.question.problem.id, task.question.givens_written
        for one in practised:
            if (one.problem, one.givens) != shown:
                continue
            begun = moment_of(one.begun)
            if begun is None or last is None or begun <= last:
                yield f"the numbers of task {task.number} were practised: {plain(one.record)}"
