"""A working with a slip at its bench: two questions about it, then the one line that is mended."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from leverstep.bench.record_lines import MendLine
from leverstep.course.problem import Question
from leverstep.erroneous.erroneous_working import (
    ErroneousWorking,
    erroneous_by,
    erroneous_working,
)
from leverstep.erroneous.slip_questions import line_question, slip_question
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.slips.catalogue import Catalogue
from leverstep.working.working import Working


@dataclass(slots=True)
class Mending:
    """What is found and mended in the working of an invented student.

    The lines of that student are shown until the wrong one is mended. The right ones before it are
    handed out once both questions are answered or passed over, those after it with its mending.
    """

    erroneous: ErroneousWorking
    questions: tuple[ChoiceQuestion, ChoiceQuestion] = field(init=False)

    def __post_init__(self) -> None:
        self.questions = line_question(self.erroneous), slip_question(self.erroneous)

    @property
    def record_line(self) -> MendLine:
        """Return the line of a record that says which slip is to be found."""
        made = self.erroneous.made
        changes = {choice.name: value for choice, value in made.changes}
        return MendLine(slip=made.slip.id, changes=changes)

    def due(self, answers: Mapping[str, str]) -> ChoiceQuestion | None:
        """Return the question that is to be answered next, None once both are."""
        return next((one for one in self.questions if one.key not in answers), None)

    def in_sight(self, answers: Mapping[str, str]) -> str:
        """Return the key of the line to be kept in sight, or of that amid those offered."""
        offered = self.questions[0].answers
        return (
            self.erroneous.step.key
            if self.questions[0].key in answers
            else offered[len(offered) // 2].key
        )

    def is_found(self, answers: Mapping[str, str]) -> tuple[bool, bool]:
        """Return whether the line was found, and whether the slip was."""
        line, slip = (answers.get(one.key) in one.right for one in self.questions)
        return line, slip

    def hand_out_before(self, working: Working) -> None:
        """Have one line asked for alone: all before it are right, and stand."""
        working.asked = (self.erroneous.step,)
        for one in self.erroneous.lines:
            if one.step is self.erroneous.step:
                return
            working.hand_out(one.step.key, one.entry)

    def settle(self, working: Working) -> None:
        """Hand out the lines after the one that is mended, or take them back where it is not.

        Where it is not to be told what came of a line, they stay as the invented student has them.
        """
        is_mended = working.rules.tells and working.stands(self.erroneous.step.key)
        steps = working.steps
        for step in steps[steps.index(self.erroneous.step) + 1 :]:
            if is_mended:
                working.hand_out(step.key, self.erroneous.right_entry(step))
            else:
                working.take_back(step.key)

    def shown(self, working: Working) -> dict[str, str]:
        """Return all lines, by key, as the invented student has them, or as they follow by now.

        The one that is mended is the student's own, and left out once it is written.
        """
        steps = working.steps
        after = {step.key for step in steps[steps.index(self.erroneous.step) :]} & working.filled
        return {
            one.step.key: self.erroneous.right_text(one.step) if one.step.key in after else one.text
            for one in self.erroneous.lines
            if one.step is not self.erroneous.step or self.erroneous.step.key not in working.lines
        }


def mending_of(question: Question, catalogue: Catalogue) -> Mending | None:
    """Return what is to be mended with the numbers of a question; None where no slip would show."""
    made = erroneous_working(question, catalogue)
    return None if made is None else Mending(made)


def mending_again(question: Question, catalogue: Catalogue, line: MendLine) -> Mending | None:
    """Return what a line of a record says is to be mended, or what is now where that is gone."""
    made = erroneous_by(question, catalogue, line.slip or "", line.changes or {})
    return mending_of(question, catalogue) if made is None else Mending(made)
