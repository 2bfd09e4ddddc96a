"""How fast the tutor is on this machine: first screen, one key, one verdict, progress, and memory.

Run as `python tests/benchmarks/speed.py`, on a system with pseudo-terminals.
"""

from __future__ import annotations

import fcntl
import os
import pty
import random
import re
import select
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from checkout import ROOT
from machine import machine

os.environ["LEVERSTEP_HOME"] = tempfile.mkdtemp(prefix="leverstep-speed-")

from answers import key_times, open_times  # (it looks where the data lie)

if TYPE_CHECKING:
    from leverstep.course.problem import Problem

RUNS = 15
SEEDS = ("1", "2", "3")
SIZE = (30, 100)
PLOT = (75, 28)
"""The columns and rows of a plot on a screen of 120 by 36."""
FRAME = 0.016
"""Seconds of a frame of the screen."""
PATIENCE = 30.0
PRACTISED = 300
CODES = {
    "class": (1, 2, 3),
    "direction": (1, 2),
    "effect": (1, -1),
    "support": (1, -1),
    "hold": (1, -1),
}
"""The numbers of some answers that are words, by what these are about (`WordChoice`)."""

BARE_APP = """
from textual.app import App
from textual.widgets import Label

class Bare(App):
    def compose(self):
        yield Label("one label and nothing more")

Bare().run()
"""

SITTING = """
import resource, sys
from leverstep.bench.practice import Practice
from leverstep.course.libraries import Libraries
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.slips.catalogue import catalogue_in_use
from leverstep.working.writing import substituted, worked_line

problem = load_shelf().problems["elbow-tilted-forearm"]
practice = Practice.start(problem, "1", catalogue_in_use(Libraries()))
values = practice.question.graph.values(practice.question.numbers, {})
typed = []
for step in practice.working.steps:
    words = not step.kind.is_number
    right = (worked_line if words else substituted)(practice.question, step, values)
    typed += ["hint", right] if words else [f"12.3 {step.unit}", "hint", right]
PracticeLine(PracticeDialogue(practice), lambda text: None, lambda prompt: typed.pop(0)).run()
assert practice.working.complete
unit = 2**20 if sys.platform == "darwin" else 2**10
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit)
"""


def environment(home: str) -> dict[str, str]:
    """Return the surroundings of a program that is measured."""
    own = {"LEVERSTEP_HOME": home, "PYTHONPATH": str(ROOT / "tutor"), "TERM": "xterm-256color"}
    return {k: v for k, v in os.environ.items() if not k.startswith("LEVERSTEP")} | own


def seconds_to_show(text: str, command: list[str], home: str) -> float:
    """Return how long a program takes from its start until a text is on its terminal."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", *SIZE, 0, 0))
    start = time.perf_counter()
    program = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment(home)
    )
    os.close(theirs)
    painted = b""
    try:
        while text.encode() not in painted:
            left = start + PATIENCE - time.perf_counter()
            if left <= 0 or not select.select([ours], [], [], left)[0]:
                raise TimeoutError(f"{text!r} was not shown within {PATIENCE:g} s")
            painted += os.read(ours, 65536)
        return time.perf_counter() - start
    finally:
        program.kill()
        program.wait()
        os.close(ours)


def first_screens(home: str) -> tuple[float, float, float]:
    """Return the median times to the tutor's first frame, its list, and an app with one label."""
    from leverstep.course.shelf import load_shelf

    title = next(iter(load_shelf().problems.values())).title
    frame, listed, bare = [], [], []
    for _ in range(RUNS):
        tutor = [sys.executable, "-m", "leverstep"]
        frame.append(seconds_to_show("one line of your working", tutor, home))
        listed.append(seconds_to_show(title, tutor, home))
        bare.append(seconds_to_show("one label", [sys.executable, "-c", BARE_APP], home))
    return statistics.median(frame), statistics.median(listed), statistics.median(bare)


def peak_memory(home: str) -> float:
    """Return the megabytes that a program took at most to work one problem to its end."""
    command = [sys.executable, "-c", SITTING]
    return float(subprocess.check_output(command, env=environment(home), text=True))


