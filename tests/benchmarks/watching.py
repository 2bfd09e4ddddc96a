"""What it costs to follow a class at work, as a share of a core.

Run as `python tests/benchmarks/watching.py [STUDENTS]`. Each student sits a drill of eight problems
for 45 minutes and enters a line about every 25 seconds, with slips as `drills.py` makes them; the
clock of each is kept every ten seconds, as in a drill with a time. The folder is looked at as often
as the faces look, on a clock that does not wait: what a look takes of the processor is laid beside
the seconds to the next one. The rows in words are part of it; so is the full screen, which is
painted after each look.
"""

from __future__ import annotations

import asyncio
import random
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from time import process_time

import checkout  # noqa: F401  (before what it finds)
from drills import the_drill, typed
from helpers.drill_sittings import BEGUN, chain, first_line
from helpers.material import CATALOGUE
from leverstep.drill.drill import Drill
from leverstep.faces.screens.basis import OneScreenApp
from leverstep.faces.screens.watch_screen import WatchScreen
from leverstep.faces.terminal import look_for_garbage_seldom
from leverstep.watching.class_watch import POLL, ClassWatch
from leverstep.watching.watch_told import news
from machine import machine

STUDENTS, MINUTES = 40, 45
PACE, CLOCK = 25.0, 10.0
"""Seconds from entry to entry, and from one keeping of the clock to the next."""


@dataclass(frozen=True, slots=True)
class Written:
    """What is added to a record: when, in seconds from the beginning, and the bytes."""

    at: float
    data: bytes


def sitting(drill: Drill, student: str) -> Iterator[Written]:
    """Yield what a student's record is made of, line after line."""
    chance = random.Random(f"pace {student}")
    lines: list[tuple[float, dict[str, object]]] = []
    at = chance.uniform(0, PACE)
    for one in typed(drill, student):
        at += chance.uniform(0.4, 1.6) * PACE
        lines.append((at, one))
    first = chance.uniform(0, CLOCK)
    kept = (first + CLOCK * number for number in range(int(60 * MINUTES / CLOCK)))
    lines += [(second, {"kind": "clock"}) for second in kept]
    lines = sorted((one for one in lines if one[0] < 60 * MINUTES), key=lambda one: one[0])
    made = [
        {"time": (BEGUN + timedelta(seconds=at)).isoformat(), "used": round(at, 1), **line}
        for at, line in lines
    ]
    pieces = chain([first_line(drill, student), *made]).splitlines(keepends=True)
    for at, data in zip([0.0, *(at for at, _ in lines)], pieces, strict=True):
        yield Written(at, data)


class Room:
    """A folder that the records of a class grow in, as time is let pass."""

    def __init__(self, drill: Drill, folder: Path, students: int) -> None:
        self.folder = folder
        self._to_write = {
            folder / f"s{number:02}.jsonl": list(sitting(drill, f"s{number:02}"))
            for number in range(students)
        }
        self.lines = sum(map(len, self._to_write.values()))

    def write(self, until: float) -> None:
        """Add what was written up to so many seconds from the beginning."""
        for path, lines in self._to_write.items():
            due = [line.data for line in lines if line.at <= until]
            if due:
                del lines[: len(due)]
                with path.open("ab") as file:
                    file.write(b"".join(due))


class StillScreen(WatchScreen):
    """The screen without looks of its own, so that it is painted with what it is handed alone."""

    def look_again(self) -> None:
        """Do not look."""


async def watched(drill: Drill, room: Room) -> tuple[list[float], list[float]]:
    """Return the seconds of the processor that each look took, and each painting after it."""
    looks, paintings = [], []
    watch = ClassWatch(drill, CATALOGUE, room.folder)
    app = OneScreenApp(StillScreen(watch, with_names=True))
    async with app.run_test(size=(120, 36)) as pilot:
        screen = app.screen
        assert isinstance(screen, WatchScreen)
        before = None
        for number in range(int(60 * MINUTES / POLL)):
            at = number * POLL
            room.write(at)
            begun = process_time()
            now = watch.look(BEGUN + timedelta(seconds=at))
            told = news(before or now, now, with_names=True)
            looks.append(process_time() - begun)
            assert len(now.rows) == len(list(room.folder.iterdir())), told
            begun = process_time()
            screen.post_message(WatchScreen.Looked(now))
            await pilot.pause()
            paintings.append(process_time() - begun)
            before = now
    return looks, paintings


def opened(drill: Drill, folder: Path) -> float:
    """Return the seconds of the processor that the first look at whole records takes."""
    watch = ClassWatch(drill, CATALOGUE, folder)
    begun = process_time()
    watch.look(BEGUN + timedelta(minutes=MINUTES))
    return process_time() - begun


def share(seconds: list[float]) -> str:
    """Return the share of a core that looks took, and the longest of them."""
    told = 100 * sum(seconds) / (len(seconds) * POLL)
    return f"{told:5.2f} % of a core, at most {1000 * max(seconds):4.0f} ms at once"


def main(students: int = STUDENTS) -> int:
    """Measure and print a table."""
    look_for_garbage_seldom()
    print(f"{machine()}\n")
    drill = replace(the_drill(), minutes=60)
    with tempfile.TemporaryDirectory() as place:
        room = Room(drill, Path(place), students)
        looks, paintings = asyncio.run(watched(drill, room))
        whole = opened(drill, Path(place))
    print(f"{students} sittings of {MINUTES} minutes, {room.lines} lines, a look each {POLL:g} s")
    print(f"looking      {share(looks[1:])}")
    print(f"painting     {share(paintings[1:])}")
    print(f"opened at the end of all sittings: {whole:.1f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
