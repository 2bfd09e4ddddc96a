"""A number whose arithmetic is traced to what its numbers stand for, be these right or not.

Each number is taken as what it should be, exactly: then the line comes to exactly what it is of. So
a line is seen whose numbers are wrong, or which has no name that is understood.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import NamedTuple

from leverstep.claims.judged_line import LineStanding
from leverstep.claims.meanings import Meaning, Meanings, Slot, Way, ways, worth
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.entry.amount import Amount, evaluate
from leverstep.entry.tree import Tree, Unreadable

_STRAIGHT = 1e-9
"""How far a number may bend what a line comes to, as a share, that it is still linear in."""
_MOST_OPEN = 2
"""So many numbers may stand for something that the page does not tell."""

_MEANT_UNASKED = frozenset({"arm", "mass", "mass moment"})
"""Sorts that a number which is not understood may be of, though no line is for it."""


class Traced(NamedTuple):
    """What a line comes to, and its value by the numbers of the page, in SI."""

    quantity: Quantity
    meaning: Meaning


class Tracing:
    """Traces numbers, by what the page has written so far."""

    def __init__(self, subject: Subject, meanings: Meanings) -> None:
        self.subject = subject
        self.meanings = meanings
        self._each: list[Quantity] = []

    def of_number(self, statement: NumberStated) -> Iterator[list[Traced]]:
        """Yield what the arithmetic of a number comes to, that with fewest open numbers first."""
        there = [self.meanings.slotted(s.tree, statement.chain) for s in statement.arithmetic]
        for count in range(_MOST_OPEN + 1):
            yield [
                one
                for tree, slots in there
                for one in self._with_open(tree, slots, count, statement)
            ]

    def _with_open(
        self, tree: Tree, slots: list[Slot], count: int, statement: NumberStated
    ) -> Iterator[Traced]:
        """Yield what a tree comes to, where so many of its numbers may be of anything."""
        loose = [slot for slot in slots if slot.free is not None]
        for free in itertools.combinations(loose, count):
            fixed = [slot for slot in slots if slot not in free]
            for way in ways(fixed):
                for whole in self._completed(tree, way, free, statement) if free else [way]:
                    if (meaning := worth(tree, whole)) is not None:
                        for quantity in self.meanings.exactly(meaning.amount):
                            yield Traced(quantity, meaning)

    def _completed(
        self, tree: Tree, way: Way, free: tuple[Slot, ...], statement: NumberStated
    ) -> Iterator[Way]:
        """Yield the ways to put quantities in the open places, so that the tree comes to one."""
        *others, last = free
        sign = math.copysign(1.0, statement.side.plain)
        for some in itertools.product(self._placed(), repeat=len(others)):
            pairs = list(zip(others, some, strict=True))
            if not all(self._may_be(slot, quantity) for slot, quantity in pairs):
                continue
            there = {**way, **{slot.name: self._put(slot, quantity) for slot, quantity in pairs}}
            line = _linear(tree, there, last.name)
            if line is None:
                continue
            for target in self._targets(statement):
                size = (sign * abs(self.subject.worth(target)) - line[0]) / line[1]
                for quantity in self.meanings.sized(size) if size > 0 else ():
                    if self._may_be(last, quantity):
                        yield {**there, last.name: self._put(last, quantity)}

    def _put(self, slot: Slot, quantity: Quantity) -> Meaning:
        """Return a quantity as what an open number stands for."""
        amount = Amount(abs(self.subject.worth(quantity)), quantity.dimension)
        own = amount.value if slot.free is None else abs(slot.free.value)
        return Meaning(amount, own, is_amiss=True)

    def _placed(self) -> list[Quantity]:
        """Return a quantity for each value that may stand in an open place."""
        if not self._each:
            there = {
                (round(abs(worth), 9), one.dimension): one
                for one in reversed(self.subject.all.values())
                if (one.step is not None or one.family in _MEANT_UNASKED)
                and (worth := self.subject.worth(one))
                and not math.isnan(worth)
            }
            self._each = list(there.values())
        return self._each

    def _targets(self, statement: NumberStated) -> list[Quantity]:
        """Return what a number may be of, one for each value."""
        may_be = self.subject.scales.may_be
        return [one for one in self._placed() if may_be(statement.side, one)]

    def _may_be(self, slot: Slot, quantity: Quantity) -> bool:
        """Return whether a number of the page that is known to be of something, though wrong, may
        stand for a quantity: one of the same forces.
        """
        free = slot.free
        if free is None or free.standing is not LineStanding.WRONG:
            return True
        return set(self.subject.all[free.key].about) == set(quantity.about)


def _linear(tree: Tree, way: Way, name: str) -> tuple[float, float] | None:
    """Return what a tree comes to without a number, and what it changes by it; None where it is not
    linear in that.
    """
    known = {one: Amount(meaning.amount.value) for one, meaning in way.items()}
    try:
        one, two, three = (
            evaluate(tree, {**known, name: Amount(value)}).value for value in (1.0, 2.0, 3.0)
        )
    except Unreadable:
        return None
    change = two - one
    is_linear = abs(three - two - change) <= _STRAIGHT * max(abs(one), abs(three))
    return (one - change, change) if is_linear and change else None
