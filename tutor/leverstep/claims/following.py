"""Whether a value would be right, had the student's own earlier numbers been right."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Set

from leverstep.claims import weights
from leverstep.claims.evidence import Evidence
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.labels import ValueLabel
from leverstep.claims.matching import Match, Stated
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import BETWEEN_UNITS, is_of_si, telling
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity, likeliest
from leverstep.claims.quantity_values import in_si, in_units_of_lines
from leverstep.claims.subject import Subject
from leverstep.claims.worth import Side, plain_value, replaced
from leverstep.entry.tree import Number
from leverstep.statics import kinds

Followed = tuple[Quantity, float]
"""A quantity that a value would be right for, and the value there, in SI."""


_NO_FORCE = 1e-9
"""A force in newtons that is none."""
_WITHOUT = frozenset({"without", "no", "ignoring", "neglecting", "empty", "forget"})
_ALONE = frozenset({"alone", "only", "just"})
"""Words for what would be without a force, or with it alone."""
_NEGLIGIBLE = 0.01
"""A component smaller than this share of the other is none."""


_FARTHEST = 12.0
"""So many times too large or too small, units apart, is a wrong value at most that lines rest on
without its being understood: a little more than with gravity left out."""
_MOST_AMISS, _MOST_FITTING, _MOST_PLACES = 2, 4, 6
"""So many numbers that are not right are put in the place of others, for so many quantities, in so
many places."""


class Following:
    """Puts the numbers of a page right, and works out what its wrong ones lead to."""

    def __init__(self, subject: Subject, memory: Memory, evidence: Evidence) -> None:
        self.subject = subject
        self.memory = memory
        self.evidence = evidence
        self._own: dict[str, float] = {}
        self._world: dict[str, float] = {}
        self._sure: dict[str, float] = {}
        self._sure_world: dict[str, float] = {}
        self._supposed: dict[tuple[str, ...], Mapping[str, float]] = {}

    # ---- what the page's numbers should be, and what they lead to

    def put_right(self, literals: Iterable[Number]) -> dict[float, float]:
        """Return the numbers that stand for wrong results of the page, with what they should be."""
        found: dict[float, float] = {}
        for number in literals:
            if number.value in found:
                continue
            wrong = self.memory.wrong_behind(number, BETWEEN_UNITS)
            if wrong is not None and not self.memory.is_written_right(number):
                found[number.value] = number.value * abs(wrong.right) / abs(wrong.value)
            elif (ratio := self._other_part(number)) is not None:
                found[number.value] = number.value * ratio
        return found

    def _other_part(self, number: Number) -> float | None:
        """Return how large the other component is, that which a number stands for being 1.

        Where the page has one component alone, it may have been taken for the other: sine for
        cosine. It is None where the number stands for no component, or both are there.
        """
        result = self.memory.last_like(number)
        part = None if result is None else self.subject.all.get(result.key)
        if part is None or not part.is_component or not self.subject.worth(part):
            return None
        other = next(iter(self.subject.along_other_axis(part)), None)
        if other is None or self.memory.has(other.key):
            return None
        ratio = abs(self.subject.worth(other) / self.subject.worth(part))
        return ratio if ratio > _NEGLIGIBLE else None  # else the force has that part alone

    def right_symbols(self, known: Mapping[str, float]) -> dict[str, float]:
        """Return the values of symbols as they would be if all results of the page were right."""
        found = dict(known)
        for symbol, value in known.items():
            last = self.memory.latest(self.memory.key_of(symbol))
            if last is not None and last.is_not_right and last.value:
                found[symbol] = value * abs(last.right) / abs(last.value)
        return found

    def world(self) -> Mapping[str, float]:
        """Return what every quantity comes to with the student's own wrong values, by key.

        The direction of the reaction is among them. There are none where nothing is wrong, or where
        the wrong values leave no equilibrium.
        """
        if self._own != self.memory.own:
            self._own = dict(self.memory.own)
            self._world = self._worked_out(self._own)
        return self._world

    def sure_world(self) -> Mapping[str, float]:
        """Return what every quantity comes to with the wrong values alone that are not in doubt."""
        if not self.memory.doubted:
            return self.world()
        sure = {key: v for key, v in self.memory.own.items() if key not in self.memory.doubted}
        if self._sure != sure:
            self._sure = sure
            self._sure_world = self._worked_out(sure)
        return self._sure_world

    def as_it_stands(self, quantity: Quantity) -> float:
        """Return what a line comes to by the values that stand on the page, nan where none does.

        A wrong value may be near the right one, and lead elsewhere than the world of the others.
        """
        if not self.memory.own or quantity.step is None:
            return math.nan
        own = {
            one.key: result.value
            for one in self.subject.with_line
            if one.key != quantity.key and (result := self.memory.latest(one.key)) is not None
        }
        return self._worth(quantity, own)

    def _worked_out(self, own_values: Mapping[str, float]) -> dict[str, float]:
        if not own_values:
            return {}
        own = {
            quantity.key: value if quantity.signed else abs(value)
            for quantity in self.subject.with_line
            if (value := own_values.get(quantity.key)) is not None
        }
        return self._values_with(own)

    def _values_with(self, own: dict[str, float]) -> dict[str, float]:
        """Return what every quantity comes to with some values, none where they don't go."""
        question = self.subject.question
        try:
            own = in_units_of_lines(question.derivation, own)
            steps = question.graph.values(question.numbers, {}, own=own)
            found = self.subject.quantities.values(steps)
        except (ArithmeticError, ValueError):
            return {}
        ways = (s.key for s in question.derivation.steps if s.kind is kinds.REACTION_DIRECTION)
        return {**found, **{key: steps[key] for key in ways if key in steps}}

    def supposed(self, words: Set[str]) -> Iterator[Mapping[str, float]]:
        """Yield what every quantity would be without a force that is named, or with that alone."""
        named = self.subject.names.forces_named(ValueLabel(frozenset(words)))
        posture = self.subject.question.problem.posture
        loads = [force.symbol for force in posture.forces if force.magnitude is not None]
        for force in sorted(named & set(loads)):
            if words & _WITHOUT:
                yield self._worlds_without((force,))
            if words & _ALONE:
                yield self._worlds_without(tuple(one for one in loads if one != force))

    def _worlds_without(self, forces: tuple[str, ...]) -> Mapping[str, float]:
        if forces not in self._supposed:
            self._supposed[forces] = self._values_with(dict.fromkeys(forces, _NO_FORCE))
        return self._supposed[forces]

    # ---- a number that follows

    def of_number(self, statement: NumberStated, pool: list[Quantity]) -> Followed | None:
        """Return what a number would be right for, None where it is for nothing.

        Args:
            statement: the number.
            pool: what it may be of.
        """
        return (
            self._reworked(statement, pool)
            or self._resting(statement, pool)
            or self._standing(statement)
            or self._through_unread(statement, pool)
        )

    def _reworked(self, statement: NumberStated, pool: list[Quantity]) -> Followed | None:
        """Return what its arithmetic comes to once the numbers in it are put right."""
        for ratio in self._ratios(statement):
            strict = statement.stated.strict and statement.side.value < 0
            stated = Stated(statement.side.times(ratio), statement.label, strict=strict)
            found = [
                (self.evidence.of_label(statement, quantity) + weights.REWORKED, quantity)
                for quantity in pool
                if self._is_of_sort(statement, quantity)
                and self.subject.match(stated, quantity, self.subject.worth(quantity)) is Match.YES
            ]
            if not found:
                continue
            score, quantity = likeliest(found)
            if score >= weights.ENOUGH_TO_FOLLOW:
                right = self.subject.worth(quantity)
                value = self.subject.scales.nearest(statement.side, quantity, right / ratio)
                return quantity, math.copysign(value, right)
        return None

    def _is_of_sort(self, statement: NumberStated, quantity: Quantity) -> bool:
        names, label = self.subject.names, statement.label
        return names.may_be_of_sort(label, quantity, statement.side.dimension)

    def _ratios(self, statement: NumberStated) -> Iterator[float]:
        """Yield how much more each arithmetic of a chain comes to, once its numbers are right."""
        swapped = self.put_right(statement.literals)
        symbols = self.right_symbols(statement.known)
        if not swapped and symbols == statement.known:
            return
        for side in statement.arithmetic:
            plain = plain_value(replaced(side.tree, swapped), statement.chain, symbols)
            if plain and side.plain and not math.isclose(plain, side.plain, rel_tol=1e-6):
                ratio = plain / side.plain
                if math.isfinite(ratio) and ratio:
                    yield ratio

    def _resting(self, statement: NumberStated, pool: list[Quantity]) -> Followed | None:
        """Return what it is with the student's own earlier values."""
        own = self.world()
        found = [
            (self.evidence.of_label(statement, quantity), quantity)
            for quantity in pool
            if (target := own.get(quantity.key, math.nan)) != self.subject.worth(quantity)
            and (
                statement.stated.strict or self.subject.names.is_of_sort(statement.label, quantity)
            )
            and self.subject.match(statement.stated, quantity, target) is Match.YES
        ]
        if not found:
            return None
        score, quantity = likeliest(found)
        if score < weights.ENOUGH_TO_REST_ON or quantity.key in self.memory.own:
            return None
        target = own[quantity.key]
        value = self.subject.scales.nearest(statement.side, quantity, target)
        return quantity, math.copysign(value, target)

    def _standing(self, statement: NumberStated) -> Followed | None:
        """Return what it is by the values that stand on the page, where its symbol is known."""
        quantity = self.subject.all.get(statement.key)
        if quantity is None:
            return None
        target = self.as_it_stands(quantity)
        if self.subject.match(statement.stated, quantity, target) is not Match.YES:
            return None
        value = self.subject.scales.nearest(statement.side, quantity, target)
        return quantity, math.copysign(value, target)

    def _through_unread(self, statement: NumberStated, pool: list[Quantity]) -> Followed | None:
        """Return what it is with numbers of the page that were not understood, or are wrong, each
        in the place of something that the line is worked out from.
        """
        numbers = telling(statement.literals)
        amiss = [number for number in numbers if self.memory.holds_amiss(number)]
        if not 0 < len(amiss) <= _MOST_AMISS or not all(map(self.memory.holds_or_given, numbers)):
            return None
        fitting = [
            (fit, quantity)
            for quantity in pool
            if quantity.step is not None
            and self.subject.scales.may_be(statement.side, quantity)
            and not self.evidence.adds_components(statement, quantity)
            and (fit := self._fit(statement, quantity)) >= weights.ENOUGH_TO_SEEK
        ]
        for _, quantity in sorted(fitting, key=lambda one: -one[0])[:_MOST_FITTING]:
            for own in self._in_places(quantity, numbers, amiss):
                target = self._worth_with(quantity, own)
                if self.subject.match(statement.stated, quantity, target) is Match.YES:
                    value = self.subject.scales.nearest(statement.side, quantity, target)
                    return quantity, math.copysign(value, target)
        return None

    def _fit(self, statement: NumberStated, quantity: Quantity) -> float:
        known = weights.SYMBOL_KNOWN if statement.key == quantity.key else 0.0
        return known + self.subject.names.fit(statement.label, quantity)

    def _in_places(
        self, quantity: Quantity, numbers: list[Number], amiss: list[Number]
    ) -> Iterator[dict[str, float]]:
        """Yield values of the student's own for what a quantity is worked out from."""
        uses = [
            use
            for use in self._uses(quantity)
            if not any(is_of_si(n, abs(self.subject.right[use])) for n in numbers)
        ]
        of = [self._surely_of(number, uses) for number in amiss]
        for places in itertools.permutations(uses[:_MOST_PLACES], len(amiss)):
            if any(key in places and key != use for use, key in zip(places, of, strict=True)):
                continue  # they are exchanged, as in a ratio upside down
            own = {
                use: self._as_value_of(self.subject.all[use], number)
                for use, number in zip(places, amiss, strict=True)
            }
            if all(_may_be_meant(value, self.subject.right[use]) for use, value in own.items()):
                yield own

    def _surely_of(self, number: Number, uses: list[str]) -> str:
        """Return which of some lines a number of the page follows as, "" where that is not sure."""
        last = self.memory.last_like(number)
        is_sure = last is not None and last.standing is LineStanding.FOLLOWS and not last.doubted
        return last.key if last is not None and is_sure and last.key in uses else ""

    def _as_value_of(self, quantity: Quantity, number: Number) -> float:
        """Return a number in SI, with the sign of a quantity, in the unit that brings it near."""
        right = self.subject.worth(quantity)
        side = Side(number, number.value, abs(number.value))
        return math.copysign(self.subject.scales.nearest(side, quantity, abs(right)), right)

    def _uses(self, quantity: Quantity) -> list[str]:
        """Return the lines that a quantity comes from, and those behind lines not written."""
        found: list[str] = []
        waiting = list(quantity.step.uses if quantity.step else ())
        while waiting and len(found) < _MOST_PLACES:
            use = waiting.pop(0)
            of = self.subject.all.get(use)
            if of is None or of.step is None or not self.subject.right.get(use) or use in found:
                continue
            found.append(use)
            if not self.memory.has(use):
                waiting += of.step.uses
        return found

    def _worth_with(self, quantity: Quantity, own: dict[str, float]) -> float:
        """Return what a quantity comes to with some values, and else those of the page."""
        standing = {
            one.key: value
            for one in self.subject.with_line
            if (value := self.memory.own.get(one.key)) is not None and one.key != quantity.key
        }
        return self._worth(quantity, {**standing, **own})

    def _worth(self, quantity: Quantity, own: Mapping[str, float]) -> float:
        """Return what a line comes to with some values, all in SI; nan where they don't go."""
        question, derivation = self.subject.question, self.subject.question.derivation
        values = in_units_of_lines(derivation, own)
        try:
            found = question.graph.probe(quantity.key, question.numbers, values).at(())
        except (ArithmeticError, ValueError):
            return math.nan
        return in_si(derivation, {quantity.key: found})[quantity.key]


def _may_be_meant(value: float, right: float) -> bool:
    """Return whether a value may stand in the place of another, by its size."""
    return abs(right) <= _FARTHEST * abs(value) and abs(value) <= _FARTHEST * abs(right)
