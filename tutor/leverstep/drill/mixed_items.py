"""A mixed set of a drill: short problems of different kinds, drawn from those that ship.

Which problems it may have, `narrowing` tells.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from leverstep.course.faults import Reader
from leverstep.course.phrases import listed
from leverstep.course.problem import SAMPLE, Problem
from leverstep.drill.drill import Drill
from leverstep.drill.narrowing import NARROWING, Narrowed, fitting_problems, narrowed_in
from leverstep.drill.values import number_in

SHORT = 15
"""A problem of so many lines that are asked for, or fewer, is short: some ten minutes' work."""

MOST_DRAWN = 20
"""Problems of one set: enough for each kind once, and for a few of the commonest more."""

_OF_ONE = ("problem", "any", "count", "pair", "weights", "faulty")
"""The keys of an item that are about one problem alone, or a bank."""


@dataclass(frozen=True, slots=True)
class MixedItems:
    """How many problems are drawn, and of which."""

    count: int
    narrowed: Narrowed


def mixed_set(reader: Reader) -> MixedItems | None:
    """Return the mixed set that an item asks for, None where it names its problem."""
    reader.asked |= {"mixed", *NARROWING}
    if not reader.has("mixed"):
        for key in filter(reader.has, NARROWING):
            reader.fault(key, "found alone", "mixed = 5, or another number, beside it")
        return None
    reader.asked |= {*_OF_ONE}
    for key in filter(reader.has, _OF_ONE):
        reader.fault(key, "found beside mixed", "one of the two")
    count = int(number_in(reader, "mixed", Fraction(1), 1, MOST_DRAWN, whole=True))
    return MixedItems(count, narrowed_in(reader))


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
    fitting = fitting_problems(reader, mixed.narrowed, problems)
    if len(fitting) < mixed.count:
        found = f"found {mixed.count}"
        reader.fault("mixed", found, f"at most {len(fitting)}: there are no more of these")
        return ()
    return tuple(_draw(fitting, mixed.count, words))


def drawn_told(drill: Drill) -> tuple[str, ...]:
    """Return in a sentence which problems were drawn, and how they are kept; () for none."""
    tasks = enumerate(drill.task_items, 1)
    drawn = [
        f"task {number} {item.problem.id}"
        for number, item in tasks
        if item.is_drawn and not item.others
    ]
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
