"""What is asked for at a working in plain lines: said where it has changed."""

from __future__ import annotations

from leverstep.course.phrases import ended
from leverstep.dialogue.example_told import GOES_ON
from leverstep.dialogue.replies import Asked
from leverstep.faces.terminal import Say
from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.statics.step import Step


class Asking:
    """Says what is asked for only where it has changed, since the prompt names its line.

    So it is with the posture that a line is of, and with the answers that a question has.
    """

    def __init__(self, say: Say) -> None:
        self._say = say
        self._asked = ""
        self._posture = ""
        self._offered: tuple[OfferedAnswer, ...] = ()
        self._kinds_met: set[str] = set()

    def again(self, with_answers: bool = False) -> None:
        """Have what is asked for said again, where that is so the answers to choose from too."""
        self._asked = ""
        if with_answers:
            self._offered = ()

    def say_new(self, asks: str, more: str = "", posture: str = "") -> None:
        """Say what is asked for, unless it is what was said last, behind a new posture."""
        if asks != self._asked:
            self._asked = asks
            self._say("")
            if posture != self._posture and posture:
                self._say(f"{posture}.")
            self._posture = posture
            self._say(f"{asks}{more}")

    def of_line(self, asked: Asked, step: Step, posture: str) -> None:
        """Ask for a line, with an example the first time that one of its kind comes."""
        kind = step.unit if step.kind.is_number else step.kind.name
        shown = "" if kind in self._kinds_met else f" For example: {asked.example}"
        asks = f"{asked.place}: {asked.asks}" if asked.place else asked.asks
        self.say_new(asks, shown, posture)
        self._kinds_met.add(kind)

    def of_question(self, question: ChoiceQuestion, place: str) -> str:
        """Ask a question, `place` telling which of several it is; return the prompt."""
        if question.sort is QuestionSort.SURE:
            answers = (f"{number} {one.text}" for number, one in enumerate(question.answers, 1))
            return f"How sure, {', '.join(answers)}, or skip: "
        asks = f"Question {place}: {question.asks}" if place else question.asks
        if asks != self._asked:
            self.say_new(asks)
            self._say_answers(question)
        return "Enter goes on: " if question.is_read else f"1 to {len(question.answers)}: "

    def _say_answers(self, question: ChoiceQuestion) -> None:
        """Say the answers of a question unless they are those that were said last."""
        if question.is_read:
            return
        if not self._offered:
            self._say("Type the number of your answer, or skip.")
        if question.answers != self._offered:
            self._offered = question.answers
            for number, answer in enumerate(question.answers, 1):
                self._say(f"{number}: {ended(answer.text)}")


def way_to_answer(question: ChoiceQuestion) -> str:
    """Return what is typed at a question."""
    if question.is_read:
        return GOES_ON
    is_sure = question.sort is QuestionSort.SURE
    passes = "Enter or skip" if is_sure else "skip"
    again = "" if is_sure else ", Enter says it again"
    return f"Type a number from 1 to {len(question.answers)}; {passes} passes it over{again}."
