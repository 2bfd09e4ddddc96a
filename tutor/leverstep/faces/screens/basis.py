"""What every full screen has: looks, the help, the palette, and a way out."""

from __future__ import annotations

import os
import threading
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual import work
from textual.app import App
from textual.binding import Binding, BindingType
from textual.command import CommandPalette
from textual.filter import LineFilter, Monochrome, NoColor
from textual.geometry import Offset
from textual.screen import Screen

from leverstep.faces.screens.keyboard import forgive_bytes
from leverstep.faces.screens.keys import HELP, PALETTE, key_name
from leverstep.faces.screens.looks import OwnColours, PlainText, first_look, keep_look
from leverstep.faces.screens.room import COLUMNS, ROWS, USUAL_ROWS, WIDE_COLUMNS
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.themes import DARK, SIXTEEN, THEMES, TOLD

if TYPE_CHECKING:
    from textual.command import Provider

_COLOURLESS = (Monochrome, NoColor)
"""What Textual puts on where `NO_COLOR` is set; `OwnColours` does that here."""


def _deeds() -> type[Provider]:
    from leverstep.faces.screens.palette import Deeds

    return Deeds


class BasisApp(App[int]):
    """An app with the tutor's looks and the keys that work on every screen.

    All of these have priority, so that they work over a modal screen too.
    """

    TITLE = "leverstep"
    CSS = styles("app")
    COMMANDS = {_deeds}  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-cramped"), (COLUMNS, "-narrow"), (WIDE_COLUMNS, "-wide"),
    ]  # fmt: skip
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-flat"), (ROWS, "-short"), (USUAL_ROWS, "-low"), (32, "-tall"),
    ]  # fmt: skip
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f1", "help", "Help", id=HELP, priority=True,
            tooltip="Show what the keys do here",
        ),
        Binding(
            "ctrl+p", "command_palette", "Find", id=PALETTE, show=False, priority=True,
            tooltip="Find by name what can be done here",
        ),
        Binding(
            "f6", "look", "Look", id="app.look", show=False, priority=True,
            tooltip="Change to the next look: dark, light, high contrast, or sixteen colours",
        ),
        Binding(
            "ctrl+q", "quit", "Quit", id="app.quit", priority=True,
            tooltip="Quit; everything is kept",
        ),
    ]  # fmt: skip

    def __init__(self) -> None:
        forgive_bytes()
        colourless = bool(os.environ.get("NO_COLOR"))
        # Without colours the terminal's own are left alone; with a grey for each they would not be.
        super().__init__(ansi_color=True if colourless else None)
        self.no_color = colourless  # an empty variable asks for nothing, unlike for Textual
        for theme in THEMES:
            self.register_theme(theme)
        self._plain_text = PlainText()
        self._keeping_look = threading.Lock()
        self._own_colours = OwnColours(self.no_color)
        first = first_look(self.console.color_system)  # raises before the screen is taken
        self._first_look = SIXTEEN.name if self.no_color else first

    def on_load(self) -> None:
        """Put on the look before anything is painted, and have styles read in it at once."""
        self.theme = self._first_look
        self.stylesheet.set_variables(self.get_css_variables())

    def refresh_css(self, animate: bool = True) -> None:
        """Read the styles anew in another look; before there is a screen none have been read."""
        if self.screen_stack:
            super().refresh_css(animate)

    def get_screen(self, *asked: Any, **named: Any) -> Any:
        """Return a screen; a new one has the classes of the size, so that it is styled for that."""
        found: Screen[Any] = super().get_screen(*asked, **named)
        if not found.is_running:
            across = found._get_breakpoint_classes(self.size.width, self.HORIZONTAL_BREAKPOINTS)
            down = found._get_breakpoint_classes(self.size.height, self.VERTICAL_BREAKPOINTS)
            found.update_classes(dict.fromkeys(across | down, True), update=False)
        return found

    @property
    def cursor_position(self) -> Offset:
        """Return where the terminal's cursor lies; it is asked for with every frame."""
        from leverstep.faces.screens.cursor import cursor_place

        return cursor_place(self.screen) if self.screen_stack else Offset(0, 0)

    @cursor_position.setter
    def cursor_position(self, place: Offset) -> None:
        """Take no place: fields tell theirs when asked, as everything else does."""

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Return what the style sheet needs of any look, Textual's own among them."""
        return dict(DARK.variables)

    def get_key_display(self, binding: Binding) -> str:
        """Return a key as it is called on every screen."""
        return binding.key_display or key_name(binding.key)

    def action_help(self) -> None:
        """Show what can be done on the screen, or close that; the palette tells it itself."""
        from leverstep.faces.screens.help import HelpScreen

        if isinstance(self.screen, HelpScreen):
            self.pop_screen()
        elif not isinstance(self.screen, CommandPalette):
            self.push_screen(HelpScreen(self.screen))

    def action_command_palette(self) -> None:
        """Open the palette."""
        if not isinstance(self.screen, CommandPalette):
            self.push_screen(CommandPalette(placeholder="What would you like to do?"))

    def action_look(self) -> None:
        """Go to the next look, say which it is, and keep it."""
        told = "Colours are off, since NO_COLOR is set."
        if not self.no_color:
            names = list(TOLD)
            self.theme = names[(names.index(self.theme) + 1) % len(names)]
            self.keep_this_look()
            told = f"{self.theme}: {TOLD[self.theme]}"
        self.notify(told, title="Look", timeout=4, markup=False)

    @work(thread=True, group="look")
    def keep_this_look(self) -> None:
        """Keep the look beside the screen, one at a time: the last one that is kept is on."""
        with self._keeping_look:
            keep_look(self.theme)

    @property
    def failure(self) -> Exception | None:
        """Return what made the screen fail, None where nothing did."""
        return self._exception

    def _fatal_error(self) -> None:
        """Leave the screen without Textual's own report, which shows values: some are answers.

        The error is raised again by `run_app`, once the terminal is as it was.
        """
        self._close_messages_no_wait()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Return what every line goes through on its way to the terminal."""
        theirs = [one for one in super().get_line_filters() if not isinstance(one, _COLOURLESS)]
        own = [self._own_colours] if self.native_ansi_color else []
        return [self._plain_text, *theirs, *own]


class OneScreenApp(BasisApp):
    """The app that shows one screen and nothing else."""

    def __init__(self, screen: Screen[None]) -> None:
        super().__init__()
        self._only = screen

    def get_default_screen(self) -> Screen[None]:
        """Return the screen, its styles taken: Textual loads those of a pushed screen alone."""
        self.stylesheet.add_source(self._only.CSS)
        return self._only
