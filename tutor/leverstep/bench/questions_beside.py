"""What is asked beside the lines of a working, with answers to choose from."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable
from functools import cached_property

from leverstep.bench.fading import fading_of
from leverstep.bench.mending import Mending, mending_of
from leverstep.bench.record_lines import AnswerLine, RecordLine
from leverstep.course.problem import Question
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.expectations import expectations
from leverstep.questions.sense_questions import sense_questions
from leverstep.questions.why_questions import shown_key
from leverstep.slips.catalogue import Catalogue
from leverstep.working.rules import Thinking
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

Keep = Callable[[RecordLine], None]
"""What puts a line on the disk."""

_log = logging.getLogger(__name__)


class QuestionsBeside:
    """The questions beside the lines of a working; each answer is kept before it is told.

    `answers` holds what was chosen, by the keys of the questions. `fading` has the first lines that
    are shown with their reasons, None where none is; `mending` the slips that are to be found, and
    `slips_to_find` how many. Nothing is in force but by the rules of the working.
    """

    def __init__(
        self, working: Working, catalogue: Catalogue, keep: Keep, slips_to_find: int, shown: int
    ) -> None:
        self.working = working
        self.question = working.question
        self.catalogue = catalogue
        self.answers: dict[str, str] = {}
        self.fading = fading_of(working, shown, catalogue)
        self._keep = keep
        self._mending: Mending | None = None
        self.slips_to_find = slips_to_find
        self._typed: list[tuple[str, str, str]] = []
        self._show()

    def _show(self) -> None:
        """Let the lines that are shown stand as far as they are read."""
        if self.fading is not None:
            self.fading.hand_out(self.fading.at_hand(self.answers))

    def shows(self, key: str) -> bool:
        """Return whether a line is one of those that are shown with their reasons."""
        return self.fading is not None and key in self.fading.lines

    @cached_property
    def expectations(self) -> tuple[ChoiceQuestion, ...]:
        """Return what may be asked before the first line."""
        return self._made(expectations)

    @cached_property
    def sense_questions(self) -> tuple[ChoiceQuestion, ...]:
        """Return what may be asked after the last line."""
        return self._made(sense_questions)

    def _made(
        self, make: Callable[[Question], tuple[ChoiceQuestion, ...]]
    ) -> tuple[ChoiceQuestion, ...]:
        """Return some questions beside the lines; a fault in them costs no working."""
        try:
            return make(self.question)
        except Exception:  # noqa: BLE001  (the lines can be worked without them)
            _log.exception("No questions could be made of %s", self.question.problem.id)
            return ()

    @property
    def asks_expected(self) -> bool:
        """Return whether it may be asked now what is expected: before the first line of one's own.

        No line of a working that somebody else wrote is one's own.
        """
        is_asked = Thinking.PREDICT in self.working.rules.thinking
        return is_asked and self.mending is None and not self._typed

    @property
    def asked_together(self) -> tuple[ChoiceQuestion, ...]:
        """Return the questions that are asked now beside the lines, the answered ones among them.

        There are none but by the rules. What makes sense is asked only of a result that is right,
        and where that may be known: its numbers would tell.
        """
        rules = self.working.rules
        if self.mending is not None and self.mending.due(self.answers) is not None:
            return self.mending.questions
        if self.asks_expected and any(o.key not in self.answers for o in self.expectations):
            return self.expectations
        if self.is_reading and self.fading is not None:
            return tuple(self.fading.questions.values())
        if Thinking.SENSE in rules.thinking and rules.tells and self.is_all_right:
            return self.sense_questions
        return ()

    @property
    def is_reading(self) -> bool:
        """Return whether lines are shown that are not read yet: before the first entry."""
        fading = self.fading
        return fading is not None and not self._typed and fading.due(self.answers) is not None

    @property
    def is_read_whole(self) -> bool:
        """Return whether the whole working was shown, and read to its end."""
        fading = self.fading
        return fading is not None and fading.is_whole and not fading.at_hand(self.answers)

    @property
    def to_answer(self) -> ChoiceQuestion | None:
        """Return the question that is due beside the lines; None where none is."""
        return next((one for one in self.asked_together if one.key not in self.answers), None)

    def prepare(self) -> None:
        """Make the questions that are due, which takes a moment, where nobody waits for a key.

        Where none could be made at the lines that are shown, all of them stand at once.
        """
        _ = self.to_answer
        if self.fading is not None and not self.fading.questions:
            self.fading.hand_out()

    def answer(self, question: ChoiceQuestion, answer: str) -> None:
        """Keep which answer of a question is chosen, by its key; "" passes the question over."""
        self._keep(AnswerLine(question=question.key, answer=answer))
        self._answered(question.key, answer)

    def _answered(self, question: str, answer: str) -> None:
        """Let the first answer of a question stand; once all slips are named, have them mended."""
        self.answers.setdefault(question, answer)
        if self.mending is not None and question == self.mending.questions[-1].key:
            self.mending.hand_out_before(self.working)
        self._show()

    def mend(self, mending: Mending) -> None:
        """Have slips found and mended in the working of an invented student."""
        self._keep(mending.record_line)
        self._mending, self.slips_to_find = mending, len(mending.slips)

    @property
    def mending(self) -> Mending | None:
        """Return what is found and mended; None where the working is the student's own.

        It is made of the numbers on first use, where no record says which slips they are.
        """
        if self.slips_to_find and self._mending is None:
            self._mending = mending_of(self.question, self.catalogue, self.slips_to_find)
            self.slips_to_find = 0 if self._mending is None else self.slips_to_find
        return self._mending

    @property
    def expected(self) -> tuple[tuple[ChoiceQuestion, str], ...]:
        """Return what was asked before the first line and answered, with the key of each answer."""
        return self._chosen(self.expectations) if self._answered_beside else ()

    @property
    def sensed(self) -> tuple[tuple[ChoiceQuestion, str], ...]:
        """Return what was asked after the last line and answered, with the key of each answer."""
        others = self._answered_beside - {one.key for one, _ in self.expected}
        return self._chosen(self.sense_questions) if others else ()

    @property
    def reasoned(self) -> tuple[tuple[ChoiceQuestion, str], ...]:
        """Return of which lines it was asked why, and answered, with the key of each answer."""
        if self.fading is None or self.answers.keys() == self._answered_beside:
            return ()
        asked = self.fading.questions.values()
        return self._chosen(one for one in asked if one.sort is QuestionSort.WHY)

    @property
    def _answered_beside(self) -> set[str]:
        """Return the keys of the questions that were answered, but for those at lines shown."""
        shown = () if self.fading is None else self.fading.lines
        return self.answers.keys() - set(map(shown_key, shown))

    def _chosen(self, asked: Iterable[ChoiceQuestion]) -> tuple[tuple[ChoiceQuestion, str], ...]:
        chosen = ((one, self.answers.get(one.key, "")) for one in asked)
        return tuple((one, key) for one, key in chosen if one.answer(key) is not None)

    @property
    def is_all_right(self) -> bool:
        """Return whether every line asked for is right by itself, so that no answer is untold."""
        standing = (self.working.lines.get(step.key) for step in self.working.asked)
        return all(line is not None and line.verdict.outcome is Outcome.RIGHT for line in standing)
