"""The app: looks, style sheet and first screen; everything else is in the screens."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import App
from textual.binding import Binding, BindingType
from textual.screen import Screen

from tutor.screens.help import HelpScreen
from tutor.screens.home import HomeScreen
from tutor.screens.opening import Entrance, Exploring, Opening
from tutor.screens.room import COLUMNS, ROWS
from tutor.screens.themes import PAPER, SLATE, THEMES

if TYPE_CHECKING:
    from tutor.course.shelf import Shelf
    from tutor.slips.habits import Habits


class LeverstepApp(App[int]):
    """The tutor on the full screen."""

    TITLE = "leverstep"
    CSS_PATH = Path(__file__).resolve().parent / "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-cramped"), (COLUMNS, "-narrow"), (110, "-wide"),
    ]  # fmt: skip
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-flat"), (ROWS, "-low"), (32, "-tall"),
    ]  # fmt: skip
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f1",
            "help",
            "Help",
            key_display="F1",
            id="app.help",
            tooltip="Keys, and how an entry is written",
        ),
        Binding(
            "f6",
            "look",
            "Light/dark",
            id="app.look",
            show=False,
            tooltip="Change between light and dark",
        ),
        Binding(
            "ctrl+q",
            "quit",
            "Quit",
            key_display="^Q",
            id="app.quit",
            tooltip="Quit; everything is kept",
            priority=True,
        ),
    ]

    def __init__(
        self, opening: Opening | Entrance | Exploring | None = None, shelf: Shelf | None = None
    ) -> None:
        # Without colours the terminal's own are left alone; with a grey for each they would not be.
        super().__init__(ansi_color=True if os.environ.get("NO_COLOR") else None)
        self.opening = opening
        self.farewell = ""
        self._shelf = shelf

    @cached_property
    def habits(self) -> Habits:
        """Return the slips made again and again, over all that is worked in one sitting."""
        from tutor.slips.habits import Habits

        return Habits()

    def shelf(self) -> Shelf:
        """Return the problems, read on first use."""
        if self._shelf is None:
            from tutor.course.shelf import load_shelf

            self._shelf = load_shelf()
        return self._shelf

    def get_default_screen(self) -> Screen[None]:
        """Return the home screen, which all others lie on."""
        return HomeScreen(self.shelf)

    def on_mount(self) -> None:
        """Put on the look, and open what was asked for on the command line."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = SLATE.name
        if isinstance(self.opening, Opening):
            from tutor.screens.work import WorkScreen

            self.push_screen(WorkScreen(self.opening, self.shelf()))
        elif isinstance(self.opening, Exploring):
            from tutor.screens.explore import ExploreScreen

            self.push_screen(ExploreScreen(self.opening))
        elif self.opening is not None:
            from tutor.screens.door import DoorScreen

            self.push_screen(DoorScreen(self.opening, self.shelf()))

    def on_ready(self) -> None:
        """Load the algebra while the student reads the first screen."""
        self.warm_up()

    @work(thread=True, group="warm")
    def warm_up(self) -> None:
        """Load what takes long, so that the first line does not wait for it."""
        import sympy  # noqa: F401

        import tutor.screens.work  # noqa: F401

    def action_help(self) -> None:
        """Show the help, unless it is shown already."""
        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    def action_look(self) -> None:
        """Change between the dark and the light look."""
        self.theme = PAPER.name if self.theme == SLATE.name else SLATE.name

    def action_home(self) -> None:
        """Go back to the home screen."""
        while len(self.screen_stack) > 1:
            self.pop_screen()


def run_app(
    say: Callable[[str], None],
    opening: Opening | Entrance | Exploring | None = None,
    shelf: Shelf | None = None,
) -> int:
    """Run the full screen until the student quits; return the exit code of the program.

    Args:
        say: what prints a line, for what is still to be said when the screen is gone.
        opening: a working, a drill or a question to explore, in place of the home screen.
        shelf: the problems to choose from; those shipped, read later, where there are none.
    """
    if not os.environ.get("NO_COLOR"):
        os.environ.pop("NO_COLOR", None)
    app = LeverstepApp(opening, shelf)
    app.run()
    if app.farewell:
        say(app.farewell)
    return app.return_code or 0
