"""A sitting of a drill line by line, in words: its tasks, its clock, and the end of it."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path

from tutor.course.faults import plain
from tutor.drill.drill import Drill
from tutor.drill.notice import (
    counted,
    handed_in,
    left_behind,
    open_still,
    rules_in_words,
    tasks_left,
    time_left,
    turn_told,
    warning,
)
from tutor.drill.record import RecordError
from tutor.drill.sitting import NotListed, Sitting, admitted, next_turn
from tutor.line import HELP, LineMode, Listen, Say
from tutor.statics.step import Step
from tutor.working.page import line_name, not_written, on_page

TRIES, AGAIN = 3, 3.0
"""A line that can't be written is tried again so often, with so many seconds between."""

CLOCK = 60.0
"""Seconds between two times that the clock is put on the disk."""

NOT_UNDERSTOOD = "Not understood, since no line is asked for here. To change one, type back."

DRILL_HELP = (
    "next: the next task. task 2: that task.",
    "time: the time and the tasks that are left.",
    "hand in: hand in; after that nothing can be changed.",
    "folder, and a path: go on with the record in another folder.",
)


class DrillLines(LineMode):
    """Asks for the lines of each task, until the sitting is handed in or left."""

    help: tuple[str, ...] = (*HELP, *DRILL_HELP)
    ends_with = "Type next for the next task."

    def __init__(
        self,
        sitting: Sitting,
        say: Say,
        listen: Listen,
        path: Path,
        wait: Callable[[float], object],
    ) -> None:
        """Open a sitting.

        Args:
            sitting: the sitting.
            say: what says a line.
            listen: what asks for one, with a prompt.
            path: where the file of the drill lies, for when it is come back to.
            wait: what waits some seconds.
        """
        self.sitting = sitting
        self._place = min(sitting.open_tasks, default=1) - 1
        self._path = path
        self._rest = wait
        self._warned = warning(sitting.left)
        self._waiting: Callable[[], None] = _nothing
        super().__init__(sitting.benches[self._place], say, listen)
        if not self.working.rules.hints:
            self.help = tuple(line for line in self.help if not line.startswith("hint:"))

    def run(self) -> None:
        """Work the tasks; returns when handed in, at `stop`, or where the input ends."""
        stopped = threading.Event()
        clock = threading.Thread(target=self._keep_clock, args=(stopped,), daemon=True)
        clock.start()
        try:
            self._problem()
            self.say("Type help for what you can type.")
            self._work()
        finally:
            stopped.set()
            if not self.sitting.ended:
                self.sitting.pause()

    def _keep_clock(self, stopped: threading.Event) -> None:
        """Put the clock on the disk now and then, in case the program is killed."""
        while not stopped.wait(CLOCK):
            self.sitting.note()

    def _work(self) -> None:
        while not self.sitting.ended:
            if self.sitting.over:
                self.say("The time is up; what is on the disk is handed in.")
                if self._keep(self.sitting.hand_in):
                    break
            step = self._step()
            self._tell_clock()
            self.say("")
            self.say(self._asked(step) if step else self._all_done())
            try:
                text = self.listen(self._prompt(step))
            except EOFError:
                self.say("")
                self.say("The input has ended.")
                text = "stop"
            if text.strip().lower() in ("stop", "quit", "exit"):
                self._leave()
                return
            self._take(step, text.strip())
        self._account()

    def _prompt(self, step: Step | None) -> str:
        if step is None:
            return f"Task {self._place + 1}: "
        return "Line: " if self._is_free else f"{line_name(step)}: "

    def _take(self, step: Step | None, text: str) -> None:
        """Do what is typed: a word of the drill, a word of the working, or a line."""
        word, _, rest = text.partition(" ")
        rest = rest.strip()
        match word.lower(), rest.lower():
            case "", _:
                self._keep(self._waiting)
            case "next", "":
                self._turn_to((self._place + 1) % len(self.sitting.tasks))
            case "task", number if number.isdecimal():
                self._turn_to(int(number) - 1)
            case "time", "":
                clock = time_left(self.sitting.left) or "No limit of time"
                self.say(f"{clock.capitalize()}, {tasks_left(self.sitting)}.")
            case "folder", _ if rest:
                self._move(Path(rest.strip('"')).expanduser().absolute())
            case "hand", "in":
                self.say(open_still(self.sitting))
                if self.listen("Type yes to hand in: ").strip().lower() in ("yes", "y"):
                    self._keep(self.sitting.hand_in)
            case _ if step is not None:
                self._keep(lambda: self._answer(step, text))
            case (("help" | "?" | "lines" | "missing" | "problem" | "back"), _):
                self._answer(self.working.steps[-1], text)
            case _:
                self.say(NOT_UNDERSTOOD)

    def _keep(self, deed: Callable[[], None]) -> bool:
        """Do something that is to be kept; where it can't be, try again, then ask what to do."""
        for tries in range(TRIES + 1):
            try:
                deed()
            except RecordError as error:
                if self.sitting.over and deed != self.sitting.hand_in:
                    self.say("This came too late and is not taken.")
                    return False
                if not tries:
                    self.say(f"Not on the disk, so nothing came of it yet: {plain(str(error))}.")
                    self.say("Trying again.")
                if tries < TRIES:
                    self._rest(AGAIN)
            else:
                self._waiting = _nothing
                return True
        self._waiting = deed
        self.say("It is still not on the disk. Enter tries again; folder, and a path, another one.")
        return False

    def _move(self, folder: Path) -> None:
        """Go on with the record in another folder, then with what waits for it."""
        try:
            self.sitting.move(folder)
        except RecordError as error:
            self.say(f"That can't be written: {plain(str(error))}.")
            return
        self.say(f"The record lies at {plain(str(self.sitting.place))} now.")
        self._keep(self._waiting)

    def _turn_to(self, place: int) -> None:
        """Go to another task."""
        if not 0 <= place < len(self.sitting.tasks):
            self.say(f"The tasks are 1 to {len(self.sitting.tasks)}.")
            return
        self._place, self.revising = place, None
        self.bench = self.sitting.benches[place]
        self.working = self.bench.working
        self._problem()

    def _heading(self) -> Iterable[str]:
        task = self.sitting.tasks[self._place]
        title, marks = task.question.problem.title, counted(task.marks, "mark")
        yield f"Task {task.number} of {len(self.sitting.tasks)}: {title} ({marks})"

    def _all_done(self) -> str:
        return f"All lines of task {self._place + 1} are done. Type next, back, or hand in."

    def _tell_clock(self) -> None:
        """Say once when little time is left."""
        told = warning(self.sitting.left)
        if told and told != self._warned:
            self.say(told)
        self._warned = told

    def _leave(self) -> None:
        self.sitting.pause()
        for line in left_behind(self.sitting, self._path):
            self.say(plain(line))

    def _account(self) -> None:
        """Say what was handed in, and what came of each line."""
        self.say(plain(handed_in(self.sitting)))
        for place, bench in enumerate(self.sitting.benches):
            self._place = place
            for heading in self._heading():
                self.say(heading)
            for step in on_page(bench.working):
                line = bench.working.lines.get(step.key)
                if line is not None:
                    self.say(f"{line_name(step)}: {plain(line.text)}. {bench.tell(line.verdict)}")
            if unwritten := not_written(bench.working):
                self.say(f"Not written: {unwritten}.")


