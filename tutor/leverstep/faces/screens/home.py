"""The home screen: workings to go on with, and the problems to choose from."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.worker import get_current_worker

from leverstep.course.faults import FileError
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.choosing import ChoosingScreen
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.searched_list import SearchedList

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import KeptWorkings
    from leverstep.faces.material import Material
    from leverstep.faces.openings import Opening, SetOpened
    from leverstep.faces.screens.choices_listed import Choices
    from leverstep.faces.screens.opening_fields import OpeningFields
    from leverstep.progress.problem_list import Suggested
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

A mixed set (Ctrl+N)
  Five short problems, each of another kind: first what is due, then what
  you met least or slipped on most. Leave it whenever you like:
  Ctrl+N opens the mixed set again where you were."""


class _ReadAgain(Exception):
    """The screen was left, or is come back to: what is kept is read once more then."""


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
            "ctrl+n", "mixed", "Mixed set", id="home.mixed",
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
    class KeptFound(Message):
        """What is kept of earlier workings has been read from disk."""

        kept: KeptWorkings

    @dataclass
    class SuggestionsFound(Message):
        """What to practise next has been worked out from the records."""

        suggested: tuple[Suggested, ...]

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
        yield Cautioned("problems")

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
        listed = SearchedList(id="choices", markup=False, compact=True)
        about = VerticalScroll(Static(id="about", markup=False), id="beside", can_focus=False)
        faults = Static(faults_line(shelf.faults), id="faults", markup=False)
        faults.display = bool(shelf.faults)
        panel = self.query_one(Cautioned)
        self._fields = OpeningFields(self._choices)
        await self.mount(Static(id="shown", markup=False), self._fields, before=panel)
        await panel.mount(Horizontal(listed, about))
        await self.mount(faults, Static(id="told", markup=False), KeyLine(), TooSmall())
        self._is_laid_out = True
        self.fill()
        listed.focus()
        self.read_kept()

    def on_screen_resume(self) -> None:
        """Look again for what is kept, once the list stands; lay it out where that waited."""
        if self.query("#choices"):
            self.read_kept()
        elif self.waits and self._was_left:
            self.waits = False
            self.call_after_refresh(self.lay_out)

    def on_screen_suspend(self) -> None:
        """Remember that something lies over it, by which coming back is told from the start."""
        self._was_left = True

    @work(thread=True, exclusive=True, group="kept")
    def read_kept(self) -> None:
        """Read what is kept of earlier workings, then what to practise next by them.

        In the end what a problem is opened with is loaded, while the student reads the list.
        """
        from leverstep.bench.kept_workings import kept_workings

        material, worker = self.visit.material, get_current_worker()
        kept = kept_workings(material.shelf)
        self.post_message(self.KeptFound(kept))

        def told(read: int, of_all: int) -> None:
            del read, of_all
            if worker.is_cancelled or not self.is_current:
                raise _ReadAgain

        with suppress(_ReadAgain):
            if not kept.is_empty:
                from leverstep.progress.suggested import suggested_now

                found = suggested_now(material.shelf, material.catalogue, told)
                self.post_message(self.SuggestionsFound(found))
        _load_ahead(material)

    @on(KeptFound)
    def list_kept(self, event: KeptFound) -> None:
        """Put the workings to go on with before the problems, or where to start."""
        event.stop()
        if self._choices.take(event.kept):
            self._fill_above()

    @on(SuggestionsFound)
    def list_suggested(self, event: SuggestionsFound) -> None:
        """Mark what is due, and list it before all problems."""
        event.stop()
        if self._choices.suggest(event.suggested):
            self._fill_above()

    def _fill_above(self) -> None:
        """Fill the list where something came above; who has not moved yet stays at its top.

        What was read may come when the program is being left, and the list is gone.
        """
        if not self.query("#choices"):
            return
        listed = self.query_one("#choices", OptionList)
        untouched = listed.highlighted is not None and listed.highlighted <= 1
        self.fill()
        if untouched:
            listed.action_first()

    def fill(self, searched: bool = False) -> None:
        """Fill the list, and keep the line that was lit; a search lights what it found."""
        listed = self.query_one("#choices", OptionList)
        lit = self._lit or ""
        self.query_one("#shown", Static).update(self._choices.shown)
        listed.clear_options()
        listed.add_options(self._choices.options())
        ids = [option.id for option in listed.options if option.id]
        if ids:
            kept = lit if lit in ids else ids[0]
            lit = self._choices.found_first(ids) if searched else kept
            listed.highlighted = listed.get_option_index(lit)
        else:
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
        lit = self.query_one("#choices", OptionList).highlighted_option
        return None if lit is None else lit.id

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
        self.query_one("#about", Static).update(self._choices.about(ident))
        self.query_one("#beside", VerticalScroll).scroll_home(animate=False)
        self.refresh_bindings()

    def refuse(self, reason: str) -> None:
        """Go to the field of the numbers that can't be taken."""
        self._fields.refuse(reason)

    def on_opening_fields_filled(self) -> None:
        """Go on from what is typed to the list."""
        self.query_one("#choices").focus()

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
            self.take_off(one.path)

    @work(thread=True, group="hiding")
    def take_off(self, record: Path) -> None:
        """Note beside the record that it is off the list, then list anew what is left."""
        from leverstep.bench.record_note import RecordNote

        RecordNote(record).hide(True)
        self.app.call_from_thread(self.read_kept)
        told = "Off the list, and still kept: the line More are kept shows it again."
        if not RecordNote(record).noted.hidden:
            told = "It stays on the list, since the disk can't be written."
        self.app.notify(told, title="Workings to go on with", timeout=5, markup=False)

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


def _load_ahead(material: Material) -> None:
    """Load what any problem is opened with: the screen of a working, the algebra, the slips."""
    import leverstep.faces.screens.work
    import leverstep.statics.functions  # noqa: F401

    _ = material.catalogue


def _to_explore(material: Material, opening: Opening) -> Screen[None]:
    """Return the screen on which a problem is explored."""
    from leverstep.faces.openings import to_explore
    from leverstep.faces.screens.entrances import Exploring
    from leverstep.faces.screens.explore import ExploreScreen

    make = partial(to_explore, opening, material.shelf)
    return ExploreScreen(Exploring(opening.problem.title, make))
