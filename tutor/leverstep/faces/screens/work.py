"""The work screen: one question of practice, and the same again with new numbers."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen

from leverstep.bench.record import RecordError
from leverstep.course.cards import card_of
from leverstep.course.faults import FileError
from leverstep.dialogue.kept_told import begun_told, numbers_told
from leverstep.dialogue.lookback import look_back, slips_to_remember
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.openings import (
    Opening,
    SetOpened,
    begun_before,
    hints_left_out,
    is_begun_before,
    next_in_set,
    open_practice,
    worth_exploring,
)
from leverstep.faces.screens.begun_before import BegunBeforeScreen
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.entrances import Exploring
from leverstep.faces.screens.half_typed import HalfTypedScreen
from leverstep.faces.screens.help import ReadScreen
from leverstep.faces.screens.lookback_screen import ONWARD, LookBackScreen
from leverstep.faces.screens.page_path import PagePathScreen
from leverstep.faces.screens.visit import Visit
from leverstep.progress.mixed_told import next_way
from leverstep.progress.onward import WayOn, WaysOn, read_ways_on
from leverstep.sheets.own_page import free_name, keep_page
from leverstep.working.own import OwnError
from leverstep.working.rules import Thinking

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import Unfinished
    from leverstep.bench.practice import Practice
    from leverstep.bench.record_note import RecordNote
    from leverstep.course.problem import Problem
    from leverstep.progress.mixed_set import MixedSet

_BEGUN = (
    "You have an unfinished working of this problem: Esc goes back to the problems, where it is."
)
_ONWARD = """\
F10     look back: slips, meaning, your lines beside the worked ones
F7      the same problem with new numbers · Ctrl+N another kind of problem
Ctrl+S  write it to a file · Ctrl+G explore
↑       change a line · Ctrl+F find a slip, Ctrl+E two · Esc another problem"""
_TO_MEND = {"mend": 1, "mend two": 2}
"""How many slips of somebody else are to be found, by the way that leads to them."""

_ONWARD_IN_SET = """\
F10     look back: slips, meaning, your lines beside the worked ones
Ctrl+N  the next problem of your mixed set
Ctrl+S  write it to a file · Ctrl+G explore
↑       change a line · Esc choose another problem; the set is kept"""
_WITH_SLIP = ("Ctrl+S  write", "Ctrl+O  one for the slip · Ctrl+S write")
"""What of it stands otherwise where a slip was made."""

_NO_WAY = {
    "next": "There is no other problem here.",
    "slip": "No slip was made for sure that another problem could show.",
}


class WorkScreen(HalfTypedScreen):
    """One working of practice. Whatever is entered is on disk at once."""

    leads_to_tour = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f10", "look_back", "Look back", id="work.look-back",
            tooltip="Look back: slips, what the result means, your lines beside the worked ones",
        ),
        *ONWARD,
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
            "ctrl+b", "own_picture", "Own diagram", id="work.picture", show=False, system=True,
            tooltip="Draw the free-body diagram yourself first, have none, or have it given",
        ),
        Binding(
            "f12", "thinking", "Questions", id="work.thinking", show=False, system=True,
            tooltip="Choose which questions you are asked beside the lines: what you expect, sense",
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
    class Found(Message):
        """A problem to go on with has been looked for; None where there is none, for `what`."""

        what: str
        way: WayOn | None

    @dataclass
    class SetGoesOn(Message):
        """It is known what comes now of the mixed set, or `trouble` says why it is not."""

        opened: SetOpened
        trouble: str = ""

    @dataclass
    class Kept(Message):
        """The very question was begun before: it is asked whether to go on."""

        before: Unfinished

    def __init__(self, opening: Opening, visit: Visit) -> None:
        problem, seed = opening.problem, opening.seed
        super().__init__(opening.heading, problem.question(seed) if seed else None, _ONWARD)
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
        practice.prepare()
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
        self.enter_early()

    def tell_progress(self, dialogue: WorkingDialogue) -> None:
        """Show in the top line how far the student is, and with which numbers.

        In a mixed set the heading takes the room of the numbers.
        """
        numbers = f" · numbers {dialogue.bench.question.seed}"
        self.show_progress(f"{dialogue.progress}{'' if self.opening.mixed else numbers}")

    def close(self, dialogue: WorkingDialogue) -> None:
        """Show how the working ended, and in short what there is to look back on."""
        super().close(dialogue)
        onward = _ONWARD.replace(*_WITH_SLIP) if dialogue.bench.slips else _ONWARD
        if self.opening.mixed is not None:
            onward = _ONWARD_IN_SET
        self.query_one(Closing).look_back(look_back(dialogue.bench), onward)

    def action_look_back(self) -> None:
        """Look back on the working, and go on from there."""
        if self.practice is not None and not self.busy:
            title, back = self.opening.problem.title, look_back(self.practice)
            self.app.push_screen(LookBackScreen(title, back, self._ways), self._go_on)

    def action_go_on(self, where: str) -> None:
        """Go on: the same problem "again", the "next" one, one for the "slip", or to the "page"."""
        self._go_on(where)

    def _go_on(self, where: str | None) -> None:
        practice = self.practice
        if practice is None or self.busy or not where:
            return
        mixed = self.opening.mixed
        if where == "next" and mixed is not None:
            self.busy = True
            self.run_job(lambda: self._next_in_set(mixed))
        elif where == "again":
            self._work_on(self.opening.problem, practice.slips_to_find)
        elif where in _TO_MEND:
            self._work_on(self.opening.problem, _TO_MEND[where])
        elif where == "page":
            usual = free_name(practice.question, Path.cwd())
            self.app.push_screen(PagePathScreen(usual, partial(keep_page, practice)))
        else:
            self.busy = True
            self.run_job(lambda: self._found(where))

    @property
    def picture_ways(self) -> frozenset[str]:
        """Return where a picture may be left for: in a mixed set, its next problem."""
        return frozenset() if self.opening.mixed is None else frozenset({"next"})

    def leave_picture(self, how: str) -> None:
        """Go on where a picture was left: in a mixed set it may be with the next problem."""
        if how == "next":
            self._go_on(how)
        else:
            super().leave_picture(how)

    def _next_in_set(self, mixed: MixedSet) -> Message:
        """Return what comes now of the set; the line that the cursor was on is entered first."""
        self.enter_rest()
        try:
            return self.SetGoesOn(next_in_set(mixed, self._visit.material))
        except FileError as error:
            return self.SetGoesOn(SetOpened(None), str(error))

    @on(SetGoesOn)
    def go_on_in_set(self, event: SetGoesOn) -> None:
        """Open the next problem of the set; at its end tell how it went, over the problems."""
        event.stop()
        self.busy = False
        if event.trouble:
            self.notify(event.trouble, markup=False)
        else:
            self.app.switch_screen(screen_in_set(event.opened, self._visit))

    def _found(self, what: str) -> Message:
        ways = self._ways()
        return self.Found(what, ways.another if what == "next" else ways.for_slip)

    def _ways(self) -> WaysOn:
        """Return where the ways on lead, in a mixed set on in that; reading takes a moment."""
        practice, material = self.practice, self._visit.material
        assert practice is not None
        slips = [slip for one in slips_to_remember(practice) for slip in one.slips]
        done, now = card_of(practice.question.problem), datetime.now().astimezone()
        ways = read_ways_on(done, slips, (material.shelf, material.catalogue), now)
        mixed = self.opening.mixed
        return ways if mixed is None else replace(ways, another=next_way(mixed, material.shelf))

    @on(Found)
    def go_to_found(self, event: Found) -> None:
        """Open the problem that was found, and say what it is for; or say that there is none."""
        event.stop()
        self.busy = False
        if event.way is None:
            self.notify(_NO_WAY[event.what], markup=False)
            return
        self.notify(event.way.told, markup=False)
        self._work_on(self._visit.material.shelf.problems[event.way.card.id])

    def _work_on(self, problem: Problem, slips: int = 0) -> None:
        """Open a problem with new numbers, led as before, or with a slip to find."""
        assert self.practice is not None
        guidance = self.practice.working.guidance
        opening = Opening(problem, guidance=guidance, slips_to_find=slips)
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

    def action_thinking(self) -> None:
        """Show what is asked beside the lines, to be switched on and off."""
        dialogue = self.dialogue
        if not isinstance(dialogue, PracticeDialogue) or self.busy:
            return
        from leverstep.faces.screens.thinking_screen import ThinkingScreen

        def change(which: Thinking) -> frozenset[Thinking]:
            dialogue.change_thinking(which)
            return dialogue.working.rules.thinking

        def closed(_: None) -> None:
            self.paint()

        chosen = dialogue.working.rules.thinking
        self.app.push_screen(ThinkingScreen(chosen, change, dialogue.otherwise_here), closed)

    def action_own_picture(self) -> None:
        """Have the free-body diagram drawn by the student, not shown at all, or given."""
        if isinstance(self.dialogue, PracticeDialogue) and not self.busy:
            self.dialogue.change_pictures()
            self.paint()

    def action_explore(self) -> None:
        """Explore the question of this working, with other numbers where a line is still open."""
        if self.practice is not None:
            from leverstep.faces.screens.explore import ExploreScreen

            practice, material = self.practice, self._visit.material
            exploring = Exploring(
                practice.question.problem.title, lambda: worth_exploring(practice, material.shelf)
            )
            self.app.push_screen(ExploreScreen(exploring))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        practice = self.practice
        if (action, parameters) == ("go_on", ("slip",)) and not (practice and practice.slips):
            return False
        if (action, parameters) == ("go_on", ("next",)) and self.opening.mixed is not None:
            return practice is not None
        if action in ("go_on", "look_back", "explore"):
            return practice is not None and self.step_at_hand is None
        return super().check_action(action, parameters)


def screen_in_set(opened: SetOpened, visit: Visit) -> Screen[None]:
    """Return the screen of the problem at hand of a set, or of how one at its end went."""
    return ReadScreen(opened.told) if opened.opening is None else WorkScreen(opened.opening, visit)
