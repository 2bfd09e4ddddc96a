"""The working so far, line under line as on paper, with a margin for the marks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widgets import Static

from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.replies import Mark
from leverstep.faces.screens.marks import MARKS, MarginMark
from leverstep.faces.screens.written import line_text, section_of, wrapped_lines
from leverstep.working.page import on_page, posture_of
from leverstep.working.working import Working

MARGIN = 3
"""Columns of the margin: the sign of a mark, the pointer, and a space."""

NOTHING_SHOWN: Mapping[str, str] = MappingProxyType({})
"""Where all lines are the student's own."""

_AROUND = 3
"""Columns around the rows: a rule or none, a space, and the scroll bar."""

_HEADED = 8
"""Rows of a paper that has headings; on a lower one the lines take their place."""

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
    mark: MarginMark
    text: str
    here: bool = False

    def drawn(self, width: int) -> list[Content]:
        """Return the rows of characters that it takes up."""
        here, ink = "$accent bold", _INK[self.mark.style]
        text_ink = here if self.here else ink if self.mark is MARKS[Mark.OPEN] else ""
        sign, pointer = (f"{self.mark.sign:1}", ink), ("▸ " if self.here else "  ", here)
        first, *others = wrapped_lines(self.text, _room(width)) or [""]
        return [
            Content.assemble(sign, pointer, (first, text_ink)),
            *(Content.assemble(" " * MARGIN, (other, text_ink)) for other in others),
        ]


@dataclass(frozen=True, slots=True)
class PaperHeading:
    """A heading: of a posture, or of one part of its lines."""

    text: str
    of_posture: bool = False

    def drawn(self, width: int) -> list[Content]:
        """Return the rows of characters that it takes up."""
        ink = "$primary bold" if self.of_posture else "$primary italic"
        parts = wrapped_lines(self.text, _room(width))
        return [Content.styled(f"{'':{MARGIN}}{part}", ink) for part in parts]


def _room(width: int) -> int:
    """Return the columns beside the margin."""
    return max(8, width - MARGIN)


_EMPTY = PaperHeading("No line yet")


class Paper(VerticalScroll, can_focus=False):
    """The lines of a working under their headings; the one in question is kept in sight."""

    @dataclass
    class Picked(Message):
        """A line was clicked."""

        key: str

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[PaperRow | PaperHeading, ...] = ()
        self._sight = ""
        self._room = Size(80, 24)
        self._at_once = 0
        self._looks: tuple[object, ...] | None = None
        self._keys: list[str] = []
        self._top = 0

    def compose(self) -> ComposeResult:
        """Lay out the sheet that is written on."""
        yield Static(id="written", markup=False)

    def take(self, columns: int, rows: int, at_once: int = 0) -> None:
        """Take so much room; where all but headings of parts fits in `at_once` rows, they go."""
        room = Size(columns - _AROUND, rows)
        if (room, at_once) != (self._room, self._at_once):
            self._room, self._at_once = room, at_once
            self._paint()

    def write(
        self, working: Working, here: str, sight: str, shown: Mapping[str, str] = NOTHING_SHOWN
    ) -> None:
        """Show the lines of the page.

        Args:
            working: whose lines they are.
            here: the key of the line that the student is at.
            sight: the key of the line to be kept in sight.
            shown: the lines that somebody else wrote, by key.
        """
        rows = tuple(_rows(working, here, shown)) or (_EMPTY,)
        if (rows, sight) != (self.rows, self._sight):
            self.rows, self._sight = rows, sight
            self._paint()

    def on_resize(self, event: events.Resize) -> None:
        """Part the lines anew where there is other room than was foreseen, as at the end."""
        event.stop()
        self.take(self.outer_size.width, self.size.height, self._at_once)

    @on(events.Click, "#written")
    def pick(self, event: events.Click) -> None:
        """Tell which line was clicked; a heading is none."""
        event.stop()
        if event.y < len(self._keys) and self._keys[event.y]:
            self.post_message(self.Picked(self._keys[event.y]))

    def _paint(self) -> None:
        width, height = self._room
        is_low = height < _HEADED
        looks = self.rows, width, is_low, self._at_once
        if looks != self._looks:
            self._looks = looks
            self._draw(width, is_low)
        is_there = self._sight and self._sight in self._keys
        place = self._keys.index(self._sight) if is_there else len(self._keys)
        self._top = max(0, place - height // 2)
        self._go_to_sight()

    def _go_to_sight(self) -> None:
        self.call_after_refresh(self.scroll_to, y=self._top, animate=False)

    def watch_virtual_size(self) -> None:
        """Go to the line in sight again, where the lines have their rows only now."""
        self._go_to_sight()

    def _draw(self, width: int, is_low: bool) -> None:
        drawn = [(row, row.drawn(width)) for row in self.rows]
        kept = [(row, parts) for row, parts in drawn if _is_kept(row, is_low)]
        whole, bare = (sum(len(parts) for _, parts in shown) for shown in (drawn, kept))
        if kept and (is_low or bare <= self._at_once < whole):
            drawn = kept
        keys = ((row.key if isinstance(row, PaperRow) else "", parts) for row, parts in drawn)
        self._keys = [key for key, parts in keys for _ in parts]
        text = Content("\n").join(part for _, parts in drawn for part in parts)
        self.query_one("#written", Static).update(text)


def _is_kept(row: PaperRow | PaperHeading, is_low: bool) -> bool:
    """Return whether a row stays where headings give way: on a low paper all of them do."""
    return isinstance(row, PaperRow) or (row.of_posture and not is_low)


def _rows(
    working: Working, here: str, shown: Mapping[str, str]
) -> Iterator[PaperRow | PaperHeading]:
    posture, section = "", ""
    for step in working.steps if shown else on_page(working):
        of_posture, heading = (find(working.question, step) for find in (posture_of, section_of))
        if of_posture != posture:
            posture, section = of_posture, ""
            yield PaperHeading(posture, of_posture=True)
        if heading != section:
            section = heading
            yield PaperHeading(section)
        mark, line = MARKS[line_mark(working, step.key)], working.lines.get(step.key)
        text = shown.get(step.key) or line_text(step, line)
        yield PaperRow(step.key, mark, text, step.key == here)