def seconds_to_list(home: str) -> tuple[float, float]:
    """Return the seconds that a list of a thousand files takes at first, and from then on."""
    model = next((ROOT / "problems").rglob("*.toml"))
    folder = Path(home) / "thousand"
    folder.mkdir()
    for number in range(1000):
        text = model.read_text("utf-8").replace(model.stem, f"problem-{number}")
        (folder / f"problem-{number}.toml").write_text(text, "utf-8")
    command = [sys.executable, "-m", "leverstep", "problems", "--library", str(folder)]
    spent = []
    for _ in range(1 + RUNS):
        start = time.perf_counter()
        listed = subprocess.check_output(command, env=environment(home), text=True)
        spent.append(time.perf_counter() - start)
        assert listed.count("your own: ") == 1000
    return spent[0], statistics.median(spent[1:])


def seconds_to_tell_progress() -> tuple[float, float]:
    """Return the seconds in which `PRACTISED` workings of all problems are told: first, and again.

    In each about every fifth line is wrong at first: g times what it should be.
    """
    from leverstep.course.shelf import load_shelf

    problems = list(load_shelf().problems.values())
    with tempfile.TemporaryDirectory() as home:
        for number in range(PRACTISED):
            _practise(problems[number % len(problems)], number, Path(home) / "practice")
        command = [sys.executable, "-m", "leverstep", "progress", "--all"]
        spent = []
        for _ in range(2):
            start = time.perf_counter()
            told = subprocess.check_output(command, env=environment(home), text=True)
            spent.append(time.perf_counter() - start)
            assert f"All. Begun: {PRACTISED}; finished: {PRACTISED};" in told
    return spent[0], spent[1]


def _practise(problem: Problem, number: int, folder: Path) -> None:
    """Work a problem to its end, about every fifth line wrong at first."""
    from helpers.material import CATALOGUE
    from leverstep.bench.practice import Practice
    from leverstep.working.writing import value_text, worked_line

    chance = random.Random(number)
    practice = Practice.start(problem, str(number), CATALOGUE, folder)
    right = practice.question.right
    for step in practice.working.steps:
        words = not step.kind.is_number
        if not words and chance.random() < 0.2:
            practice.enter(step.key, f"{right[step.key] * 9.81:#.4g} {step.unit}")
        write = worked_line(practice.question, step, right)
        practice.enter(step.key, write if words else value_text(step, right[step.key]))
    assert practice.working.complete, problem.id


def verdict_times() -> Iterator[tuple[str, str, float]]:
    """Yield problem, kind of entry, and the seconds of its verdict, in the order of the steps."""
    from helpers.material import CATALOGUE
    from leverstep.course.shelf import load_shelf
    from leverstep.slips.explained import explained
    from leverstep.slips.hypotheses import hypotheses
    from leverstep.working.verdict import Outcome
    from leverstep.working.working import Working
    from leverstep.working.writing import substituted, value_text, worked_line

    chance = random.Random(1)
    for problem in load_shelf().problems.values():
        for seed in SEEDS:
            question = problem.question(seed)
            working = Working(question)
            right = question.graph.values(question.numbers, {})
            known = hypotheses(question.derivation, CATALOGUE)
            for step in working.steps:
                entries = []
                if step.kind.is_equation:
                    answer = worked_line(question, step, right)
                    signs = [m.start() for m in re.finditer("[+−]", answer)]
                    place = signs[-1]
                    other = "−" if answer[place] == "+" else "+"
                    entries += [("slipped", answer[:place] + other + answer[place + 1 :])]
                elif not step.kind.is_number:
                    answer = value_text(step, right[step.key])
                    words = [value_text(step, code) for code in CODES[step.kind.words or ""]]
                    entries += [("random", chance.choice(words))]
                else:
                    value = right[step.key]
                    answer = value_text(step, value)
                    entries += [
                        ("random", f"{value * 20 ** chance.uniform(-1, 1):#.4g} {step.unit}")
                    ]
                    typed = substituted(question, step, right)
                    turned = typed.replace("×", "÷", 1) if "×" in typed else f"{typed} × 3"
                    entries += [("arithmetic", f"{turned} {step.unit}".strip())]
                    slips = [h for h in known if h.step == step.key]
                    with suppress(IndexError, ArithmeticError):  # no slip, or one without an end
                        changes = dict(chance.choice(slips).changes)
                        slipped = question.graph.values(question.numbers, {}, changes)
                        entries += [("slipped", f"{slipped[step.key]:#.4g} {step.unit}")]
                for kind, text in [*entries, ("right", answer)]:
                    start = time.perf_counter()
                    verdict = working.enter(step.key, text)
                    explained(verdict, CATALOGUE)  # as whatever tells it does
                    spent = time.perf_counter() - start
                    code = "" if verdict.reason is None else verdict.reason.code
                    may_be_asked = kind == "arithmetic" or code == "other_definition"
                    assert verdict.outcome is not Outcome.UNREAD or may_be_asked, (
                        f"{text}: {verdict.reason}"
                    )
                    yield problem.id, kind, spent
            assert working.complete, problem.id


