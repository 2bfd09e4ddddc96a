"""The room that a screen has: too little to work in, or less than what is to be read."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.containers import VerticalScroll
from textual.widgets import Static

COLUMNS, ROWS = 80, 20
"""The least that a screen needs."""

USUAL_ROWS = 24
"""What a terminal has at first; with fewer, blank rows go, and some panes are lower."""


_PICTURE, _LOW_PICTURE = 10, 8
"""Rows that a picture is given, and the fewest that it has where much is said."""

_SAID, _LOW_SAID = 6, 4
"""Rows kept for what is said where all is in sight, and beside a low picture."""

_STATED = 4
"""Rows that a statement keeps whatever is said; with fewer it has none."""


@dataclass(frozen=True, slots=True)
class Shares:
    """Who has the rows between givens and prompt: what is left of them is the working's.

    `statement` are the rows of the statement, `said` those of what is said, 0 where it has no
    place; `is_drawn` says whether the picture stands beside the working.
    """

    statement: int
    said: int
    is_drawn: bool


def shared(rows: int, statement: int, said: int, is_drawn: bool, least: int) -> Shares:
    """Share out the rows between givens and prompt: to all, or else to statement or picture.

    Whether all have room does not go by what is said, so that nothing comes and goes with that.

    Args:
        rows: how many there are.
        statement: how many the statement needs.
        said: how many is needed for what is said, 0 where nothing will be.
        is_drawn: whether the picture is wanted where there is no room for both.
        least: the rows that the working keeps below a statement.
    """
    if rows >= statement + _PICTURE + (_SAID if said else 0):
        return Shares(statement, min(said, rows - statement - _PICTURE), True)
    if is_drawn and rows >= _LOW_PICTURE + min(said, 1):
        most = max(rows - _PICTURE, min(_LOW_SAID, rows - _LOW_PICTURE))
        return Shares(0, min(said, most), True)
    told = min(said, max(rows - least - _STATED, 1))
    stated = min(statement, rows - told - least)
    return Shares(stated if stated >= min(statement, _STATED) else 0, told, False)


def leaf(pane: VerticalScroll, way: int) -> None:
    """Scroll a pane up (-1) or down (1) by its height, but for one line."""
    pane.scroll_relative(y=way * max(1, pane.size.height - 1), animate=False)


class TooSmall(Static):
    """Covers a screen that has no room; the style sheet shows it by the screen's classes."""

    def __init__(self) -> None:
        super().__init__(markup=False)

    def on_mount(self) -> None:
        """Say how much room there is."""
        self._say(self.screen.size.width, self.screen.size.height)

    def on_resize(self, event: events.Resize) -> None:
        """Say it again for the new size."""
        self._say(event.size.width, event.size.height)

    def _say(self, width: int, height: int) -> None:
        self.update(
            f"This window is {width} × {height} characters.\n"
            f"leverstep needs {COLUMNS} × {ROWS}.\n"
            "Please make it larger, or the letters smaller; or start leverstep with --plain.\n"
            "Nothing you typed is lost."
        )
