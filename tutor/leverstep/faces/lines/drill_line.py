"""A sitting of a drill line by line, in words: its tasks, its rules, and the end of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from leverstep.bench.record import NeverKept, RecordError, folder_named
from leverstep.course.plain_text import plain
from leverstep.dialogue.notice import (
    code_told,
    command,
    handed_in,
    hint_cost,
    left_behind,
    open_still,
    record_gone,
    rules_in_words,
    tasks_left,
    time_left,
)
from leverstep.dialogue.sitting_result import heading, marked_now, result_of
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_clock import AGAIN, Clock, Interrupt
from leverstep.faces.lines.line import HELP, LineMode
from leverstep.faces.lines.line_reading import ReadOut
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.statics.step import Step
from leverstep.working.page import line_name
from leverstep.working.wording import CAUTION_IN_SHORT, CAUTION_SAID

TRIES = 3
"""A line that can't be written is tried again so often."""

HAND_IN, LEAVE = "type hand in", "type stop"
"""How a sitting is handed in here, and how it is left."""

TOO_LATE = "This came too late and does not count."

NOT_UNDERSTOOD = "Not understood, since no line is asked for here. To change one, type back."

DRILL_HELP = (
    "next: the next task. previous: the one before. task 2: that task.",
    "time: the time and the tasks that are left.",
    "rules: the rules of this drill again.",
    "hand in: hand in; after that nothing can be changed.",
    "folder, and a path: go on with the record in another folder.",
)


