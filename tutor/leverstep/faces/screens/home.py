"""The home screen: workings to go on with, and the problems to choose from."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static

from leverstep.faces.openings import DEGREES, LED
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.choosing import ChoosingScreen
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import Unfinished
    from leverstep.faces.openings import Opening
    from leverstep.faces.screens.choices_listed import Choices

_JOB = "Joint statics, one line of your working at a time. F10: your progress."

LONGEST_OWN = 80
"""Characters for what a student measured on the own body."""

_LED = "\n".join(f"  {DEGREES[degree]:<11}  {led}" for degree, led in LED.items())
_HELP = f"""\
Choosing
  ↑ ↓ choose a problem, Enter opens it. Tab moves to the fields and back.
  Numbers   the same text here gives the same numbers each time
  Own body  what you measured, for a problem that takes it: m_b = 72 kg

How far you are led
{_LED}"""


class HomeScreen(ChoosingScreen):
    """Where the student chooses what to work on."""

    AUTO_FOCUS = "#choices"
    TELLS = "#job"
    help_text = _HELP
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f2", "drills", "Drill", id="home.drills",
            tooltip="Sit a drill that your teacher has set",
        ),
        Binding(
            "f3", "narrow('joint')", "Joint", id="home.joint",
            tooltip="Show only the problems of the next joint",
        ),
        Binding(
            "f4", "narrow('level')", "Level", id="home.level",
            tooltip="Show only the problems of the next level",
        ),
        Binding(
            "f5", "guide", "Guidance", id="home.guide", show=False,
            tooltip="Change how far you are led: every line, landmarks, or a blank sheet",
        ),
        Binding(
            "f7", "narrow('class')", "Class", id="home.class",
            tooltip="Show only the problems with the next class of lever",
        ),
        Binding(
            "f8", "narrow('units')", "Units", id="home.units",
            tooltip="Show only the problems with the next system of units",
        ),
        Binding(
            "f9", "narrow('asks')", "Asks", id="home.asks", show=False,
            tooltip="Show only the problems that ask for the next sort of unknown",
        ),
        Binding(
            "f10", "progress", "Progress", id="home.progress", show=False,
            tooltip="Show what you have practised, and what to practise next",
        ),
        Binding(
            "ctrl+t", "show", "Board", id="home.board", show=False,
            tooltip="Show a class the worked solution of the chosen problem, line by line",
        ),
        Binding(
            "ctrl+g", "explore", "Explore", id="home.explore", show=False,
            tooltip="Change the numbers of the chosen problem, and see what follows",
        ),
        Binding(
            "escape", "everything", "Show all", id="home.all", show=False,
            tooltip="Show all problems again",
        ),
    ]  # fmt: skip

    @dataclass
    class UnfinishedFound(Message):
        """The workings that can be gone on with have been read from disk."""

        workings: list[Unfinished]

    _choices: Choices

    def compose(self) -> ComposeResult:
        """Show the title and the caution at once; the list comes behind them."""
        yield Static("leverstep", id="title", markup=False)
        yield Static(_JOB, id="job", markup=False)
        yield Caution()

    def on_mount(self) -> None:
        """Lay out the list as soon as the first frame is painted."""
        self.call_after_refresh(self.lay_out)

    async def lay_out(self) -> None:
        """Read the problems, then lay out what to choose by and the list."""
        shelf = await asyncio.to_thread(lambda: self.visit.material.shelf)
        from leverstep.faces.screens.choices_listed import Choices, faults_line

        self._choices = Choices(shelf)
        seed = Field(
            id="seed", compact=True, select_on_focus=False, max_length=24,
            placeholder="new ones if empty",
        )  # fmt: skip
        shown = Static(id="shown", markup=False)
        chooser = Horizontal(
            Static("Numbers", id="seed-name", markup=False),
            seed,
            Static("Own body", id="own-name", markup=False),
            Field(id="own", compact=True, select_on_focus=False, max_length=LONGEST_OWN),
            id="chooser",
        )
        guidance = Static(self._choices.led, id="guidance", markup=False)
        listed = OptionList(id="choices", markup=False, compact=True)
        faults = Static(faults_line(shelf.faults), id="faults", markup=False)
        faults.display = bool(shelf.faults)
        footer = KeyLine()
        await self.mount(shown, chooser, guidance, listed, faults, footer, TooSmall())
        self.fill()
        listed.focus()
        self.read_unfinished()

    def on_screen_resume(self) -> None:
        """Look again for workings to go on with, once the list stands."""
        if self.query("#choices"):
            self.read_unfinished()

    @work(thread=True, exclusive=True, group="unfinished")
    def read_unfinished(self) -> None:
        """Read the records of workings that are not at their end."""
        from leverstep.bench.kept_workings import unfinished

        self.post_message(self.UnfinishedFound(unfinished(self.visit.material.shelf)))

    @on(UnfinishedFound)
    def list_unfinished(self, event: UnfinishedFound) -> None:
        """Put the workings to go on with before the problems."""
        event.stop()
        listed = self.query_one("#choices", OptionList)
        untouched = listed.highlighted is not None and listed.highlighted <= 1
        if self._choices.take(tuple(event.workings)):
            self.fill()
            if untouched:
                listed.action_first()

    def fill(self) -> None:
        """Fill the list, and keep the line that was lit."""
        listed = self.query_one("#choices", OptionList)
        lit = (listed.highlighted_option.id if listed.highlighted_option else "") or ""
        self.query_one("#shown", Static).update(self._choices.shown)
        listed.clear_options()
        listed.add_options(self._choices.options())
        ids = [option.id for option in listed.options if option.id]
        if ids:
            listed.highlighted = listed.get_option_index(lit if lit in ids else ids[0])

    @on(OptionList.OptionSelected)
    def open_chosen(self, event: OptionList.OptionSelected) -> None:
        """Open a problem, or a working to go on with."""
        event.stop()
        self._open(event.option.id, self.to_work)

    def action_show(self) -> None:
        """Show the problem that is lit on the board."""
        self._open(self._lit, self._to_show)

    def action_explore(self) -> None:
        """Explore the problem that is lit, with the numbers that are typed."""
        self._open(self._lit, _to_explore)

    @property
    def _lit(self) -> str | None:
        """Return the id of the line that is lit, None where there is none."""
        lit = self.query_one("#choices", OptionList).highlighted_option
        return None if lit is None else lit.id

    def _open(self, ident: str | None, opens: Callable[[Opening], Screen[None]]) -> None:
        """Open a line of the list, with the numbers that are typed."""
        if ident:
            typed = self._typed("#seed"), self._typed("#own")
            self.choose(partial(self._choices.opening, ident, *typed), opens)

    @on(OptionList.OptionHighlighted)
    def say_what_can_be_measured(self, event: OptionList.OptionHighlighted) -> None:
        """Name the numbers of the own body that the problem which is lit takes."""
        event.stop()
        own = self.query_one("#own", Input)
        own.placeholder = self._choices.measurable(event.option.id or "")

    @on(Input.Submitted, "#own")
    @on(Input.Submitted, "#seed")
    def to_the_list(self, event: Input.Submitted) -> None:
        """Go on from what is typed to the list."""
        event.stop()
        self.query_one("#choices").focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer nothing that narrows the list before there is one."""
        del parameters
        waits = ("narrow", "everything", "guide", "drills", "show", "explore", "progress")
        return action not in waits or bool(self.query("#choices"))

    def action_drills(self) -> None:
        """Open the drills."""
        from leverstep.faces.screens.drills import DrillsScreen

        self.app.push_screen(DrillsScreen(self.visit))

    def action_progress(self) -> None:
        """Open what was practised."""
        from leverstep.faces.screens.progress_screen import ProgressScreen

        self.app.push_screen(ProgressScreen(self.visit, self._choices.guidance))

    def action_narrow(self, sort: str) -> None:
        """Narrow the list to the next joint, level and so on; after the last, all are shown."""
        self._choices.narrow(sort)
        self.fill()

    def action_guide(self) -> None:
        """Change to the next degree of guidance, for the working that is opened next."""
        self._choices.guide()
        self.query_one("#guidance", Static).update(self._choices.led)

    def _typed(self, field: str) -> str:
        return self.query_one(field, Input).value.strip()

    def action_everything(self) -> None:
        """Show all problems again."""
        self._choices.show_all()
        self.fill()

    def _to_show(self, opening: Opening) -> Screen[None]:
        """Return the board with a problem; a working to go on with keeps its numbers."""
        from leverstep.bench.practice import new_seed
        from leverstep.faces.screens.board_screen import BoardScreen

        return BoardScreen(opening.problem.question(opening.seed or new_seed()), self.visit)


def _to_explore(opening: Opening) -> Screen[None]:
    """Return the screen on which a problem is explored."""
    from leverstep.faces.openings import to_explore
    from leverstep.faces.screens.entrances import Exploring
    from leverstep.faces.screens.explore import ExploreScreen

    return ExploreScreen(Exploring(opening.problem.title, partial(to_explore, opening)))
