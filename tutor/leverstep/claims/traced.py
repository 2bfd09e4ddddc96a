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
from leverstep.claims.meanings import EXACT, Meaning, Meanings, Slot, Way, ways, worth
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.unknowns import Equation
from leverstep.entry.amount import Amount, evaluate
from leverstep.entry.tree import Operation, Tree, Unreadable

_STRAIGHT = 1e-9
"""How far a number may bend what a line comes to, as a share, that it is still linear in."""
_MOST_TRIES = 400
"""So many ways to put what numbers stand for together are tried for a line."""
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
        self._tries = 0

    def of_number(self, statement: NumberStated) -> Iterator[list[Traced]]:
        """Yield what the arithmetic of a number comes to, that with fewest open numbers first."""
        goes_on = statement.chain.leads and not statement.symbol
        sides = statement.arithmetic or (statement.sides if goes_on else [])
        there = [self.meanings.slotted(side.tree, statement.chain) for side in sides]
        self._tries, sign = 0, math.copysign(1.0, statement.side.plain)
        targets = [
            sign * abs(self.subject.worth(one))
            for one in self._placed()
            if self.subject.scales.may_be(statement.side, one)
        ]
        for count in range(_MOST_OPEN + 1):
            yield [
                Traced(quantity, meaning)
                for tree, slots in there
                if count < max(1, len(slots))  # something in it is known
                for way in self._ways(tree, slots, count, targets)
                if (meaning := worth(tree, way)) is not None
                for quantity in self.meanings.exactly(meaning.amount)
            ]

    def balances(self, tree: Tree, chain: Chain) -> bool:
        """Return whether a sum comes to nothing, as the problem is in equilibrium."""
        if not isinstance(tree, Operation) or tree.operator not in "+-":
            return False
        whole, slots = self.meanings.slotted(tree, chain)
        part, its = self.meanings.slotted(tree.left, chain)
        for way in itertools.islice(ways(slots), _MOST_TRIES):
            left = worth(part, {slot.name: way[slot.name] for slot in its})
            rest = worth(whole, way)
            if left is None or rest is None or rest.is_amiss:
                continue
            if abs(rest.amount.value) <= EXACT * abs(left.amount.value):
                return True
        return False

    def of_unknown(self, equation: Equation) -> Iterator[list[Traced]]:
        """Yield what the unknown of an equation is, that with fewest open numbers first."""
        one, other = equation.chain.sides[:2]
        tree, slots = self.meanings.slotted(Operation("-", one, other), equation.chain)
        symbols = [slot for slot in slots if slot.symbol == equation.unknown]
        if len(symbols) != 1:
            return
        self._tries, sought = 0, symbols[0]
        slots = [slot for slot in slots if slot is not sought]
        for count in range(_MOST_OPEN):
            yield [
                Traced(quantity, Meaning(way[sought.name].amount, own, is_amiss))
                for way in self._ways(tree, slots, count, [0.0], (sought,))
                if _is_nothing(tree, way, sought.name)
                for quantity in self.meanings.exactly(way[sought.name].amount)
                for is_amiss in [any(one.is_amiss for one in way.values())]
                if (own := _root(tree, way, sought.name)) is not None
            ]

    def _ways(
        self,
        tree: Tree,
        slots: list[Slot],
        count: int,
        targets: list[float],
        sought: tuple[Slot, ...] = (),
    ) -> Iterator[Way]:
        """Yield the ways to put what may stand in the places of a tree, where so many of its
        numbers may be of anything that makes it one of some sizes, and so is what is sought.
        """
        loose = [slot for slot in slots if slot.free is not None]
        for free in itertools.combinations(loose, count):
            fixed, left = [slot for slot in slots if slot not in free], (*free, *sought)
            for way in ways(fixed):
                if not self._may_try():
                    return
                yield from self._completed(tree, way, left, targets) if left else [way]

    def _completed(
        self, tree: Tree, way: Way, free: tuple[Slot, ...], targets: list[float]
    ) -> Iterator[Way]:
        """Yield the ways to put quantities in the open places, so that the tree has a size."""
        *others, last = free
        for some in itertools.product(self._placed(), repeat=len(others)):
            if not self._may_try():
                return
            pairs = list(zip(others, some, strict=True))
            if not all(self._may_be(slot, quantity) for slot, quantity in pairs):
                continue
            there = {**way, **{slot.name: self._put(slot, quantity) for slot, quantity in pairs}}
            for quantity in self._fitting(tree, there, last, targets):
                yield {**there, last.name: self._put(last, quantity)}

    def _fitting(
        self, tree: Tree, there: Way, last: Slot, targets: list[float]
    ) -> Iterator[Quantity]:
        """Yield what stands in the last open place, so that the tree has one of some sizes."""
        line = _linear(tree, there, last.name)
        sizes = () if line is None else [(target - line[0]) / line[1] for target in targets]
        for size in sizes:
            there_are = self.meanings.sized(size) if size > 0 else ()
            yield from (one for one in there_are if self._may_be(last, one))

    def _may_try(self) -> bool:
        """Return whether one more way may be tried, and count it."""
        self._tries += 1
        return self._tries <= _MOST_TRIES

    def _put(self, slot: Slot, quantity: Quantity) -> Meaning:
        """Return a quantity as what an open number stands for."""
        amount = Amount(abs(self.subject.worth(quantity)), quantity.dimension)
        own = amount.value if slot.free is None else abs(slot.free.value)
        return Meaning(amount, own, is_amiss=slot.free is not None)

    def _placed(self) -> list[Quantity]:
        """Return a quantity for each value that may stand in an open place."""
        if not self._each:
            there = {
                (round(abs(worth), 9), one.dimension): one
                for one in reversed(self.subject.all.values())
                if (one.step is not None or one.whole or one.family in _MEANT_UNASKED)
                and (worth := self.subject.worth(one))
                and not math.isnan(worth)
            }
            self._each = list(there.values())
        return self._each

    def _may_be(self, slot: Slot, quantity: Quantity) -> bool:
        """Return whether a number of the page that is known to be of something, though wrong, may
        stand for a quantity: one of the same forces.
        """
        free = slot.free
        if free is None or free.standing is not LineStanding.WRONG:
            return True
        return set(self.subject.all[free.key].about) == set(quantity.about)


def _is_nothing(tree: Tree, way: Way, name: str) -> bool:
    """Return whether the sides of an equation, whose difference a tree is, go together and are one
    with what its unknown is.
    """
    meaning, line = worth(tree, way), _linear(tree, way, name)
    if meaning is None or line is None:
        return False
    return abs(meaning.amount.value) <= EXACT * max(abs(line[0]), abs(line[1]))


def _root(tree: Tree, way: Way, name: str) -> float | None:
    """Return what the unknown comes to by the numbers of the page, in SI."""
    own = {one: m._replace(amount=m.amount._replace(value=m.own)) for one, m in way.items()}
    line = _linear(tree, own, name)
    return None if line is None else -line[0] / line[1]


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
