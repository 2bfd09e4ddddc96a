"""A sitting of a drill on the full screen: its tasks, its clock, and the end of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on, work
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.timer import Timer
from textual.widgets import Static

from tutor.drill.bench import Bench
from tutor.drill.notice import (
    left_behind,
    open_still,
    tasks_left,
    time_left,
    warned_at,
    warning,
)
from tutor.drill.record import RecordError
from tutor.drill.sitting import Sitting
from tutor.screens import sitting as words
from tutor.screens.asides import AwayScreen, ConfirmScreen, FolderScreen
from tutor.screens.bench import BenchScreen
from tutor.screens.desk import Desk
from tutor.screens.handed import HandedScreen
from tutor.screens.sitting import News
from tutor.statics.step import Step

if TYPE_CHECKING:
    from tutor.screens.app import LeverstepApp

AGAIN = 5.0
"""Seconds until a line that could not be written is tried again."""

CLOCK = 60.0
"""Seconds between two times that the clock is put on the disk."""

_CLOCK_HELP = """\
The clock
  Everything is kept as you go. Where there is a clock, it stands still while
  you are away and when you quit; it runs on while you read this."""
_TIME_UP = "The time is up; what is on the disk is handed in."
_ONWARD = "F9   next task, F7 the one before\n↑    change a line\nF10  hand in"


class DrillScreen(BenchScreen):
    """The tasks of a sitting, one at a time. What is not on the disk is not judged."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f7", "task(-1)", "Task before", id="drill.before", show=False,
            tooltip="Go to the task before",
        ),
        Binding(
            "f9", "task(1)", "Task", id="drill.after",
            tooltip="Go to the next task",
        ),
        Binding(
            "f10,f12", "hand_in", "Hand in", id="drill.hand-in",
            tooltip="Hand in; asks once before it does",
        ),
        Binding(
            "ctrl+o", "folder", "Folder", id="drill.folder", show=False,
            tooltip="Go on with the record in another folder",
        ),
        Binding(
            "escape", "leave", "Away", id="drill.leave",
            tooltip="Leave for now; everything is kept and the clock stands still",
        ),
    ]  # fmt: skip

    @dataclass
    class Unkept(Message):
        """Something could not be done, since it could not be written; with what it was."""

        reason: str
        deed: Callable[[], News]

    @dataclass
    class Left(Message):
        """The clock stands still."""

    def __init__(self, sitting: Sitting, back: str) -> None:
        """Open a sitting; `back` is the command to come back with."""
        self.sitting = sitting
        self._place = min(sitting.open_tasks, default=1) - 1
        super().__init__(self._title, sitting.tasks[self._place].question, _ONWARD)
        self.bench = sitting.benches[self._place]
        self._back = back
        self._trouble = ""
        self._waiting: Callable[[], News] | None = None
        self._as_it_was: tuple[Bench | None, str, str] = (None, "", "")
        self._again: Timer | None = None
        self._warned = 0
        self._said = ""

    @property
    def help_text(self) -> str:
        """Return what there is to know of a working, and of the clock."""
        return f"{super().help_text}\n\n{_CLOCK_HELP}"

    @property
    def _title(self) -> str:
        task = self.sitting.tasks[self._place]
        title = task.question.problem.title
        return f"Task {task.number} of {len(self.sitting.tasks)}: {title}"

    @property
    def _left_behind(self) -> str:
        return "\n".join(left_behind(self.sitting, self._back))

    def on_mount(self) -> None:
        """Show the task, and let the clock be seen."""
        self.paint()
        self.set_interval(1.0, self.tick)
        self.set_interval(CLOCK, self.keep_clock)

    def on_unmount(self) -> None:
        """Let the clock stand still where the program is quit."""
        if not self.sitting.ended:
            self.sitting.pause()
            cast("LeverstepApp", self.app).farewell = self._left_behind

    @work(thread=True, group="clock")
    def keep_clock(self) -> None:
        """Put the clock on the disk now and then, in case the program is killed."""
        self.sitting.note()

    def tick(self) -> None:
        """Show the time that is left; hand in when there is none."""
        if self.bench is None or self.busy:
            return
        if self.sitting.over and not self._trouble:
            self.attempt(self._hand_in)
            return
        step, left = self.step_at_hand, self.sitting.left
        self.tell_progress(self.bench, step)
        if warned_at(left) != self._warned:
            self._warned, self._said = warned_at(left), warning(left)
            if step is not None:
                self.remark(self.bench, step)

    def tell_progress(self, bench: Bench, step: Step | None) -> None:
        """Show in the top line the place in the task, the tasks and the time that are left."""
        clock = time_left(self.sitting.left)
        parts = [words.progress(bench.working, step), tasks_left(self.sitting), clock]
        progress = self.query_one("#progress", Static)
        progress.set_class(bool(warned_at(self.sitting.left)), "-late")
        told = " · ".join(part for part in parts if part)
        if str(progress.content) != told:
            progress.update(told)

    def warnings(self, bench: Bench) -> Iterable[Content]:
        """Return what must be said first: that something is not kept, and that time runs out."""
        del bench
        if self._trouble:
            kept = "It is handed in" if self._waiting == self._hand_in else "Your entry is judged"
            yield Content.assemble(
                ("Not on the disk: ", "$warning bold"), f"{self._trouble}. "
                f"{kept} as soon as it is. Trying again by itself; Enter tries at once, "
                "Ctrl+O takes another folder.",
            )  # fmt: skip
        if self._said:
            yield Content.styled(f"! {self._said}", "$warning bold")

    def attempt(self, deed: Callable[[], News]) -> None:
        """Have something done, and notice where it could not be written."""

        def done() -> Message:
            try:
                return self.Answered(deed())
            except RecordError as error:
                return self.Unkept(str(error), deed)

        self.busy = True
        self.run_job(done)

    def take(self, news: News) -> None:
        """Show what came of something, all of which is on the disk; or end the sitting."""
        self._trouble, self._waiting, self._said = "", None, ""
        if self.sitting.ended:
            cast("LeverstepApp", self.app).farewell = ""
            first = _TIME_UP if self.sitting.left == 0.0 else ""
            self.app.switch_screen(HandedScreen(self.sitting, first))
            return
        super().take(news)

    @on(Unkept)
    def wait(self, event: Unkept) -> None:
        """Keep what could not be written for another try; nothing came of it yet."""
        event.stop()
        self.busy = False
        if self.sitting.over and event.deed != self._hand_in:
            self.attempt(self._hand_in)
            return
        self._trouble, self._waiting = event.reason, event.deed
        self._as_it_was = self._now()
        self.news = None
        self.paint()
        if self._again is not None:
            self._again.stop()
        self._again = self.set_timer(AGAIN, self.try_again)

    def _now(self) -> tuple[Bench | None, str, str]:
        """Return where the student is, and what stands in the field."""
        step = self.step_at_hand
        return self.bench, "" if step is None else step.key, self.query_one(Desk).entry.value

    def try_again(self) -> None:
        """Try again what could not be written, or only the disk where the student is elsewhere."""
        if self._waiting is None or self.busy:
            return
        is_same = self._waiting == self._hand_in or self._as_it_was == self._now()
        self.attempt(self._waiting if is_same else self._probe)

    def _probe(self) -> News:
        if not self.sitting.note():
            raise RecordError(self._trouble)
        return News("", told="The record can be written again. Enter takes your line.")

    def _hand_in(self) -> News:
        self.sitting.hand_in()
        return News("")

    def action_task(self, way: int) -> None:
        """Go to the task before (-1) or after (1); after the last comes the first."""
        if self.busy:
            return
        self._place = (self._place + way) % len(self.sitting.tasks)
        self.bench, self.chosen, self.news = self.sitting.benches[self._place], "", None
        self.query_one(Desk).turn_to(self._place)
        self.query_one("#heading", Static).update(self._title)
        self.paint()

    def action_hand_in(self) -> None:
        """Ask whether to hand in, then do it."""
        if self.busy:
            return

        def answered(answer: bool | None) -> None:
            if answer and not self.busy:
                self.attempt(self._hand_in)

        self.app.push_screen(ConfirmScreen(open_still(self.sitting)), answered)

    def action_folder(self) -> None:
        """Ask for another folder, and go on with the record there."""
        waiting = self._waiting if self._as_it_was == self._now() else None

        def chosen(path: str | None) -> None:
            if path and not self.busy:
                self.busy = True
                self.run_job(lambda: self._moved(Path(path).expanduser().absolute(), waiting))

        self.app.push_screen(FolderScreen(str(self.sitting.place)), chosen)

    def _moved(self, folder: Path, waiting: Callable[[], News] | None) -> Message:
        try:
            self.sitting.move(folder)
            news = News("", told=f"The record lies at {self.sitting.place} now.")
            return self.Answered(waiting() if waiting else news)
        except RecordError as error:
            return self.Unkept(str(error), waiting or self._probe)

    def action_leave(self) -> None:
        """Leave for now: the clock stands still, and the tasks are covered."""
        if self.busy:
            return

        def left() -> Message:
            self.sitting.pause()
            return self.Left()

        self.busy = True
        self.run_job(left)

    @on(Left)
    def cover(self, event: Left) -> None:
        """Cover the tasks until the student goes on, or goes home."""
        event.stop()

        def answered(answer: bool | None) -> None:
            if not answer:
                cast("LeverstepApp", self.app).action_home()
                return
            self.sitting.go_on()
            self.busy = False
            self.paint()

        self.app.push_screen(AwayScreen(self._left_behind), answered)
