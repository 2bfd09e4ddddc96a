"""What is shown where the terminal is too small to work in."""

from __future__ import annotations

from textual import events
from textual.widgets import Static

COLUMNS, ROWS = 80, 24
"""The least that a screen needs."""


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
            "Please make it larger, or the letters smaller.\n"
            "Nothing you typed is lost."
        )
