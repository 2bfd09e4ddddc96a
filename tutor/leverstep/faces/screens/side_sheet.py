"""The sheet: the statement, and below it the diagram beside the working."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from leverstep.course.problem import Question
from leverstep.diagram.described import senses_told
from leverstep.faces.screens.pane import Pane, WrappedText
from leverstep.faces.screens.room import WIDE_COLUMNS, Shares
from leverstep.faces.screens.written import NO_BREAK, wrapped_lines
from leverstep.working.page import forces_found, found, givens
from leverstep.working.rules import Pictures
from leverstep.working.wording import force_about
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

SMALLEST = (40, 8)
"""The columns and rows that a diagram needs."""


_NARROW = 43
"""Columns of the picture with what stands around it, on a screen that is not wide."""

_ROOMY = 14
"""Rows from which a picture has some to spare for what was found."""


def has_dots() -> bool:
    """Return whether pictures may be drawn with braille dots and arrows, or with ASCII alone.

    The font of a Linux console has none; of any other terminal the user says so.
    """
    return os.environ.get("TERM") != "linux" and not os.environ.get("LEVERSTEP_ASCII")


class Diagram(Static):
    """The free-body diagram, drawn anew for the room it has; what is at hand stands out."""

    def __init__(self, told: bool = True) -> None:
        """Make a diagram.

        Args:
            told: whether what is given and not drawn is told below it; not where it stands already.
        """
        super().__init__(markup=False)
        self._told = told
        self._wanted: tuple[Question, str, Mapping[str, float]] | None = None
        self._drawn: object = None

    def want(self, question: Question, key: str, values: Mapping[str, float]) -> None:
        """Take what is to be drawn next: a question, with the step at hand and those found."""
        self._wanted = question, key, values

    def draw(self, question: Question, key: str, values: Mapping[str, float]) -> None:
        """Draw a question, with the step at hand; `values` are the steps found so far."""
        self.want(question, key, values)
        self.redraw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it again for its new size."""
        event.stop()
        self.redraw()

    def redraw(self) -> None:
        """Draw it for the room that it has; nothing where that is too little, or all as before."""
        width, height = self.size
        if width < SMALLEST[0] or height < SMALLEST[1]:
            self._drawn = None
            self.update("", layout=False)
            return
        if self._wanted is None or self._drawn == (self._wanted, self.size):
            return
        from leverstep.diagram.layout import layout

        self._drawn = self._wanted, self.size
        question, key, values = self._wanted
        given = set(givens(question))
        found_told = () if self._told else _found(question, values, given, self.size)

        def draw(rows: int) -> Drawn:
            picture = layout(question, width, rows, key, values, has_dots())
            if not self._told:
                notes = [line for line in picture.legend if line not in given]
                return picture.rows, [*notes, *found_told]
            shown = "\n".join((*picture.lines, *picture.legend))
            return picture.rows, (*picture.legend, _given(question, shown))

        self.update(painted(draw, width, height, SMALLEST[1]), layout=False)


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
    """Return in one line what is given and not yet drawn, no symbol separated from its value."""
    parts = [part.replace(" ", NO_BREAK) for part in givens(question) if part not in drawn]
    return f"Given: {' · '.join(parts)}" if parts else ""


def _found(
    question: Question, values: Mapping[str, float], given: Set[str], room: Size
) -> tuple[str, ...]:
    """Return in one line the forces found, beside a working whose first lines are out of sight.

    One that is given in newtons stands in the strip.
    """
    if room.width >= _NARROW or room.height < _ROOMY:
        return ()
    found_here = (part for part in forces_found(question, values) if part not in given)
    parts = [part.replace(" ", NO_BREAK) for part in found_here]
    return (f"Found: {' · '.join(parts)}",) if parts else ()


@dataclass
class _SheetLook:
    """What a question shows where there is no room for all: its picture, and whether by hand."""

    is_drawn: bool = False
    is_chosen: bool = False


