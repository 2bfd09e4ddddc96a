"""What every full screen has: looks, the help, the palette, and a way out."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.command import CommandPalette
from textual.geometry import Offset

from tutor.screens.keys import HELP, PALETTE, key_name
from tutor.screens.room import COLUMNS, ROWS
from tutor.screens.themes import PAPER, SLATE, THEMES

if TYPE_CHECKING:
    from textual.command import Provider


def _deeds() -> type[Provider]:
    from tutor.screens.palette import Deeds

    return Deeds


class BasisApp(App[int]):
    """An app with the tutor's looks and the keys that work on every screen.

    All of these have priority, so that they work over a modal screen too.
    """

    TITLE = "leverstep"
    CSS_PATH = Path(__file__).resolve().parent / "app.tcss"
    COMMANDS = {_deeds}  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-cramped"), (COLUMNS, "-narrow"), (110, "-wide"),
    ]  # fmt: skip
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-flat"), (ROWS, "-low"), (32, "-tall"),
    ]  # fmt: skip
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f1", "help", "Help", id=HELP, priority=True,
            tooltip="Tell what the keys do here",
        ),
        Binding(
            "ctrl+p", "command_palette", "Find", id=PALETTE, show=False, priority=True,
            tooltip="Find what can be done here by its name",
        ),
        Binding(
            "f6", "look", "Look", id="app.look", show=False, priority=True,
            tooltip="Change between light and dark",
        ),
        Binding(
            "ctrl+q", "quit", "Quit", id="app.quit", priority=True,
            tooltip="Quit; everything is kept",
        ),
    ]  # fmt: skip

    def __init__(self) -> None:
        # Without colours the terminal's own are left alone; with a grey for each they would not be.
        super().__init__(ansi_color=True if os.environ.get("NO_COLOR") else None)
        for theme in THEMES:
            self.register_theme(theme)
        self.set_reactive(App.theme, SLATE.name)

    @property
    def cursor_position(self) -> Offset:
        """Return where the terminal's cursor lies; it is asked for with every frame."""
        from tutor.screens.cursor import cursor_place

        return cursor_place(self.screen) if self.screen_stack else Offset(0, 0)

    @cursor_position.setter
    def cursor_position(self, place: Offset) -> None:
        """Take no place: fields tell theirs when asked, as everything else does."""

    def get_key_display(self, binding: Binding) -> str:
        """Return a key as it is called on every screen."""
        return binding.key_display or key_name(binding.key)

    def action_help(self) -> None:
        """Show what can be done on the screen, or close that; the palette tells it itself."""
        from tutor.screens.help import HelpScreen

        if isinstance(self.screen, HelpScreen):
            self.pop_screen()
        elif not isinstance(self.screen, CommandPalette):
            self.push_screen(HelpScreen(self.screen))

    def action_command_palette(self) -> None:
        """Open the palette."""
        if not isinstance(self.screen, CommandPalette):
            self.push_screen(CommandPalette(placeholder="What would you like to do?"))

    def action_look(self) -> None:
        """Change between the dark and the light look."""
        self.theme = PAPER.name if self.theme == SLATE.name else SLATE.name
