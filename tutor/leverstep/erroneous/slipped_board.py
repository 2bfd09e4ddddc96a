"""The board with somebody else's working: a class says which line is wrong by a slip."""

from __future__ import annotations

from leverstep.board.board import Board, BoardLine
from leverstep.course.problem import Question
from leverstep.erroneous.erroneous_working import (
    ErroneousWorking,
    erroneous_working,
    told_of_slip,
)
from leverstep.erroneous.slip_questions import told_of_line
from leverstep.slips.catalogue import Catalogue
from leverstep.statics.step import Step
from leverstep.working.own import OwnError
from leverstep.working.page import line_name
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.writing import value_text


class SlippedBoard(Board):
    """A board whose lines are those of an invented student, with a slip on one or two of them."""

    def __init__(self, question: Question, catalogue: Catalogue, slips: int = 1) -> None:
        """Begin with no line shown; `slips` is how many are made, where so many show.

        Raises:
            ValueError: where no slip shows with these numbers.
        """
        self._slips = slips
        self._other: ErroneousWorking | None = None
        super().__init__(question, catalogue)
        _ = self.other

    def _work_out(self) -> None:
        super()._work_out()
        self._other = erroneous_working(self.question, self._catalogue, self._slips)

    @property
    def other(self) -> ErroneousWorking:
        """Return the working that stands on the board.

        Raises:
            ValueError: where no slip shows with the numbers as they are.
        """
        if self._other is None:
            raise OwnError("no slip shows with these numbers")
        return self._other

    @property
    def asks(self) -> str:
        """Return what a class is asked: which line it is, by its symbol."""
        coming = self.next_line
        said = "Say which line is the first that is wrong, by its symbol."
        if len(self.other.slips) > 1:
            said = "Say which two lines have a slip of their own, by their symbols."
        return f"Next: {coming.name}. {said}" if coming else said

    @property
    def found(self) -> dict[str, float]:
        """Return the values that stand on the board, by key, for the diagram."""
        return {key: self.other.values[key] for key in super().found}

    def _line(self, step: Step) -> BoardLine:
        right, values = super()._line(step), self.other.values
        value = value_text(step, values[step.key]) if step.key in values else ""
        text = self.other.line(step.key).text
        return BoardLine(right.key, right.name, right.asks, text, value, right.reason, right.note)

    def change(self, text: str) -> None:
        """Change givens; the slip is that of the numbers as they are then.

        Raises:
            ValueError: where nothing was changed, as on any board, or no slip would show.
        """
        before = self.question
        super().change(text)
        if self._other is None:
            self.question = before
            self._work_out()
            raise OwnError("no slip would show then")

    def judge(self, text: str) -> tuple[Verdict, str]:
        """Return whether a class names the line of a slip, and what to say of it."""
        said = text.strip().casefold()
        steps = self._working.steps
        named = (s for s in steps if said in (s.key.casefold(), line_name(s).casefold()))
        step = next(named, None)
        if step is None:
            return Verdict("", text, Outcome.UNREAD), "Name a line by its symbol."
        other = self.other
        slip = next((one for one in other.slips if one.step is step), None)
        if slip is None:
            told = told_of_line(other, other.slips[0], step)
            return Verdict(step.key, text, Outcome.WRONG), f"No. {told}"
        name = told_of_slip(self.question, slip.made)
        right = other.right_line(step).text
        told = f"Yes. The slip: {name}. {slip.made.slip.reason} Right: {right}."
        return Verdict(step.key, text, Outcome.RIGHT), told
