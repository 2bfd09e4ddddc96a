"""A class at work on the full screen: who to go to next, and what runs through the class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static
from textual.worker import get_current_worker

from leverstep.faces.screens.basis import OneScreenApp
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.written import wrapped_lines
from leverstep.watching.class_at_work import ClassAtWork
from leverstep.watching.class_watch import POLL, ClassWatch
from leverstep.watching.watch_told import (
    called,
    groups,
    lines_told,
    slips_in_short,
    slips_told,
    title_told,
    troubles_told,
    why_told,
)

_WAIT = "One moment: the records are being read …"
_NAME = 20
"""Columns of the name of a student."""

Told = tuple[str, tuple[str, ...]]
"""A heading, and the rows below it."""


class HeadedRows(Static):
    """Rows below headings, parted anew for each width, so that no number is cut."""

    def __init__(self, ident: str) -> None:
        super().__init__(id=ident, markup=False)
        self._told: tuple[Told, ...] = ()

    def show(self, told: tuple[Told, ...]) -> None:
        """Show headings with their rows, where they are others than before: painting takes long."""
        if told != self._told:
            self._told = told
            self._part()

    def on_resize(self) -> None:
        """Part the rows for the new width."""
        self._part()

    def _part(self) -> None:
        width = self.content_size.width
        parts: list[Content] = []
        for heading, rows in self._told if width else ():
            parts.append(Content.styled(heading, "$primary bold"))
            parts += [Content(part) for row in rows for part in wrapped_lines(row, width)]
        self.update(Content("\n").join(parts))


class _LeftMeanwhile(BaseException):  # no fault, so that no guard against these takes it for one
    """The screen was closed before all was read."""


class WatchScreen(Screen[None]):
    """Shows the students of a class, the next to go to on top, and what slips are made where.

    Without names it shows only how many there are at which line, and the slips.
    """

    CSS = styles("watch")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f5", "turn", "Slips", id="watch.turn",
            tooltip="Show slips and lines in place of the students, or these again",
        ),
        Binding(
            "pageup", "look(-1)", "Up", id="watch.up", show=False, priority=True,
            tooltip="Scroll up",
        ),
        Binding(
            "pagedown,space", "look(1)", "More", id="watch.down", priority=True,
            tooltip="Scroll down",
        ),
        Binding(
            "escape", "app.quit", "Close", id="watch.close",
            tooltip="Stop watching; nothing was written",
        ),
    ]  # fmt: skip
    help_text = """\
