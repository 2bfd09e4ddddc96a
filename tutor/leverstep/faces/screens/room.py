"""The room that a screen has: too little to work in, or less than what is to be read."""

from __future__ import annotations

from textual import events
from textual.containers import VerticalScroll
from textual.widgets import Static

COLUMNS, ROWS = 80, 20
"""The least that a screen needs."""

USUAL_ROWS = 24
"""What a terminal has at first; with fewer, blank rows go, and some panes are lower."""


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
