"""A sitting of a drill on the full screen: its tasks, its clock, and the end of it."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from leverstep.dialogue.notice import (
    open_still,
    rules_in_words,
    tasks_left,
    time_left,
    warned_at,
)
from leverstep.dialogue.replies import DialogueAnswer, Reply
from leverstep.dialogue.sitting_dialogue import TIME_UP, TOO_LATE, SittingDialogue
from leverstep.dialogue.sitting_result import task_title
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.begun import remember
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.asides import AwayScreen, ConfirmScreen
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.help import sentences
from leverstep.faces.screens.keeping import KeepingScreen
from leverstep.faces.screens.visit import Visit

HAND_IN, LEAVE = "press F10", "press Esc"
"""How a sitting is handed in here, and how it is left."""

_CLOCK_HELP = """\
The clock
  Everything is kept as you go. Where there is a clock, it stops while
  you are away and when you quit; it runs on while you read this."""
_WHERE_GONE = "Your lines are not lost yet: go on, and Ctrl+O keeps them in another folder."
_CLOCK_KEPT = "One moment: the clock is being saved …"
_ONWARD = "F9   next task, F7 the one before\n↑    change a line\nF10  hand in"


class DrillScreen(KeepingScreen):
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
            "f10", "hand_in", "Hand in", id="drill.hand-in",
            tooltip="Hand in; you are asked once more first",
        ),
        Binding(
            "escape", "leave", "Leave", id="drill.leave",
            tooltip="Leave for now; everything is kept, and the clock stops",
        ),
    ]  # fmt: skip

    @dataclass
    class Left(Message):
        """The clock stands still; `told` says what is kept."""

        told: str

    @dataclass
    class Returned(Message):
        """The clock runs again."""

    def __init__(self, sitting: Sitting, path: Path, visit: Visit) -> None:
        """Open a sitting; `path` is that of the drill's file, for when it is come back to."""
        dialogue = SittingDialogue(sitting)
        task = sitting.tasks[dialogue.place]
        super().__init__(task_title(sitting, task), task.question, _ONWARD, dialogue)
        self._path = path
        self._visit = visit
        self._said = ""
        self._came_late = False

    @property
    def help_text(self) -> str:
        """Return what there is to know of a working, of the clock, and the rules."""
        told = rules_in_words(self.sitting.drill, self.sitting.folder, HAND_IN, LEAVE)
        rules = sentences("The rules of this drill", told)
        return f"{super().help_text}\n\n{_CLOCK_HELP}\n\n{rules}"

    def on_mount(self) -> None:
        """Show the task, and let the clock be seen."""
        self.query_one(Desk).turn_to(self.place_at_hand)
        self.put_back_typed()
        self.paint()
        self.set_interval(1.0, self.tick)

    async def on_unmount(self) -> None:
        """Let the clock stand still where the program is quit in the middle of a sitting."""
        if self.sitting.stopwatch.runs and not self.sitting.ended:
            await asyncio.to_thread(self.enter_rest)
            await asyncio.to_thread(self._put_by)

    def _put_by(self) -> None:
        """Let the clock stand still, and know where to come back to; this writes."""
        self._visit.farewell = "\n".join(self.sitting_dialogue.leave(self._path))
        remember(self.sitting, self._path)

    @work(thread=True, group="clock")
    def keep_clock(self) -> None:
        """Put the clock on the disk now and then, in case the program is killed."""
        self.sitting.note()

    def tick(self) -> None:
        """Keep the clock, and show the time that is left; hand in when there is none."""
        if self.sitting.is_due:
            self.keep_clock()
        dialogue = self.sitting_dialogue
        if self.busy or self.sitting.ended:
            return
        if dialogue.is_to_hand_in:
            self.attempt(dialogue.hand_in)
            return
        self.tell_progress(dialogue.working)
        if due := dialogue.warning_due():
            self._said = due
            if self.step_at_hand is not None:
                self.remark(dialogue.working)

    def tell_progress(self, dialogue: WorkingDialogue) -> None:
        """Show in the top line the place in the task, the tasks and the time that are left."""
        clock = time_left(self.sitting.left)
        parts = [dialogue.progress, tasks_left(self.sitting), clock]
        progress = self.query_one("#progress", Static)
        progress.set_class(bool(warned_at(self.sitting.left)), "-late")
        self.show_progress(" · ".join(part for part in parts if part))

    def warnings(self, dialogue: WorkingDialogue) -> Iterable[Content]:
        """Return what must be said first: that something is not kept, and that time runs out."""
        yield from super().warnings(dialogue)
        if self._said:
            yield Content.styled(f"! {self._said}", "$warning bold")

    def take(self, reply: Reply) -> None:
        """Show what came of something; or end the sitting, whatever window lies over it."""
        if isinstance(reply, DialogueAnswer):
            self._said = ""
        if not self.sitting.ended:
            super().take(reply)
            if isinstance(reply, DialogueAnswer) and reply.is_late:
                self._came_late = True
                self.tick()
            return
        while self.app.screen is not self:
            self.app.pop_screen()
        self._visit.farewell = ""
        told = f"{TIME_UP}{f' {TOO_LATE}' if self._came_late else ''}"
        first = told if self.sitting.left == 0.0 else ""
        self.app.switch_screen(HandedScreen(self.sitting, first))

    def attempt(self, deed: Callable[[], Reply]) -> None:
        """Have something done; a drill that is handed in by that is none to come back to."""

        def remembered() -> Reply:
            reply = deed()
            if self.sitting.ended:
                remember(self.sitting, self._path)
            return reply

        super().attempt(remembered)

    def moved(self, folder: Path, typed: str) -> Reply:
        """Go on in another folder, and come back to that one."""
        came = super().moved(folder, typed)
        remember(self.sitting, self._path)
        return came

    def action_task(self, way: int) -> None:
        """Go to the task before (-1) or after (1); after the last comes the first."""
        self.leave_line(lambda: self._turn(way))

    def _turn(self, way: int) -> None:
        if self.busy:
            return
        dialogue = self.sitting_dialogue
        dialogue.turn(way)
        self.dialogue = dialogue.working
        self.query_one(Desk).turn_to(dialogue.place)
        title = task_title(self.sitting, self.sitting.tasks[dialogue.place])
        self.query_one("#heading", Static).update(title)
        self.paint()

    @property
    def picture_ways(self) -> frozenset[str]:
        """Return where a picture may be left for: another task, or the end."""
        return frozenset({"task", "hand in"})

    def picture_progress(self) -> str:
        """Return the time that is left, and the tasks."""
        parts = (tasks_left(self.sitting), time_left(self.sitting.left))
        return " · ".join(filter(None, parts))

    def leave_picture(self, how: str) -> None:
        """Go on where a picture was left: to the lines, another task, the end, or away."""
        match how:
            case "leave":
                self.action_leave()
            case "task":
                self.action_task(1)
            case "hand in":
                self.action_hand_in()
            case _:
                self.paint()

    def action_hand_in(self) -> None:
        """Ask whether to hand in, then do it."""
        self.leave_line(self._ask_to_hand_in)

    def _ask_to_hand_in(self) -> None:
        if self.busy:
            return

        def answered(answer: bool | None) -> None:
            if answer and not self.busy:
                self.attempt(self.sitting_dialogue.hand_in)
            else:
                self.paint()

        self.app.push_screen(ConfirmScreen(open_still(self.sitting)), answered)

    def action_leave(self) -> None:
        """Leave for now: the clock stands still, and the tasks are covered."""
        self.leave_line(self._leave)

    def _leave(self) -> None:
        if self.busy:
            return

        def left() -> Message:
            self._put_by()
            helps = "" if self.sitting.is_kept else f"\n{_WHERE_GONE}"
            return self.Left(self._visit.farewell + helps)

        self._do_beside(left)

    def _do_beside(self, job: Callable[[], Message]) -> None:
        """Have the clock saved beside the screen, and say so meanwhile."""
        self.busy = True
        self.query_one("#progress", Static).update(_CLOCK_KEPT)
        self.run_job(job)

    @on(Left)
    def cover(self, event: Left) -> None:
        """Cover the tasks until the student goes on, or goes home."""
        event.stop()

        async def answered(answer: bool | None) -> None:
            if answer:
                self._do_beside(self._gone_on)
            else:
                await self.run_action("app.home")

        self.app.push_screen(AwayScreen(event.told), answered)

    def _gone_on(self) -> Message:
        self.sitting.go_on()
        return self.Returned()

    @on(Returned)
    def uncover(self, event: Returned) -> None:
        """Take lines again."""
        event.stop()
        self.busy = False
        self.paint()
