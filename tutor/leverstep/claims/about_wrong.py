"""What a number that is not right is said of, by its words and arithmetic, or by one slip."""

from __future__ import annotations

import heapq
import math

from leverstep.claims import weights
from leverstep.claims.evidence import Evidence
from leverstep.claims.near_numbers import is_constant, is_of_si, telling
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.proof import Proof
from leverstep.claims.ruled_out import RuledOut
from leverstep.claims.subject import Subject
from leverstep.claims.worth import factors_of, has_call
from leverstep.entry.tree import Number
from leverstep.statics.units import ANGLE, LENGTH

_HALVING = (0.5, 2.0)
_MOST_SUSPECTED = 6
"""So many quantities are tried, of which a number may be that is not right."""


class AboutWrong:
    """Finds out which quantity a number of a page is meant to be, though it has not its value."""

    def __init__(
        self, subject: Subject, evidence: Evidence, proof: Proof, ruled_out: RuledOut
    ) -> None:
        self.subject = subject
        self.evidence = evidence
        self.proof = proof
        self.ruled_out = ruled_out

    def told(self, statement: NumberStated) -> Quantity | None:
        """Return what a wrong value is about, None where that can't be told."""
        if statement.is_alone and not self._may_be_wrong_alone(statement):
            return None
        if statement.key:
            return self.subject.all[statement.key]
        if not statement.side.value:
            return None  # nothing may be of what acts at the axis
        if (told := self.proof.naming.told_by_numbers(statement)) is not None:
            return told
        ranked = [
            (self.evidence.of_wrong(statement, quantity), quantity.key)
            for quantity in self.subject.all.values()
            if (quantity.step is not None or quantity.family in ("mass", "angle"))
            and self.subject.scales.may_be(statement.side, quantity)
            and self.subject.names.is_of_sort(statement.label, quantity)
            and not self._is_worked_from(statement, quantity)
        ]
        score, key = max(ranked, default=(-math.inf, ""))
        return self.subject.all[key] if score >= weights.ENOUGH_IF_WRONG else None

    def _is_worked_from(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether the value of a quantity is a factor of a product that is more than its
        conversion, and so of something else: `54.5 / 2` is not the length of 54.5 cm.
        """
        worth = abs(self.subject.worth(quantity))
        factors = [n for side in statement.arithmetic for n in factors_of(side.tree)]
        if not worth or not any(is_of_si(n, worth) for n in factors if self._is_told(n)):
            return False
        is_halved = any(abs(number.value) in _HALVING for number in statement.literals)
        has_function = any(has_call(side.tree) for side in statement.arithmetic)
        return len(telling(statement.literals)) > 1 or is_halved or has_function

    def _is_told(self, number: Number) -> bool:
        """Return whether a number is no constant, or a given, with its figures."""
        given = self.subject.question.numbers.values()
        return not is_constant(number) or ((number.figures or 0) > 1 and number.value in given)

    def suspected(self, statement: NumberStated) -> Quantity | None:
        """Return what a number may be of, since one slip on the way to it gives that number; None
        where nothing is, or where it is not worked out from numbers that are known.
        """
        if not statement.arithmetic or self.evidence.known_share(statement.literals) < 1:
            return None
        suspects = (
            quantity
            for quantity in self.subject.with_line
            if (quantity.step is not None and quantity.step.asked)
            and self.subject.scales.may_be(statement.side, quantity)
            and self.subject.names.is_of_sort(statement.label, quantity)
            and not self.ruled_out.is_of_other_force(statement, quantity)
        )
        likeliest = heapq.nlargest(
            _MOST_SUSPECTED, suspects, lambda one: self.evidence.of_wrong(statement, one)
        )
        return next((q for q in likeliest if self.proof.has_slip(statement.side, q)), None)

    def likelier(self, statement: NumberStated, about: Quantity | None) -> Quantity | None:
        """Return what is suspected of a number, where no slip on the way to what its words tell
        gives it; None where there is one, or nothing is suspected.
        """
        if about is not None and self.proof.has_slip(statement.side, about):
            return None
        return self.suspected(statement)

    def _may_be_wrong_alone(self, statement: NumberStated) -> bool:
        """Return whether a value among words claims something: `the melon is 25.3 kg`.

        A length or an angle among words may be any, unless its sort is named.
        """
        dimension = statement.side.dimension
        if dimension == LENGTH:
            return self.subject.names.names_sort(statement.label, "arm", "distance")
        if dimension == ANGLE:
            return self.subject.names.names_sort(statement.label, "angle")
        return dimension is not None
