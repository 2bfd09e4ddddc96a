"""The tour: one line of a problem that ships, for a student who has never used the program.

It is judged as any line is, but nothing is kept of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto

from leverstep.bench.bench import Bench
from leverstep.course.problem import Problem
from leverstep.course.symbols import sign_of
from leverstep.dialogue.replies import DialogueAnswer
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.slips.catalogue import Catalogue
from leverstep.statics.step import Step
from leverstep.working.page import prompt_of
from leverstep.working.rules import Reasons, Rules
from leverstep.working.wording import ask
from leverstep.working.writing import plain_number, quantity, worked_line

PROBLEM, LINE = "plain-wheelbarrow", "M_s"
"""The problem that ships which the tour is of, and its line: a moment with a minus sign."""

_SEED = "tour"


class Shows(Enum):
    """What a step of the tour shows; it is done once that has been seen."""

    TYPING = auto()
    UNIT = auto()
    HINT = auto()
    SIGN = auto()
    SYMBOLS = auto()
    END = auto()


_TOLD = {
    Shows.TYPING: "You are asked for one line at a time. Here it is a moment: force times arm. "
    "{force} and {arm} are written already.\n"
    "Type the arithmetic, then press Enter:  {plain}",
    Shows.UNIT: "What can't be judged never costs anything. A value needs its unit: a moment is in "
    "newton metres.\nType:  {with_unit}",
    Shows.HINT: "You are told where a line is wrong. Ask, and you are told more, a little at a "
    "time.\nFor a hint, {hint}.",
    Shows.SIGN: "Anticlockwise is positive here, and this force turns clockwise about the axle: so "
    "its moment is negative.\nType:  {right}",
    Shows.SYMBOLS: "A symbol stands for the value on its line, and a decimal comma is as good as a "
    "point.\nType:  {symbols}   or  {comma}",
    Shows.END: "That is all it takes: line after line, each told at once. Everything you enter is "
    "kept.\n{onward}",
}


_AT_END = "The tour is at its end."
_ONCE_MORE = "Enter once more goes on without that."


@dataclass(frozen=True, slots=True)
class TourWords:
    """What a face calls its ways: how a hint is asked for, and what there is to know at the end."""

    hint: str
    onward: str


@dataclass(frozen=True, slots=True)
class TourReply:
    """What came of something in the tour.

    `typed` is the line that was entered, "" for none; `told` is what to say of it, and `moved_on`
    whether it is another step now.
    """

    typed: str = ""
    told: tuple[str, ...] = ()
    moved_on: bool = False


class Tour:
    """The steps of the tour, in their order; `shows` is the one at hand.

    `step` is the line that it is about, one of `question`.
    """

    def __init__(self, problem: Problem, catalogue: Catalogue, words: TourWords) -> None:
        """Begin.

        Args:
            problem: the one named by `PROBLEM`.
            catalogue: the slips and hints.
            words: what the face calls its ways.
        """
        self.question = problem.question(_SEED)
        bench = Bench(
            self.question, catalogue, lambda _: None, rules=Rules(reasons=Reasons.WHEN_ASKED)
        )
        self._dialogue = WorkingDialogue(bench)
        self.step = bench.working.step(LINE)
        for key in self._before:
            bench.enter(key, worked_line(self.question, bench.working.step(key), self._right))
        self._dialogue.go_to(LINE)
        self._words = words
        self._is_reminded = False
        self.shows = Shows.TYPING

    @property
    def _right(self) -> dict[str, float]:
        return dict(self.question.right)

    @property
    def _before(self) -> tuple[str, str]:
        """Return the lines that stand already: of the force and of its arm."""
        force, arm = self.step.quantities
        return force, arm

    @property
    def place(self) -> str:
        """Return which step it is: `Step 2 of 6`."""
        return f"Step {[*Shows].index(self.shows) + 1} of {len(Shows)}"

    @property
    def asks(self) -> str:
        """Return what the line asks for."""
        return f"{ask(self.question, self.step)}."

    @property
    def prompt(self) -> str:
        """Return what stands before an entry."""
        return prompt_of(self.step)

    @property
    def told(self) -> str:
        """Return what this step tells, in a line or two, and what to do."""
        force, arm = self._before
        size = f"{_number(self._right[force])}*{_number(self._right[arm])}"
        value = f"{plain_number(self._right[LINE])} N m".replace("−", "-")
        return _TOLD[self.shows].format(
            force=self._value(force), arm=self._value(arm), plain=size, with_unit=f"{size} N m",
            right=f"-{size} N m", symbols=f"-{force}*{arm}", comma=value.replace(".", ","),
            hint=self._words.hint, onward=self._words.onward,
        )  # fmt: skip

    def _value(self, key: str) -> str:
        step: Step = self._dialogue.working.step(key)
        return f"{sign_of(key)} = {quantity(self._right[key], step.unit)}"

    @property
    def is_at_end(self) -> bool:
        """Return whether all is shown."""
        return self.shows is Shows.END

    def enter(self, text: str) -> TourReply:
        """Enter the line; Enter alone tells once more what is to be done, and then goes on."""
        if self.is_at_end:
            return TourReply(told=(_AT_END,))
        if not text.strip():
            return self.go_on() if self._is_reminded else self._remind()
        self._is_reminded = False
        answer = self._answered(lambda: self._dialogue.enter(text))
        settled = answer.verdict is not None and answer.verdict.settled
        seen = {
            Shows.TYPING: True,
            Shows.UNIT: answer.verdict is not None and answer.verdict.counts,
        }.get(self.shows, settled)
        return self._reply(answer, seen or settled, settled)

    def hint(self) -> TourReply:
        """Give the next hint of the line."""
        if self.is_at_end:
            return TourReply(told=(_AT_END,))
        answer = self._answered(lambda: self._dialogue.hint(LINE))
        return self._reply(answer, self.shows is Shows.HINT, is_right=False)

    def go_on(self) -> TourReply:
        """Go on to the next step, whatever was seen of this one."""
        return TourReply(told=(_AT_END,)) if self.is_at_end else self._move_on()

    def _remind(self) -> TourReply:
        """Say what this step tells to do."""
        self._is_reminded = True
        return TourReply(told=(self.told.rpartition("\n")[2], _ONCE_MORE))

    def _answered(self, deed: Callable[[], DialogueAnswer]) -> DialogueAnswer:
        """Do something at the line, and stay there."""
        answer = deed()
        self._dialogue.chosen = LINE
        return answer

    def _reply(self, answer: DialogueAnswer, is_seen: bool, is_right: bool) -> TourReply:
        told = [answer.told] if answer.told else []
        if answer.hint is not None:
            told.append(f"{answer.hint.heading}: {answer.hint.text}")
        moved_on = is_seen and self._move_on(is_right).moved_on
        return TourReply(answer.typed, tuple(told), moved_on)

    def _move_on(self, is_right: bool = False) -> TourReply:
        """Go to the next step; once the line is right, what leads there is left out."""
        steps = [*Shows]
        after = steps[steps.index(self.shows) + 1]
        is_early = is_right and self.shows is not Shows.SYMBOLS
        self.shows = Shows.SYMBOLS if is_early else after
        self._is_reminded = False
        return TourReply(moved_on=True)


def _number(value: float) -> str:
    """Return a number as one types it, without zeros behind its last decimal."""
    text = plain_number(value)
    return text.rstrip("0").rstrip(".") if "." in text else text
