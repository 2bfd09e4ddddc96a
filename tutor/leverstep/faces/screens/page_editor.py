"""The page of a blank sheet: an editor of several lines, with a margin for the mark of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import Binding
from textual.document._document_navigator import DocumentNavigator
from textual.geometry import Offset
from textual.message import Message
from textual.strip import Strip
from textual.widgets import TextArea
from textual.widgets.text_area import Edit, EditResult

from leverstep.course.plain_text import plain
from leverstep.dialogue.free_page import refusal
from leverstep.dialogue.replies import Mark
from leverstep.faces.screens.field import do_at_once
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.page_rows import PageRows

_MARGIN = 3
"""Columns of the margin: the sign of a mark, the pointer, and a space."""

_OTHERS = {"f6", "f7", "pageup", "pagedown"}
"""Keys of an editor that are left to the screen."""


class PageEditor(TextArea, inherit_bindings=False):
    """A page that does what its keys say in the order in which they came, as a field does.

    What is written there, and where the cursor is, it tells as any editor of the toolkit.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "page-editor--here", *(f"page-editor-{mark.style}" for mark in MARKS.values())
    }  # fmt: skip
    DEEDS: ClassVar[dict[str, str]] = {
        binding.key: binding.action
        for binding in Binding.make_bindings(TextArea.BINDINGS)
        if binding.key not in _OTHERS
    } | {
        "enter": "leave_line",
        "ctrl+home": "to_start",
        "ctrl+end": "to_end",
        "shift+tab": "app.focus_previous",
    }
    """The action of each key that a page has of its own."""

    @dataclass
    class Refused(Message):
        """Something was not taken; `told` says why."""

        told: str

    def __init__(self) -> None:
        super().__init__(id="page", compact=True)
        self._marks: Sequence[Mark] = ()

    def _set_document(self, text: str, language: str | None) -> None:
        """Have the lines of a new text parted so that no number is cut."""
        super()._set_document(text, language)
        self.wrapped_document = PageRows(self.document, tab_width=self.indent_width)
        self.navigator = DocumentNavigator(self.wrapped_document)
        self._rewrap_and_refresh_virtual_size()

    @property
    def lines(self) -> list[str]:
        """Return the lines as they are written."""
        return list(self.document.lines)

    @property
    def row(self) -> int:
        """Return the line that the cursor is on, from 0."""
        return self.cursor_location[0]

    @property
    def gutter_width(self) -> int:
        """Return the columns before the text."""
        return _MARGIN

    def turn_to(self, lines: Sequence[str]) -> None:
        """Show another page, the cursor behind its last line."""
        self._marks = ()
        with self.prevent(TextArea.Changed, TextArea.SelectionChanged):
            self.load_text("\n".join(lines))
            self.action_to_end()

    def show_marks(self, marks: Sequence[Mark]) -> None:
        """Show the mark of each line in the margin."""
        if marks != self._marks:
            self._marks = marks
            self.refresh()

    def edit(self, edit: Edit) -> EditResult:
        """Make a change, with ? for each sign that would not be shown, unless it is too much."""
        parts = edit.text.splitlines()
        if edit.text.endswith(("\n", "\r")):
            parts.append("")
        edit.text = "\n".join(plain(part.expandtabs(1)) for part in parts)
        (top, left), (bottom, right) = edit.top, edit.bottom
        first, last = self.document[top][:left], self.document[bottom][right:]
        count = self.document.line_count - (bottom - top) + edit.text.count("\n")
        told = refusal(f"{first}{edit.text}{last}".split("\n"), count)
        if not told:
            return super().edit(edit)
        self.post_message(self.Refused(told))
        return EditResult(edit.bottom, "")

    async def on_key(self, event: events.Key) -> None:
        """Do at once what a key of the page's own does."""
        await do_at_once(self, self.DEEDS, event)

    def action_delete_to_start_of_line(self) -> None:
        """Delete what stands before the cursor; the line above stays a line of its own."""
        if self.cursor_location[1]:
            super().action_delete_to_start_of_line()

    def action_leave_line(self) -> None:
        """Go to a new line below; the line that is left stays whole, wherever the cursor was in it.

        Before its first letter, make room above it. An empty line below is that new line.
        """
        row, column = self.cursor_location
        text, below = self.document[row], row + 1
        if text and not column:
            self.insert("\n", (row, 0))
            return
        if below == self.document.line_count or self.document[below]:
            self.insert("\n", (row, len(text)))
        self.move_cursor(self.clamp_visitable((below, 0)))

    def action_to_start(self) -> None:
        """Go before the first line."""
        self.move_cursor((0, 0))

    def action_to_end(self) -> None:
        """Go behind the last line."""
        self.move_cursor(self.document.end)

    def render_line(self, y: int) -> Strip:
        """Return a row of the page, behind its margin."""
        margin, text = self._margin(y + self.scroll_offset.y), super().render_line(y)
        return Strip([*margin, *text], _MARGIN + text.cell_length).crop(0, self.size.width)

    def _margin(self, y: int) -> list[Segment]:
        """Return the margin of a row: a mark where a line begins, and a pointer at the cursor's."""
        mark, is_here = Mark.OPEN, False
        if y < self.wrapped_document.height:
            row, column = self.wrapped_document.offset_to_location(Offset(0, y))
            is_here = row == self.row and column == 0
            if column == 0 and row < len(self._marks):
                mark = self._marks[row]
        shown = MARKS[mark]
        return [
            Segment(f"{shown.sign:1}", self.get_component_rich_style(f"page-editor-{shown.style}")),
            Segment("▸ " if is_here else "  ", self.get_component_rich_style("page-editor--here")),
        ]
