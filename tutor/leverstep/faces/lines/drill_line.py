"""A sitting of a drill line by line, in words: its tasks, its rules, and the end of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from leverstep.bench.record import RecordError, folder_named
from leverstep.bench.record_note import RecordNote
from leverstep.course.plain_text import plain
from leverstep.dialogue.ending import ending
from leverstep.dialogue.notice import (
    code_told,
    command,
    handed_in,
    open_still,
    record_gone,
    rules_in_words,
    tasks_left,
    time_left,
)
from leverstep.dialogue.replies import DialogueAnswer, Reply, Trouble, Unkept
from leverstep.dialogue.sitting_dialogue import TIME_UP, TOO_LATE, SittingDialogue
from leverstep.dialogue.sitting_result import heading, marked_now, result_of
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_clock import Clock
from leverstep.faces.lines.line import LineMode
from leverstep.faces.lines.line_reading import ReadOut
from leverstep.faces.lines.speaking_beside import Interrupt
from leverstep.faces.lines.verbs import Place, Verb, understood
from leverstep.faces.terminal import Listen, Say
from leverstep.working.cautions import CAUTION_IN_SHORT, CAUTION_SAID

TRIES = 3
"""A line that can't be written is tried again so often."""

HAND_IN, LEAVE = "type hand in", "type stop"
"""How a sitting is handed in here, and how it is left."""

NOT_UNDERSTOOD = "Not understood, since no line is asked for here. To change one, type back."

_AT_END = " Type next, back, or hand in."

_WAYS = {
    Trouble.DISK: "It is still not saved. Enter tries again; folder, and a path, tries another "
    "one.",
    Trouble.NEVER: "",
    Trouble.ELSEWHERE: "Type stop here, and go on in the other window. "
    "If there is none, come back with the same command.",
}
"""What the words do where something could not be written."""


