"""Sittings in processes of their own that are killed at any moment, and what is left of them.

A nursery loads the tutor once and forks a child for each sitting. The child enters line after line
and tells of each when it has been judged, until an alarm that nothing hears ends it.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from leverstep.bench.contents import contents
from leverstep.bench.record_lines import EntryLine
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Sitting
from leverstep.marking.marking import mark_record

from helpers.drill_sittings import small_drill
from helpers.material import CATALOGUE
from helpers.source import SOURCE, TESTS

LINES = 150
"""Lines that a child enters, if it is let."""

LATEST = 1.1
"""When a child is killed at the latest, as a share of the lines of a whole sitting."""

NURSERY = """
import os, signal, sys, time
from pathlib import Path
from helpers.drill_killing import LINES, sit
from helpers.drill_sittings import small_drill

drill, folder = small_drill(sys.argv[2]), Path(sys.argv[1])
for _ in range(2):
    begun = time.monotonic()
    sit(drill, "warm", folder / "warm", lambda text: None)
one_line = (time.monotonic() - begun) / LINES

def child(student, last):
    def tell(text):
        os.write(1, f"{text}\\n".encode())
        if last is not None and text.endswith(f" {int(last)}"):
            signal.setitimer(signal.ITIMER_REAL, max(last % 1 * one_line, 1e-6))

    pid = os.fork()
    if not pid:
        sit(drill, student, folder / "all", tell)
        os._exit(0)
    return pid

for line in sys.stdin:
    last, *students = line.split()
    last = None if last == "never" else float(last)
    children = [child(student, last) for student in students]
    for pid in children:
        os.waitpid(pid, 0)
    os.write(1, b"gone\\n")
"""


def sit(drill: Drill, student: str, folder: Path, tell: Callable[[str], object]) -> None:
    """Enter one line after another, a hint now and then, and tell of each once it is judged."""
    sitting = Sitting.start(drill, CATALOGUE, student, folder)
    (bench,) = sitting.benches
    for number in range(LINES):
        if number % 7 == 0:
            bench.hint("W_s")
        bench.enter("W_s", f"{500 + number}.5 N")
        tell(f"{student} {number}")
    sitting.hand_in()
    tell(f"{student} end")


@contextmanager
def nursery(folder: Path, rules: str = "") -> Iterator[subprocess.Popen[str]]:
    """Start a nursery, whose children keep their records in `all` of a folder.

    The drill that they sit has some rules.
    """
    paths = os.pathsep.join([str(SOURCE), str(TESTS)])
    program = subprocess.Popen(
        [sys.executable, "-c", NURSERY, str(folder), rules],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": paths},
    )
    with program:
        yield program
        assert program.stdin is not None
        program.stdin.close()
        assert program.wait() == 0


def told(program: subprocess.Popen[str], last: float | None, students: Iterable[str]) -> list[str]:
    """Return all that some children told: each is killed after so many lines, or never.

    The whole part names the line after which the alarm is set, the rest is a share of the time that
    a line takes. The alarm is the child's own and nothing hears it, so the child ends at once, in
    the middle of whatever it does, however busy the machine is.
    """
    assert program.stdin is not None
    assert program.stdout is not None
    program.stdin.write(f"{'never' if last is None else f'{last:.6f}'} {' '.join(students)}\n")
    program.stdin.flush()
    lines = []
    while (line := program.stdout.readline()) != "gone\n":
        assert line, "the nursery has ended"
        lines.append(line.strip())
    return lines


@dataclass(frozen=True)
class Left:
    """What is left of a killed sitting: entries told of, kept, and marked; whether one was cut."""

    told: int
    kept: int
    marked: int
    is_cut: bool

    @property
    def lost(self) -> int:
        """Return how many entries are lost that were told of."""
        return max(0, self.told - min(self.kept, self.marked))


def left_of(student: str, folder: Path, told_of: int) -> Left:
    """Return what a student's only record holds after its program ended, and is marked by."""
    data = b"".join(path.read_bytes() for path in folder.rglob(f"{student}-*.jsonl"))
    found = contents(data)
    typed = [line.text for line in found.lines if isinstance(line, EntryLine)]
    assert typed == [f"{500 + number}.5 N" for number in range(len(typed))]
    marked = mark_record(small_drill(), CATALOGUE, "killed", data)
    return Left(told_of, len(typed), len(marked.entries), bool(data[found.size :]))


def kill_sittings(count: int, seed: int, folder: Path) -> Iterator[Left]:
    """Kill so many sittings, each at a moment of its own; yield what is left of each."""
    chance = random.Random(seed)
    with nursery(folder) as program:
        for number in range(count):
            student = f"killed-{number:04}"
            lines = told(program, chance.uniform(0, LATEST * LINES), [student])
            yield left_of(student, folder, sum(not line.endswith("end") for line in lines))
