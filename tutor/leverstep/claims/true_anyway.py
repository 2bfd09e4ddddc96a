"""A number that is true though it is of no line: a conversion, a share, a sum without a name, what
would be.
"""

from __future__ import annotations

import math
from dataclasses import replace

from leverstep.claims.following import Following
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import label_of
from leverstep.claims.matching import Match
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_constant, is_near, is_same, telling
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.claims.worth import Side, has_call
from leverstep.entry.tree import Number, Operation
from leverstep.statics.units import (
    ANGLE,
    FORCE,
    MASS,
    MASS_LENGTH,
    MOMENT,
    NUMBER,
    Dimension,
    known_unit,
)

_FEWEST_NUMBERS = 2
"""So many numbers of the page a sum has that is called by nothing."""
_ROUND = (90.0, 180.0, 270.0, 360.0)
"""From what an angle of a page is taken that is told from another line."""
_BY_WEIGHT = {MASS_LENGTH: MOMENT, MASS: FORCE}
"""What a page that leaves g out has in place of moments and forces."""
_COARSE = 0.1
"""A number that is rounded by more than this share of it is some multiple of any other."""


class TrueAnyway:
    """Judges such numbers, by what the page has written so far; none of them is called wrong."""

    def __init__(self, subject: Subject, memory: Memory, following: Following) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following

    def claim(self, statement: NumberStated) -> Claim | None:
        """Return what a number claims truly, None where nothing is seen to be true."""
        return (
            self._converted(statement)
            or self._turned(statement)
            or self._quotient(statement)
            or self._worked_on(statement)
            or self._supposed(statement)
        )

    def _converted(self, statement: NumberStated) -> Claim | None:
        """Return the claim that a given is so much in another unit: `16.0 lb = 7.26 kg`, or by its
        arithmetic `160 π/180 = 2.79 rad/s`.
        """
        if len(statement.sides) < 2 or statement.key:  # by its symbol it is of a line
            return None
        is_of_one = len(telling(statement.literals)) < _FEWEST_NUMBERS
        has_function = any(has_call(side.tree) for side in statement.arithmetic)
        is_conversion = bool(statement.arithmetic) and is_of_one and not has_function
        if is_conversion and self._is_given(statement.side):
            return statement.claim(LineStanding.KEPT, "", statement.side.value)
        first, last = statement.sides[0], statement.side
        is_other_unit = last.dimension is not None and first.dimension == last.dimension
        if not is_other_unit or first.is_arithmetic or not self.subject.is_given(first):
            return None
        return statement.claim(LineStanding.KEPT, "", last.value)

    def _is_given(self, side: Side) -> bool:
        """Return whether a rounded value is a given, in whatever unit that has its dimension."""
        question = self.subject.question
        return any(
            side.dimension == known_unit(given.unit).dimension
            and is_near(side.value, question.in_si(given), side.slack)
            for given in question.givens
            if given.unit
        )

    def _turned(self, statement: NumberStated) -> Claim | None:
        """Return the claim that an angle of the page is so much from another line: `180 - 31.4`."""
        if statement.side.dimension != ANGLE or statement.symbol or not statement.arithmetic:
            return None
        match statement.arithmetic[0].tree:
            case Operation(operator="-", left=Number(value=v), right=Number() as angle) if (
                v in _ROUND
            ):
                there = self.memory.results_like(angle)
            case _:
                return None
        if not there:
            return None
        is_amiss = self.memory.holds_amiss(angle)
        standing = LineStanding.FOLLOWS if is_amiss else LineStanding.KEPT
        return statement.claim(standing, "", statement.side.value)

    def _quotient(self, statement: NumberStated) -> Claim | None:
        """Return the claim that one number of the page is so much of another, by no name."""
        if statement.symbol or statement.side.dimension is not None:
            return None
        names = self.subject.names
        if names.names_sort(statement.label, "ratio", "angle"):
            return None
        if names.names_sort(statement.label, "arm") and self._is_upside_down(statement.side):
            return None
        match statement.sides[0].tree:
            case Operation(operator="/", left=Number() as above, right=Number() as below):
                numbers = (above, below)
            case _:
                return None
        if is_constant(below) or not all(map(self.memory.holds_or_given, numbers)):
            return None
        if not self._are_alike(above, below):
            return None  # one is no multiple of the other
        is_amiss = any(map(self.memory.holds_amiss, numbers))
        if not is_amiss and not self._is_as_named(statement):
            return None
        standing = LineStanding.FOLLOWS if is_amiss else LineStanding.KEPT
        return statement.claim(standing, "", statement.side.value)

    def _are_alike(self, above: Number, below: Number) -> bool:
        """Return whether two numbers of the page or the problem are not the same, and may be of one
        dimension; only a moment is divided by a moment.
        """
        of_above, of_below = self._dimensions(above), self._dimensions(below)
        if of_below == {MOMENT} and of_above != {MOMENT}:
            return False
        is_told = bool(of_above and of_below)
        return above.value != below.value and (not is_told or not of_above.isdisjoint(of_below))

    def _dimensions(self, number: Number) -> set[Dimension]:
        """Return of what dimensions a number may be as the page has it, or as it is given; none
        where the page has it for what is not known.
        """
        question = self.subject.question
        stated = {
            known_unit(given.unit).dimension if given.unit else NUMBER
            for given in question.givens
            if is_same(number, question.numbers[given.key])
        }
        there = [self.subject.all.get(one.key) for one in self.memory.results_like(number)]
        if None in there and not stated:
            return set()
        known = stated | {one.dimension for one in there if one is not None}
        return {_BY_WEIGHT.get(dimension, dimension) for dimension in known}

    def _is_as_named(self, statement: NumberStated) -> bool:
        """Return whether a ratio is that of the two forces, or of their arms, that the words before
        it name, the first over the second; true where they name no two.
        """
        named = self._forces_in_order(statement.chain.before)
        if len(named) != 2:
            return True
        worth = self.subject.worth
        above, below = (
            [one for one in self.subject.all.values() if one.about == (force,)] for force in named
        )
        ratios = [
            abs(worth(one) / worth(other))
            for one in above
            for other in below
            if one.dimension == other.dimension and worth(other)
        ]
        side = statement.side
        return any(is_near(abs(side.value), ratio, side.slack) for ratio in ratios)

    def _forces_in_order(self, words: str) -> list[str]:
        """Return the forces that words name, each once, in the order of the words."""
        names = self.subject.names
        found = [names.forces_named(label_of(word)) - {"body"} for word in words.split()]
        return list(
            dict.fromkeys(force for forces in found if len(forces) == 1 for force in forces)
        )

    def _is_upside_down(self, side: Side) -> bool:
        """Return whether a number is the reverse of a ratio that is asked for, and no ratio."""
        ratios = [one for one in self.subject.all.values() if one.family == "ratio"]
        worth = [one for one in ratios if is_near(side.value, self.subject.worth(one), side.slack)]
        return bool(worth) and all(one.is_upside_down for one in worth)

    def _worked_on(self, statement: NumberStated) -> Claim | None:
        """Return the claim of a sum of numbers of the page that is called by nothing, or of the
        symbols that it has for them: `A + B = 365 N`.
        """
        label, numbers = statement.label, telling(statement.literals)
        is_called = statement.symbol or label.words or label.of or statement.chain.context.strip()
        if is_called or not statement.arithmetic:
            return None
        tree = statement.arithmetic[0].tree
        symbols = statement.chain.symbols_in(tree)
        is_sum = isinstance(tree, Operation) and tree.operator in "+-"
        if not is_sum or len(numbers) + len(symbols) < _FEWEST_NUMBERS:
            return None
        latest = [self.memory.latest(self.memory.key_of(symbol)) for symbol in symbols]
        if None in latest or not all(map(self.memory.holds, numbers)):
            return None
        known = [there for there in map(self._dimensions, numbers) if there]
        if known and not set.intersection(*known):
            return None  # no such things are added
        if _may_be_anything(statement.arithmetic[0], statement.side):
            unread = statement.claim(LineStanding.UNREAD, "", statement.side.value)
            return replace(unread, unequal=True)
        is_amiss = any(map(self.memory.holds_amiss, numbers))
        is_amiss = is_amiss or any(one is not None and one.is_not_right for one in latest)
        standing = LineStanding.FOLLOWS if is_amiss else LineStanding.KEPT
        return statement.claim(standing, "", statement.side.value)

    def _supposed(self, statement: NumberStated) -> Claim | None:
        """Return the claim of what would be without a force that is named, or with it alone."""
        if not statement.chain.is_aside:
            return None
        label, chain = statement.label, statement.chain
        words = label.beside | label_of(chain.context).words
        names, dimension = self.subject.names, statement.side.dimension
        for world in self.following.supposed(words):
            for quantity in self.subject.with_line:
                target = world.get(quantity.key, math.nan)
                is_meant = bool(target) and names.may_be_of_sort(label, quantity, dimension)
                if is_meant and self._fits(statement, quantity, target):
                    return statement.claim(LineStanding.KEPT, "", statement.side.value)
        return None

    def _fits(self, statement: NumberStated, quantity: Quantity, target: float) -> bool:
        return self.subject.match(statement.stated, quantity, target) is Match.YES


def _may_be_anything(first: Side, last: Side) -> bool:
    """Return whether a coarse number is seen to be another by some factor between units alone."""
    if last.slack <= _COARSE * abs(last.value):
        return False
    size, slack = abs(last.plain), last.slack * 1.001
    tens = (-3, 0, 3) if last.dimension == FORCE else range(-3, 4)  # no force is in centinewtons
    return not any(is_near(abs(first.plain) * 10.0**by, size, slack) for by in tens)