A class at work
  At the top is who to go to next, with the reason.
  Stuck: three wrong tries, hints or lines not read at one line, or one
  of these and nothing right for five minutes.
  Slow: nothing right for eight minutes.
  No sign means that the record has stopped growing, though the drill was
  not left. A slip is named only where it is known for sure.
  The folder is looked at every ten seconds. Nothing is written."""

    @dataclass
    class Looked(Message):
        """The folder was looked at."""

        now: ClassAtWork

    @dataclass
    class Reading(Message):
        """So many records, of all there are, have been read."""

        read: int
        of_all: int

    def __init__(self, watch: ClassWatch, with_names: bool) -> None:
        super().__init__()
        self.now: ClassAtWork | None = None
        self._watch = watch
        self._with_names = with_names
        self._is_looking = False

    def compose(self) -> ComposeResult:
        """Lay out the counts, the slips in short, and both panes."""
        yield Static(self._watch.drill.title, id="title", markup=False)
        yield Static(_WAIT, id="now", markup=False)
        with Cautioned("watch"):
            with VerticalScroll(id="students"):
                yield HeadedRows("rows")
            with VerticalScroll(id="class"):
                yield HeadedRows("counts")
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Look at the folder now, and again and again."""
        self.set_class(not self._with_names, "-nameless")
        self._pane.focus()
        self.set_interval(POLL, self.look_again)
        self.look_again()

    def look_again(self) -> None:
        """Look at the folder, unless the last look is not through."""
        if not self._is_looking:
            self._is_looking = True
            self.read_records()

    @work(thread=True, group="watch")
    def read_records(self) -> None:
        """Read what was added beside the screen; stop once it is left."""
        worker = get_current_worker()

        def told(read: int, of_all: int) -> None:
            if worker.is_cancelled:
                raise _LeftMeanwhile
            if self.now is None:
                self.post_message(self.Reading(read, of_all))

        try:
            now = self._watch.look(datetime.now().astimezone(), told)
            self.post_message(self.Looked(now))
        except _LeftMeanwhile:
            pass

    @on(Reading)
    def count(self, event: Reading) -> None:
        """Show how far the reading is."""
        event.stop()
        told = f"{_WAIT} {event.read} of {event.of_all}."
        self.query_one("#now", Static).update(told)

    @on(Looked)
    def show(self, event: Looked) -> None:
        """Show how the class stands."""
        event.stop()
        self._is_looking = False
        self.now = event.now
        self.paint()

    def on_resize(self) -> None:
        """Offer what there is to turn to at the new width."""
        self.refresh_bindings()

    def paint(self) -> None:
        """Show how the class stands."""
        if self.now is None:
            return
        now = self.now
        short = [*troubles_told(now, self._with_names), slips_in_short(now)]
        self._say("#title", title_told(self._watch.drill.title, now))
        self._say("#now", " ".join(short))
        if self._with_names:
            self.query_one("#rows", HeadedRows).show(self._rows(now))
        self.query_one("#counts", HeadedRows).show(self._counts(now))

    def _say(self, where: str, told: str) -> None:
        """Show a text where it is another than before."""
        static = self.query_one(where, Static)
        if str(static.content) != told:
            static.update(told)

    def _rows(self, now: ClassAtWork) -> tuple[Told, ...]:
        """Return the students by what they need."""
        told: list[Told] = []
        for heading, rows, is_listed in groups(now):
            names = tuple(map(called, rows))
            if is_listed:
                told.append((heading, (", ".join(names),)))
            else:
                whys = (why_told(row, now.tasks) for row in rows)
                named = zip(names, whys, strict=True)
                told.append((heading, tuple(f"{name:<{_NAME}}  {why}" for name, why in named)))
        return tuple(told)

    def _counts(self, now: ClassAtWork) -> tuple[Told, ...]:
        """Return what runs through the class, and what could not be read."""
        told: list[Told] = [
            ("Slips made now", tuple(slips_told(now))),
            ("Where students are", tuple(lines_told(now))),
        ]
        if troubles := troubles_told(now, self._with_names):
            told.append(("Records not read", tuple(troubles)))
        return tuple(told)

    @property
    def _pane(self) -> VerticalScroll:
        """Return the pane that is read."""
        is_class = not self._with_names or self.has_class("-class")
        return self.query_one("#class" if is_class else "#students", VerticalScroll)

    @property
    def names_now(self) -> Mapping[str, str]:
        """Return the name of the key that changes with what is shown."""
        return {"watch.turn": "Students" if self.has_class("-class") else "Slips"}

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer turning where both panes have no room, and both may be shown."""
        if action == "turn":
            return self._with_names and not self.has_class("-wide")
        return super().check_action(action, parameters)

    def action_turn(self) -> None:
        """Turn from the students to the class, or back."""
        self.toggle_class("-class")
        self._pane.focus()
        self.refresh_bindings()

    def action_look(self, way: int) -> None:
        """Scroll the pane that is read."""
        leaf(self._pane, way)


def run_watch(watch: ClassWatch, with_names: bool) -> int:
    """Show a class at work until it is closed; return the exit code of the program.

    Raises:
        Exception: what made the screen fail, when the terminal is as it was before.
    """
    app = OneScreenApp(WatchScreen(watch, with_names))
    app.run()
    if app.failure is not None:
        raise app.failure
    return app.return_code or 0
