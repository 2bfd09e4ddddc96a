"""A class at work in plain lines: what is new is said, and all else when it is asked."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from helpers.drills import SHELF, drill_file, right_entry, wrong_entry
from helpers.material import CATALOGUE
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.watch_line import NAMELESS, READING, WatchLines
from leverstep.watching.class_at_work import ClassAtWork
from leverstep.watching.class_watch import ClassWatch
from leverstep.working.cautions import CAUTION_SAID


class Class:
    """A class of two, of whom one is at work."""

    def __init__(self, folder: Path) -> None:
        self.drill: Drill = read_drill(drill_file(folder), SHELF.problems)
        self.folder = folder / "records"
        self.sitting = Sitting.start(self.drill, CATALOGUE, "s01", self.folder)

    @property
    def watch(self) -> ClassWatch:
        """Return who watches it from here on."""
        return ClassWatch(self.drill, CATALOGUE, self.folder)

    def get_stuck(self) -> str:
        """Have the student get the second line wrong, with three hints; return its key."""
        bench = self.sitting.benches[0]
        first, second, *_ = bench.working.steps
        bench.enter(first.key, right_entry(bench, first))
        bench.enter(second.key, wrong_entry(second))
        for _ in range(3):
            bench.hint(second.key)
        return second.key


@pytest.fixture
def at_work(tmp_path: Path) -> Class:
    return Class(tmp_path)


def test_a_script_hears_what_is_new_before_each_prompt(at_work: Class) -> None:
    said: list[str] = []
    stuck = ""

    def typed() -> Iterator[str]:
        nonlocal stuck
        yield "counts"
        stuck = at_work.get_stuck()
        yield ""
        yield from ("students", "ida", "S02", "nobody", "lines", "slips", "troubles", "stop")

    lines = typed()
    WatchLines(at_work.watch, said.append, lambda _: next(lines)).run()
    told = f"Ida Example: 1 wrong try and 3 hints at {stuck} of task 1, less than a minute."
    assert said[:2] == [f"Levers. {READING}", "1 at work, 1 not begun."]
    assert CAUTION_SAID in said
    assert said.count(told) == 2, "as news, and in the list"
    asked = sum(len(bench.working.asked) for bench in at_work.sitting.benches)
    assert f"{told} 1 of {asked} lines done." in said
    assert "Not begun: 1." in said
    assert "Odo Example: not begun." in said
    assert any(one.startswith("Found 'nobody'; expected a student") for one in said)
    assert f"{stuck} of task 1: 1 student, 1 stuck, the longest for less than a minute." in said
    assert "Every record could be read." in said
    assert said[-1] == "Stopped."


def test_the_drill_is_said_before_the_folder_is_looked_at(at_work: Class) -> None:
    said: list[str] = []
    heard: list[list[str]] = []
    watch = at_work.watch
    look = watch.look

    def looks(now: datetime) -> ClassAtWork:
        heard.append(list(said))
        return look(now)

    watch.look = looks  # type: ignore[method-assign, assignment]
    at_work.sitting.hand_in()
    lines = iter(["lines", "stop"])
    WatchLines(watch, said.append, lambda _: next(lines)).run()
    assert heard[0] == [f"Levers. {READING}"]
    assert "Nobody is at work." in said


def test_without_names_nobody_is_named(at_work: Class) -> None:
    said: list[str] = []
    at_work.get_stuck()
    lines = iter(["", "students", "ida", "lines", "counts", "help", "stop"])
    WatchLines(at_work.watch, said.append, lambda _: next(lines), with_names=False).run()
    assert said.count(NAMELESS) == 2
    assert "slips: which slips are made now, and where." in said
    assert not [one for one in said if one.startswith(("students:", "An id")) or "go to" in one]
    assert not [one for one in said for who in ("Ida", "Odo", "s01", "s02") if who in one]


def test_at_a_terminal_it_speaks_while_nothing_is_typed(
    at_work: Class, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("leverstep.faces.lines.watch_line.POLL", 0.02)
    spoken: list[str] = []
    heard = threading.Event()

    def interrupt(text: str) -> None:
        spoken.append(text)
        heard.set()

    def listen(_: str) -> str:
        at_work.get_stuck()
        assert heard.wait(20)
        return "stop"

    WatchLines(at_work.watch, lambda _: None, listen, interrupt=interrupt).run()
    assert spoken[0].startswith("\nIda Example: ")
    assert spoken[0].endswith("\nWatch: ")
