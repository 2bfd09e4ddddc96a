"""What the sign of a right value tells: which of two opposite quantities it is of, and the sense in
which a page counts moments.
"""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.claims import weights
from leverstep.claims.memory import Memory
from leverstep.claims.number_stated import NumberStated
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.subject import Subject
from leverstep.statics.kinds import SUM
from leverstep.statics.units import MOMENT


class OppositeSigns:
    """Tells quantities that are opposite from each other, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory

    def by_own_sign(
        self, statement: NumberStated, quantity: Quantity, others: Iterable[Quantity]
    ) -> Quantity:
        """Return what a value is of: a quantity, or the opposite one, whose sign it has.

        Neither arithmetic nor the name tells which of the two is meant.
        """
        if statement.arithmetic or self._has_own_sign(statement, quantity):
            return quantity
        opposite = (
            one
            for one in others
            if self._may_be_either(statement, quantity, one) and self._has_own_sign(statement, one)
        )
        return next(opposite, quantity)

    def of_symbol(self, statement: NumberStated, found: Iterable[Quantity]) -> Quantity | None:
        """Return what a symbol of the student's own is of after all, where it was taken for the
        opposite, whose sign its value has not; None for any other.
        """
        before = self.subject.all.get("" if statement.stated.strict else statement.key)
        there = [] if before is None else list(found)
        if before is None or before in there:
            return None
        turned = (one for one in there if before.key == one.opposite_of)
        quantity = next(turned, None)
        if quantity is not None:
            self.memory.bound[statement.symbol] = quantity.key
        return quantity

    def note_sense(self, statement: NumberStated, quantity: Quantity) -> None:
        """Take the sign of a right moment as the sense in which the page counts moments."""
        if quantity.dimension != MOMENT or not quantity.signed:
            return
        is_signed = self._tells_sense(statement, quantity)
        sense = 1 if statement.side.plain * self.subject.worth(quantity) > 0 else -1
        for one in (quantity, *self._sums_of(quantity)):
            self.memory.senses.take(one, sense, is_signed and one is quantity)

    def _has_own_sign(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a value has the sign of a quantity, by the sense that the page keeps."""
        sense = self.memory.senses.of_page if quantity.dimension == MOMENT else 1
        return statement.side.plain * self.subject.worth(quantity) * (sense or 1) > 0

    def _may_be_either(self, statement: NumberStated, one: Quantity, other: Quantity) -> bool:
        """Return whether two quantities are opposite, and a name does not tell that it is one."""
        is_opposite = one.opposite_of == other.key or other.opposite_of == one.key
        if not is_opposite or statement.stated.strict:
            return False
        names, label = self.subject.names, statement.label
        if one.whole and names.names_sum(label):
            return False
        return names.fit(label, one) - names.fit(label, other) < weights.INDEX_BY_LETTER

    def _tells_sense(self, statement: NumberStated, quantity: Quantity) -> bool:
        """Return whether a right moment has a sign, and is no other one in the other sense."""
        return (statement.side.plain < 0 or statement.stated.plus) and not any(
            self._may_be_either(statement, quantity, one) for one in self.subject.with_line
        )

    def _sums_of(self, quantity: Quantity) -> list[Quantity]:
        """Return the sum of all known moments that has one term alone, where this is that term."""
        return [
            one
            for one in self.subject.with_line
            if one.is_line_of(SUM) and one.uses == (quantity.key,)
        ]
