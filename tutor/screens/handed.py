"""The page at the end of a sitting: what was handed in, and what came of each line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from tutor.drill.bench import Bench
from tutor.drill.notice import handed_in
from tutor.drill.sitting import Sitting
from tutor.screens.footer import KeyLine
from tutor.screens.room import TooSmall
from tutor.screens.sitting import line_text, mark_of, wrapped_lines
from tutor.working.page import not_written, on_page

_AGAIN = "To read this again, open the drill and press F4."
_MARGIN = 11
_WIDTH = 62


class HandedScreen(Screen[None]):
    """Says what was handed in, and shows every line with its verdict."""

    AUTO_FOCUS = "#account"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "escape", "app.home", "Home", id="handed.home",
            tooltip="Go to the problems",
        ),
    ]  # fmt: skip

    def __init__(self, sitting: Sitting, first: str) -> None:
        super().__init__()
        self._sitting = sitting
        self._first = first

    def compose(self) -> ComposeResult:
        """Lay out what was handed in, and the account beneath."""
        told = f"{self._first} {handed_in(self._sitting)}\n{_AGAIN}".strip()
        yield Static(told, id="told", markup=False)
        with VerticalScroll(id="account"):
            yield Static(Content("\n").join(self._account()), id="lines", markup=False)
        yield KeyLine()
        yield TooSmall()

    def _account(self) -> Iterator[Content]:
        """Yield what came of each line, task after task."""
        number = len(self._sitting.tasks)
        for task, bench in zip(self._sitting.tasks, self._sitting.benches, strict=True):
            title = task.question.problem.title
            yield Content.styled(f"Task {task.number} of {number}: {title}", "$primary bold")
            yield from _lines(bench)
            yield Content("")


def _lines(bench: Bench) -> Iterator[Content]:
    working = bench.working
    for step in on_page(working):
        line = working.lines.get(step.key)
        if line is None:
            continue
        yield from _indented(mark_of(working, step).text, line_text(step, line))
        if not line.verdict.settled:
            yield from _indented("", bench.tell(line.verdict))
    if unwritten := not_written(working):
        yield from _indented("", f"Not written: {unwritten}.")


def _indented(mark: str, text: str) -> Iterator[Content]:
    """Yield a text behind the margin, its mark before the first line of it."""
    for number, part in enumerate(wrapped_lines(text, _WIDTH)):
        yield Content(f"{'' if number else mark:>{_MARGIN}}  {part}")
