"""The sheet beside the working: the statement of the problem and its diagram."""

from __future__ import annotations

from collections.abc import Mapping

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tutor.course.problem import Question
from tutor.screens.sitting import givens, wrapped_lines
from tutor.working.page import found
from tutor.working.working import Working

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


class Diagram(Static):
    """The free-body diagram, drawn anew for the room it has; what is at hand stands out."""

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._question: Question | None = None
        self._key = ""
        self._values: Mapping[str, float] = {}

    def draw(self, question: Question, key: str, values: Mapping[str, float]) -> None:
        """Draw a question with the step at hand, and what is found so far."""
        self._question, self._key, self._values = question, key, values
        self._paint()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it again for its new size."""
        event.stop()
        self._paint()

    def _paint(self) -> None:
        width, height = self.size
        question = self._question
        if question is None or width < SMALLEST[0] or height < SMALLEST[1]:
            return
        from tutor.diagram.layout import layout

        rows = height
        while True:
            # What finds no room in the picture is told below it, which takes rows from the picture.
            picture = layout(question, width, rows, self._key, self._values)
            shown = "\n".join((*picture.lines, *picture.legend))
            notes = (*picture.legend, givens(question, shown))
            told = [part for note in notes for part in wrapped_lines(note, width)]
            fits = max(SMALLEST[1], height - len(told))
            if fits >= rows:
                break
            rows = fits
        drawn = [
            Content.assemble(*((piece.text, INK.get(piece.style, "")) for piece in row))
            for row in picture.rows
        ]
        below = [Content.styled(part, INK["plain"]) for part in told]
        self.update(Content("\n").join([*drawn, *below]))


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

    def turn(self) -> None:
        """Turn to the other page, and to its top."""
        self.toggle_class("-statement")
        self.query_one("#statement", VerticalScroll).scroll_home(animate=False)

    def _state(self, question: Question) -> None:
        self._question = question
        self.query_one("#task", Static).update(question.statement)
        ideal = "; ".join(question.problem.idealised)
        self.query_one("#ideal", Static).update(f"Taken as true: {ideal}." if ideal else "")
