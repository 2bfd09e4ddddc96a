"""The work screen: one question of practice, and the same again with new numbers."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from leverstep.bench.record import RecordError
from leverstep.course.faults import FileError
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.openings import (
    Opening,
    hints_left_out,
    is_begun_before,
    open_practice,
    worth_exploring,
)
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.entrances import Exploring
from leverstep.faces.screens.page_screen import PageScreen
from leverstep.faces.screens.visit import Visit
from leverstep.working.own import OwnError

if TYPE_CHECKING:
    from leverstep.bench.practice import Practice

_BEGUN = "You have an unfinished working of this problem: press Esc to find it in the list."
_ONWARD = """\
F7      the same problem with new numbers
Ctrl+G  explore: change a number, and see what follows
↑       change a line
Esc     choose another problem"""


class WorkScreen(PageScreen):
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
            "ctrl+t", "units", "Units", id="work.units", show=False, system=True,
            tooltip="Take a number without a unit in the unit asked for, or ask for its unit",
        ),
        Binding(
            "ctrl+y", "conversions", "Conversions", id="work.conversions", show=False, system=True,
            tooltip="Have lines that only convert a unit filled in: never, once sure, always",
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

    def on_mount(self) -> None:
        """Start what takes a moment: the first derivation."""
        self.busy = True
        self.run_job(self._opened)

    def _opened(self) -> Message:
        """Return the practice with its first derivation made, or else why it can't be opened."""
        opening, material = self.opening, self._visit.material
        told = _BEGUN if is_begun_before(opening, material.shelf) else ""
        try:
            practice = open_practice(opening, material, self._visit.habits)
        except (RecordError, FileError, OwnError) as error:
            return self.Opened(None, str(error))
        practice.working.values()
        return self.Opened(practice, hints_left_out(material) or told)

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

    def action_units(self) -> None:
        """Have a number without a unit taken in the unit asked for, or not."""
        if isinstance(self.dialogue, PracticeDialogue) and not self.busy:
            self.dialogue.change_units()
            self.paint()

    def action_conversions(self) -> None:
        """Have lines that only convert a unit filled in: none, those known, or all."""
        if isinstance(self.dialogue, PracticeDialogue) and not self.busy:
            self.dialogue.change_conversions()
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