class DrillLines(LineMode):
    """Asks for the lines of each task, until the sitting is handed in or left."""

    place = Place.TASKS
    ends_with = "Type next for the next task."
    meanwhile = LineMode.meanwhile | {
        "next", "previous", "task", "time", "rules", "hand_in", "folder",
    }  # fmt: skip

    def __init__(
        self,
        sitting: Sitting,
        say: Say,
        listen: Listen,
        path: Path,
        wait: Callable[[float], object],
        interrupt: Interrupt | None = None,
    ) -> None:
        """Open a sitting.

        Args:
            sitting: the sitting.
            say: what says a line.
            listen: what asks for one, with a prompt.
            path: where the file of the drill lies, for when it is come back to.
            wait: what waits some seconds.
            interrupt: what the clock speaks with while a line is typed, None for scripts.
        """
        self.sitting = sitting
        self.sitting_dialogue = SittingDialogue(sitting)
        self._clock = Clock(self.sitting_dialogue, interrupt)
        self._path = path
        self._rest = wait
        self._told_gone = False
        super().__init__(
            self.sitting_dialogue.working, say, lambda prompt: self._clock.listen(listen, prompt)
        )
        self.caution = CAUTION_IN_SHORT  # it was said whole at the door

    @property
    def answering(self) -> Answering:
        """Return what answers the student: the dialogue of the sitting."""
        return self.sitting_dialogue

    @property
    def record_note(self) -> RecordNote:
        """Return the note beside the record."""
        return self.sitting.record_note

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what help is to name: no word for hints or a calculator that there is not."""
        rules = self.working.rules
        hidden = set() if rules.hints else {"hint", "hints"}
        hidden |= set() if rules.calculator else {"work_out", "use_result"}
        return tuple(verb for verb in self.verbs if verb.does not in hidden)

    def run(self) -> None:
        """Work the tasks; returns when handed in, at `stop`, or where the input ends."""
        with self._clock:
            try:
                super().run()
            finally:
                if not self.sitting.ended:
                    self.sitting.pause()

    def _work(self) -> None:
        while not self.sitting.ended:
            if self.sitting.over:
                self.say(TIME_UP)
                if self.act(self.sitting_dialogue.hand_in):
                    break
            if told := self.sitting_dialogue.warning_due():
                self.say(told)
            text = self.listen(self._next()).strip()
            if not self.sitting.ended:
                self.follow(text)
            elif text:
                self.say(TOO_LATE)
            if self.is_left:
                return
        read_account(self.sitting, self.say)
        back = command(self._path, self.sitting.folder, in_lines=True)
        self.say(f"To hear this again, type result after {back}")

    def _next(self) -> str:
        """Ask what is due; at the end of a task say how that stands. Return the prompt."""
        if prompt := super()._next():
            return prompt
        place = f"Task {self.sitting_dialogue.place + 1}: "
        self.asking.say_new(f"{place}{ending(self.dialogue.bench).headline}", _AT_END)
        return place

    def follow(self, text: str) -> bool:
        """Do what a text says; where no line is asked for, say that an entry is none."""
        if not text and self.sitting_dialogue.waits:
            self.do_enter_alone(text)
            return True
        found = understood(text, self.verbs)
        is_asked = self.dialogue.at_hand is not None or self.dialogue.question is not None
        if is_asked or (found and found[0].without_line):
            return super().follow(text)
        self.asking.again()
        self.say(NOT_UNDERSTOOD)
        return False

    def do_enter_alone(self, rest: str) -> None:
        """Try again what waits for the disk; else say the question again."""
        if self.sitting_dialogue.waits:
            self.act(self.sitting_dialogue.try_again)
        elif self.dialogue.at_hand is None:
            self.asking.again()
        else:
            super().do_enter_alone(rest)

    def do_next(self, _: str) -> None:
        """Turn to the next task."""
        self.sitting_dialogue.turn(1)
        self._turned()

    def do_previous(self, _: str) -> None:
        """Turn to the task before."""
        self.sitting_dialogue.turn(-1)
        self._turned()

    def do_task(self, number: str) -> None:
        """Turn to the task of a number."""
        if self.sitting_dialogue.turn_to(int(number) - 1):
            self._turned()
        else:
            self.say(f"The tasks are 1 to {len(self.sitting.tasks)}.")

    def do_time(self, _: str) -> None:
        """Tell the time and the tasks that are left."""
        clock = time_left(self.sitting.left) or "No time limit"
        self.say(f"{clock.capitalize()}, {tasks_left(self.sitting)}.")

    def do_rules(self, _: str) -> None:
        """Tell the rules again."""
        for rule in rules_in_words(self.sitting.drill, self.sitting.folder, HAND_IN, LEAVE):
            self.say(plain(rule))

    def do_hand_in(self, _: str) -> None:
        """Ask whether to hand in, then do it."""
        self.say(open_still(self.sitting))
        answer = self.listen("Type yes to hand in: ").strip().lower()
        if self.sitting.ended:
            return
        if answer in ("yes", "y"):
            self.act(self.sitting_dialogue.hand_in)
        else:
            self.say("Not handed in.")

    def do_folder(self, typed: str) -> None:
        """Go on with the record in another folder, and with what waits for it."""
        try:
            folder = folder_named(typed)
        except RecordError as error:
            self.say(f"That can't be used: {plain(str(error))}.")
            return
        self.act(lambda: self.sitting_dialogue.move(folder))

    def do_stop(self, rest: str) -> None:
        """Leave; where the record is gone, say first, once, what helps."""
        if self._told_gone or self.sitting.is_kept:
            super().do_stop(rest)
            return
        self._told_gone = True
        self.say(plain(record_gone(self.sitting)))
        self.say(
            "Your lines are not lost yet: folder, and a path, keeps them there; stop gives them up."
        )

    def act(self, deed: Callable[[], Reply]) -> bool:
        """Do something that is to be kept; where it can't be, try again, then say what helps."""
        reply = deed()
        for tries in range(TRIES):
            if isinstance(reply, DialogueAnswer) or reply.again is None:
                break
            if not tries:
                self._tell_unkept(reply, "Trying again.")
            self._rest(reply.again)
            reply = self.sitting_dialogue.try_again()
        if isinstance(reply, DialogueAnswer):
            self.tell(reply)
            return not reply.is_late
        if reply.again is None:
            self._tell_unkept(reply, _WAYS[reply.trouble])
        else:
            self.say(_WAYS[reply.trouble])
        return False

    def _tell_unkept(self, unkept: Unkept, way: str) -> None:
        self.say(f"{unkept.heading}: {plain(unkept.told)} {unkept.stays}".rstrip())
        if way:
            self.say(way)

    def _turned(self) -> None:
        """Read the task that was turned to."""
        self.dialogue = self.sitting_dialogue.working
        self.asking.again()
        self.read_problem()
        self.read_other()

    def heading(self) -> Iterable[str]:
        """Return which task it is, with its marks."""
        return (heading(self.sitting, self.sitting.tasks[self.sitting_dialogue.place]),)

    def _leave(self, why: str) -> None:
        self.say(why)
        if not self.sitting.over:
            self.let_go()
        if self.sitting.ended:
            self.say(plain(handed_in(self.sitting)))
            self.say(code_told(self.sitting))
            return
        for line in self.sitting_dialogue.leave(self._path, in_lines=True):
            self.say(plain(line))


def read_account(sitting: Sitting, say: Say) -> None:
    """Say what was handed in, its code, its marks, and what came of each line."""
    told = result_of(sitting, marked_now(sitting))
    say(plain(told.handed_in))
    say(told.code)
    if told.total:
        say(told.total)
    for task in told.tasks:
        reading = ReadOut(WorkingDialogue(task.bench), say)
        reading.say(task.heading)
        for sure in task.sure:
            reading.say(sure)
        for one in task.lines:
            reading.say(f"{reading.text_named(one.step.key)}. {one.told}")
        for after in task.after:
            reading.say(after)
    say(CAUTION_SAID)
