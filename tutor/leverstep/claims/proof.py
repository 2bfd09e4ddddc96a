"""Whether a number that is not right is proved wrong, or may be right in a way that is not seen."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.amending import AmendedLine
from leverstep.claims.following import Following
from leverstep.claims.labels import ValueLabel
from leverstep.claims.memory import Memory
from leverstep.claims.naming import Naming, has_form_of, says_what_joint_does
from leverstep.claims.near_numbers import (
    REPEATED,
    TOLERANCE,
    is_constant,
    is_near,
    is_same,
    stands_among,
    telling,
)
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.one_slip import values_with_one_slip
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.claims.unknowns import Equation
from leverstep.claims.worth import Side, calls_in, factors_of, plain_value
from leverstep.statics.units import FORCE, MASS, MASS_LENGTH, MOMENT, STANDARD_GRAVITY

_ROUNDED_OFF, _ROUNDED_TO_ONE_FIGURE = 0.03, 0.06
"""How far a right value may lie off, as a share of it, where its arithmetic is not shown: worked
from rounded numbers, or told roughly."""

_SURELY_NAMED = ("weight", "mass", "moment")
"""Sorts whose words are said of nothing else, as `along` or `force` may be."""
_FEWEST_SYMBOLS = 3
"""More symbols than these stand in an equation without a number that is of the working."""
_IN_MASSES = {FORCE: MASS, MOMENT: MASS_LENGTH}
"""What forces and moments are in masses, where both sides are divided by gravity."""


class Proof:
    """Weighs what speaks for a line's being wrong, by what the page has written so far.

    Two things are asked for: that the line is unmistakably about a quantity, and that one slip made
    on the way to that quantity gives the number.
    """

    def __init__(self, subject: Subject, memory: Memory, following: Following) -> None:
        self.subject = subject
        self.memory = memory
        self.following = following
        self.evidence = following.evidence
        self.naming = Naming(subject, memory)
        self._forces_with_line = [
            force.symbol
            for force in subject.question.problem.forces
            if force.symbol in subject.right
        ]
        self._givens = {given.sign for given in subject.question.givens if given.sign}

    def of_number(
        self, statement: NumberStated, about: Quantity, amended: AmendedLine | None = None
    ) -> bool:
        """Return whether a number is proved not to be what it should be.

        Args:
            statement: the number.
            about: the quantity that it is most likely said of.
            amended: what its line would be of with one thing in it otherwise, None for nothing.
        """
        if statement.chain.is_aside:
            return False
        if self._is_in_masses(statement.side, about) and not self._is_from_force(statement):
            return False
        if statement.arithmetic and statement.symbol in self.memory.of_unread:
            return False  # what may be wrong was written before, in symbols
        if self._is_told_to_be_another(statement, about):
            return False
        right = self.subject.worth(about)
        if not statement.arithmetic and self._is_worth(statement.side, about, right, _ROUNDED_OFF):
            return False
        if self._is_laid_under_its_name(statement, about):
            return True
        is_whole = bool(statement.symbol) or self.subject.names.names_whole(statement.label)
        is_whole = is_whole or about.family in ("reaction", "ratio")
        return (
            self.naming.is_named(statement, about)
            and has_form_of(statement, about)
            and (
                self.has_slip(statement.side, about, is_whole)
                or (amended is not None and amended.proves(about))
                or self._has_factor_amiss(statement, about)
            )
        )

    def _has_factor_amiss(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a product is right once a factor divides, or gravity or the sine or cosine
        of an angle is taken out.
        """
        right = self.subject.worth(about)
        trees = [one.tree for one in statement.arithmetic[:1]]
        factors = [n for tree in trees for n in factors_of(tree)]
        inputs = self.subject.inputs_of(about)
        functions = [n for n in factors if self.subject.is_function_of_angle(n)]
        known = (n for n in factors if n not in functions)
        if not all(stands_among(n, inputs) or self.memory.holds(n) for n in known):
            return False
        gravity = self.subject.question.accepted["g"]
        ratios = [n.value**-2 for n in factors if n.value and not is_constant(n)]
        ratios += [1 / n.value for n in factors if n.value in gravity or n in functions]
        calls = [call for tree in trees for call in calls_in(tree)]
        worth = (plain_value(call, statement.chain, statement.known) for call in calls)
        ratios += [1 / one for one in worth if one]
        return any(
            self._is_worth(statement.side, about, right / ratio, REPEATED) for ratio in ratios
        )

    def _is_laid_under_its_name(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a value with its unit, and no more, stands under the name of a quantity.

        Half of it or twice as much may be of one side of the body, or of both.
        """
        if statement.arithmetic or statement.side.dimension is None or about.axis:
            return False
        if about.family in ("angle", "reaction") and (
            self.memory.own or not statement.stated.strict
        ):
            return False  # it may come of parts that are wrong, and right by chance
        side, right = statement.side, self.subject.worth(about)
        if any(is_near(abs(side.value), by * abs(right), side.slack) for by in (0.5, 2.0)):
            return False
        if self._is_worth(side, about, right, _ROUNDED_TO_ONE_FIGURE):
            return False
        if statement.stated.strict:
            return True
        is_named = self.subject.names.names_sort(statement.label, about.sort)
        return is_named and not statement.symbol and self.naming.is_spoken_of(statement, about)

    def _is_worth(
        self, side: Side, quantity: Quantity, target: float, share: float = TOLERANCE
    ) -> bool:
        """Return whether a number has the size of a target, in some unit of a quantity.

        Args:
            side: the number.
            quantity: what it is taken for.
            target: the value that is looked for, in SI.
            share: how far it may lie from the target, as a share of that.
        """
        return any(
            is_near(abs(side.value * by), abs(target), side.slack * by, share)
            for by in self.subject.scales.factors(side, quantity)
        )

    def of_unknown(self, equation: Equation, side: Side, about: Quantity) -> bool:
        """Return whether what an unknown comes to is proved not to be what it should be.

        Args:
            equation: what it was found by.
            side: what it comes to.
            about: the quantity that it is most likely.
        """
        names, unknown = self.subject.names, equation.unknown
        numbers = telling(equation.literals)
        if equation.chain.is_aside or self.evidence.known_share(numbers) < 1:
            return False
        if numbers and unknown in self.memory.of_unread:
            return False  # what may be wrong was written before, in symbols
        if any(map(self.memory.holds_unread, numbers)):
            return False
        if any(is_same(number, worth) for number in numbers for worth in self._values_of(about)):
            return False  # it stands there as a number, and something else is sought
        is_told = bool(numbers) or len(equation.others) > _FEWEST_SYMBOLS
        if not is_told or not all(map(self._has_value, equation.others)):
            return False
        fit = names.fit(ValueLabel(frozenset(), unknown), about)
        is_sought = about.step is not None and about.step.kind.found and equation.has_factor
        is_likely = is_sought and fit >= weights.ENOUGH_BY_SYMBOL and about.family != "ratio"
        is_named = self.memory.key_of(unknown) == about.key or is_likely
        if not is_named or self._is_in_masses(side, about):
            return False
        meant = (
            one
            for one in self.subject.all.values()
            if not one.is_sum
            and (names.axis_of(unknown) or not one.is_component)
            and one.dimension == about.dimension
        )
        if self._is_one_of(side, meant):
            return False
        return self.has_slip(side, about)

    def _has_value(self, symbol: str) -> bool:
        """Return whether the page has a value for a symbol, or it is that of a given."""
        key = self.memory.key_of(symbol)
        return symbol in self.memory.written or key in self._givens or self.memory.has(key)

    def _is_in_masses(self, side: Side, about: Quantity) -> bool:
        """Return whether a number without a unit is right where gravity is left out throughout."""
        if side.dimension is not None or about.dimension not in _IN_MASSES:
            return False
        weight, world = abs(side.value) * STANDARD_GRAVITY, self.following.world()
        return any(
            is_near(weight * by, abs(worth), 0.0)
            for one in self.subject.all.values()
            if (one.dimension, one.is_sum) == (about.dimension, about.is_sum)
            for by in self.subject.scales.of(_IN_MASSES[one.dimension])
            for worth in {self.subject.worth(one), world.get(one.key, 0.0)}
        )

    def _is_from_force(self, statement: NumberStated) -> bool:
        """Return whether a force in newtons, and no mass, stands in an arithmetic."""
        forces, masses = (
            [abs(self.subject.worth(q)) for q in self.subject.all.values() if q.dimension == of]
            for of in (FORCE, MASS)
        )
        return any(
            any(is_same(number, force) for force in forces)
            and not any(is_same(number, mass) for mass in masses)
            for number in statement.literals
        )

    def _is_told_to_be_another(self, statement: NumberStated, about: Quantity) -> bool:
        """Return whether a number is a given, or the value of another quantity that may be meant.

        A ratio by its name is not its reverse, and a component by its axis not that of another.
        """
        if self.subject.is_given(statement.side):
            return True
        if about.family == "ratio":
            return False
        is_moment = about.sort == "moment" and self.subject.names.names_sort(
            statement.label, "moment"
        )
        quantities = [
            one
            for one in self.subject.all.values()
            if not (is_moment and one.dimension == FORCE)
            and not self._is_told_of_other(statement, about, one)
        ]
        if about.is_component:
            quantities = [one for one in quantities if not statement.is_along_other_axis(one)]
        if about.whole:
            quantities = [one for one in quantities if not one.whole]
        if about.axis and statement.stated.strict:
            quantities = [one for one in quantities if one.axis or one.family != "reaction"]
        if statement.side.value < 0:
            quantities = [one for one in quantities if one.key != about.key]
            if statement.stated.strict:
                quantities = [one for one in quantities if one.signed]
        return self._is_one_of(statement.side, quantities)

    def _is_told_of_other(self, statement: NumberStated, about: Quantity, other: Quantity) -> bool:
        """Return whether an arithmetic is said of one force alone in the words for its sort, and
        another quantity is not of that; or of the whole reaction, and it is a part of that.
        """
        names, label = self.subject.names, statement.label
        if not statement.arithmetic:
            return False
        if about.family == "reaction":
            is_whole = all(map(self.memory.has, self._forces_with_line))
            is_part = other.is_sum and "from" not in label.behind
            return is_whole and is_part and says_what_joint_does(statement)
        if about.sort not in _SURELY_NAMED or not names.names_sort(label, about.sort):
            return False
        named = names.forces_named(label)
        is_sole = bool(named) and named == set(about.about)
        return is_sole and bool(other.about) and not named & set(other.about)

    def _is_one_of(self, side: Side, quantities: Iterable[Quantity]) -> bool:
        """Return whether a number is what one of some quantities is, or would be for the page."""
        return any(
            self._is_worth(side, one, worth, REPEATED)
            for one in quantities
            for worth in self._values_of(one)
            if worth
        )

    def _values_of(self, quantity: Quantity) -> set[float]:
        """Return what a quantity is, and would be for the page."""
        worlds = (self.following.world(), self.following.sure_world())
        followed = (world.get(quantity.key, math.nan) for world in worlds)
        return {self.subject.worth(quantity), *followed}

    def has_slip(self, side: Side, about: Quantity, is_whole: bool = True) -> bool:
        """Return whether one slip on the way to a quantity gives a number.

        Args:
            side: the number.
            about: the quantity.
            is_whole: whether a sum is said to be whole; a part of it is no slip otherwise.
        """
        if about.family == "mass" and about.step is None and about.uses:
            side, about = self._weighed(side), self.subject.all[about.uses[0]]
        if about.step is None:
            return False
        if about.is_component:
            return self._is_of_other_axis(side, about)
        question, right = self.subject.question, abs(self.subject.worth(about))
        return any(
            self._is_worth(side, about, one, REPEATED) and not is_near(abs(one), right, 0.0)
            for own in self._own(about.key)
            for one in values_with_one_slip(question, about.key, own, is_whole)
        )

    def _weighed(self, side: Side) -> Side:
        """Return the weight of a mass."""
        gravity = self.subject.question.accepted["g"][0]
        return replace(
            side, value=side.value * gravity, slack=side.slack * gravity, dimension=FORCE
        )

    def _is_of_other_axis(self, side: Side, about: Quantity) -> bool:
        """Return whether a component is that along the other axis, as where sine stands for cosine.

        What else it may be is one along an axis of the student's own.
        """
        force = about.about[0]
        whole = self.subject.right.get(force)
        own = self.memory.own.get(force, whole) / whole if whole else 1.0
        return any(
            self._is_worth(side, one, self.subject.worth(one) * as_large)
            for one in self.subject.along_other_axis(about)
            for as_large in {1.0, own}
        )

    def _own(self, key: str) -> list[dict[str, float]]:
        """Return the values that stand on the page of lines that a line rests on, those of the page
        where wrong; and again with those alone that are wrong for sure, where that is not the same.
        """
        own, doubted = self.memory.own, self.memory.doubted
        before = self.subject.question.derivation.ancestors(key)
        there = {
            quantity.key: self.subject.worth(quantity)
            for quantity in self.subject.with_line
            if quantity.key in before and self.memory.has(quantity.key)
        }
        wrong = {key: own[key] for key in there if key in own}
        sure = {key: value for key, value in wrong.items() if key not in doubted}
        return [there | wrong, *([there | sure] if sure != wrong else [])]
