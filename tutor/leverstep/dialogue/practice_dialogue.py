"""The dialogue of practice: a working for which the student decides when reasons are told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import Choice, choices_kept, keep_choice, keep_thinking
from leverstep.course.phrases import ended
from leverstep.dialogue.replies import DialogueAnswer, Way
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.questions.sureness import MARKS
from leverstep.working.conversions import CLEAN_IN_A_ROW
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions, Pictures, Reasons, Thinking, Units

_C = TypeVar("_C", Reasons, Conversions, Units, Pictures)

_CHOSEN = {
    Reasons.AT_ONCE: "From now on, the likely slip behind a wrong line is named at once.",
    Reasons.WHEN_ASKED: "From now on, you are told where a line is wrong; a hint names the likely "
    "slip.",
    Conversions.ASKED: "From now on, you are asked for every line that converts a unit.",
    Conversions.UNTIL_CLEAN: "From now on, a line that only converts a unit is filled in for you "
    f"once you got {CLEAN_IN_A_ROW} in a row of that unit right at the first try.",
    Conversions.GIVEN: "From now on, lines that only convert a unit are filled in for you.",
    Units.ASKED: "From now on, a number without a unit is asked for its unit.",
    Units.NAMED: "From now on, a number without a unit is taken in the unit that the line asks "
    "for.",
    Pictures.GIVEN: "From the next problem on, the free-body diagram is given.",
    Pictures.ASKED: "From the next problem on, you draw the free-body diagram before the first "
    "line.",
    Pictures.OFF: "From the next problem on, no free-body diagram is shown.",
}
"""What is said of each choice."""


_THINKING = {
    Thinking.PREDICT: (
        "From now on, you are asked what you expect before the first line of a problem.",
        "From now on, you are not asked what you expect.",
    ),
    Thinking.SENSE: (
        "From now on, you are asked whether it makes sense once all lines are right.",
        "From now on, you are not asked whether it makes sense.",
    ),
    Thinking.SURE: (
        "From now on, you are asked with each line how sure you are.",
        "From now on, you are not asked how sure you are.",
    ),
}
"""What is said where each is asked from now on, and where it is no more."""


class PracticeDialogue(WorkingDialogue):
    """One working of practice, as it is talked through."""

    def __init__(self, practice: Practice) -> None:
        super().__init__(practice)
        self.practice = practice
        self._is_offered = False

    def enter(self, text: str, sure: int | None = None) -> DialogueAnswer:
        """Enter a line; the first time that its unit is asked for, a way is offered around that."""
        answer = super().enter(text, sure)
        reason = None if answer.verdict is None else answer.verdict.reason
        if self._is_offered or reason is None or reason.code != "no_unit":
            return answer
        self._is_offered = True
        return self._answered(replace(answer, told=ended(answer.told), way=Way.UNITS))

    def change_reasons(self) -> DialogueAnswer:
        """Have likely slips named at once, or no more at once; the choice is kept."""
        return self._change(_next(self.working.rules.reasons))

    def change_conversions(self) -> DialogueAnswer:
        """Have lines that only convert a given filled in: none, those known, all; it is kept."""
        before = set(self.working.filled)
        answer = self._change(_next(self.working.rules.conversions))
        filled = self.filled_told(before)
        return self.say(f"{answer.told} {filled}") if filled else answer

    def change_units(self) -> DialogueAnswer:
        """Have a bare number taken in the unit that the line names, or no more so; it is kept."""
        return self._change(_next(self.working.rules.units))

    def change_thinking(self, which: Thinking) -> DialogueAnswer:
        """Have one thing asked beside the lines, or no more; the choice is kept.

        A line that waited for how sure the student is, is entered once that is asked no more.
        """
        thinking = self.working.rules.thinking ^ {which}
        self.practice.think(thinking)
        keep_thinking(thinking)
        told = _THINKING[which][which not in thinking]
        if which in thinking & self.otherwise_here.keys():
            told = f"{told.removesuffix('.')}; {self.otherwise_here[which]}."
        entered = self.release() if which is Thinking.SURE else None
        if entered is not None:
            return self._answered(replace(entered, told=f"{told} {entered.told}"))
        return self.say(told)

    @property
    def otherwise_here(self) -> Mapping[Thinking, str]:
        """Return what is not asked beside the lines of this working, with how it is said here."""
        is_blank = self.working.guidance is Guidance.BLANK
        return {Thinking.SURE: f"here, end a line with {MARKS}"} if is_blank else {}

    def change_pictures(self) -> DialogueAnswer:
        """Have the free-body diagram drawn by the student, not shown, or given; that is kept.

        A working of which nothing is written yet is asked for it at once.
        """
        choice = _next(choices_kept().pictures)
        keep_choice(choice)
        if choice is Pictures.ASKED and self.practice.begin_pictures():
            return self.say("You draw the free-body diagram now, and in each problem from here on.")
        return self.say(_CHOSEN[choice])

    def _change(self, choice: Choice) -> DialogueAnswer:
        self.practice.follow(choice)
        keep_choice(choice)
        return self.say(_CHOSEN[choice])


def _next(choice: _C) -> _C:
    """Return the choice after one, after the last the first."""
    choices: list[_C] = list(type(choice))
    return choices[(choices.index(choice) + 1) % len(choices)]