class DrillLines(LineMode):
    """Asks for the lines of each task, until the sitting is handed in or left."""

    help: tuple[str, ...] = (*HELP, *DRILL_HELP)
    ends_with = "Type next for the next task."
    words = "hint, back, lines, next, time, help"

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
        self._clock = Clock(sitting, interrupt)
        self._place = min(sitting.open_tasks, default=1) - 1
        self._path = path
        self._rest = wait
        self._waiting: Callable[[], None] = _nothing
        self._told_gone = False
        super().__init__(
            sitting.benches[self._place], say, lambda prompt: self._clock.listen(listen, prompt)
        )
        self.caution = CAUTION_IN_SHORT  # it was said whole at the door
        if not self.working.rules.hints:
            self.help = tuple(line for line in self.help if not line.startswith("hint:"))
            self.words = self.words.removeprefix("hint, ")

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
                self.say("Time is up; what has been saved is handed in.")
                if self._keep(self.sitting.hand_in):
                    break
            step = self._step()
            if told := self._clock.due():
                self.say(told)
            if step is None:
                done = f"All lines of task {self._place + 1} are done."
                self._say_new(done, " Type next, back, or hand in.")
            else:
                self._ask(step)
            text = self.listen(self._prompt(step)).strip()
            if self.sitting.ended:
                if text:
                    self.say(TOO_LATE)
            elif text.lower() in STOP:
                if self._may_leave():
                    self._leave("Stopped.")
                    return
            else:
                self._take(step, text)
        read_account(self.sitting, self.say)
        back = command(self._path, self.sitting.folder, in_lines=True)
        self.say(f"To hear this again, type result after {back}")

    def _prompt(self, step: Step | None) -> str:
        return f"Task {self._place + 1}: " if step is None else super()._prompt(step)

    def _take(self, step: Step | None, text: str) -> None:
        """Do what is typed: a word of the drill, a word of the working, or a line."""
        word, _, rest = text.partition(" ")
        rest = rest.strip()
        match word.lower(), rest.lower():
            case "", _ if self._waiting != _nothing:
                self._keep(self._waiting)
            case "next", "":
                self._turn_to((self._place + 1) % len(self.sitting.tasks))
            case "previous", "":
                self._turn_to((self._place - 1) % len(self.sitting.tasks))
            case "task", number if number.isdecimal():
                self._turn_to(int(number) - 1)
            case "time", "":
                clock = time_left(self.sitting.left) or "No time limit"
                self.say(f"{clock.capitalize()}, {tasks_left(self.sitting)}.")
            case "rules", "":
                self._rules()
            case "folder", _ if rest:
                self._move(rest)
            case "hand", "in":
                self._hand_in()
            case _ if step is not None:
                self._keep(lambda: self._answer(step, text))
            case (("help" | "?" | "lines" | "missing" | "problem" | "back" | "hints"), _):
                self._answer(self.working.steps[-1], text)
            case _:
                self._asked = ""
                if text:
                    self.say(NOT_UNDERSTOOD)

    def hint_cost(self, key: str) -> str:
        """Return what a hint costs, and which line bears it where that is another."""
        bears = self.working.leads_to(key)
        return hint_cost(self.sitting.drill, "" if bears.key == key else line_name(bears))

    def _rules(self) -> None:
        """Tell the rules again."""
        for rule in rules_in_words(self.sitting.drill, self.sitting.folder, HAND_IN, LEAVE):
            self.say(plain(rule))

    def _hand_in(self) -> None:
        """Ask whether to hand in, then do it."""
        self.say(open_still(self.sitting))
        answer = self.listen("Type yes to hand in: ").strip().lower()
        if self.sitting.ended:
            return
        if answer in ("yes", "y"):
            self._keep(self.sitting.hand_in)
        else:
            self.say("Not handed in.")

    def _keep(self, deed: Callable[[], None]) -> bool:
        """Do something that is to be kept; where it can't be, try again, then ask what to do."""
        for tries in range(TRIES + 1):
            try:
                deed()
            except NeverKept as error:
                self.say(f"Not taken: {plain(str(error))}.")
                self._waiting = _nothing
                return False
            except RecordError as error:
                if self.sitting.over and deed != self.sitting.hand_in:
                    self.say(TOO_LATE)
                    return False
                if not tries:
                    self.say(f"Not saved, so not judged yet: {plain(str(error))}.")
                    self.say("Trying again.")
                if tries < TRIES:
                    self._rest(AGAIN)
            else:
                self._waiting = _nothing
                return True
        self._waiting = deed
        self.say("It is still not saved. Enter tries again; folder, and a path, tries another one.")
        return False

    def _move(self, folder: str) -> None:
        """Go on with the record in another folder, then with what waits for it."""
        try:
            self.sitting.move(folder_named(folder))
        except RecordError as error:
            self.say(f"That can't be written: {plain(str(error))}.")
            return
        self.say(f"The record is now at {plain(str(self.sitting.place))}.")
        self._keep(self._waiting)

    def _turn_to(self, place: int) -> None:
        """Go to another task."""
        if not 0 <= place < len(self.sitting.tasks):
            self.say(f"The tasks are 1 to {len(self.sitting.tasks)}.")
            return
        self._place, self.revising = place, None
        self.bench = self.sitting.benches[place]
        self.working = self.bench.working
        self._asked = ""
        self.read_problem()

    def heading(self) -> Iterable[str]:
        """Return which task it is, with its marks."""
        return (heading(self.sitting, self.sitting.tasks[self._place]),)

    def _may_leave(self) -> bool:
        """Return whether to leave; where the record is gone it is said first, once, what helps."""
        if self._told_gone or self.sitting.is_kept:
            return True
        self._told_gone = True
        self.say(plain(record_gone(self.sitting)))
        self.say(
            "Your lines are not lost yet: folder, and a path, keeps them there; stop gives them up."
        )
        return False

    def _leave(self, why: str) -> None:
        self.say(why)
        if self.sitting.ended:
            self.say(plain(handed_in(self.sitting)))
            self.say(code_told(self.sitting))
            return
        self.sitting.pause()
        for line in left_behind(self.sitting, self._path, in_lines=True):
            self.say(plain(line))


def read_account(sitting: Sitting, say: Say) -> None:
    """Say what was handed in, its code, its marks, and what came of each line."""
    told = result_of(sitting, marked_now(sitting))
    say(plain(told.handed_in))
    say(told.code)
    if told.total:
        say(told.total)
    for task in told.tasks:
        reading = ReadOut(task.bench, say)
        reading.say(task.heading)
        for one in task.lines:
            reading.say(f"{reading.text_named(one.step.key)}. {one.told}")
        if task.unwritten:
            reading.say(f"Not written: {task.unwritten}.")
    say(CAUTION_SAID)


def _nothing() -> None:
    """Do nothing: what waits where nothing does."""
