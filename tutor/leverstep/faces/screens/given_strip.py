"""The strip of givens, which stays in sight whatever else is shown."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.faces.screens.pane import WrappedText
from leverstep.faces.screens.written import NO_BREAK, row_starts
from leverstep.working.page import fractions_given, givens, shares_given

_NARROWEST, _ROWS = 78, 2
"""Columns of the narrowest screen for it, and the rows that it may have there."""


class GivenStrip(WrappedText):
    """What a question gives, each with its symbol and unit, with g and the factors to take."""

    def __init__(self) -> None:
        super().__init__("strip")

    def show(self, question: Question) -> None:
        """Show the givens of a question."""
        self.say(given_line(question))


def given_line(question: Question) -> str:
    """Return in one line what is given, with g and the factors to take, none parted in itself.

    Where the narrowest screen would need a third row, fractions of a length are left out, which
    stand beside the picture too, and then the last factors and the shares of the body, which the
    statement has.
    """
    told, factors = givens(question), tuple(factor.text for factor in question.factors)
    shared = (*told, *shares_given(question))
    ways = [(*shared, *fractions_given(question), *factors), (*shared, *factors)]
    ways += [(*told, *factors[:most]) for told in (shared, told) for most in (2, 1)]
    lines = [f"Given: {' · '.join(part.replace(' ', NO_BREAK) for part in way)}" for way in ways]
    fitting = (line for line in lines if len(row_starts(line, _NARROWEST)) < _ROWS)
    return next(fitting, lines[-1])
