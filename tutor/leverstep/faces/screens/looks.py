"""Which look is on: that of the room, that chosen before, or that which fits the terminal."""

from __future__ import annotations

import os
from functools import lru_cache

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from leverstep.course.faults import Fault, FileError
from leverstep.course.places import put_by_word, word_put_by
from leverstep.course.plain_text import near, plain, shown
from leverstep.faces.screens.themes import DARK, LIT, SIXTEEN, TOLD

ROOM = "LEVERSTEP_LOOK"
"""The variable that sets the look of a room."""

_PLACE = "look"
_LIT = Color.parse(LIT).rich_color
_REVERSED = Style(color="default", bgcolor="default", reverse=True)


def room_look() -> str:
    """Return the look that the room sets; "" where it sets none.

    Raises:
        FileError: there is no look of that name.
    """
    name = os.environ.get(ROOM, "").strip()
    if name and name not in TOLD:
        looks = f"one of {', '.join(TOLD)}"
        raise FileError([Fault(ROOM, "", f"found {shown(name)}{near(name, TOLD)}", looks)])
    return name


def first_look(colour_system: str | None) -> str:
    """Return the name of the look to begin with.

    Args:
        colour_system: what the terminal has, as rich names it: "standard" for sixteen colours.

    Raises:
        FileError: the room sets a look that there is not.
    """
    for name in (room_look(), word_put_by(_PLACE)):
        if name in TOLD:
            return name
    return DARK.name if colour_system in ("256", "truecolor") else SIXTEEN.name


def keep_look(name: str) -> None:
    """Keep a look for the next start; where nothing can be written, it is for this time only."""
    put_by_word(_PLACE, name)


class PlainText(LineFilter):
    """Lets no text through that could command the terminal or turn a line round.

    A sign that takes a place on the line is shown as ?, one that takes none is left out, so that
    all else stays where it is.
    """

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the segments with plain text."""
        del background
        return [
            segment
            if segment.text.isprintable() or segment.control
            else Segment("".join(map(_plain_sign, segment.text)), segment.style)
            for segment in segments
        ]


def _plain_sign(sign: str) -> str:
    return sign if sign.isprintable() else plain(sign) * cell_len(sign)


class OwnColours(LineFilter):
    """Shows a lit row by reversing the terminal's own colours, which may be any.

    Textual reads `text-style: reverse` in the style sheet, but drops it in lists.
    """

    def __init__(self, colourless: bool) -> None:
        """Take back every colour too where there are to be none: for `NO_COLOR`."""
        super().__init__()
        self._colourless = colourless

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Return the segments in the terminal's own colours."""
        del background
        return [
            Segment(text, None if style is None else _own(style, self._colourless), control)
            for text, style, control in segments
        ]


@lru_cache(4096)
def _own(style: Style, colourless: bool) -> Style:
    if style.bgcolor == _LIT:
        style = style + _REVERSED
    return style.without_color if colourless else style
