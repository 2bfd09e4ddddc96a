"""The room that a screen has: too little to work in, or less than what is to be read."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.containers import VerticalScroll
from textual.widgets import Static

COLUMNS, ROWS = 80, 20
"""The least that a screen needs."""

WIDE_COLUMNS = 110
"""From here on a screen is wide, and halves of it stand side by side."""

USUAL_ROWS = 24
"""What a terminal has at first; with fewer, blank rows go, and some panes are lower."""


_PICTURE, _LOW_PICTURE = 10, 8
"""Rows that a picture is given, and the fewest that it has where much is said."""

_TOLD, _LOW_SAID = 8, 4
"""Rows kept for question and answer where all is in sight; for the answer beside a low picture."""

_STATED = 4
"""Rows that a statement keeps whatever is said; with fewer it has none."""


@dataclass(frozen=True, slots=True)
class Needs:
    """The rows that each part would take: statement, what is said, and what is asked.

    `worked` are those that the working keeps below a statement.
    """

    statement: int
    said: int
    asked: int
    worked: int


@dataclass(frozen=True, slots=True)
class Shares:
    """The rows that each part has, 0 for none; `is_drawn` says whether a picture has the working's.

    It stands beside the working.
    """

    statement: int
    worked: int
    said: int
    is_drawn: bool


def shared(
    rows: int, needs: Needs, is_drawn: bool, has_picture: bool = True, is_stated: bool = False
) -> Shares:
    """Share out the rows between givens and field: to all, or else to statement or picture.

    Whether all have room does not go by what is said or asked, so that nothing comes and goes with
    that.

    Args:
        rows: how many there are.
        needs: what each part would take.
        is_drawn: whether the picture is wanted where there is no room for both.
        has_picture: whether there is one at all.
        is_stated: whether the statement is wanted even in place of the working.
    """
    left, statement = rows - needs.asked, needs.statement
    if has_picture and rows >= statement + _PICTURE + (_TOLD if needs.asked else 0):
        said = min(needs.said, left - statement - _PICTURE)
        return Shares(statement, left - statement - said, said, True)
    if is_drawn and left >= _LOW_PICTURE + min(needs.said, 1):
        said = min(needs.said, max(left - _PICTURE, min(_LOW_SAID, left - _LOW_PICTURE)))
        return Shares(0, left - said, said, True)
    said = min(needs.said, max(left - needs.worked - _STATED, 1))
    stated = min(statement, left - said - needs.worked)
    if stated < min(statement, _STATED):
        stated = max(min(statement, left - said), 0) if is_stated else 0
    return Shares(stated, left - stated - said, said, False)


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