def _nothing() -> None:
    """Do nothing: what waits where nothing does."""


def sit(
    drill: Drill,
    entrance: tuple[Path, str, Path | None],
    say: Say,
    listen: Listen,
    wait: Callable[[float], object] = time.sleep,
) -> None:
    """Sit a drill line by line, from the student's id to handing in.

    Args:
        drill: the drill.
        entrance: the path of its file, the student's id ("" to ask for it), the records' folder.
        say: what says a line.
        listen: what asks for one, with a prompt.
        wait: what waits some seconds.

    Raises:
        Closed: where the drill can't be sat.
        EOFError: where the input ends before it has begun.
    """
    path, typed, folder = entrance
    say(drill.title)
    student = _student(drill, typed, say, listen)
    for rule in rules_in_words(drill, folder, "type hand in", "type stop"):
        say(plain(rule))
    say(
        f"You are {', '.join(part for part in (student, drill.students.get(student, '')) if part)}."
    )
    turn = next_turn(drill, student, folder)
    if told := turn_told(drill, turn):
        say(told)
    if listen("Enter begins, stop ends: ").strip().lower() in ("stop", "quit", "exit"):
        return
    elsewhere: Path | None = None
    while True:
        try:
            if turn.path is not None:
                sitting = Sitting.resume(turn.path, drill, elsewhere)
            else:
                sitting = Sitting.start(drill, student, folder)
            break
        except RecordError as error:
            say(f"The record can't be kept: {plain(str(error))}.")
            other = listen("Another folder for it: ").strip()
            folder = elsewhere = Path(other).expanduser().absolute() if other else folder
    DrillLines(sitting, say, listen, path, wait).run()


def _student(drill: Drill, typed: str, say: Say, listen: Listen) -> str:
    """Return the student's id; one that is typed wrong is asked for again."""
    while True:
        asked = typed or listen("Your id: ")
        try:
            return admitted(drill, asked, datetime.now(UTC))
        except NotListed as error:
            if typed:
                raise
            say(f"{str(error).capitalize()}.")
