"""The sheet beside the working: the statement of the problem and its diagram."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from leverstep.course.problem import Question
from leverstep.faces.screens.written import wrapped_lines
from leverstep.working.page import found, givens
from leverstep.working.working import Working

if TYPE_CHECKING:
    from leverstep.diagram.canvas import Piece

    Drawn = tuple[Iterable[Sequence[Piece]], Iterable[str]]
    """The rows of a drawing, and what must be said of it."""

INK = {
    "plain": "$quiet",
    "segment": "$primary",
    "axis": "$primary bold",
    "force": "$foreground",
    "effort": "$foreground bold",
    "reaction": "$foreground bold",
    "dimension": "$secondary",
    "focus": "$accent bold",
}
"""How each style of the diagram is drawn."""

SMALLEST = (40, 10)
"""The columns and rows that a diagram needs."""


def has_dots() -> bool:
    """Return whether pictures may be drawn with braille dots and arrows, or with ASCII alone.

    The font of a Linux console has none; of any other terminal the user says so.
    """
    return os.environ.get("TERM") != "linux" and not os.environ.get("LEVERSTEP_ASCII")


class Diagram(Static):
    """The free-body diagram, drawn anew for the room it has; what is at hand stands out."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._drawn: tuple[Question, str, Mapping[str, float]] | None = None

    def draw(self, question: Question, key: str, values: Mapping[str, float]) -> None:
        """Draw a question, with the step at hand; `values` are the steps found so far."""
        self._drawn = question, key, values
        self.redraw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it again for its new size."""
        event.stop()
        self.redraw()

    def redraw(self) -> None:
        """Draw it for the room that it has now; nothing where that is too little."""
        width, height = self.size
        if self._drawn is None or width < SMALLEST[0] or height < SMALLEST[1]:
            return
        from leverstep.diagram.layout import layout

        question, key, values = self._drawn

        def draw(rows: int) -> Drawn:
            picture = layout(question, width, rows, key, values, has_dots())
            shown = "\n".join((*picture.lines, *picture.legend))
            return picture.rows, (*picture.legend, _given(question, shown))

        self.update(painted(draw, width, height, SMALLEST[1]))


def painted(draw: Callable[[int], Drawn], width: int, height: int, least: int) -> Content:
    """Return a drawing in the colours of its styles, with what is said of it below.

    Args:
        draw: what draws it in so many rows. What it says takes rows from the drawing, and with
            fewer rows there may be more to say.
        width: the columns that there are.
        height: the rows that there are for both.
        least: the rows that the drawing needs.
    """
    room, rows = height, 0
    while rows != room:
        rows = room
        pieces, notes = draw(rows)
        told = [line for note in notes for line in wrapped_lines(note, width)]
        room = min(rows, max(least, height - len(told)))
    drawn = [
        Content.assemble(*((piece.text, INK.get(piece.style, "")) for piece in row))
        for row in pieces
    ]
    return Content("\n").join([*drawn, *(Content.styled(line, INK["plain"]) for line in told)])


def _given(question: Question, drawn: str) -> str:
    """Return in one line what is given and not yet drawn, no symbol parted from its value."""
    parts = [part.replace(" ", "\u00a0") for part in givens(question) if part not in drawn]
    return f"Given: {' · '.join(parts)}" if parts else ""


class Sheet(Vertical):
    """Statement and diagram: both where there is room, else one page of two."""

    def __init__(self, question: Question | None) -> None:
        super().__init__(classes="-statement")
        self._question = question

    def compose(self) -> ComposeResult:
        """Lay out both pages."""
        with VerticalScroll(id="statement", can_focus=False):
            yield Static(markup=False, id="task")
            yield Static(markup=False, id="ideal")
        yield Diagram()

    def on_mount(self) -> None:
        """Show the statement at once where the numbers are known."""
        if self._question is not None:
            self._state(self._question)

    def show_working(self, working: Working, key: str) -> None:
        """Show a working's question, with the step at hand marked."""
        if self._question is not working.question:
            self._state(working.question)
        self.query_one(Diagram).draw(working.question, key, found(working))

    @property
    def shows_statement(self) -> bool:
        """Return whether the page with the statement is up."""
        return self.has_class("-statement")

    def turn(self) -> None:
        """Turn to the other page, and to its top."""
        self.toggle_class("-statement")
        self.query_one("#statement", VerticalScroll).scroll_home(animate=False)
        # Where the statement was scrolled, no word of the new size comes.
        self.call_after_refresh(self.query_one(Diagram).redraw)

    def _state(self, question: Question) -> None:
        self._question = question
        self.query_one("#task", Static).update(question.statement)
        ideal = "; ".join(question.problem.idealised)
        self.query_one("#ideal", Static).update(f"Assumptions: {ideal}." if ideal else "")
