"""Following a class at work: its folder of records looked at again and again, and nothing else."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from leverstep.drill.drill import Drill, same_student
from leverstep.drill.lines import owner_in
from leverstep.slips.catalogue import Catalogue
from leverstep.watching.class_at_work import ClassAtWork, class_at_work
from leverstep.watching.growing_record import GrowingRecord
from leverstep.watching.sitting_state import SittingState
from leverstep.watching.watched_folder import WatchedFolder
from leverstep.watching.watched_sitting import WatchedSitting

POLL = 10.0
"""Seconds between two looks at the folder: the clock of a sitting is kept no more often."""

NOT_READ = "The folder could not be read this time: what is told is as it was before."

_log = logging.getLogger(__name__)

Told = Callable[[int, int], None]
"""Takes how many records have been read, of how many, while they are read for the first time."""


class ClassWatch:
    """Reads what is added to the records of a class, and tells how the class stands.

    Of several records of one student the one counts in which all links hold, then the one begun
    last, then the one that holds most, as where a sitting goes on in another folder.
    """

    def __init__(self, drill: Drill, catalogue: Catalogue, folder: Path) -> None:
        self.drill = drill
        self._catalogue = catalogue
        self._folder = WatchedFolder(folder)
        self._followed: dict[str, _Followed] = {}
        self._before: ClassAtWork | None = None

    def look(self, now: datetime, told: Told | None = None) -> ClassAtWork:
        """Read what was added since the last look, and return how the class stands.

        After a fault of the program that is how it stood before, with a sentence that says so.

        Args:
            now: the moment, with its offset.
            told: what takes how far the reading is.
        """
        try:
            self._before = self._look(now, told)
        except Exception:  # noqa: BLE001  (one look must not stop all the others)
            _log.exception("The folder of a class can't be looked at")
            tasks = len(self.drill.task_items)
            before = self._before or ClassAtWork(now, tasks, (), (), ())
            return replace(before, folder_trouble=NOT_READ)
        return self._before

    def _look(self, now: datetime, told: Told | None) -> ClassAtWork:
        self._folder.look()
        records = self._folder.records
        chosen = self._chosen(records)
        followed: dict[str, _Followed] = {}
        for number, (name, record) in enumerate(chosen.items()):
            if told is not None:
                told(number, len(chosen))
            one = self._followed.get(name)
            if one is None or one.is_of_another(record):
                one = _Followed(self.drill, self._catalogue, record)
            one.follow(now)
            followed[name] = one
        self._followed = followed
        states = [one.state for one in self._followed.values() if one.state is not None]
        others = sum(not owner_in(one.lines[0], self.drill) for one in records.values())
        troubles = self._troubles()
        return class_at_work(self.drill, states, now, troubles, others, self._folder.trouble)

    def _chosen(self, records: Mapping[str, GrowingRecord]) -> dict[str, GrowingRecord]:
        """Return of some records the one that counts of each student, by its name."""
        best: dict[str, tuple[tuple[bool, str, int], str]] = {}
        for name, record in records.items():
            first = record.lines[0]
            student = same_student(owner_in(first, self.drill))
            if student and student not in (self.drill.elsewhere or ()):
                order = not record.odd, str(first.time), len(record.lines)
                best[student] = max(best.get(student, (order, name)), (order, name))
        return {name: records[name] for _, name in best.values()}

    def _troubles(self) -> Iterator[str]:
        """Yield a sentence on each file that could not be read or followed."""
        yield from self._folder.troubles
        for name, one in self._followed.items():
            if one.state is None:
                yield f"{name}: a fault of the program keeps it from being followed."


class _Followed:
    """A record with its sitting as far as it was taken. `state` is None where that failed."""

    def __init__(self, drill: Drill, catalogue: Catalogue, record: GrowingRecord) -> None:
        self.state: SittingState | None = None
        self._drill = drill
        self._catalogue = catalogue
        self._record = record
        self._beginnings = record.beginnings
        self._taken = 0
        self._seen: datetime | None = None
        self._sitting: WatchedSitting | None = None
        self._is_broken = False

    def is_of_another(self, record: GrowingRecord) -> bool:
        """Return whether a record is another one than this, or was begun anew."""
        return record is not self._record or record.beginnings != self._beginnings

    def follow(self, now: datetime) -> None:
        """Take the lines that were added; a fault of the program leaves this record out alone."""
        if self._is_broken:
            return
        try:
            self._follow(now)
        except Exception:  # noqa: BLE001  (one record must not stop all the others)
            _log.exception("A record can't be followed")
            self.state, self._is_broken = None, True

    def _follow(self, now: datetime) -> None:
        first, *_ = lines = self._record.lines
        if self._sitting is None:
            student = owner_in(first, self._drill)
            self._sitting = WatchedSitting(self._drill, self._catalogue, student, first)
            self._sitting.follow(lines[1:])
            last = self._sitting.state.last  # until it is seen to grow, its own clock is believed
            self._seen = now if last is None else min(now, last)
        elif len(lines) > self._taken:
            self._sitting.follow(lines[self._taken :])
            self._seen = now
        self._taken = len(lines)
        self.state = replace(self._sitting.state, seen=self._seen)
