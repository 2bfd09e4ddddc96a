"""A working with slips at its bench: questions about them, then their lines that are mended."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import takewhile

from leverstep.bench.record_lines import MendLine
from leverstep.course.problem import Question
from leverstep.erroneous.erroneous_working import (
    ErroneousLine,
    ErroneousWorking,
    MadeSlip,
    erroneous_by,
    erroneous_working,
)
from leverstep.erroneous.slip_questions import slip_questions
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.slips.catalogue import Catalogue
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working


@dataclass(slots=True)
class Mending:
    """What is found and mended in the working of an invented student.

    `lines` are those of that student, which are shown until they are mended, and follow then. The
    right ones before the first slip are handed out once all questions are answered or passed over,
    those after a slip with its mending.
    """

    erroneous: ErroneousWorking
    questions: tuple[ChoiceQuestion, ...] = field(init=False)
    lines: tuple[ErroneousLine, ...] = field(init=False)

    def __post_init__(self) -> None:
        self.questions = slip_questions(self.erroneous)
        self.lines = self.erroneous.lines

    @property
    def slips(self) -> tuple[MadeSlip, ...]:
        """Return the slips that are to be found, in the order of their lines."""
        return self.erroneous.slips

    @property
    def record_line(self) -> MendLine:
        """Return the line of a record that says which slips are to be found."""
        made, *others = (one.made for one in self.slips)
        changes = [{choice.name: v for choice, v in one.changes} for one in (made, *others)]
        if not others:
            return MendLine(slip=made.slip.id, changes=changes[0])
        return MendLine(
            slip=made.slip.id, changes=changes[0], second=others[0].slip.id,
            second_changes=changes[1],
        )  # fmt: skip

    def due(self, answers: Mapping[str, str]) -> ChoiceQuestion | None:
        """Return the question that is to be answered next, None once all are."""
        return next((one for one in self.questions if one.key not in answers), None)

    @property
    def asked(self) -> tuple[tuple[MadeSlip, ChoiceQuestion, ChoiceQuestion], ...]:
        """Return each slip with what is asked of it: its line, and which it is."""
        return tuple(zip(self.slips, self.questions[::2], self.questions[1::2], strict=True))

    def in_sight(self, answers: Mapping[str, str]) -> str:
        """Return the key of the line to be kept in sight, or of that amid those offered."""
        due = self.due(answers)
        slip, line, _ = next((one for one in self.asked if due in one), self.asked[-1])
        return slip.step.key if due is not line else line.answers[len(line.answers) // 2].key

    def found(self, answers: Mapping[str, str]) -> tuple[int, int]:
        """Return how many of the lines were found, and how many of the slips."""
        lines = sum(answers.get(line.key) in line.right for _, line, _ in self.asked)
        return lines, sum(answers.get(slip.key) in slip.right for _, _, slip in self.asked)

    def hand_out_before(self, working: Working) -> None:
        """Have the first wrong line asked for alone: all before it are right, and stand."""
        self._ask(working, 1)
        for one in self.erroneous.lines:
            if one.step is self.erroneous.step:
                return
            working.hand_out(one.step.key, one.entry)

    def settle(self, working: Working) -> None:
        """Hand out the lines up to the next slip, or take them back where one is not mended.

        With the last slip all lines after it are handed out, but where it is not to be told what
        came of a line: then they stay as the invented student has them.
        """
        over = self.over(working)
        self._ask(working, len(over) + 1)
        keys, steps = {one.step.key for one in self.slips}, working.steps
        try:
            self.lines = self.erroneous.mended(over, self._own(over, working))
        except ArithmeticError:
            self.lines, over = self.erroneous.lines, ()
        left = self.slips[len(over) :]
        end = steps.index(left[0].step) if left else len(steps)
        for place, one in enumerate(self.lines):
            if one.step.key in keys or place < steps.index(self.erroneous.step):
                continue
            if place < end:
                working.hand_out(one.step.key, one.entry)
            else:
                working.take_back(one.step.key)

    def _ask(self, working: Working, count: int) -> None:
        """Have the lines of the first slips asked for, so many, and the others only later.

        What is written on these would be judged without the lines that stand there meanwhile.
        """
        working.asked = tuple(one.step for one in self.slips[:count])
        working.later = frozenset(one.step.key for one in self.slips[count:])

    def over(self, working: Working) -> tuple[MadeSlip, ...]:
        """Return the slips, up to one that is not mended, whose lines those after them rest on."""
        return tuple(takewhile(lambda one: self._is_over(one, working), self.slips))

    def _is_over(self, slip: MadeSlip, working: Working) -> bool:
        """Return whether what comes after the line of a slip rests on what stands there now.

        After the last slip it does so only where that is right and may be told.
        """
        key = slip.step.key
        if slip is self.slips[-1]:
            return working.rules.tells and working.stands(key)
        return key in working.lines and working.done(key)

    def _own(self, over: tuple[MadeSlip, ...], working: Working) -> dict[str, float]:
        """Return what stands on the lines of some slips, but for where that is right."""
        values = working.values()
        return {
            one.step.key: values[one.step.key]
            for one in over
            if working.lines[one.step.key].verdict.outcome is not Outcome.RIGHT
        }

    def shown(self, working: Working) -> dict[str, str]:
        """Return all lines, by key, as the invented student has them, or as they follow by now.

        One that is mended is the student's own, and left out once it is written.
        """
        own = {one.step.key for one in self.slips} & working.lines.keys()
        return {one.step.key: one.text for one in self.lines if one.step.key not in own}


def mending_of(question: Question, catalogue: Catalogue, slips: int = 1) -> Mending | None:
    """Return what is to be mended with the numbers of a question; None where no slip would show.

    It is one slip where no two would show.
    """
    made = erroneous_working(question, catalogue, slips)
    return None if made is None else Mending(made)


def mending_again(
    question: Question, catalogue: Catalogue, line: MendLine, slips: int
) -> Mending | None:
    """Return what a line of a record says is to be mended, or what is now where that is gone.

    `slips` is how many there are to be at most, 0 for as many as the line has.
    """
    said = [(line.slip or "", line.changes or {})]
    if line.second is not None:
        said.append((line.second, line.second_changes or {}))
    most = slips or len(said)
    made = erroneous_by(question, catalogue, said) if len(said) <= most else None
    return mending_of(question, catalogue, most) if made is None else Mending(made)
