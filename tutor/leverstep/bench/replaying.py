"""The lines of a record taken again: each at its bench, in their order, within bounds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from leverstep.bench.bench import Bench
from leverstep.bench.record_lines import RecordLine
from leverstep.working.verdict import Verdict

MOST_JUDGED = 20_000
"""How often a line that can be read is judged, or judged again, in taking one record again.

Fifty workings of twenty lines, each tried three times, take some thousand. Beyond it nothing is
judged, so that a record of many megabytes keeps nobody waiting.
"""

MOST_EXPLAINED = 3000
"""After so many of these slips are no longer looked for, which takes by far the longest.

Counted and not timed, so that a record has the same marks and slips on every machine.
"""


def keep_nothing(line: RecordLine) -> None:
    """Let a line be: what is taken again is on the disk."""


class Replay:
    """Takes the lines of a record again; who wants to know what came of them makes a kind of it."""

    def __init__(self, benches: Sequence[Bench], by_task: bool = True) -> None:
        """Take nothing yet.

        Args:
            benches: those of the tasks, in order.
            by_task: whether each line names its task; else there is one bench, for all of them.
        """
        self.benches = benches
        self._by_task = by_task
        self._judged = 0

    def take(self, lines: Iterable[RecordLine]) -> None:
        """Take some lines, or some more; those that are about none of the tasks are passed over."""
        for place, line in enumerate(lines):
            bench = self.bench_of(line)
            if bench is None:
                continue
            if self._judged > MOST_JUDGED:
                self.leave_out(line)
                continue
            working = bench.working
            before, working.explains = working.judgings, self._judged <= MOST_EXPLAINED
            verdict = bench.replay(line)
            self._judged += working.judgings - before
            self.note(place, line, bench, verdict)
        for bench in self.benches:
            bench.working.explains = True

    def note(self, place: int, line: RecordLine, bench: Bench, verdict: Verdict | None) -> None:
        """Note a line that has just been taken at its bench.

        Args:
            place: where it stands among the lines, from 0.
            line: the line.
            bench: as it stands with the line, and without those after it.
            verdict: what came of it, None where it is no entry.
        """

    def leave_out(self, line: RecordLine) -> None:
        """Note a line that lies beyond the bounds."""

    def bench_of(self, line: RecordLine) -> Bench | None:
        """Return where a line is taken, None where it is about none of the tasks."""
        if not self._by_task:
            return self.benches[0]
        task = line.task or 0
        return self.benches[task - 1] if 0 < task <= len(self.benches) else None
