"""Drills for the tests, and students who sit them."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from leverstep.bench import record as records
from leverstep.bench.bench import Bench
from leverstep.bench.record import Record, RecordError
from leverstep.course.shelf import load_shelf
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.statics.step import Step

from helpers.step_lines import right_line, wrong_line

SHELF = load_shelf()
ROSTER = "id,name\ns01,Ida Example\ns02,Odo Example\n"
ITEMS = """
[[item]]
problem = "plain-wheelbarrow"
marks = 6
[[item]]
problem = "elbow-full-pail"
marks = 4
"""


def drill_text(rules: str = "", ident: str = "levers") -> str:
    """Return the text of a drill of two tasks with some rules."""
    return f'id = "{ident}"\ntitle = "Levers"\n{rules}\n{ITEMS}'


def drill_with(rules: str = "", ident: str = "levers") -> Drill:
    return drill_of(drill_text(rules, ident), SHELF.problems, "levers.toml")


def drill_file(folder: Path, rules: str = "") -> Path:
    """Write a drill with a roster of two, and return its path."""
    (folder / "roster.csv").write_text(ROSTER, encoding="utf-8")
    path = folder / "levers.toml"
    path.write_text(drill_text(f'roster = "roster.csv"\n{rules}'), encoding="utf-8")
    return path


def right_entry(bench: Bench, step: Step) -> str:
    return right_line(bench.question, step)


def wrong_entry(step: Step) -> str:
    return wrong_line(step, "W_s + W_b = 0")


def let_pass(sitting: Sitting, seconds: float) -> None:
    """Let the clock of a sitting go on without waiting."""
    sitting.stopwatch._used += seconds


class Disk:
    """A disk that fails in the folders named, and does nothing while it is not `free`."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.broken: list[Path] = []
        self.free = threading.Event()
        self.free.set()
        put, write_new = Record._put, records._write_new

        def no_put(record: Record, descriptor: int, data: bytes) -> None:
            self._check(record.path)
            put(record, descriptor, data)

        def no_new(path: Path, data: bytes) -> None:
            self._check(path)
            write_new(path, data)

        monkeypatch.setattr(Record, "_put", no_put)
        monkeypatch.setattr(records, "_write_new", no_new)
        monkeypatch.setattr("leverstep.drill.sitting._PAUSE", 0)

    def _check(self, path: Path) -> None:
        assert self.free.wait(20), "nobody is left to set it free: the screen waits itself"
        if any(path.is_relative_to(folder) for folder in self.broken):
            raise RecordError(f"{path}: the disk is full")
