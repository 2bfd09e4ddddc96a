"""A disk that fails at any one call, and sittings on it.

The calls of the system that a record is written with are counted; from each in turn some fail.
"""

from __future__ import annotations

import errno
import itertools
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from unittest.mock import patch

from leverstep.bench.record import RecordError
from leverstep.drill import sitting
from leverstep.drill.sitting import Sitting
from leverstep.marking.collecting import gather
from leverstep.marking.marking import mark_record

from helpers.drill_sittings import right_entries, small_drill
from helpers.material import CATALOGUE

DRILL = small_drill()
TYPED = list(right_entries(DRILL.tasks("s1")[0].question).items())[:3]
CALLS = frozenset({"open", "write", "fsync", "ftruncate", "replace"})
NOT_TRIED_AGAIN = ("start", "move")
"""Where one failure is told at once: a student may take another folder."""


@dataclass(frozen=True)
class Fault:
    """Which calls fail, how many after one another, and whether a write takes a part instead."""

    failing: frozenset[str]
    count: float
    short: bool = False


FAULTS = {
    "a call": Fault(CALLS, 1),
    "a write that falls short": Fault(frozenset({"write"}), 1, short=True),
    "all calls for one line": Fault(CALLS, 4),
    "a write that can't be taken back": Fault(frozenset({"write", "ftruncate"}), 7, short=True),
    "a line neither flushed nor taken back": Fault(frozenset({"fsync", "ftruncate"}), 9),
    "all calls for good": Fault(CALLS, float("inf")),
    "all writes for good, falling short": Fault(frozenset({"write"}), float("inf"), short=True),
}


@dataclass
class Disk:
    """The calls of the system; those from `first` on fail as a fault has it."""

    fault: Fault
    first: int
    calls: int = 0
    fired: int = 0
    real: dict[str, Callable[..., Any]] = field(
        default_factory=lambda: {name: getattr(os, name) for name in CALLS}
    )

    def call(self, name: str, *arguments: Any, **named: Any) -> Any:
        """Do what the system does, or fail."""
        self.calls += 1
        here = self.first <= self.calls < self.first + self.fault.count
        if not here or name not in self.fault.failing:
            return self.real[name](*arguments, **named)
        self.fired += 1
        if name == "write" and self.fault.short:
            descriptor, data = arguments
            return self.real["write"](descriptor, data[: len(data) // 2])
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    def standing_in(self) -> Any:
        """Return a context in which the program writes to this disk."""
        calls = {name: lambda *a, _name=name, **k: self.call(_name, *a, **k) for name in CALLS}
        return patch.multiple(os, **calls)


STEPS_OF_A_SITTING: dict[str, Callable[[Sitting, Path], object]] = {
    "enter": lambda s, _: s.benches[0].enter("W_s", "54 N"),
    "hint": lambda s, _: s.benches[0].hint("W_s"),
    "enter more": lambda s, _: s.benches[0].enter(*TYPED[0]),
    "write": lambda s, _: s.benches[0].write(" = ".join(TYPED[1])),
    "leave": lambda s, _: s.benches[0].leave(TYPED[2][0]),
    "move": lambda s, other: s.move(other),
    "enter last": lambda s, _: s.benches[0].enter(*TYPED[2]),
    "hand in": lambda s, _: s.hand_in(),
}
ENTRIES = {
    "enter": "54 N",
    "enter more": TYPED[0][1],
    "write": " = ".join(TYPED[1]),
    "enter last": TYPED[2][1],
}


def state(one: Sitting) -> tuple[object, ...]:
    """Return all that a student sees of a sitting."""
    bench = one.benches[0]
    working = bench.working
    seen = (dict(working.lines), dict(working.attempts), set(working.left))
    return (*seen, bench.hints_given.count, one.ended, one.place)


def sit_on(disk: Disk, folder: Path) -> tuple[Sitting | None, tuple[str, ...]]:
    """Sit a whole sitting; return it, and the steps that the disk refused.

    What is refused must leave the sitting and its record as they were, but for a piece behind the
    whole lines where that can't be taken back at once.
    """
    refused = []
    try:
        one = Sitting.start(DRILL, CATALOGUE, "s1", folder / "first")
    except RecordError:
        return None, ("start",)
    kept = one.place.read_bytes()
    for name, step in STEPS_OF_A_SITTING.items():
        before = state(one)
        try:
            step(one, folder / "second")
        except RecordError:
            refused.append(name)
            assert state(one) == before, name
            now = one.place.read_bytes()
            takes_back = "ftruncate" not in disk.fault.failing
            assert now == kept or (now.startswith(kept) and not takes_back), name
            continue
        now = one.place.read_bytes()
        assert now.startswith(kept), name
        assert now[len(kept) :].count(b"\n") == (name != "move"), name
        kept = now
    return one, tuple(refused)


@dataclass(frozen=True)
class Tried:
    """What came of one sitting: how often the disk failed, what it refused, and what was shown."""

    fired: int
    refused: tuple[str, ...]
    shown: int
    is_as_shown: bool


def fail_in_turn(name: str, folder: Path) -> Iterator[Tried]:
    """Sit on a disk that fails from its first call on, its second, and so on to its last."""
    with patch.object(sitting, "_PAUSE", 0):
        for first in itertools.count(1):
            disk = Disk(FAULTS[name], first)
            yield _try(disk, folder / f"{len(name)}-{first}")
            if disk.calls < first:
                return


def _try(disk: Disk, folder: Path) -> Tried:
    with disk.standing_in():
        one, refused = sit_on(disk, folder)
    if one is None:
        return Tried(disk.fired, refused, 0, not list(folder.rglob("*.jsonl")))
    if not one.ended:
        one.hand_in()
    marked = mark_record(DRILL, CATALOGUE, "", one.place.read_bytes())
    shown = [text for name, text in ENTRIES.items() if name not in refused]
    is_as_shown = (
        [entry.text for entry in marked.entries] == shown
        and not marked.remarks
        and marked.ended
        and marked.hints == ("hint" not in refused)
    )
    records = [found.path for found in gather([folder]).records]
    is_alone = records == [one.place] or "ftruncate" in disk.fault.failing
    return Tried(disk.fired, refused, len(shown), is_as_shown and is_alone)
