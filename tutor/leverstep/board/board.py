"""The board: the worked solution of a question, shown line by line before a class.

Forward and back, with the reason for each line; a given may be changed on the spot, and what a
class says for the next line is judged as a student's entry is. It keeps no record.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from leverstep.course.numbers import quadrant_of
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.ladder import because
from leverstep.slips.telling import class_note, tell
from leverstep.statics.points import Given
from leverstep.statics.step import Step
from leverstep.statics.units import ANGLE, known_unit
from leverstep.working.own import OwnError, read_values
from leverstep.working.page import line_name
from leverstep.working.rules import Rules
from leverstep.working.verdict import Verdict
from leverstep.working.wording import ask
from leverstep.working.working import Working
from leverstep.working.writing import value_text, worked_line


@dataclass(frozen=True, slots=True)
class BoardLine:
    """A line on the board: what it asks for, the line worked out, its value, and its reason.

    `value` is "" for the moment equation, `note` where the problem itself tells nothing more.
    """

    key: str
    name: str
    asks: str
    worked: str
    value: str
    reason: str
    note: str


class Board:
    """The lines of a question, of which the first `shown` stand on the board."""

    def __init__(self, question: Question, catalogue: Catalogue) -> None:
        self.question = question
        self.shown = 0
        self._drawn = question
        self._catalogue = catalogue
        self._work_out()

    def _work_out(self) -> None:
        """Work all lines out, for the numbers as they are now."""
        self._values = self.question.right
        self._working = self._written(len(self.question.derivation.asked))

    def _written(self, count: int) -> Working:
        """Return a working with so many lines, each entered as a student would."""
        working = Working(self.question, rules=Rules(hints=False))
        for step in working.steps[:count]:
            working.enter(step.key, worked_line(self.question, step, self._values))
        return working

    @property
    def count(self) -> int:
        """Return how many lines there are."""
        return len(self._working.steps)

    @property
    def lines(self) -> tuple[BoardLine, ...]:
        """Return the lines that stand on the board."""
        return tuple(self._line(step) for step in self._working.steps[: self.shown])

    @property
    def next_line(self) -> BoardLine | None:
        """Return the line that comes next; None at the end."""
        left = self._working.steps[self.shown :]
        return self._line(left[0]) if left else None

    @property
    def asks(self) -> str:
        """Return what a class is asked for: the next line, or that there is none."""
        coming = self.next_line
        return f"Next: {coming.name}. {coming.asks}" if coming else "That was the last line."

    @property
    def found(self) -> dict[str, float]:
        """Return the values that stand on the board, by key, for the diagram."""
        keys = {step.key for step in self._working.steps[: self.shown]}
        return {key: value for key, value in self._values.items() if key in keys}

    def _line(self, step: Step) -> BoardLine:
        question = self.question
        return BoardLine(
            step.key,
            line_name(step),
            f"{ask(question, step)}.",
            worked_line(question, step, self._values),
            value_text(step, self._values[step.key]) if step.key in self._values else "",
            because(self._working, step.key, self._catalogue),
            class_note(self._working, step),
        )

    def show(self, count: int) -> None:
        """Show so many lines, as far as there are."""
        self.shown = min(max(count, 0), self.count)

    def judge(self, text: str) -> tuple[Verdict, str]:
        """Return the verdict on what a class says for the next line, and what to say of it.

        At the end it may be any line that it names, and is for the last one where it names none.
        """
        place = min(self.shown, self.count - 1)
        working = self._written(place)
        is_over = self.shown > place
        enter = working.enter_open if is_over else working.enter
        verdict = enter(working.steps[place].key, text)
        return verdict, tell(working, verdict, self._catalogue)

    @property
    def givens(self) -> tuple[Given, ...]:
        """Return the givens that can be changed."""
        return tuple(given for given in self.question.givens if given.sign)

    @property
    def changed(self) -> bool:
        """Return whether some givens are no longer those that were drawn."""
        return self.question is not self._drawn

    def change(self, text: str) -> None:
        """Change givens, as in `m_l = 20 lb`; as many lines stay as there were.

        Raises:
            ValueError: with the reason in a sentence, where nothing was changed.
        """
        question = self.question
        if not text.strip():
            raise OwnError("a given and its value are missing")
        for given, value in read_values([text], self.givens).items():
            _check_given(question, given, value)
            question = question.with_given(given.key, value)
        if question.trouble:
            raise OwnError(f"that leaves no equilibrium: {question.trouble}")
        self.question = question
        self._work_out()
        self.show(self.shown)


def _check_given(question: Question, given: Given, value: Fraction) -> None:
    """Refuse a value that a given can't have: one of nothing, or an angle of another quadrant."""
    limits, is_good = "above 0", value > 0
    if given.unit and known_unit(given.unit).dimension == ANGLE:
        low, high = quadrant_of(question.problem.ranges[given.key])
        limits = f"above {low}° and below {high}°" if low else f"above 0 and up to {high}°"
        is_good = low < value < high if low else 0 < value <= high
    if not is_good:
        raise OwnError(f"{sign_of(given.sign)} must be {limits}")
