"""The class report on the full screen, to be read through."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Footer, Static

from tutor.screens.themes import PAPER, SLATE, THEMES


class ReportApp(App[None]):
    """One text, and the keys to read it with."""

    TITLE = "leverstep"
    CSS_PATH = Path(__file__).resolve().parent / "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,ctrl+q", "quit", "Quit", key_display="Esc", priority=True),
        Binding("f6", "look", "Light/dark"),
    ]

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text

    def compose(self) -> ComposeResult:
        """Lay out the text and the keys."""
        with VerticalScroll(id="report"):
            yield Static(self._text, markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """Put on the look, and take the keys that scroll."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = SLATE.name
        self.query_one("#report").focus()

    def action_look(self) -> None:
        """Change between the dark and the light look."""
        self.theme = PAPER.name if self.theme == SLATE.name else SLATE.name
