"""Marks under the exceptions for single students: set by hand, and what is told of all exceptions.

What is told here is meant so, and no reason to look at a record.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from leverstep.course.decimals import percent
from leverstep.course.phrases import counted
from leverstep.course.plain_text import plain
from leverstep.drill.drill import Drill
from leverstep.drill.exceptions import allowed_told, by_hand_told
from leverstep.marking.marking import Marked

NO_FILE = "marks set by hand"
"""What stands for the name of a record where there is none."""


def by_hand(drill: Drill, student: str, counted_one: Marked | None) -> Marked | None:
    """Return the sitting that counts with the marks that were set by hand.

    Where there is no sitting there is one of these marks alone, if there are any. A task that was
    withdrawn earns what its withdrawal says.
    """
    allowance = drill.allowance(student)
    items = drill.task_items
    if allowance is None or not any(items[task - 1].worth for task in allowance.marks):
        return counted_one
    if counted_one is None:
        nothing = tuple(Fraction(0) for _ in drill.task_items)
        name = drill.students.get(student, "")
        counted_one = Marked(student, name, NO_FILE, "", "", True, (), (), nothing, 0, 0.0, ())
    of_withdrawn = {task: items[task - 1].worth for task in drill.withdrawn_tasks}
    marks = tuple(
        of_withdrawn.get(task, allowance.marks[task]) if task in allowance.marks else earned
        for task, earned in enumerate(counted_one.marks, 1)
    )
    by_hand = frozenset(allowance.marks) - drill.withdrawn_tasks
    return replace(counted_one, marks=marks, by_hand=by_hand)


def notes_on(drill: Drill, student: str, before: Marked | None) -> Iterator[str]:
    """Yield what is otherwise for a student, with its reason; `before` has the marks as earned."""
    if before is not None and before.days_late:
        days = counted(before.days_late, "day")
        yield f"{days} late: {percent(before.lost_late)} of the marks are lost"
    allowance = drill.allowance(student)
    if allowance is None:
        return
    told = ["excused"] if allowance.excused else list(allowed_told(drill, student))
    for task, marks in sorted({} if allowance.excused else allowance.marks.items()):
        earned = None if before is None else before.marks[task - 1]
        told.append(by_hand_told(drill, task, marks, earned))
    if told:
        yield f"exception: {', '.join(told)} ({plain(allowance.reason)})"


def numbers_changed(drill: Drill, student: str, before: Marked | None) -> Iterator[str]:
    """Yield that marks by hand name tasks by numbers which were others when the drill was sat."""
    allowance = drill.allowance(student)
    if allowance is None or before is None:
        return
    for task in sorted(allowance.numbered):
        if before.numbers_sat.get(task, task) != task or task in before.absent:
            title = drill.task_items[task - 1].title
            was = before.numbers_sat.get(task)
            then = "was not there" if was is None else f"was task {was}"
            yield (
                f"marks by hand for task {task} are for {title}, as the drill is numbered now; it "
                f"{then} when it was sat"
            )