def change_times() -> Iterator[float]:
    """Yield the seconds from a changed given to its drawn plot, on a screen of 120 by 36.

    They are those of the processor, since nothing else is waited for.
    """
    from leverstep.course.shelf import load_shelf
    from leverstep.explore.exploration import Exploration

    for problem in load_shelf().problems.values():
        exploration = Exploration(problem.question("1"))
        exploration.warm_up()
        for movable in exploration.movables:
            for steps in (1, 10, -7):
                start = time.process_time()
                exploration.move(movable, steps)
                drawn = exploration.plot(*PLOT)
                notes = list(exploration.notes(drawn))
                values = exploration.values
                yield time.process_time() - start
                assert notes
                assert values is not None or exploration.trouble
            exploration.set_all_back()


def most_steps() -> str:
    """Return the name of the problem with the most lines to write."""
    from leverstep.course.shelf import load_shelf

    problems = load_shelf().problems.values()
    return max(problems, key=lambda problem: len(problem.question("1").derivation.asked)).id


def _show_times(name: str, times: list[float]) -> None:
    middle = statistics.median(times)
    worst = statistics.quantiles(times, n=100, method="inclusive")[-1]  # none beyond the longest
    print(f"{name:33} {1000 * middle:8.2f} ms  99th percentile {1000 * worst:.2f} ms")


def main() -> None:
    """Measure everything and print a table."""
    print(f"{machine()}\n")
    with tempfile.TemporaryDirectory() as home:
        memory = peak_memory(home)  # first: a child's peak is at least its parent's size
        frame, listed, bare = first_screens(home)
        first, again = seconds_to_list(home)
    judged, told = seconds_to_tell_progress()
    for name, spent in (("first frame", frame), ("list of problems", listed)):
        print(f"{name:33} {spent:8.2f} s   {spent / bare:.2f} x an app with one label")
    print(f"{'an app with one label':33} {bare:8.2f} s   medians of {RUNS}")
    print(f"{'a thousand problem files, listed':33} {again:8.2f} s   {first:.2f} s the first time")
    practised = f"{PRACTISED} workings practised, told"
    print(f"{practised:33} {told:8.2f} s   {judged:.2f} s the first time")
    found = list(verdict_times())
    with tempfile.TemporaryDirectory() as home:
        keys, in_a_field = key_times(Path(home) / "keys")
        opened = open_times(Path(home) / "opened")
    _show_times(f"{len(keys)} keys, each shown", keys)
    middle = statistics.median(keys) / statistics.median(in_a_field)
    print(f"{'  beside an app with one field':33} {middle:8.2f} x of it, by turns")
    _show_times(f"{len(opened)} problems opened of the list", opened)
    for kind in ("right", "slipped", "random", "arithmetic", "any"):
        of_kind = [spent for _, k, spent in found if kind in (k, "any")]
        _show_times(f"verdict on {len(of_kind)} {kind} entries", of_kind)
    longest = most_steps()
    of_longest = [spent for name, _, spent in found if name == longest]
    _show_times(f"verdict on {len(of_longest)} of the longest problem", of_longest)
    changed = list(change_times())
    _show_times(f"{len(changed)} changes, explored", changed)
    in_time = sum(spent < FRAME for spent in changed) / len(changed)
    print(
        f"{'  of them within a frame':33} {100 * in_time:8.1f} %   a frame is {1000 * FRAME:.0f} ms"
    )
    print(f"peak memory of a worked sitting   {memory:7.0f} MB")
    load = os.getloadavg()[0]
    print(f"{'programs that ran at the end':33} {load:8.2f}     this one is one of them")


if __name__ == "__main__":
    main()
