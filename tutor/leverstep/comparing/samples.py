"""Values made up for the symbols of an equation, and what its sides come to with them."""

from __future__ import annotations

import abc
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from leverstep.course.problem import Question
from leverstep.entry.amount import LARGEST_VALUE, Amount, evaluate
from leverstep.entry.tree import Measured, Name, Negative, Operation, Tree, names_in
from leverstep.statics.acting import Force
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.convert import book_size
from leverstep.statics.units import known_unit

SAMPLES = 3
"""So many sets of values tell what an equation says."""

CLOSE = 1e-9
"""What the arithmetic of a computer may leave of nothing, as a share of what it came from."""

_MOVED = 1e-4
"""An equation that does not hold is off by more than this share."""


class EquationSample(abc.ABC):
    """One set of values for all symbols, made up but the same each time.

    `own` are the values that were chosen, `values` those of every line with them. `sources` has the
    key of what is doubled to double a force or couple, by its symbol.
    """

    def __init__(
        self,
        question: Question,
        own: Mapping[str, float],
        sources: Mapping[str, str],
        weighed: Iterable[Force],
    ) -> None:
        self.question = question
        self.own = own
        self.sources = sources
        self.values = self._evaluate(own)
        # A mass goes with its weight, so that `m g` is as good as `W`.
        self._masses = [
            (force.magnitude.sign, force.symbol, weight_of_one(force))
            for force in weighed
            if force.magnitude is not None and force.magnitude.is_mass
        ]

    def _evaluate(self, own: Mapping[str, float]) -> Mapping[str, float]:
        return self.question.graph.on_demand(self.question.numbers, own)

    @property
    @abc.abstractmethod
    def _in_and_out(self) -> Sequence[Mapping[str, float]]:
        """Return the values in equilibrium, and then some out of it."""

    def known(self, named: set[str], values: Mapping[str, float]) -> Mapping[str, Amount]:
        """Return the symbols named with some values; a mass goes with its weight."""
        known = values_named(self.question, values, named, in_kilograms=False)
        known |= {
            mass: Amount(values[weight] / size)
            for mass, weight, size in self._masses
            if mass in named
        }
        couples = {couple.symbol for couple in self.question.problem.posture.couples} & named
        return known | {couple: Amount(values[couple]) for couple in couples}

    def residual(self, sides: tuple[Tree, ...], values: Mapping[str, float]) -> float:
        """Return left side minus right side, with all that is divided by multiplied out."""
        return imbalance(sides, self.known(names_among(sides), values))[0]

    def share(self, force: str, sides: tuple[Tree, ...]) -> float:
        """Return what doubling one force adds to the residual."""
        source = self.sources[force]
        doubled = self._evaluate({**self.own, source: 2 * self.own[source]})
        return self.residual(sides, doubled) - self.residual(sides, self.values)

    def has_values(self, sides: tuple[Tree, ...]) -> bool:
        """Return whether both sides have a value with the values that the samples begin with."""
        known = self.known(names_among(sides), self.values)
        return not any(cleared(side, known).divides_by_nothing for side in sides)

    def holds(self, sides: tuple[Tree, ...]) -> bool | None:
        """Return whether an equation holds in equilibrium, and does not hold out of it.

        None is for an equation that has no value in one of these.
        """
        named = names_among(sides)
        ways = [self.known(named, values) for values in self._in_and_out]
        balanced, *turned = ([cleared(side, known) for side in sides] for known in ways)
        if any(side.divides_by_nothing for both in (balanced, *turned) for side in both):
            return None
        in_balance, size = difference(*balanced)
        moved = (difference(*both) for both in turned)
        return abs(in_balance) <= CLOSE * size and any(abs(m) > _MOVED * s for m, s in moved)


class Cleared(NamedTuple):
    """A term as a numerator over a denominator, with the sizes of all that each is summed up from.

    `top_size` and `bottom_size` are what the parts of the two come to with their signs left out, so
    that what rounding leaves of nothing can be told from a small number.
    """

    top: float
    bottom: float = 1.0
    top_size: float = 0.0
    bottom_size: float = 1.0

    @property
    def divides_by_nothing(self) -> bool:
        """Return whether the denominator comes to nothing, so that there is no value."""
        return abs(self.bottom) <= CLOSE * self.bottom_size


def cleared(tree: Tree, known: Mapping[str, Amount]) -> Cleared:
    """Return a tree as a numerator and a denominator, so that no division stands in either.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    match tree:
        case Operation(operator="^"):
            value = evaluate(tree, known).value
            return Cleared(value, 1.0, abs(value))
        case Name() if tree.symbol in known:
            value = known[tree.symbol].value
            if abs(value) <= LARGEST_VALUE:
                return Cleared(value, 1.0, abs(value))
        case Operation():
            one, other = cleared(tree.left, known), cleared(tree.right, known)
            match tree.operator:
                case "+":
                    return _added(one, other, 1)
                case "-":
                    return _added(one, other, -1)
                case "/":
                    other = Cleared(other.bottom, other.top, other.bottom_size, other.top_size)
            return Cleared(
                one.top * other.top, one.bottom * other.bottom,
                one.top_size * other.top_size, one.bottom_size * other.bottom_size,
            )  # fmt: skip
        case Negative():
            inner = cleared(tree.term, known)
            return inner._replace(top=-inner.top)
        case Measured():
            return cleared(tree.term, known)
    value = evaluate(tree, known).value
    return Cleared(value, 1.0, abs(value))


def _added(one: Cleared, other: Cleared, sign: int) -> Cleared:
    return Cleared(
        one.top * other.bottom + sign * other.top * one.bottom, one.bottom * other.bottom,
        one.top_size * other.bottom_size + other.top_size * one.bottom_size,
        one.bottom_size * other.bottom_size,
    )  # fmt: skip


def weight_of_one(force: Force) -> float:
    """Return the newtons of a load whose mass is 1 in the unit it is given in, or else 1 kg."""
    unit = "kg" if force.magnitude is None else force.magnitude.unit
    return CONVENTIONS["g"].values[0] * book_size(unit)


def names_among(sides: tuple[Tree, ...]) -> set[str]:
    """Return the symbols that stand in an equation."""
    return {name.symbol for side in sides for name in names_in(side)}


def values_named(
    question: Question, values: Mapping[str, float], named: set[str], in_kilograms: bool
) -> dict[str, Amount]:
    """Return the values of the symbols named, givens as they are given or masses in kilograms."""
    known = {key: Amount(values[key]) for key in named if key in values}
    for given in question.givens:
        if given.sign in named and given.sign not in known:
            mass = given.is_mass and in_kilograms
            size = float(known_unit(given.unit).size) if mass else 1.0
            known[given.sign] = Amount(question.numbers[given.key] * size)
    known["g"] = Amount(CONVENTIONS["g"].values[0])
    return known


def imbalance(sides: tuple[Tree, ...], known: Mapping[str, Amount]) -> tuple[float, float]:
    """Return left side minus right side, multiplied out, and how large all its terms are."""
    left, right = (cleared(side, known) for side in sides)
    return difference(left, right)


def difference(left: Cleared, right: Cleared) -> tuple[float, float]:
    """Return one side minus the other, multiplied out, and how large all its terms are."""
    residual = left.top * right.bottom - right.top * left.bottom
    return residual, left.top_size * right.bottom_size + right.top_size * left.bottom_size