class Sheet(Vertical):
    """The statement, and the picture beside the working: all where there is room.

    Where there is not, the statement stands until a line is done. Then the picture comes with the
    first line that is about a force or a distance, unless the student has chosen.
    """

    class Resized(Message):
        """It has other rows than before."""

    def __init__(self, question: Question | None, *worked: Widget) -> None:
        """Lay out the sheet of a question; `worked` is what shows the working."""
        super().__init__()
        self._question = question
        self._worked = worked
        self._stated, self._ideal = WrappedText("task"), WrappedText("ideal")
        self._statement = Pane("statement", self._stated, self._ideal)
        self._looks: dict[Question | None, _SheetLook] = {}
        self.has_picture = True

    def compose(self) -> ComposeResult:
        """Lay out statement, picture and working."""
        yield self._statement
        with Horizontal(id="beside"):
            yield Diagram(told=False)
            yield from self._worked

    def on_resize(self) -> None:
        """Tell of the new size."""
        self.post_message(self.Resized())

    def on_mount(self) -> None:
        """Show the statement at once where the numbers are known."""
        if self._question is not None:
            self._state(self._question)

    def take(self, working: Working, key: str) -> None:
        """Take a working whose question is to be shown, with the step at hand marked."""
        has_picture = working.rules.pictures is not Pictures.OFF
        if (self._question, self.has_picture) != (working.question, has_picture):
            self.has_picture = has_picture
            self._state(working.question)
        look = self._look
        if not look.is_chosen and not look.is_drawn:
            here = [key, *filter(working.done, dict(working.lines))]
            look.is_drawn = _is_begun(working, key) and any(
                _is_about_force(working, k) for k in here
            )
        last = working.steps[-1].key  # at the end the posture that was worked last stays in sight
        at_hand = working.question.at(working.step(key or last))
        self.query_one(Diagram).want(at_hand, key, found(working))

    @property
    def wants_picture(self) -> bool:
        """Return whether the picture is to be seen where there is no room for the statement too."""
        return self.has_picture and self._look.is_drawn

    @property
    def turns_to(self) -> str:
        """Return what is chosen next, by the name that its key has."""
        if self.has_picture:
            return "Statement" if self.wants_picture else "Diagram"
        return "Working" if self.is_statement_chosen else "Statement"

    @property
    def is_statement_chosen(self) -> bool:
        """Return whether the student has chosen the statement, in place of picture or working."""
        return self._look.is_chosen and not self.wants_picture

    @property
    def shows_statement(self) -> bool:
        """Return whether the statement can be seen."""
        return self._statement.display

    @property
    def shows_all(self) -> bool:
        """Return whether statement and picture can both be seen: there is none to choose.

        Where there is no picture, it is the working that the statement has not taken rows from.
        """
        is_beside = self.has_class("-drawn") if self.has_picture else not self.is_statement_chosen
        return self.shows_statement and is_beside

    @property
    def shows_none(self) -> bool:
        """Return whether there is room for neither of them."""
        return not self.shows_statement and not self.has_class("-drawn")

    def needs(self, width: int) -> int:
        """Return the rows of the whole statement in so many columns."""
        return self._statement.needs(width)

    @property
    def picture_columns(self) -> int:
        """Return the columns of the picture, with what stands around it; 0 where there is none."""
        if not self.has_class("-drawn"):
            return 0
        across = self.screen.size.width
        return across // 2 if across >= WIDE_COLUMNS else _NARROW

    def share(self, shares: Shares, width: int) -> None:
        """Show what has a share of the rows; `width` are the columns of a text across."""
        self._statement.give(shares.statement, width)
        self.set_class(shares.is_drawn, "-drawn")
        diagram = self.query_one(Diagram)
        diagram.styles.width = self.picture_columns
        # Words come first, and the picture with the frame after them.
        self.call_after_refresh(diagram.redraw)

    def turn(self) -> None:
        """Choose the picture in place of the statement, or the statement again, from its top.

        Where there is no picture, choose the statement in place of the working, or this again.
        """
        look = self._look
        if self.has_picture:
            look.is_drawn, look.is_chosen = not look.is_drawn, True
        else:
            look.is_chosen = not look.is_chosen
        self._statement.to_top()

    @property
    def _look(self) -> _SheetLook:
        return self._looks.setdefault(self._question, _SheetLook())

    def _state(self, question: Question) -> None:
        self._question = question
        self._stated.say(question.statement)
        ideal = "; ".join(question.problem.idealised)
        told = () if self.has_picture else senses_told(question)
        self._ideal.say(" ".join((*told, *([f"Assumptions: {ideal}."] if ideal else []))))
        self._statement.to_top()


def _is_begun(working: Working, key: str) -> bool:
    """Return whether a line but that at hand is done, or one was left for later."""
    return bool(working.left) or any(one != key and working.done(one) for one in [*working.lines])


def _is_about_force(working: Working, key: str) -> bool:
    """Return whether a line is about a force, a distance or an angle of one."""
    return bool(key) and force_about(working.question, working.step(key)) is not None
