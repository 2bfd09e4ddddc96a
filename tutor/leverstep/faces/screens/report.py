"""The class report on the full screen, to be read through."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Static

from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import leaf
from leverstep.faces.screens.styles import styles


class ReportScreen(Screen[None]):
    """One text, and the keys to read it with."""

    CSS = styles("report")
    SCOPED_CSS = False
    AUTO_FOCUS = "#report"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pagedown,space", "look(1)", "More", id="report.down", priority=True,
            tooltip="Scroll the report down"),
        Binding("pageup", "look(-1)", "Up", id="report.up", priority=True,
            tooltip="Scroll the report up"),
        Binding("escape,q", "app.quit", "Close", id="report.close", tooltip="Close the report"),
    ]  # fmt: skip
    help_text = "↑ and ↓ scroll the report by a line; Home and End go to its ends."

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text

    def compose(self) -> ComposeResult:
        """Lay out the text and the keys."""
        with VerticalScroll(id="report"):
            yield Static(self._text, markup=False)
        yield KeyLine()

    def action_look(self, way: int) -> None:
        """Scroll the report by what is shown of it, but for a line to find the place again by."""
        leaf(self.query_one("#report", VerticalScroll), way)
