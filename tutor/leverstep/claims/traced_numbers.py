"""The claim of a number whose arithmetic is traced to what its numbers stand for."""

from __future__ import annotations

import math
from dataclasses import replace

from leverstep.claims import weights
from leverstep.claims.evidence import Evidence
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.matching import Match
from leverstep.claims.near_numbers import is_near
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.ruled_out import RuledOut
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Traced, Tracing
from leverstep.claims.worth import numbers_in
from leverstep.statics.units import ANGLE, LENGTH

_AS_WORKED_OUT = 0.03
"""How far a value may lie from what its numbers come to, as a share, as these are rounded."""
_LEFT_BY_ROUNDING = 0.01
"""What a balance comes to with rounded numbers, at most, as a share of the largest of these."""
_OFF_BY_UNIT = 20.0
"""A number so many times as large as it should be may be in another unit than is written."""


class TracedNumbers:
    """Judges such numbers, by what the page has written so far; none of them is called wrong."""

    def __init__(
        self, subject: Subject, evidence: Evidence, ruled_out: RuledOut, tracing: Tracing
    ) -> None:
        self.subject = subject
        self.evidence = evidence
        self.ruled_out = ruled_out
        self.tracing = tracing

    def claim(self, statement: NumberStated, about: Quantity | None) -> Claim | None:
        """Return the claim of a number that is exactly of something, once what it is worked out
        from is as it should be.

        Args:
            statement: the number.
            about: what symbol or words say that it is of, None where they tell nothing.
        """
        there = self.tracing.of_number(statement) if statement.side.value else ()
        for found in there:
            fitting = [
                (self.evidence.of_label(statement, one.quantity), one.quantity.key, one)
                for one in found
                if self._fits_traced(statement, one) and self._is_as_told(statement, one, about)
            ]
            if fitting:
                _, _, traced = max(fitting, key=lambda one: one[0])
                return self._claim_traced(statement, traced)
        return self._balance(statement)

    def _is_as_told(self, statement: NumberStated, traced: Traced, about: Quantity | None) -> bool:
        """Return whether words fit what a number is about as well as what they say most of; one
        that is all right may be of more.
        """
        if not traced.meaning.is_amiss or about is None:
            return True
        label, fit = statement.label, self.subject.names.fit
        better = weights.SAID_MUCH_BETTER
        return fit(label, traced.quantity) + better >= fit(label, about)

    def _balance(self, statement: NumberStated) -> Claim | None:
        """Return the claim that forces or moments come to nothing, but for rounding."""
        for side in statement.arithmetic:
            largest = max((abs(number.value) for number in numbers_in(side.tree)), default=0.0)
            is_nothing = abs(statement.side.plain) <= _LEFT_BY_ROUNDING * largest
            if is_nothing and self.tracing.balances(side.tree, statement.chain):
                return statement.claim(LineStanding.KEPT, "", statement.side.value)
        return None

    def _fits_traced(self, statement: NumberStated, traced: Traced) -> bool:
        quantity = traced.quantity
        if self.ruled_out.is_ruled_out(statement, quantity):
            return False
        if quantity.is_sum and not quantity.whole:
            return False  # a force may be left out by mistake
        if statement.stated.strict and statement.key != quantity.key:
            return False
        if quantity.dimension == ANGLE and quantity.step is None:
            return False
        if traced.meaning.is_amiss:
            return not self._is_given_length(quantity) and self._is_worked_out(statement, traced)
        if traced.meaning.amount.dimension != quantity.dimension:
            return self._is_in_masses(statement, traced)
        right = self.subject.worth(quantity)
        return self.subject.match(statement.stated, quantity, right) is Match.YES

    def _is_given_length(self, quantity: Quantity) -> bool:
        """Return whether a quantity is a length that is given, and follows from no other line."""
        step = quantity.step
        lines = {one.key for one in self.subject.question.derivation.steps}
        is_length = quantity.dimension == LENGTH and step is not None
        return is_length and lines.isdisjoint(step.uses if step is not None else ())

    def _is_worked_out(self, statement: NumberStated, traced: Traced) -> bool:
        """Return whether a value is what the numbers of the page come to, in its unit; one of these
        may be off by its unit, and is so further on.
        """
        side, meaning, quantity = statement.side, traced.meaning, traced.quantity
        size = abs(meaning.amount.value)
        is_off = meaning.own > _OFF_BY_UNIT * size
        is_own = is_near(abs(side.value), abs(meaning.own), side.slack, _AS_WORKED_OUT)
        if side.dimension is not None and not (is_off or is_own):
            return False
        right, value = self.subject.worth(quantity), self.subject.nearest(side, quantity)
        if meaning.own * meaning.amount.value < 0:
            return True  # it has the other sign by the numbers of the page
        stated = replace(statement.stated, side=side.times(abs(right / value)))
        return self.subject.match(stated, quantity, right) is Match.YES

    def _is_in_masses(self, statement: NumberStated, traced: Traced) -> bool:
        """Return whether a moment or force is written in masses, with no gravity in it, and what is
        called a weight is none.
        """
        if statement.is_weight_in_kilograms:
            return False
        side, (amount, *_) = statement.side, traced.meaning
        if not self.subject.scales.may_be(side, traced.quantity):
            return False
        scales = self.subject.scales.of(amount.dimension) if side.dimension is None else (1.0,)
        return side.dimension in (None, amount.dimension) and any(
            is_near(abs(side.value) * by, abs(amount.value), side.slack * by) for by in scales
        )

    def _claim_traced(self, statement: NumberStated, traced: Traced) -> Claim:
        quantity = traced.quantity
        is_asked = quantity.step is not None and quantity.step.asked
        value = math.copysign(
            self.subject.nearest(statement.side, quantity), self.subject.worth(quantity)
        )
        if traced.meaning.is_amiss:
            claim = statement.claim(LineStanding.FOLLOWS, quantity.key, value)
            return replace(claim, doubted=True)  # it is no ground to call another line wrong
        is_asked = is_asked and traced.meaning.amount.dimension == quantity.dimension
        standing = LineStanding.RIGHT if is_asked else LineStanding.KEPT
        return statement.claim(standing, quantity.key, value)
