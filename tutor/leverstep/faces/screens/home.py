"""The home screen: workings to go on with, and the problems to choose from."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static

from leverstep.course.faults import FileError
from leverstep.faces.screens.choosing import ChoosingScreen
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.problems_panel import ProblemsPanel
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.searched_list import SearchedList

if TYPE_CHECKING:
    from leverstep.faces.material import Material
    from leverstep.faces.openings import Opening, SetOpened
    from leverstep.faces.screens.choices_listed import Choices
    from leverstep.faces.screens.opening_fields import OpeningFields
    from leverstep.working.guidance import Guidance

_JOB = "Joint statics, one line of your working at a time."

_DRAWING = "One moment: your mixed set is being drawn …"
_HELP = """\
Choosing
  ↑ ↓ choose a problem, Enter opens it. Letters search titles and joints,
  Backspace takes one back, Esc shows all again.
  Tab moves to the fields and back:
  Numbers   the same text here gives the same numbers each time
  Own body  what you measured, for a problem that takes it: m_b = 72 kg

How problems stand
  ✓ done   … begun, to go on with   * due: a slip is to be met again

How far you are led
{led}

A mixed set (F12 or Ctrl+N)
  Five short problems, each of another kind: first what is due, then what
  you met least or slipped on most. Leave it whenever you like:
  Ctrl+N opens the mixed set again where you were."""


class HomeScreen(ChoosingScreen):
    """Where the student chooses what to work on."""

    AUTO_FOCUS = "#choices"
    TELLS = "#job"
    leads_to_tour = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "enter", "open", "Open", id="home.open",
            tooltip="Open the problem that is lit, or go on with the working",
        ),
        Binding(
            "f2", "drills", "Drill", id="home.drills",
            tooltip="Sit a drill that your teacher has set",
        ),
        Binding(
            "ctrl+n,f12", "mixed", "Mixed set", id="home.mixed",
            tooltip="Work short problems of different kinds in a row, or go on with that",
        ),
        Binding(
            "f3", "narrow('joint')", "Joint", id="home.joint", show=False,
            tooltip="Show only the problems of the next joint",
        ),
        Binding(
            "f4", "narrow('level')", "Level", id="home.level", show=False,
            tooltip="Show only the problems of the next level",
        ),
        Binding(
            "f5", "guide", "Guidance", id="home.guide", show=False,
            tooltip="Change how far you are led: every line, landmarks, a blank sheet, an example",
        ),
        Binding(
            "f7", "narrow('class')", "Class", id="home.class", show=False,
            tooltip="Show only the problems with the next class of lever",
        ),
        Binding(
            "f8", "narrow('units')", "Units", id="home.units", show=False,
            tooltip="Show only the problems with the next system of units",
        ),
        Binding(
            "f9", "narrow('asks')", "Asks", id="home.asks", show=False,
            tooltip="Show only the problems that ask for the next sort of unknown",
        ),
        Binding(
            "f10", "progress", "Progress", id="home.progress",
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
            "ctrl+f", "find_slips(1)", "Find a slip", id="home.find-slip", show=False,
            tooltip="Find and mend the slip that somebody else made in the chosen problem",
        ),
        Binding(
            "ctrl+e", "find_slips(2)", "Find two slips", id="home.find-slips", show=False,
            tooltip="Find and mend two slips that somebody else made in the chosen problem",
        ),
        Binding(
            "escape", "everything", "Show all", id="home.all", show=False,
            tooltip="Show all problems again",
        ),
        Binding(
            "delete", "take_off", "Take off", id="home.take-off", show=False,
            tooltip="Take the working that is lit off the list; it stays kept",
        ),
    ]  # fmt: skip

    @dataclass
    class SetFound(Message):
        """It is known which problem of a mixed set is at hand."""

        opened: SetOpened

    _choices: Choices
    _fields: OpeningFields
    _is_laid_out = False
    _was_left = False

    waits = False
    """Whether something is opened over it at once: its list is laid out when it is come back to."""

    @property
    def help_text(self) -> str:
        """Return what there is to know of the list and of how far one is led."""
        from leverstep.faces.openings import DEGREES, LED

        led = (f"  {DEGREES[degree]:<11}  {told}" for degree, told in LED.items())
        return _HELP.format(led="\n".join(led))

    def compose(self) -> ComposeResult:
        """Show the title and the caution at once; the list comes behind them."""
        with Horizontal(id="top"):
            yield Static("leverstep", id="title", markup=False)
            yield Static(_JOB, id="job", markup=False)
        yield ProblemsPanel(self.visit.material)

    def on_mount(self) -> None:
        """Lay out the list as soon as the first frame is painted."""
        if not self.waits:
            self.call_after_refresh(self.lay_out)

    async def lay_out(self) -> None:
        """Read the problems, then lay out what to choose by and the list."""
        shelf = await asyncio.to_thread(lambda: self.visit.material.shelf)
        from leverstep.faces.screens.choices_listed import Choices, faults_line
        from leverstep.faces.screens.opening_fields import OpeningFields

        self._choices = Choices(shelf)
        faults = Static(faults_line(shelf.faults), id="faults", markup=False)
        faults.display = bool(shelf.faults)
        panel = self._panel
        self._fields = OpeningFields(self._choices)
        await self.mount(Static(id="shown", markup=False), self._fields, before=panel)
        await panel.lay_out(self._choices)
        await self.mount(faults, Static(id="told", markup=False), KeyLine(), TooSmall())
        if not self.query("#shown"):
            return  # the program is being left
        self._is_laid_out = True
        self.fill()
        panel.focus_list()
        panel.read_kept()

    @property
    def _panel(self) -> ProblemsPanel:
        return self.query_one(ProblemsPanel)

    def on_screen_resume(self) -> None:
        """Look again for what is kept, once the list stands; lay it out where that waited."""
        if self._is_laid_out:
            self._panel.read_kept()
        elif self.waits and self._was_left:
            self.waits = False
            self.call_after_refresh(self.lay_out)

    def on_screen_suspend(self) -> None:
        """Remember that something lies over it, by which coming back is told from the start."""
        self._was_left = True

    def fill(self, searched: bool = False) -> None:
        """Fill the list, and keep the line that was lit; a search lights what it found."""
        self.query_one("#shown", Static).update(self._choices.shown)
        self._panel.fill(searched)

    def on_problems_panel_nothing_lit(self) -> None:
        """Tell of no line."""
        self._tell_lit("")

    @on(SearchedList.TypedAhead)
    def search(self, event: SearchedList.TypedAhead) -> None:
        """Search for what is typed."""
        event.stop()
        self._choices.type_ahead(event.text)
        self.fill(searched=True)

    @on(OptionList.OptionSelected)
    def open_chosen(self, event: OptionList.OptionSelected) -> None:
        """Open a problem, or a working to go on with."""
        event.stop()
        if event.option.id == self._choices.MORE:
            self._choices.show_more()
            self.fill()
        else:
            self._open(event.option.id, self.to_work)

    def action_open(self) -> None:
        """Open the line that is lit."""
        self.query_one("#choices", OptionList).action_select()

    def action_show(self) -> None:
        """Show the problem that is lit on the board."""
        self._open(self._lit, self._to_show)

    def action_explore(self) -> None:
        """Explore the problem that is lit, with the numbers that are typed."""
        self._open(self._lit, partial(_to_explore, self.visit.material))

    def action_find_slips(self, slips: int) -> None:
        """Open the problem that is lit as somebody else worked it, with so many slips."""
        self._open(self._lit, partial(self._to_find_slips, slips))

    def _to_find_slips(self, slips: int, opening: Opening) -> Screen[None]:
        """Return the screen on which slips are found; a working to go on with stays as it is."""
        seed = "" if opening.path else opening.seed
        return self.to_work(replace(opening, path=None, seed=seed, slips_to_find=slips))

    @property
    def _lit(self) -> str | None:
        """Return the id of the line that is lit, None where there is none."""
        return self._panel.lit

    def _open(self, ident: str | None, opens: Callable[[Opening], Screen[None]]) -> None:
        """Open a line of the list, with the numbers that are typed; these are judged first."""
        if ident and ident != self._choices.MORE:
            self.choose(partial(self._choices.opening, ident, *self._fields.typed), opens)

    @on(OptionList.OptionHighlighted)
    def tell_lit(self, event: OptionList.OptionHighlighted) -> None:
        """Tell of the line that is lit."""
        event.stop()
        self._tell_lit(event.option.id or "")

    def _tell_lit(self, ident: str) -> None:
        """Say what a line opens, and have typed what it can be opened with."""
        self._fields.fit(ident)
        self.query_one("#told", Static).update(self._choices.told(ident))
        self._panel.tell(ident)
        self.refresh_bindings()

    def refuse(self, reason: str) -> None:
        """Go to the field of the numbers that can't be taken."""
        self._fields.refuse(reason)

    def on_opening_fields_filled(self) -> None:
        """Go on from what is typed to the list."""
        self._panel.focus_list()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer nothing of the list before there is one, and only what the lit line can do."""
        del parameters
        waits = (
            "open", "narrow", "everything", "guide", "drills", "show", "explore", "progress",
            "take_off", "mixed", "find_slips",
        )  # fmt: skip
        if action not in waits:
            return True
        if not self._is_laid_out:
            return False
        lit = self._lit or ""
        return action != "take_off" or self._choices.unfinished(lit) is not None

    def action_take_off(self) -> None:
        """Take the working that is lit off the list."""
        one = self._choices.unfinished(self._lit or "")
        if one is not None:
            self._panel.take_off(one.path)

    def action_drills(self) -> None:
        """Open the drills."""
        from leverstep.faces.screens.drills import DrillsScreen

        self.app.push_screen(DrillsScreen(self.visit))

    def action_progress(self) -> None:
        """Open what was practised."""
        from leverstep.faces.screens.progress_screen import ProgressScreen

        self.app.push_screen(ProgressScreen(self.visit, self._choices.guidance))

    def action_mixed(self) -> None:
        """Go on with the mixed set that is kept, or with a new one."""
        self.query_one("#told", Static).update(_DRAWING)
        self.open_set(self._choices.guidance)

    @work(thread=True, exclusive=True, group="set")
    def open_set(self, guidance: Guidance) -> None:
        """Draw a set by the records, or read the one that is kept."""
        from leverstep.faces.openings import set_at_hand

        try:
            opened = set_at_hand(self.visit.material, guidance=guidance)
        except FileError as error:
            self.post_message(self.Unopened(str(error)))
        else:
            self.post_message(self.SetFound(opened))

    @on(SetFound)
    def work_set(self, event: SetFound) -> None:
        """Open the set, unless the student has gone elsewhere meanwhile."""
        event.stop()
        self._tell_lit(self._lit or "")
        if self.is_current:
            from leverstep.faces.screens.work import screen_in_set

            self.app.push_screen(screen_in_set(event.opened, self.visit))

    def action_narrow(self, sort: str) -> None:
        """Narrow the list to the next joint, level and so on; after the last, all are shown."""
        self._choices.problems.narrow(sort)
        self.fill()

    def action_guide(self) -> None:
        """Change to the next degree of guidance, for the working that is opened next."""
        self._choices.guide()
        self._fields.tell_below()

    def action_everything(self) -> None:
        """Show all problems again."""
        self._choices.show_all()
        self.fill()

    def _to_show(self, opening: Opening) -> Screen[None]:
        """Return the board with a problem; a working to go on with keeps its numbers."""
        from leverstep.bench.practice import new_seed
        from leverstep.faces.screens.board_screen import BoardScreen

        return BoardScreen(opening.problem.question(opening.seed or new_seed()), self.visit)


def _to_explore(material: Material, opening: Opening) -> Screen[None]:
    """Return the screen on which a problem is explored."""
    from leverstep.faces.openings import to_explore
    from leverstep.faces.screens.entrances import Exploring
    from leverstep.faces.screens.explore import ExploreScreen

    make = partial(to_explore, opening, material.shelf)
    return ExploreScreen(Exploring(opening.problem.title, make))
