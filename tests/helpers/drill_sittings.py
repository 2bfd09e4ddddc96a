"""Drills and records for tests: written as the tutor writes them, with a clock that stands by."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

from leverstep.bench.contents import link_of
from leverstep.bench.record_lines import FORMAT
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.statics.step import Step
from leverstep.working.writing import value_text, worked_line

SHELF = load_shelf()
BEGUN = datetime(2027, 3, 1, 9, 0, tzinfo=UTC)
SMALL = """
id = "levers"
title = "Levers"
{rules}

[marking]
{marking}

[[item]]
problem = "{problem}"
count = {count}
marks = {marks}
"""


def small_drill(
    rules: str = "",
    marking: str = "",
    problem: str = "plain-wheelbarrow",
    count: int = 1,
    marks: int = 10,
    folder: Path | None = None,
) -> Drill:
    """Return a drill of one problem, under some rules as its file would have them."""
    text = SMALL.format(rules=rules, marking=marking, problem=problem, count=count, marks=marks)
    return drill_of(text, SHELF.problems, "levers.toml", folder)


def right_entry(question: Question, step: Step) -> str:
    """Return the right entry of a line, as a student types it: a number, words or an equation."""
    values = question.graph.values(question.numbers, {})
    if not step.kind.is_number:
        return worked_line(question, step, values)
    return value_text(step, values[step.key])


def right_entries(question: Question) -> dict[str, str]:
    """Return the right entry of every line asked for, by key."""
    return {step.key: right_entry(question, step) for step in question.derivation.asked}


def entry(key: str, text: str, task: int = 1, **more: object) -> dict[str, object]:
    """Return what a record holds of one entry."""
    return {"kind": "entry", "task": task, "step": key, "text": text, **more}


def hint(key: str, task: int = 1) -> dict[str, object]:
    """Return what a record holds of a hint that was asked for."""
    return {"kind": "hint", "task": task, "step": key}


END: Mapping[str, object] = {"kind": "end"}


def first_line(drill: Drill, student: str, begun: datetime = BEGUN) -> dict[str, object]:
    """Return the first line of a record, as `Sitting.start` writes it."""
    tasks = drill.tasks(student)
    return {
        "format": FORMAT,
        "kind": "drill",
        "drill": drill.id,
        "digest": drill.digest,
        "student": student,
        "host": "0a1b2c3d",
        "time": begun.isoformat(timespec="milliseconds"),
        "tasks": [
            {"problem": t.question.problem.id, "givens": t.question.givens_written} for t in tasks
        ],
    }


def timed(
    lines: Iterable[Mapping[str, object]], begun: datetime = BEGUN, seconds: float = 10.0
) -> Iterator[dict[str, object]]:
    """Yield lines with a clock that goes on by some seconds from each to the next."""
    for number, line in enumerate(lines, 1):
        moment = begun + timedelta(seconds=number * seconds)
        clock = {
            "time": moment.isoformat(timespec="milliseconds"),
            "used": round(number * seconds, 1),
        }
        yield {**clock, **line}


def chain(lines: Iterable[Mapping[str, object]]) -> bytes:
    """Return lines as the bytes of a record."""
    link, data = "", b""
    for line in lines:
        link = link_of(link, line)
        data += (json.dumps({**line, "link": link}, sort_keys=True) + "\n").encode()
    return data


def record(
    drill: Drill,
    student: str,
    lines: Iterable[Mapping[str, object]] = (),
    begun: datetime = BEGUN,
    /,
    **first: object,
) -> bytes:
    """Return the bytes of a record; `first` is what its first line has otherwise."""
    return chain([{**first_line(drill, student, begun), **first}, *timed(lines, begun)])
