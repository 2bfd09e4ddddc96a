"""Lines that students with the same numbers write alike, judged once for all of them."""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.bench.bench import Bench
from leverstep.drill.drill import Drill
from leverstep.marking.as_shown import AsShown
from leverstep.working.judged_before import JudgedBefore

_JUDGED = JudgedBefore()


def know_lines(drill: Drill, shown: AsShown, benches: Iterable[Bench]) -> None:
    """Have the benches of a record take lines that were judged in others with the same numbers.

    Args:
        drill: what is marked, for its student.
        shown: the tasks of the record; by numbers that it tells itself nothing is known.
        benches: those of the tasks, in order.
    """
    items = drill.task_items
    for task, bench in zip(shown.tasks, benches, strict=True):
        if items[task.number - 1].fixed and task.number not in shown.recorded:
            bench.working.judged_before = _JUDGED
