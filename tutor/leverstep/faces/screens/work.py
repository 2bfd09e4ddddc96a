"""The work screen: one question of practice, and the same again with new numbers."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from leverstep.bench.record import RecordError
from leverstep.course.faults import FileError
from leverstep.dialogue.kept_told import begun_told, numbers_told
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.openings import (
    Opening,
    begun_before,
    hints_left_out,
    is_begun_before,
    open_practice,
    worth_exploring,
)
from leverstep.faces.screens.begun_before import BegunBeforeScreen
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.entrances import Exploring
from leverstep.faces.screens.half_typed import HalfTypedScreen
from leverstep.faces.screens.visit import Visit
from leverstep.working.own import OwnError

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import Unfinished
    from leverstep.bench.practice import Practice
    from leverstep.bench.record_note import RecordNote

_BEGUN = "You have an unfinished working of this problem: press Esc to find it in the list."
_ONWARD = """\
F7      the same problem with new numbers
Ctrl+G  explore: change a number, and see what follows
↑       change a line
Esc     choose another problem"""


class WorkScreen(HalfTypedScreen):
    """One working of practice. Whatever is entered is on disk at once."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f7", "again", "New numbers", id="work.again",
            tooltip="Work the same problem again with new numbers",
        ),
        Binding(
            "ctrl+g", "explore", "Explore", id="work.explore",
            tooltip="Change the numbers of this problem, and see what follows",
        ),
        Binding(
            "f9", "reasons", "Reasons", id="work.reasons", show=False,
            tooltip="Name the likely slip behind a wrong line at once, or only in a hint",
        ),
        Binding(
            "escape", "app.home", "Home", id="work.home",
            tooltip="Go back to the problems; everything entered is kept",
        ),
    ]  # fmt: skip

    @dataclass
    class Opened(Message):
        """The practice is ready, or `told` says why there is none, else what to say first."""

        practice: Practice | None
        told: str

    @dataclass
    class Kept(Message):
        """The very question was begun before: it is asked whether to go on."""

        before: Unfinished

    def __init__(self, opening: Opening, visit: Visit) -> None:
        problem, seed = opening.problem, opening.seed
        super().__init__(problem.title, problem.question(seed) if seed else None, _ONWARD)
        self.opening = opening
        self._visit = visit

    @property
    def practice(self) -> Practice | None:
        """Return the practice; None before the start, and where there is none."""
        dialogue = self.dialogue
        return dialogue.practice if isinstance(dialogue, PracticeDialogue) else None

    @property
    def record_note(self) -> RecordNote | None:
        """Return the note beside the record; None where there is no record."""
        return None if self.practice is None else self.practice.record_note

    def on_mount(self) -> None:
        """Start what takes a moment: the first derivation."""
        self.busy = True
        self.run_job(self._opened)

    def _opened(self) -> Message:
        """Return the practice with its first derivation made, or else why it can't be opened.

        Where the very question is kept it is that, and nothing is begun yet.
        """
        opening, material = self.opening, self._visit.material
        if before := begun_before(opening, material.shelf):
            return self.Kept(before)
        told = _BEGUN if is_begun_before(opening, material.shelf) else ""
        try:
            practice = open_practice(opening, material, self._visit.habits)
        except (RecordError, FileError, OwnError) as error:
            return self.Opened(None, str(error))
        practice.working.values()
        return self.Opened(practice, hints_left_out(material) or told)

    @on(Kept)
    def ask_whether_to_go_on(self, event: Kept) -> None:
        """Ask whether to go on with what was begun, or to begin anew."""
        event.stop()
        before = event.before

        async def answered(goes_on: bool | None) -> None:
            if goes_on is None:
                await self.run_action("app.home")
                return
            path = before.path if goes_on else None
            self.opening = replace(self.opening, path=path, anew=not goes_on)
            self.run_job(self._opened)

        which = f"{before.problem.title}, {numbers_told(before)}"
        told = begun_told(before, datetime.now().astimezone())
        self.app.push_screen(BegunBeforeScreen(f"{which}\n\n{told}"), answered)

    async def on_unmount(self) -> None:
        """Enter the line that the cursor was on."""
        await asyncio.to_thread(self.enter_rest)

    @on(Opened)
    def begin(self, event: Opened) -> None:
        """Show the working, also one that is gone on with."""
        event.stop()
        self.busy = False
        if event.practice is None:
            self.query_one(Desk).give_up([Content(event.told)])
        else:
            self.dialogue = PracticeDialogue(event.practice)
            self.put_back_typed()
            if event.told and self.step_at_hand is not None:
                self.dialogue.say(event.told)
        self.paint()

    def tell_progress(self, dialogue: WorkingDialogue) -> None:
        """Show in the top line how far the student is, and with which numbers."""
        told = f"{dialogue.progress} · numbers {dialogue.bench.question.seed}"
        self.query_one("#progress", Static).update(told, layout=False)

    def action_again(self) -> None:
        """Open the same problem with new numbers, led as before."""
        if self.practice is not None:
            guidance = self.practice.working.guidance
            opening = Opening(self.opening.problem, guidance=guidance)
            self.app.switch_screen(WorkScreen(opening, self._visit))

    def action_reasons(self) -> None:
        """Have likely slips named at once, or only in a hint."""
        if isinstance(self.dialogue, PracticeDialogue) and not self.busy:
            self.dialogue.change_reasons()
            self.paint()

    def action_explore(self) -> None:
        """Explore the question of this working, with other numbers where a line is still open."""
        if self.practice is not None:
            from leverstep.faces.screens.explore import ExploreScreen

            practice = self.practice
            exploring = Exploring(
                practice.question.problem.title, lambda: worth_exploring(practice)
            )
            self.app.push_screen(ExploreScreen(exploring))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        if action in ("again", "explore"):
            return self.practice is not None and self.step_at_hand is None
        return super().check_action(action, parameters)
