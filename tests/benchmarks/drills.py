"""How fast the records of a class are marked, and how much memory that takes.

Run as `python tests/benchmarks/drills.py [STUDENTS]`. Each student sits a drill of eight problems
and enters twelve lines at each: seven of ten are right, the others are slips of the catalogue.
"""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)
from helpers.drill_sittings import END, SHELF, entry, record, right_entry
from helpers.material import CATALOGUE
from leverstep.course.problem import Question
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.faces.crash import workers
from leverstep.faces.terminal import look_for_garbage_seldom
from leverstep.marking.collecting import gather, mark_class
from leverstep.marking.outputs import Outputs
from leverstep.marking.tables import MarkTables
from leverstep.slips.hypotheses import hypotheses
from leverstep.statics.step import Step
from machine import machine

STUDENTS, TASKS, ENTRIES, SLIPS = 1000, 8, 12, 0.3
UNIT = 2**20 if sys.platform == "darwin" else 2**10


def the_drill(numbers: str) -> Drill:
    """Return a drill of eight problems, one for each of as many joints as there are.

    `numbers` says whose they are, as in its file: individual or fixed.
    """
    one_for_each = list({card.joint: card.id for card in SHELF.cards}.values())
    text = 'id = "speed"\ntitle = "Speed"\n'
    item = f'[[item]]\nnumbers = "{numbers}"\nproblem = '
    text += "".join(f'{item}"{name}"\n' for name in one_for_each[:TASKS])
    drill = drill_of(text, SHELF.problems, "speed.toml")
    assert len(drill.items) == TASKS
    return drill


def slipped(question: Question, step: Step, chance: random.Random) -> str:
    """Return a line with a slip of the catalogue, or the right one where none can be made."""
    found = hypotheses(question.derivation, CATALOGUE)
    known = [one for one in found if one.step == step.key]
    if step.kind.is_number and known:
        with suppress(ArithmeticError):  # a slip without an end
            changes = dict(chance.choice(known).changes)
            value = question.graph.values(question.numbers, {}, changes)[step.key]
            return f"{value:#.4g} {step.unit}".strip()
    return right_entry(question, step)


def typed(drill: Drill, student: str) -> Iterator[dict[str, object]]:
    """Yield what a student enters: twelve lines at each problem, first to last."""
    chance = random.Random(student)
    for task in drill.tasks(student):
        steps = task.question.derivation.asked
        for place in range(ENTRIES):
            step = steps[place % len(steps)]
            is_slip = chance.random() < SLIPS
            text = (slipped(task.question, step, chance) if is_slip
                    else right_entry(task.question, step))  # fmt: skip
            yield entry(step.key, text, task.number)


def write_class(drill: Drill, folder: Path, count: int) -> int:
    """Write the records of a class; return how many bytes they have."""
    for number in range(count):
        student = f"s{number:05}"
        lines = [*typed(drill, student), END]
        (folder / f"{student}.jsonl").write_bytes(record(drill, student, lines))
    return sum(path.stat().st_size for path in folder.iterdir())


def mark(
    drill: Drill, folder: Path, executor: Executor, clock: Callable[[], float]
) -> tuple[float, int]:
    """Mark a folder of records into tables; return the seconds on a clock, and the entries."""
    start = clock()
    with tempfile.TemporaryDirectory() as out:
        with Outputs(Path(out)) as files:
            tables = MarkTables(drill, files)
            mark_class(drill, CATALOGUE, gather([folder]).records, executor, [tables])
            assert tables.finish()
        spent = clock() - start
        return spent, (Path(out) / "steps.csv").read_bytes().count(b"\n") - 1


def marked_alone(numbers: str, *folders: Path) -> list[tuple[float, int, float]]:
    """Return the same for each folder in turn, marked on one core in one process of its own.

    The seconds are those of the core, so that other programs on the machine don't count; with them
    comes the peak of megabytes so far.
    """
    command = [sys.executable, __file__, "mark", numbers, *map(str, folders)]
    printed = subprocess.check_output(command, text=True).splitlines()
    return [(float(a), int(b), float(c)) for a, b, c in map(str.split, printed)]


def main() -> None:
    """Measure everything and print a table."""
    look_for_garbage_seldom()
    count = int(sys.argv[1]) if len(sys.argv) > 1 else STUDENTS
    print(f"{machine()}\n")
    drill = the_drill("individual")
    with tempfile.TemporaryDirectory() as home:
        few, many, alike = (Path(home) / name for name in ("few", "many", "alike"))
        for folder, students in ((few, count // 10), (many, count)):
            folder.mkdir()
            size = write_class(drill, folder, students)
            ((seconds, entries, peak),) = marked_alone("individual", folder)
            print(
                f"{students:5} records, {size / 2**20:6.1f} MB, {entries:6} entries, one core: "
                f"{seconds:6.1f} s, {entries / seconds:6.0f} entries/s, peak {peak:4.0f} MB"
            )
            with workers() as executor:
                together, entries = mark(drill, folder, executor, time.perf_counter)
            cores = os.cpu_count() or 1
            print(f"{'':37} {cores} cores: {together:6.1f} s, {entries / together:6.0f} entries/s")
        (cold, *_), (once, *_), (tenfold, entries, _) = marked_alone("individual", few, few, many)
        alike.mkdir()
        write_class(the_drill("fixed"), alike, count)
        _, (same, same_entries, peak) = marked_alone("fixed", alike, alike)
    print(f"meeting the problems for the first time takes {cold - once:.1f} s of that")
    print(f"afterwards ten times the records take {tenfold / once:.1f} times as long")
    print(f"afterwards one core marks {entries / tenfold:.0f} entries/s")
    rate = same_entries / same
    print(f"with the same numbers for all, once more, {rate:.0f} entries/s, peak {peak:.0f} MB")


if __name__ == "__main__":
    if sys.argv[1:2] == ["mark"]:
        look_for_garbage_seldom()  # as the program does
        with ThreadPoolExecutor(1) as alone:
            for name in sys.argv[3:]:
                found = mark(the_drill(sys.argv[2]), Path(name), alone, time.process_time)
                print(*found, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / UNIT)
    else:
        main()
