"""A mixed set of a drill: short problems of different kinds, drawn from those that ship.

A teacher's own libraries are left out, since a room may not have them: the same problems must be
drawn wherever the drill is opened.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from leverstep.course.faults import Reader, is_number
from leverstep.course.listing import ASKED
from leverstep.course.phrases import listed
from leverstep.course.places import shipped
from leverstep.course.plain_text import shown
from leverstep.course.problem import SAMPLE, Problem
from leverstep.drill.drill import Drill
from leverstep.drill.values import number_in

SHORT = 15
"""A problem of so many lines that are asked for, or fewer, is short: some ten minutes' work."""

LEVELS = (1, 2, 3)

MOST_DRAWN = 20
"""Problems of one set: enough for each kind once, and for a few of the commonest more."""

_NARROWING = ("kinds", "joints", "levels")
"""The keys of an item that say which problems may be drawn."""

_OF_ONE = ("problem", "count", "pair")
"""Those that are about one problem alone."""


@dataclass(frozen=True, slots=True)
class MixedItems:
    """How many problems are drawn, and of which: of any kind, joint or level where none is named.

    A kind is what a problem asks for.
    """

    count: int
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


def mixed_set(reader: Reader) -> MixedItems | None:
    """Return the mixed set that an item asks for, None where it names its problem."""
    reader.asked |= {"mixed", *_NARROWING}
    if not reader.has("mixed"):
        for key in filter(reader.has, _NARROWING):
            reader.fault(key, "found alone", "mixed = 5, or another number, beside it")
        return None
    reader.asked |= {*_OF_ONE}
    for key in filter(reader.has, _OF_ONE):
        reader.fault(key, "found beside mixed", "one of the two")
    count = int(number_in(reader, "mixed", Fraction(1), 1, MOST_DRAWN, whole=True))
    kinds = reader.texts("kinds")
    _check(reader, "kinds", kinds, ASKED)
    return MixedItems(count, kinds, reader.texts("joints"), _levels(reader))


def drawn_problems(
    reader: Reader, mixed: MixedItems, problems: Mapping[str, Problem], words: str
) -> tuple[Problem, ...]:
    """Return the problems of a mixed set in their order; a fault where there are not so many.

    Args:
        reader: the item.
        mixed: what it asks for.
        problems: those there are; only those that ship and are still offered may be drawn.
        words: what the draw follows from, and nothing else.
    """
    there = [one for one in problems.values() if _ships(one) and not one.retired]
    _check(reader, "joints", mixed.joints, {one.joint for one in there})
    fitting = [one for one in there if mixed.may_have(one)]
    if len(fitting) < mixed.count:
        found = f"found {mixed.count}"
        reader.fault("mixed", found, f"at most {len(fitting)}: there are no more of these")
        return ()
    return tuple(_draw(fitting, mixed.count, words))


def drawn_told(drill: Drill) -> tuple[str, ...]:
    """Return in a sentence which problems were drawn, and how they are kept; () for none."""
    tasks = enumerate(drill.task_items, 1)
    drawn = [f"task {number} {item.problem.id}" for number, item in tasks if item.is_drawn]
    if not drawn:
        return ()
    kept = "to have these in every version, name them in items of their own in its place"
    return (f"drawn are {listed(drawn)}; {kept}",)


def _draw(left: list[Problem], count: int, words: str) -> Iterator[Problem]:
    """Yield so many problems, each of the kinds there were fewest of, and a short one if any is."""
    kinds, joints, is_short = Counter[str](), Counter[str](), cache(_is_short)

    def lot(problem: Problem) -> tuple[int, bytes]:
        drawn = hashlib.sha256(f"{words}\x1f{problem.id}".encode()).digest()
        return joints[problem.joint], drawn

    for _ in range(count):
        fewest = min(kinds[one.asks] for one in left)
        order = sorted((one for one in left if kinds[one.asks] == fewest), key=lot)
        chosen = next(filter(is_short, order), order[0])
        left.remove(chosen)
        kinds[chosen.asks] += 1
        joints[chosen.joint] += 1
        yield chosen


def _is_short(problem: Problem) -> bool:
    return len(problem.question(SAMPLE).derivation.asked) <= SHORT


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
    if isinstance(levels, list) and all(is_number(one) and one in LEVELS for one in levels):
        return tuple(map(int, levels))
    reader.fault("levels", f"found {shown(levels)}", "a list of some of 1, 2 and 3")
    return ()
