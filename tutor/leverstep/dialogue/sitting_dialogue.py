"""The dialogue of a sitting: its tasks, its clock, and what waits until a disk takes it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from leverstep.bench.bench import Bench
from leverstep.bench.record import ChangedOutside, NeverKept, RecordError
from leverstep.course.phrases import sentence
from leverstep.dialogue.notice import hint_cost, left_behind, warned_at, warning
from leverstep.dialogue.replies import DialogueAnswer, Reply, Trouble, Unkept
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.free_body.body_picture import PICTURE_STEP
from leverstep.working.page import line_name
from leverstep.working.rules import Rung

AGAIN = 3.0
"""Seconds until what could not be written is tried again."""

TIME_UP = "Time is up; what has been saved is handed in."
TOO_LATE = "This came too late and does not count."

_CAN_BE = "The record can be written again. Enter saves your line."
_ELSEWHERE = "this sitting was continued outside this window, perhaps in a second one."


@dataclass(frozen=True, slots=True)
class _Deed:
    """Something to be done, and where the student was: the task, the line, and what was typed.

    `typed` is None for what is no entry.
    """

    act: Callable[[], DialogueAnswer]
    task: int
    key: str
    typed: str | None = None


class SittingDialogue:
    """A sitting as it is talked through. What is not on the disk is not judged, and waits.

    `place` is the task at hand, from 0; `unkept` what was said of what waits, None where nothing
    does.
    """

    def __init__(self, sitting: Sitting) -> None:
        self.sitting = sitting
        self.place = min(sitting.open_tasks, default=1) - 1
        self.unkept: Unkept | None = None
        self._workings = tuple(
            WorkingDialogue(bench, self._cost_at(bench)) for bench in sitting.benches
        )
        self._waiting: _Deed | None = None
        self._reason = ""
        self._warned = 0

    @property
    def working(self) -> WorkingDialogue:
        """Return the dialogue of the task at hand."""
        return self._workings[self.place]

    @property
    def workings(self) -> tuple[WorkingDialogue, ...]:
        """Return the dialogues of all tasks, in the order of the drill."""
        return self._workings

    @property
    def waits(self) -> bool:
        """Return whether something waits to be written."""
        return self._waiting is not None

    @property
    def is_to_hand_in(self) -> bool:
        """Return whether the time is up, and handing in has not been asked for yet."""
        return self.sitting.over and not self.sitting.ended and not self.waits

    def enter(self, text: str) -> Reply:
        """Enter a line of the task at hand."""
        working = self.working
        return self._attempt(lambda: working.enter(text), text)

    def submit(self, text: str) -> Reply:
        """Enter a line, but ask first how sure the student is of it where that is to be said."""
        working = self.working
        return self._attempt(lambda: working.submit(text), text)

    def hint(self, key: str = "") -> Reply:
        """Give the next hint of a line, of the one at hand where none is named."""
        working = self.working
        return self._attempt(lambda: working.hint(key))

    def skip(self) -> Reply:
        """Skip the line at hand for now."""
        return self._attempt(self.working.skip)

    def choose(self, number: int) -> Reply:
        """Choose the answer of a number, from 1, at the question that is asked; 0 for none."""
        working = self.working
        return self._attempt(lambda: working.choose(number))

    def draw(self, deed: Callable[[], DialogueAnswer]) -> Reply:
        """Do something at the picture at hand of the task at hand."""
        return self._attempt(deed)

    def hand_in(self) -> Reply:
        """Hand in what is on the disk."""
        return self._attempt(self._hand_in)

    def turn_to(self, place: int) -> bool:
        """Turn to another task; return whether there is one of this number."""
        if not 0 <= place < len(self._workings):
            return False
        self.place = place
        self.working.chosen, self.working.latest = "", None
        return True

    def turn(self, way: int) -> None:
        """Turn to the task before (-1) or after (1); after the last comes the first."""
        self.turn_to((self.place + way) % len(self._workings))

    def try_again(self, typed: str | None = None) -> Reply:
        """Try again what waits, or only the disk where the student has gone on to something else.

        `typed` is what stands in the field now, None where there is no field.
        """
        deed = self._waiting
        return self._do(deed if deed is not None and self._is_same(deed, typed) else self._probe)

    def move(self, folder: Path, typed: str | None = None) -> Reply:
        """Go on in another folder, with what waits to be written."""
        deed = self._waiting if self._waiting and self._is_same(self._waiting, typed) else None
        try:
            self.sitting.move(folder)
        except RecordError as error:
            if self.waits:
                return self._unkept(error, deed or self._probe)
            self.unkept = None
            told = f"Kept in the old folder; the new one failed: {error}."
            return self._answered(DialogueAnswer(told=told))
        moved = f"The record is now at {self.sitting.place}."
        if deed is None:
            self._waiting = self.unkept = None
            return self._answered(DialogueAnswer(moved=moved))
        reply = self._do(deed)
        if isinstance(reply, Unkept):
            return reply
        return self._answered(replace(reply, moved=moved))

    def warning_due(self) -> str:
        """Return that little time is left, once for each time that is to be told; else ""."""
        left = self.sitting.left
        reached, before = warned_at(left), self._warned
        self._warned = reached
        return warning(left) if reached != before else ""

    def leave(self, path: Path, in_lines: bool = False) -> tuple[str, ...]:
        """Let the clock stand still; return what to say, `path` being that of the drill's file."""
        self.sitting.pause()
        return left_behind(self.sitting, path, in_lines)

    def _attempt(self, act: Callable[[], DialogueAnswer], typed: str | None = None) -> Reply:
        return self._do(_Deed(act, self.place, self.working.key_at_hand, typed))

    def _do(self, deed: _Deed) -> Reply:
        """Do something; where it can't be written, keep it for another try."""
        try:
            answer = deed.act()
        except RecordError as error:
            return self._unkept(error, deed)
        self._waiting = self.unkept = None
        return answer

    def _unkept(self, error: RecordError, deed: _Deed) -> Reply:
        """Return what to say of what could not be written, and keep it where a try may help."""
        self.working.latest = None
        hands_in = deed.act == self._hand_in
        if self.sitting.over and not hands_in:
            self._waiting = self.unkept = None
            return self._answered(DialogueAnswer(told=TOO_LATE, is_late=True))
        if isinstance(error, NeverKept):
            self._waiting = None
            self.unkept = Unkept(Trouble.NEVER, sentence(error))
            return self.unkept
        self._waiting, self._reason = deed, str(error)
        if isinstance(error, ChangedOutside):
            self.unkept = Unkept(Trouble.ELSEWHERE, _ELSEWHERE)
            return self.unkept
        kept = "It is handed in" if hands_in else "Your entry is judged"
        told = f"{error}. {kept} as soon as it is."
        self.unkept = Unkept(Trouble.DISK, told, self._stays(), AGAIN)
        return self.unkept

    def _stays(self) -> str:
        """Return that the line at hand stays as it is, where it is written; else ""."""
        step = self.working.at_hand
        if step is None or step.key not in self.working.working.lines:
            return ""
        return self.working.say(f"Until then {line_name(step)} stays as it was.").told

    def _answered(self, answer: DialogueAnswer) -> DialogueAnswer:
        """Return an answer that came of the sitting, and have it shown at the task at hand."""
        self.working.latest = answer
        return answer

    def _is_same(self, deed: _Deed, typed: str | None) -> bool:
        """Return whether the student is where a deed was done, with the same text in the field."""
        if deed.act == self._hand_in:
            return True
        is_there = (deed.task, deed.key) == (self.place, self.working.key_at_hand)
        return is_there and (deed.typed is None or typed in (None, deed.typed))

    @property
    def _probe(self) -> _Deed:
        """Return the deed of trying the disk alone."""
        return _Deed(self._try_disk, self.place, self.working.key_at_hand)

    def _try_disk(self) -> DialogueAnswer:
        if not self.sitting.note():
            raise RecordError(self._reason)
        return self._answered(DialogueAnswer(told=_CAN_BE))

    def _hand_in(self) -> DialogueAnswer:
        for working in self._workings if not self.sitting.over else ():
            with suppress(NeverKept):  # what can never be kept keeps nobody from handing in
                working.release()
        self.sitting.hand_in()
        return DialogueAnswer()

    def _cost_at(self, bench: Bench) -> Callable[[str, Rung], str]:
        """Return what says what a hint costs at a bench, and which line bears it if another."""
        drill = self.sitting.drill.at(self.sitting.benches.index(bench) + 1)

        def cost(key: str, rung: Rung) -> str:
            if key.startswith(PICTURE_STEP):
                return hint_cost(drill, rung, "this part of the diagram")
            bears = bench.working.leads_to(key)
            name = "" if bears.key == key else line_name(bears)
            return hint_cost(drill, rung, name)

        return cost
