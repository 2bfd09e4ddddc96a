"""Pairs of problems: one of an earlier drill and one of a later, alike in structure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.course.alike_problems import are_alike
from leverstep.course.faults import Fault
from leverstep.course.plain_text import shown
from leverstep.course.problem import Problem
from leverstep.drill.drill import Drill


@dataclass(frozen=True)
class ProblemPair:
    """A problem of an earlier drill, that of the later one, and the numbers of its tasks there."""

    earlier: Problem
    later: Problem
    tasks: tuple[int, ...]


def pairs_of(drill: Drill) -> tuple[ProblemPair, ...]:
    """Return the pairs of a drill; tasks that were withdrawn are in none."""
    found: dict[tuple[Problem, Problem], list[int]] = {}
    for number, item in enumerate(drill.task_items, 1):
        if item.pair is not None and number not in drill.withdrawn_tasks:
            found.setdefault((item.pair, item.problem), []).append(number)
    return tuple(ProblemPair(*both, tuple(tasks)) for both, tasks in found.items())


def unlike_pairs(drill: Drill, file: str) -> Iterator[Fault]:
    """Yield a fault for each item whose problem is not alike in structure to that of its pair."""
    for place, item in enumerate(drill.items, 1):
        if item.pair is not None and not are_alike(item.pair, item.problem):
            found = f"{shown(item.pair.id)} is not worked as {shown(item.problem.id)}"
            expected = f"one that `leverstep problems --alike {item.problem.id}` lists"
            yield Fault(file, f"item[{place}].pair", found, expected)
