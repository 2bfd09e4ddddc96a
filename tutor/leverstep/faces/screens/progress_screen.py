"""The student's own progress: what to practise next, and what lies behind that."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option
from textual.worker import get_current_worker

from leverstep.faces.openings import Opening
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.choosing import ChoosingScreen
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.visit import Visit
from leverstep.progress.progress import Progress, read_progress
from leverstep.progress.told import account, heading, in_short, suggested_lines
from leverstep.working.guidance import Guidance

_WAIT = "One moment: your practice is being read …"


class _Left(Exception):
    """The screen was left before all was read."""


class ProgressScreen(ChoosingScreen):
    """Says in three lines how it goes, and lists what to practise next; a key turns to all figures.

    `guidance` is that of a working that is opened from here.
    """

    CSS = styles("progress")
    SCOPED_CSS = False
    AUTO_FOCUS = "#choices"
    TELLS = "#asks"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f5", "turn", "Figures", id="progress.turn",
            tooltip="Show all figures in place of what to practise next, or that again",
        ),
        Binding(
            "pageup", "look(-1)", "Up", id="progress.up", show=False, priority=True,
            tooltip="Scroll the figures up",
        ),
        Binding(
            "pagedown", "look(1)", "More", id="progress.down", priority=True,
            tooltip="Scroll the figures down",
        ),
        Binding(
            "escape", "app.home", "Home", id="progress.home",
            tooltip="Go back to the problems",
        ),
    ]  # fmt: skip

    @dataclass
    class Read(Message):
        """The records of practice have been read."""

        progress: Progress

    @dataclass
    class Reading(Message):
        """So many records, of all there are, have been read."""

        read: int
        of_all: int

    def __init__(self, visit: Visit, guidance: Guidance) -> None:
        super().__init__(visit)
        self._guidance = guidance
        self._progress: Progress | None = None

    def compose(self) -> ComposeResult:
        """Lay out title, suggestions and figures, empty until the records are read."""
        yield Static("Your progress", id="title", markup=False)
        yield Caution()
        yield Static(_WAIT, id="short", markup=False)
        yield Static(id="asks", markup=False)
        yield OptionList(id="choices", markup=False, compact=True)
        with VerticalScroll(id="account"):
            yield Static(id="figures", markup=False)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read the records beside the screen."""
        self.read_records()

    @work(thread=True, group="progress")
    def read_records(self) -> None:
        """Judge what was practised since the last time, which takes a moment; stop once left."""
        worker = get_current_worker()

        def told(read: int, of_all: int) -> None:
            if worker.is_cancelled:
                raise _Left
            self.post_message(self.Reading(read, of_all))

        with suppress(_Left):
            now = datetime.now().astimezone()
            shelf, catalogue = self.visit.material.shelf, self.visit.material.catalogue
            self.post_message(self.Read(read_progress(shelf, catalogue, now, told=told)))

    @on(Reading)
    def count(self, event: Reading) -> None:
        """Show how far the reading is."""
        event.stop()
        if self._progress is None:
            told = f"{_WAIT} {event.read} of {event.of_all} records."
            self.query_one("#short", Static).update(told)

    @on(Read)
    def show(self, event: Read) -> None:
        """Show what the records tell."""
        event.stop()
        self._progress = progress = event.progress
        self.query_one("#short", Static).update("\n".join(in_short(progress)))
        self.query_one("#asks", Static).update(
            f"{heading(progress)}. Enter opens one with new numbers."
        )
        self.query_one("#figures", Static).update(account(progress).rstrip())
        listed = self.query_one("#choices", OptionList)
        for one in progress.next:
            problem, *reasons = suggested_lines(one, progress)
            told = Content.styled("\n".join(["", *reasons]), "$quiet")
            listed.add_option(Option(Content.assemble(problem, told)))
        listed.action_first()

    @on(OptionList.OptionSelected)
    def open_suggested(self, event: OptionList.OptionSelected) -> None:
        """Open a problem in new numbers."""
        event.stop()
        assert self._progress is not None, "nothing is listed before"
        ident = self._progress.next[event.option_index].card.id
        problems, guidance = self.visit.material.shelf.problems, self._guidance
        self.choose(lambda: Opening(problems[ident], guidance=guidance), self.to_work)

    @property
    def shows_figures(self) -> bool:
        """Return whether all figures are shown."""
        return self.has_class("-figures")

    def action_turn(self) -> None:
        """Turn to all figures, or back to what to practise next."""
        self.toggle_class("-figures")
        self.query_one("#account" if self.shows_figures else "#choices").focus()
        self.refresh_bindings()

    @property
    def names_now(self) -> Mapping[str, str]:
        """Return the name of the key that changes with what is shown."""
        return {"progress.turn": "Next" if self.shows_figures else "Figures"}

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer scrolling where there are figures to scroll."""
        return self.shows_figures if action == "look" else super().check_action(action, parameters)

    def action_look(self, way: int) -> None:
        """Scroll the figures."""
        leaf(self.query_one("#account", VerticalScroll), way)
