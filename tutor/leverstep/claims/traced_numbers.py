"""The claim of a number whose arithmetic is traced to what its numbers stand for."""

from __future__ import annotations

import math
from dataclasses import replace

from leverstep.claims.evidence import Evidence
from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.matching import Match
from leverstep.claims.meanings import Meaning
from leverstep.claims.near_numbers import is_near
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.ruled_out import RuledOut
from leverstep.claims.subject import Subject
from leverstep.claims.traced import Traced, Tracing
from leverstep.claims.worth import Side, numbers_in
from leverstep.statics.units import ANGLE

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
        for found in self.tracing.of_number(statement):
            fitting = [
                (self.evidence.of_label(statement, one.quantity), one.quantity.key, one)
                for one in found
                if self._fits_traced(statement, one) and _is_as_told(one, about)
            ]
            if fitting:
                _, _, traced = max(fitting, key=lambda one: one[0])
                return self._claim_traced(statement, traced)
        return self._balance(statement)

    def _balance(self, statement: NumberStated) -> Claim | None:
        """Return the claim that forces or moments come to nothing, but for rounding."""
        for side in statement.arithmetic:
            largest = max((abs(number.value) for number in numbers_in(side.tree)), default=0.0)
            is_nothing = abs(statement.side.plain) <= _LEFT_BY_ROUNDING * largest
            if is_nothing and self.tracing.balances(side.tree, statement.chain):
                return statement.claim(LineStanding.KEPT, "", statement.side.value)
        return None

    def _fits_traced(self, statement: NumberStated, traced: Traced) -> bool:
        quantity, side = traced.quantity, statement.side
        if self.ruled_out.is_ruled_out(statement, quantity):
            return False
        if quantity.is_sum and not quantity.whole:
            return False  # a force may be left out by mistake
        if statement.stated.strict and statement.key != quantity.key:
            return False
        if quantity.dimension == ANGLE and quantity.step is None:
            return False
        right, stated = self.subject.worth(quantity), statement.stated
        if traced.meaning.is_amiss:
            value = self.subject.nearest(side, quantity)
            if side.dimension is not None and not _is_worked_out(side, traced.meaning):
                return False
            stated = replace(stated, side=side.times(abs(right / value)))
        return self.subject.match(stated, quantity, right) is Match.YES

    def _claim_traced(self, statement: NumberStated, traced: Traced) -> Claim:
        quantity = traced.quantity
        is_asked = quantity.step is not None and quantity.step.asked
        value = math.copysign(
            self.subject.nearest(statement.side, quantity), self.subject.worth(quantity)
        )
        if traced.meaning.is_amiss:
            claim = statement.claim(LineStanding.FOLLOWS, quantity.key, value)
            return replace(claim, doubted=True)  # it is no ground to call another line wrong
        standing = LineStanding.RIGHT if is_asked else LineStanding.KEPT
        return statement.claim(standing, quantity.key, value)


def _is_as_told(traced: Traced, about: Quantity | None) -> bool:
    """Return whether a number is of what is said of it; one that is all right may be of more."""
    return not traced.meaning.is_amiss or about is None or about.key == traced.quantity.key


def _is_worked_out(side: Side, meaning: Meaning) -> bool:
    """Return whether a value in its unit is what the numbers of the page come to; one of these may
    be off by its unit, and is so further on.
    """
    is_off = meaning.own > _OFF_BY_UNIT * abs(meaning.amount.value)
    return is_off or is_near(abs(side.value), abs(meaning.own), side.slack, _AS_WORKED_OUT)
