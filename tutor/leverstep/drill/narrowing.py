"""Which problems may be drawn for a drill: of some kinds, joints and levels, of those that ship.

A teacher's own libraries are left out, since a room may not have them: the same problems must be
drawn wherever the drill is opened.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.faults import Reader, is_number
from leverstep.course.listing import ASKED
from leverstep.course.places import shipped
from leverstep.course.plain_text import shown
from leverstep.course.problem import Problem

LEVELS = (1, 2, 3)

NARROWING = ("kinds", "joints", "levels")
"""The keys that say which problems may be drawn."""


@dataclass(frozen=True, slots=True)
class Narrowed:
    """Which problems may be drawn: of any kind, joint or level where none is named.

    A kind is what a problem asks for.
    """

    kinds: Collection[str] = ()
    joints: Collection[str] = ()
    levels: Collection[int] = ()

    def may_have(self, problem: Problem) -> bool:
        """Return whether a problem may be drawn."""
        named = (
            (problem.asks, self.kinds), (problem.joint, self.joints),
            (problem.difficulty, self.levels),
        )  # fmt: skip
        return all(not wanted or value in wanted for value, wanted in named)


def narrowed_in(reader: Reader) -> Narrowed:
    """Return which problems a table of a drill's file says may be drawn."""
    kinds = reader.texts("kinds")
    _check(reader, "kinds", kinds, ASKED)
    return Narrowed(kinds, reader.texts("joints"), _levels(reader))


def fitting_problems(
    reader: Reader, narrowed: Narrowed, problems: Mapping[str, Problem]
) -> list[Problem]:
    """Return those of some problems that may be drawn: that ship, and are still offered."""
    there = [one for one in problems.values() if _ships(one) and not one.retired]
    _check(reader, "joints", narrowed.joints, {one.joint for one in there})
    return [one for one in there if narrowed.may_have(one)]


def _ships(problem: Problem) -> bool:
    return problem.path is not None and problem.path.is_relative_to(Path(str(shipped("problems"))))


def _check(reader: Reader, key: str, names: Collection[str], known: Collection[str]) -> None:
    """Note a fault for each name that is not known."""
    for name in names:
        if name not in known:
            expected = "one of " + ", ".join(sorted(known))
            reader.fault(key, f"found {shown(name)}{reader.near(name, known)}", expected)


def _levels(reader: Reader) -> tuple[int, ...]:
    """Return the levels of difficulty that are named."""
    levels = reader.table.get("levels", [])
    reader.asked.add("levels")
    if isinstance(levels, list) and all(is_number(one) and one in LEVELS for one in levels):
        return tuple(map(int, levels))
    reader.fault("levels", f"found {shown(levels)}", "a list of some of 1, 2 and 3")
    return ()
