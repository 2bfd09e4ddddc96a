"""The working so far, line under line as on paper, with a margin for the marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from leverstep.dialogue.replies import Mark
from leverstep.dialogue.working_dialogue import line_mark
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.written import line_text, section_of, wrapped_lines
from leverstep.working.page import on_page
from leverstep.working.working import Working

MARGIN = 12
"""Columns of the margin, the pointer in the last of them."""

_EMPTY = "No line yet"
_RULE = "$rule"
_INK = {
    "-ok": "$success",
    "-wrong": "$warning bold",
    "-left": "$secondary",
    "-taken": "$foreground",
    "-open": "$quiet",
}


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A line as it is shown: its mark, its text, and whether the student is at it."""

    key: str
    mark: str
    text: str
    style: str
    here: bool = False

    def drawn(self, width: int) -> list[Content]:
        """Return the rows of characters that it takes up."""
        pointer, rule = ("▸", "┃ ") if self.here else (" ", "│ ")
        room = _room(width)
        here, ink = "$accent bold", _INK[self.style]
        text_ink = here if self.here else ink if self.style == MARKS[Mark.OPEN].style else ""
        return [
            Content.assemble(
                (f"{self.mark if number == 0 else '':>{MARGIN - 1}}", ink),
                (pointer if number == 0 else " ", here),
                (rule, here if self.here else _RULE),
                (part, text_ink),
            )
            for number, part in enumerate(wrapped_lines(self.text, room) or [""])
        ]


def _heading(text: str, width: int) -> list[Content]:
    """Return the rows of characters that a heading takes up."""
    parts = wrapped_lines(text, _room(width))
    return [Content.styled(f"{'':{MARGIN}}│ {part}", "$primary italic") for part in parts]


def _room(width: int) -> int:
    """Return the columns beside the margin and its rule."""
    return max(8, width - MARGIN - 2)


class Paper(VerticalScroll, can_focus=False):
    """The lines of a working under their headings; the one in question is kept in sight."""

    @dataclass
    class Picked(Message):
        """A line was clicked."""

        key: str

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[PaperRow | str, ...] = ()
        self._sight = ""
        self._keys: list[str] = []

    def compose(self) -> ComposeResult:
        """Lay out the sheet that is written on."""
        yield Static(id="written", markup=False)

    def write(self, working: Working, here: str, sight: str) -> None:
        """Show the lines of the page.

        Args:
            working: whose lines they are.
            here: the key of the line that the student is at.
            sight: the key of the line to be kept in sight.
        """
        self.rows = tuple(_rows(working, here)) or (_EMPTY,)
        self._sight = sight
        self._paint()

    def on_resize(self, event: events.Resize) -> None:
        """Wrap the lines anew."""
        event.stop()
        self._paint()

    @on(events.Click, "#written")
    def pick(self, event: events.Click) -> None:
        """Tell which line was clicked; a heading is none."""
        event.stop()
        if event.y < len(self._keys) and self._keys[event.y]:
            self.post_message(self.Picked(self._keys[event.y]))

    def _paint(self) -> None:
        drawn: list[Content] = []
        self._keys = []
        width = self.outer_size.width - 2  # the border and the scroll bar
        place = 0
        for row in self.rows:
            if isinstance(row, str):
                drawn += _heading(row, width)
                self._keys += [""] * (len(drawn) - len(self._keys))
                continue
            if row.key == self._sight:
                place = len(drawn)
            drawn += row.drawn(width)
            self._keys += [row.key] * (len(drawn) - len(self._keys))
        if not any(isinstance(row, PaperRow) and row.key == self._sight for row in self.rows):
            place = len(drawn)
        self.query_one("#written", Static).update(Content("\n").join(drawn))
        top = max(0, place - self.size.height // 2)
        self.call_after_refresh(self.scroll_to, y=top, animate=False)


def _rows(working: Working, here: str) -> Iterator[PaperRow | str]:
    heading = ""
    for step in on_page(working):
        if section_of(step) != heading:
            heading = section_of(step)
            yield heading
        mark, line = MARKS[line_mark(working, step.key)], working.lines.get(step.key)
        yield PaperRow(step.key, mark.text, line_text(step, line), mark.style, step.key == here)
