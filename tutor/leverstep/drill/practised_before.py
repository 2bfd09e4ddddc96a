"""Whether the numbers of a sitting were practised on its computer before it began.

Practice tells at once what is right, and the numbers of a drill without a start word can be worked
out from its id and the student's. So the record says it, whatever becomes of the record of the
practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from itertools import islice

from leverstep.bench.practice import records_there_are
from leverstep.bench.record import RecordError, head_of
from leverstep.bench.record_lines import PracticeBegun
from leverstep.drill.drill import Task

MOST = 2000
"""Records of practice that are looked into, the latest first: many terms of practice."""


def practised_before(tasks: Iterable[Task]) -> tuple[int, ...]:
    """Return the numbers of the tasks whose very givens were practised on this account."""
    met = []
    with suppress(OSError):
        for path in islice(reversed(records_there_are()), MOST):
            with suppress(RecordError):
                first = head_of(path).line
                if isinstance(first, PracticeBegun):
                    met.append((first.problem, first.givens))
    shown = {one.number: (one.question.problem.id, one.question.givens_written) for one in tasks}
    return tuple(number for number, one in shown.items() if one in met)
