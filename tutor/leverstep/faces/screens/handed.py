"""The page at the end of a sitting: what was handed in, and what came of each line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.sitting_result import ResultTask, SittingResult, marked_now, result_of
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.written import indented, line_text
from leverstep.marking.marking import Marked

_AGAIN = "To read this again, open the drill and press F4."


class HandedScreen(Screen[None]):
    """Says what was handed in, and shows every line with its verdict."""

    CSS = styles("drills")
    SCOPED_CSS = False
    AUTO_FOCUS = "#account"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "pageup", "look(-1)", "Up", id="handed.up", show=False, priority=True,
            tooltip="Scroll the lines up",
        ),
        Binding(
            "pagedown", "look(1)", "More", id="handed.down", priority=True,
            tooltip="Scroll the lines down",
        ),
        Binding(
            "escape", "app.home", "Home", id="handed.home",
            tooltip="Go to the problems",
        ),
    ]  # fmt: skip

    @dataclass
    class Counted(Message):
        """The sitting has been marked."""

        marked: Marked

    def __init__(self, sitting: Sitting, first: str) -> None:
        super().__init__()
        self._sitting = sitting
        self._first = first

    def compose(self) -> ComposeResult:
        """Lay out what was handed in, and the account beneath."""
        result = result_of(self._sitting, None)
        told = f"{self._first} {result.handed_in}".strip()
        yield Static(f"{told}\n{result.code}\n{_AGAIN}", id="told", markup=False)
        yield Caution()
        with VerticalScroll(id="account"):
            yield Static(Content("\n").join(_account(result)), id="lines", markup=False)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Count the marks beside the screen."""
        self.count_marks()

    @work(thread=True, group="marks")
    def count_marks(self) -> None:
        """Mark what is on the disk; where it can't be read, no marks are told."""
        marked = marked_now(self._sitting)
        if marked is not None:
            self.post_message(self.Counted(marked))

    @on(Counted)
    def show_marks(self, event: Counted) -> None:
        """Put the marks of each task beside its title, and the sum before all."""
        event.stop()
        result = result_of(self._sitting, event.marked)
        self.query_one("#lines", Static).update(Content("\n").join(_account(result)))

    def action_look(self, way: int) -> None:
        """Scroll the lines."""
        leaf(self.query_one("#account", VerticalScroll), way)


def _account(result: SittingResult) -> Iterator[Content]:
    """Yield what came of each line, task after task."""
    if result.total:
        yield Content(result.total)
        yield Content("")
    for task in result.tasks:
        yield Content.styled(task.heading, "$primary bold")
        yield from _lines(task)
        yield Content("")


def _lines(task: ResultTask) -> Iterator[Content]:
    for told in task.sure:
        yield from indented("", told)
    for one in task.lines:
        mark = MARKS[line_mark(task.bench.working, one.step.key)]
        yield from indented(mark.text, line_text(one.step, one.line))
        if not one.line.verdict.settled:
            yield from indented("", one.told)
    for told in task.after:
        yield from indented("", told)
