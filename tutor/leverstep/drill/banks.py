"""The bank of an item: several problems, of which each student has one.

They are named, or found among those that ship by what they ask for, their joint and their level.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from leverstep.course.faults import Reader
from leverstep.course.phrases import listed
from leverstep.course.plain_text import shown
from leverstep.course.problem import SAMPLE, Problem
from leverstep.drill.drill import MOST_WORKINGS, Drill
from leverstep.drill.narrowing import fitting_problems, narrowed_in

BANK = "any"
"""The key of an item that has a bank."""

_OF_ONE = ("problem", "pair")
"""The keys of an item that are about one problem alone."""

_LIKE = 'a list such as ["elbow-pail-of-water", "plain-seesaw"], or { joints = ["elbow"] }'


def bank_in(
    reader: Reader, named: Callable[[str], Problem | None], problems: Mapping[str, Problem]
) -> tuple[Problem, ...]:
    """Return the problems of an item that has a bank, () with a fault where they make none.

    Args:
        reader: the item.
        named: what returns the problem of a name; None, with a fault, where there is none.
        problems: those of which some may be found; only those that ship are.
    """
    reader.asked |= {BANK, *_OF_ONE}
    for key in filter(reader.has, _OF_ONE):
        reader.fault(key, f"found beside {BANK}", "one of the two")
    if is_found(reader):
        table = reader.child(BANK)
        assert table is not None
        found = fitting_problems(table, narrowed_in(table), problems)
        table.finish()
    else:
        names = reader.texts(BANK)
        if twice := [name for name in dict.fromkeys(names) if names.count(name) > 1]:
            reader.fault(BANK, f"found {shown(twice[0])} twice", "each problem once")
        read = [named(name) for name in dict.fromkeys(names)]
        found = [problem for problem in read if problem is not None]
        if len(found) < len(read):
            return ()
    if 2 <= len(found) <= MOST_WORKINGS:
        return tuple(found)
    expected = f"2 to {MOST_WORKINGS} problems" if found else _LIKE
    reader.fault(BANK, f"found {len(found)}", expected)
    return ()


def faulty_in(reader: Reader, bank: tuple[Problem, ...]) -> tuple[str, ...]:
    """Return the problems of a bank that an item says were withdrawn, by id; not all may be."""
    faulty = reader.texts("faulty")
    ids = [problem.id for problem in bank] if reader.has(BANK) else []
    for name in faulty:
        if name not in ids:
            found = f"found {shown(name)}{reader.near(name, ids)}"
            reader.fault("faulty", found, f"a problem of {BANK}")
    if ids and set(ids) <= set(faulty):
        reader.fault("faulty", "found all of them", 'withdrawn = "full marks" for that')
    return faulty


def is_found(reader: Reader) -> bool:
    """Return whether the problems of an item's bank are not named, but found by what they are."""
    return isinstance(reader.table.get(BANK), dict)


def banks_told(drill: Drill) -> Iterator[str]:
    """Yield for each task with a bank which problems are in it, and how many lines each asks for.

    Unlike lengths make unlike work for the same marks.
    """
    for number, item in enumerate(drill.task_items, 1):
        if item.others:
            lengths = [
                f"{one.id} ({len(one.question(SAMPLE).derivation.asked)})" for one in item.bank
            ]
            yield f"task {number} is one of these, with so many lines: {listed(lengths)}"
