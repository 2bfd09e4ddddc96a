"""Which sense of rotation a page counts as positive, as far as its lines tell."""

from __future__ import annotations

from leverstep.claims.page_quantities import Quantity
from leverstep.statics import kinds


class Senses:
    """The sense that a page counts as positive, and in which each moment was last written.

    A sense is 1 where it is that of the problem, -1 where the other one, 0 where that is unknown.
    The first moment with a sign tells it, unless its name may be that of the opposite moment too,
    or words do, and further lines are judged by that. Where `is_own` is taken back it is the
    problem's from the start, and the size of a moment is no more than its value without the sign.
    """

    def __init__(self, is_own: bool = True) -> None:
        self.is_own = is_own
        self._of_page = 0 if is_own else 1
        self._told_by: set[str] = set()
        self._written: dict[str, int] = {}

    @property
    def of_page(self) -> int:
        """Return the sense that the page counts as positive."""
        return self._of_page

    def say(self, sense: int) -> None:
        """Take a sense that words name."""
        if self.is_own:
            self._of_page = sense
            self._told_by = {""}

    def take(self, quantity: Quantity, sense: int, is_signed: bool) -> None:
        """Take the sense that a right moment is written in, with a sign or as a size."""
        self._written[quantity.key] = sense
        if is_signed and self.is_own:
            self._of_page = self.for_line_of(quantity) or sense
        if sense == self._of_page:
            self._told_by.add(quantity.key)

    def for_line_of(self, quantity: Quantity) -> int:
        """Return the sense that a line of a quantity is judged by.

        What is handed on keeps to the moment that it is handed on from: its sign is all that there
        is to it. Who told the other sense by the sign of one line alone may write that anew, in the
        problem's.
        """
        if quantity.is_line_of(kinds.HANDED_MOMENT):
            return self.before(quantity) or self._of_page or 1
        is_alone = self._told_by == {quantity.key}
        return 0 if is_alone and self._of_page < 0 else self._of_page

    def before(self, quantity: Quantity) -> int:
        """Return the sense in which the moment is written that a quantity turns round."""
        return self._written.get(quantity.opposite_of, 0)
