"""The dialogue of one working: what is asked, and what comes of each thing the student does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from typing import Protocol

from leverstep.bench.bench import Bench
from leverstep.bench.tries_told import tries_at
from leverstep.course.plain_text import plain
from leverstep.dialogue.answer_told import answer_told
from leverstep.dialogue.entries_told import EntriesTold
from leverstep.dialogue.example_told import GOES_ON
from leverstep.dialogue.hints_told import HintsTold
from leverstep.dialogue.line_asked import any_line_asked, line_asked
from leverstep.dialogue.line_marks import changed_lines, mark_of
from leverstep.dialogue.lines_told import LinesTold
from leverstep.dialogue.mending_told import finding, followed_told
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import (
    Asked,
    DialogueAnswer,
    Reply,
    Way,
)
from leverstep.entry.amount import Amount
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.sureness import how_sure, said_with
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import (
    first_to_do,
    line_name,
    neighbour,
    outcomes,
    to_find,
)
from leverstep.working.reckoner import Reckoned, Reckoner
from leverstep.working.rules import Rung, Thinking
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

NOT_SAVED = "Not saved"
NO_CALCULATOR = "There is no calculator in this drill."
NONE_WRITTEN = "No line is written yet."
EXPECTED = "Kept. At the end you are told what came of it. Now the first line."
"""What is said after the last question on what to expect."""

_ALL_SHOWN = "The lines before this one are not yours to change."
"""What is said where there are some: they are shown, or filled in."""

_NO_OTHER = {
    -1: "This is the first line.",
    0: "This is the line to be done.",
    1: "There is no line after this one yet.",
}
"""What is said where a student asks for another line, by which way, and there is none."""


def _none_there(working: Working, at_hand: Step | None, way: int) -> str:
    """Return what is said where a student asks for the line before (-1) or another, and none is."""
    if way < 0 and working.guidance.free:
        return _NO_OTHER[way] if working.lines else NONE_WRITTEN
    is_first = at_hand is None or at_hand is working.steps[0]
    return _ALL_SHOWN if way < 0 and not is_first else _NO_OTHER[way]


class Answering(Protocol):
    """What answers a student who works a line: the dialogue of a working, or of a sitting."""

    def enter(self, text: str) -> Reply:
        """Enter a line."""

    def submit(self, text: str) -> Reply:
        """Enter a line, but ask first how sure the student is of it where that is to be said."""

    def hint(self, key: str = "") -> Reply:
        """Give the next hint of a line, of the one at hand where none is named."""

    def skip(self) -> Reply:
        """Skip the line at hand for now."""

    def choose(self, number: int) -> Reply:
        """Choose the answer of a number, from 1, at the question that is asked; 0 for none."""

    def draw(self, deed: Callable[[], DialogueAnswer]) -> Reply:
        """Do something at the picture at hand."""


class WorkingDialogue(LinesTold):
    """One working at its bench, as it is talked through.

    `chosen` is the key of the line that the student went to, "" at the one to be done; `latest` is
    the last answer, None before any. What can't be kept raises `RecordError` where the bench does,
    and all is as before then.
    """

    def __init__(self, bench: Bench, cost: Callable[[str, Rung], str] | None = None) -> None:
        """Begin.

        Args:
            bench: where the working is worked.
            cost: what says what a hint on a line costs, by its key and how much it tells; None
                where hints are free.
        """
        super().__init__(bench)
        self.chosen = ""
        self.latest: DialogueAnswer | None = None
        self.hints_told = HintsTold(bench, cost)
        self._cost = cost
        self._entries_told = EntriesTold(bench)
        self._held: str | None = None
        if self.example_told:
            self.bench.prepare()
            self.say(self.example_told)

    @property
    def is_free(self) -> bool:
        """Return whether any line may be written now: none is chosen, and none is prescribed."""
        return self.working.guidance.free and not self.chosen

    @property
    def at_hand(self) -> Step | None:
        """Return the line chosen, or else the first that is still to be done; None at the end."""
        return self.working.step(self.chosen) if self.chosen else self.working.current()

    @property
    def picture(self) -> PictureDialogue | None:
        """Return the free-body diagram that is to be drawn before the line at hand, if any."""
        step = self.working.current()
        if step is None:
            return None
        picture = self.bench.picture_work.open_at(step.mark)
        if picture is None:
            return None
        return PictureDialogue(self.bench, picture, self._cost, self._answered, lambda: self.latest)

    def draw(self, deed: Callable[[], DialogueAnswer]) -> DialogueAnswer:
        """Do something at the picture at hand."""
        return deed()

    @property
    def key_at_hand(self) -> str:
        """Return the key of the line at hand, "" at the end."""
        step = self.at_hand
        return "" if step is None else step.key

    @property
    def hinted(self) -> str:
        """Return the line that a hint is for where none is named, "" at the end.

        It is the line at hand, unless another was written last that is not right.
        """
        at_hand, latest = self.key_at_hand, self.latest
        if self.is_free:
            return self.bench.hint_line() or at_hand
        if latest is None or (latest.verdict is None and latest.hint is None):
            return at_hand
        is_open = latest.key in self.working.lines and not self.working.done(latest.key)
        return latest.key if is_open else at_hand

    @property
    def earlier_entries(self) -> tuple[str, ...]:
        """Return what was typed before where the student is, each text once, the latest first."""
        if self.at_hand is None:
            return ()
        return tuple(map(plain, self.bench.entries_at("" if self.is_free else self.key_at_hand)))

    @property
    def before(self) -> str | None:
        """Return the line before the one at hand within reach, None where there is none."""
        return neighbour(self.working, self.chosen, -1)

    @property
    def in_sight(self) -> str:
        """Return the line to be kept in sight: that judged last, where any may be written."""
        if self.bench.mending is not None and self.is_finding:
            return self.bench.mending.in_sight(self.bench.answers)
        if self.reading:
            return self.reading
        latest = self.latest
        if self.is_free and latest is not None and latest.verdict is not None and latest.key:
            return latest.key
        return self.key_at_hand

    @property
    def reading(self) -> str:
        """Return the line of an example that is read now, "" for none."""
        fading = self.bench.fading if self.bench.is_reading else None
        return "" if fading is None else fading.at_hand(self.bench.answers)

    @property
    def here(self) -> str:
        """Return the line that stands out on the paper: that which is read, or that at hand."""
        return self.reading or ("" if self.is_finding else self.key_at_hand)

    @property
    def unsaved(self) -> str:
        """Return that what was typed is not kept, and why; "" where all is."""
        return f"{NOT_SAVED}: {self.bench.trouble}" if self.bench.trouble else ""

    @property
    def asked(self) -> Asked | None:
        """Return what is asked for now: a line, or any where the student is free to write one."""
        step = self.at_hand
        if step is None:
            return None
        return (
            any_line_asked(self.working, step) if self.is_free else line_asked(self.working, step)
        )

    @property
    def progress(self) -> str:
        """Return where the student is in the working."""
        working = self.working
        step = working.step(self.reading) if self.reading else self.at_hand
        done = len(working.asked) - len(working.to_find)
        if self.bench.mending is not None:
            return finding(self.bench.mending)
        if working.guidance.free:
            return f"{done} of {len(working.asked)} {'found' if working.rules.tells else 'written'}"
        if step is None:
            is_whole = self.bench.is_read_whole
            return "every line read" if is_whole else f"{done} of {len(working.asked)} lines done"
        return f"line {working.steps.index(step) + 1} of {len(working.steps)}"

    def submit(self, text: str) -> DialogueAnswer:
        """Enter a line, but ask first how sure the student is of it where that is to be said.

        A line that ends with it says so itself. A blank sheet has lines entered as they are left,
        and so with nothing in between. What can't be read is only told of as that.
        """
        working = self.working
        is_asked = self._is_sure_said and working.guidance is not Guidance.BLANK
        is_asked = is_asked and said_with(text)[1] is None
        if not is_asked or not working.may_count("" if self.is_free else self.key_at_hand, text):
            return self.enter(text)
        self._held = text
        return self._answered(DialogueAnswer(is_chosen=True))

    @property
    def _is_sure_said(self) -> bool:
        """Return whether the student is to say how sure each entry is."""
        return Thinking.SURE in self.working.rules.thinking

    def release(self) -> DialogueAnswer | None:
        """Enter a line that is held back, with nothing said of how sure the student is."""
        return None if self._held is None else self.choose(0)

    def enter(self, text: str, sure: int | None = None) -> DialogueAnswer:
        """Enter a line, at the one at hand or as one that says itself which it is.

        `sure` is how sure the student is of it, from 1 to 3; None where that is not said, or said
        by the line itself.

        A formula in symbols may be right and is no line yet: the student stays at it. So it is with
        what turned out to be another line than the one at hand.
        """
        if sure is None and self._is_sure_said:
            text, sure = said_with(text)
        working, step = self.working, self.at_hand
        before, filled, is_free = outcomes(working), set(working.filled), self.is_free
        asked = None if is_free else step
        if asked is None:
            verdict = self.bench.write(text, sure)
        else:
            verdict = self.bench.enter(asked.key, text, sure)
        key, is_read = verdict.step, verdict.outcome is not Outcome.UNREAD
        stands = bool(key) and is_read and working.done(key)
        is_other = asked is not None and key != asked.key
        moves_on = stands and not is_other
        if moves_on:
            self.chosen = ""
        told = self._entries_told.told(verdict, asked, stays=self.at_hand is asked)
        told = f"{told} {followed_told(self.bench, key) or self.filled_told(filled)}".rstrip()
        name = "" if is_other else self._name(key)
        answer = DialogueAnswer(
            key, name, told, verdict, mark_of(working, verdict), text,
            changes=changed_lines(working, key, before), moves_on=moves_on, is_free=is_free,
            is_elsewhere=is_other and (stands or verdict.outcome is Outcome.KEPT),
        )  # fmt: skip
        self.bench.prepare()
        return self._answered(answer)

    @property
    def question(self) -> ChoiceQuestion | None:
        """Return the question that is to be answered before the line at hand; None where none is.

        A free-body diagram that is to be drawn comes first.
        """
        if self._held is not None:
            return how_sure(plain(self._held))
        return None if self.picture is not None else self.bench.to_answer

    @property
    def question_place(self) -> str:
        """Return which of the questions asked together the one that is asked is: `2 of 5`."""
        question = self.question
        if question is None or self._held is not None:
            return ""
        among = self.bench.asked_together
        if len(among) < 2 or question.sort in (QuestionSort.WHY, QuestionSort.READ):
            return ""  # a line that is shown says itself which it is
        return f"{among.index(question) + 1} of {len(among)}"

    def choose(self, number: int) -> DialogueAnswer:
        """Choose the answer of a number, from 1, at the question that is asked; 0 passes it over.

        A number that no answer has chooses none, and the question is asked still.
        """
        question = self.question
        if question is None:
            return self._answered(DialogueAnswer())
        chosen = question.numbered(number)
        if number and chosen is None:
            told = GOES_ON if question.is_read else f"The answers are 1 to {len(question.answers)}."
            return self._answered(DialogueAnswer(told=told, is_chosen=True))
        if self._held is not None:
            entered = self.enter(self._held, number or None)
            self._held = None
            return entered
        is_expected = self.bench.asks_expected and question in self.bench.expectations
        key = "" if chosen is None else chosen.key
        self.bench.answer(question, key)
        told = answer_told(self.bench, question, key)
        if is_expected and self.bench.expected and self.question not in self.bench.expectations:
            told = EXPECTED
        return self._answered(DialogueAnswer(told=told, is_chosen=True))

    def hint(self, key: str = "") -> DialogueAnswer:
        """Give the next hint of a line, of the one at hand where none is named."""
        return self._answered(self.hints_told.give(key or self.hinted))

    def skip(self) -> DialogueAnswer:
        """Skip the line at hand for now; one that is done already stays as it is."""
        step = self.at_hand
        if step is None:
            return self._answered(DialogueAnswer())
        name = line_name(step)
        is_done = self.working.done(step.key)
        if not is_done:
            self.bench.leave(step.key)
        self.chosen = ""
        told = f"{name} stays as it is." if is_done else f"{name} is skipped for now."
        way = None if is_done else Way.BACK
        return self._answered(DialogueAnswer(step.key, name, told, moves_on=True, way=way))

    def go(self, way: int) -> DialogueAnswer:
        """Go to the line before (-1), after (1), or the first still to be done (0)."""
        working = self.working
        wanted = neighbour(working, self.chosen, way) if way else first_to_do(working)
        if wanted is not None and wanted != self.chosen:
            return self.go_to(wanted)
        return self.say(_none_there(working, self.at_hand, way))

    def go_to(self, key: str) -> DialogueAnswer:
        """Go to a line within reach, with "" to the one to be done."""
        self.chosen = key
        return self._answered(DialogueAnswer(key, self._name(key), tries_at(self.working, key)))

    def say(self, told: str) -> DialogueAnswer:
        """Say something of the line at hand that came of no deed at the bench."""
        key = self.key_at_hand
        return self._answered(DialogueAnswer(key, self._name(key), told))

    def come_round(self) -> str:
        """Have the lines that were skipped asked for again; return which are open, "" for none.

        It does so only where nothing else is asked for.
        """
        working = self.working
        if self.at_hand is not None or not working.left:
            return ""
        working.left.clear()
        return f"Still open: {to_find(working)}." if working.to_find else ""

    @cached_property
    def reckoner(self) -> Reckoner:
        """Return what works out arithmetic in the margin of this working."""
        return Reckoner(self.working, self._values_shown)

    def _values_shown(self) -> Mapping[str, Amount]:
        """Return the values of the lines that somebody else wrote, while a slip is sought there."""
        mending = self.bench.mending
        return mending.erroneous.amounts if mending is not None and self.is_finding else {}

    def reckon(self, text: str) -> Reckoned:
        """Work out a line of arithmetic, which is no entry; where that is not allowed, say so."""
        if not self.working.rules.calculator:
            return Reckoned(text, NO_CALCULATOR)
        return self.reckoner.work_out(text)

    def _answered(self, answer: DialogueAnswer) -> DialogueAnswer:
        self.latest = answer
        return answer
