"""An equation of forces through one point with both sought forces in it: the slip in it, and what
two such equations of a page lead to.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from leverstep.claims.force_polygon import known_and_sought
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_same
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.unknowns import Equation
from leverstep.claims.worth import plain_value
from leverstep.comparing.equation import TermFindings, balance_line, judge_equation
from leverstep.entry.tree import Call, Measured, Name, Negative, Number, Operation, Tree, Unreadable

_STRAIGHT = 1e-6
"""How far an equation may bend, as a share of its size, and still be linear."""

_ROUNDED_OFF = 2e-3
"""How far numbers may be rounded from line to line, as a share of them."""

_NEWTONS = re.compile(r"\b(?:k?N|lbf)\b")
"""A unit of force: without one all of a page may be in kilograms."""


class BalanceSlip(NamedTuple):
    """The key of an equation of forces, and what is made otherwise in one that was written."""

    key: str
    terms: TermFindings


class _BalanceLine(NamedTuple):
    """An equation of the page: `one` and `other` times the sought forces and `rest` are nothing."""

    one: float
    other: float
    rest: float
    digits: frozenset[str] = frozenset()

    def is_multiple_of(self, other: _BalanceLine) -> bool:
        """Return whether a line says the same as another, but for rounding."""
        mine, theirs = ((line.one, line.other, line.rest) for line in (self, other))
        place = max(range(3), key=lambda i: abs(theirs[i]))
        by = mine[place] / theirs[place] if theirs[place] else 0.0
        return bool(by) and all(
            math.isclose(a, by * b, rel_tol=_ROUNDED_OFF, abs_tol=1e-9)
            for a, b in zip(mine, theirs, strict=True)
        )


class Balances:
    """Finds the slip in an equation of forces, and keeps those of a page."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory
        self.known, self.sought = known_and_sought(subject.question.problem.posture)
        self._lines: list[_BalanceLine] = []

    def slip_in(self, chain: Chain) -> BalanceSlip | None:
        """Return the one slip that an equation has in both sought forces, None where it has none,
        or more, or anything in it that is not understood.
        """
        if chain.is_aside or not self._has_both(chain):
            return None
        question = self.subject.question
        try:
            one, other = (self._in_symbols(side, chain) for side in chain.sides[:2])
            key = balance_line(question, (one, other))
            found = judge_equation(question, question.derivation.step(key), (one, other))
        except Unreadable:
            return None
        slips = {choice.kind for choice, _ in found.changes}
        if len(slips) != 1 or found.unknown:
            return None
        is_in_masses = slips == {"given_used"} and not _NEWTONS.search(chain.text)
        return None if is_in_masses else BalanceSlip(key, found)

    def keep(self, chain: Chain, known: Mapping[str, float]) -> None:
        """Keep an equation in both sought forces as it stands, so that what is worked out from two
        such may follow.
        """
        if (line := self._line(chain, known)) is not None:
            self._lines.append(line)

    def says_again(self, chain: Chain, known: Mapping[str, float]) -> bool:
        """Return whether an equation says in other numbers what one of the page does."""
        first, *others = chain.sides
        lines = [self._line(replace(chain, sides=(first, other)), known) for other in others]
        return any(
            all(
                line is not None and line.digits != before.digits and line.is_multiple_of(before)
                for line in lines
            )
            for before in self._lines
        )

    def _line(self, chain: Chain, known: Mapping[str, float]) -> _BalanceLine | None:
        """Return an equation in both sought forces as a line, None for any other."""
        if len(self.sought) != 2 or not self._has_both(chain):
            return None
        at = [
            self._difference(chain, known, *values) for values in ((0, 0), (1, 0), (0, 1), (2, 3))
        ]
        rest, one, other = at[0], at[1] - at[0], at[2] - at[0]
        bend = abs(at[3] - rest - 2 * one - 3 * other)
        if not bend <= _STRAIGHT * (abs(one) + abs(other)):  # this is so for nan
            return None
        return _BalanceLine(one, other, rest, Equation(chain, known, "").digits)

    def worked_out(self, key: str) -> list[float]:
        """Return what a sought force comes to by each two equations of the page."""
        if key not in self.sought:
            return []
        found = []
        for one, other in itertools.combinations(self._lines, 2):
            size = one.one * other.other - one.other * other.one
            if math.isclose(one.one * other.other, one.other * other.one, rel_tol=1e-6):
                continue
            first = (one.other * other.rest - one.rest * other.other) / size
            second = (one.rest * other.one - one.one * other.rest) / size
            found.append(first if key == self.sought[0] else second)
        return found

    def _has_both(self, chain: Chain) -> bool:
        """Return whether the symbols of an equation are those of the sought forces, and no more."""
        if len(chain.sides) < 2 or not self.sought:
            return False
        keys = {self.memory.key_of(name) for name in chain.symbols_in(*chain.sides[:2])}
        return keys == set(self.sought)

    def _difference(
        self, chain: Chain, known: Mapping[str, float], one: float, other: float
    ) -> float:
        """Return how much more the first side is than the second, for sizes of the forces."""
        sizes = dict(zip(self.sought, (one, other), strict=True))
        names = chain.symbols_in(*chain.sides[:2])
        values = {**known, **{name: sizes[self.memory.key_of(name)] for name in names}}
        first, second = (plain_value(side, chain, values) for side in chain.sides[:2])
        return first - second

    def _in_symbols(self, tree: Tree, chain: Chain) -> Tree:
        """Return a side in the symbols of the problem, a known force or its mass among them."""
        match tree:
            case Name():
                return Name(self.memory.key_of(chain.names[tree.symbol]), tree.place)
            case Number():
                symbol = self._known_force(tree)
                return Name(symbol, 0) if symbol else tree
            case Measured():
                return self._in_symbols(tree.term, chain)
            case Negative():
                return Negative(self._in_symbols(tree.term, chain))
            case Operation(operator="+" | "-" | "*" | "/"):
                left, right = (self._in_symbols(one, chain) for one in (tree.left, tree.right))
                return Operation(tree.operator, left, right)
            case Call() | Operation():
                return tree

    def _known_force(self, number: Number) -> str:
        """Return the symbol of the known force that a number is, or of its mass, else ""."""
        posture = self.subject.question.problem.posture
        symbols = [key for one in self.known for key in (one, posture.force(one).mass_key)]
        found = (key for key in symbols if is_same(number, self.subject.right.get(key, math.nan)))
        return next(found, "")
