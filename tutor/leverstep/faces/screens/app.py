"""The app: its first screen, and what the screens have in common."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.command import CommandPalette
from textual.screen import ModalScreen, Screen

from leverstep.dialogue.first_start import is_first_start
from leverstep.faces.material import Material
from leverstep.faces.screens.basis import BasisApp
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.visit import Visit

if TYPE_CHECKING:  # so that the first screen is up at once
    from leverstep.faces.openings import Opening, SetOpened
    from leverstep.faces.screens.entrances import Entrance, Exploring, Showing, Touring

    Opened = Opening | SetOpened | Entrance | Showing | Exploring | Touring
    """What is opened at once in place of the home screen, or over it."""


class LeverstepApp(BasisApp):
    """The tutor on the full screen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "ctrl+l", "terms", "Terms", id="app.terms", show=False, priority=True,
            tooltip="Look up what a word of the course means, that of the line at hand first",
        ),
        Binding(
            "ctrl+d", "tour", "Tour", id="app.tour", show=False, priority=True,
            tooltip="Take the tour: one line step by step, for anyone new here",
        ),
    ]  # fmt: skip

    def __init__(self, material: Material, opening: Opened | None = None) -> None:
        super().__init__()
        self.opening = opening
        self.visit = Visit(material)

    def get_default_screen(self) -> Screen[None]:
        """Return the home screen, which all others lie on."""
        home = HomeScreen(self.visit)
        home.waits = self.opening is not None and not self._opens_tour
        return home

    @property
    def _opens_tour(self) -> bool:
        """Return whether the tour is opened over the problems, once they stand."""
        from leverstep.faces.screens.entrances import Touring

        return isinstance(self.opening, Touring)

    def on_mount(self) -> None:
        """Open what was asked for on the command line."""
        if self.opening is not None:
            self._open(self.opening)

    def _open(self, opening: Opened) -> None:
        """Open what the program was called for; the tour once the problems stand."""
        from leverstep.faces.openings import Opening, SetOpened
        from leverstep.faces.screens.entrances import Entrance, Exploring, Showing

        if isinstance(opening, Opening):
            from leverstep.faces.screens.work import WorkScreen

            self.push_screen(WorkScreen(opening, self.visit))
        elif isinstance(opening, SetOpened):
            from leverstep.faces.screens.work import screen_in_set

            self.push_screen(screen_in_set(opening, self.visit))
        elif isinstance(opening, Exploring):
            from leverstep.faces.screens.explore import ExploreScreen

            self.push_screen(ExploreScreen(opening))
        elif isinstance(opening, Showing):
            from leverstep.faces.screens.board_screen import BoardScreen

            self.push_screen(BoardScreen(opening.question, self.visit, opening.slips_to_find))
        elif isinstance(opening, Entrance):
            from leverstep.faces.screens.door import DoorScreen

            path = str(opening.path)
            self.push_screen(
                DoorScreen(opening, self.visit), lambda reason: self._ask_for_drill(path, reason)
            )

    def _ask_for_drill(self, path: str, reason: str | None) -> None:
        """Ask for the path of a drill again, where there is none that can be read."""
        from leverstep.faces.screens.drills import DrillsScreen

        self.push_screen(DrillsScreen(self.visit, path, reason or ""))

    def on_ready(self) -> None:
        """Load the algebra while the student reads the first screen; or open the tour over it."""
        self.warm_up()
        if self._opens_tour:
            self.action_tour()

    @work(thread=True, group="warm")
    def warm_up(self) -> None:
        """Load what takes long, so that the first line does not wait for it."""
        import sympy  # noqa: F401

        import leverstep.faces.screens.work  # noqa: F401

    def action_terms(self) -> None:
        """Open the glossary at the line at hand, or close it."""
        from leverstep.faces.screens.glossary_screen import GlossaryScreen

        if isinstance(self.screen, GlossaryScreen):
            self.pop_screen()
        elif not isinstance(self.screen, CommandPalette):
            line = getattr(self.lowest_in_sight, "line_in_question", None)
            self.push_screen(GlossaryScreen(self.visit.material, line))

    def action_tour(self) -> None:
        """Open the tour; from the problems it leads on to the first of them."""
        from leverstep.faces.screens.tour_screen import TourScreen

        while isinstance(self.screen, ModalScreen):
            self.pop_screen()
        leads_on = len(self.screen_stack) == 1
        self.push_screen(TourScreen(self.visit, leads_on), self._after_tour)

    def _after_tour(self, first: Opening | None) -> None:
        """Open the problem that the tour leads to, if it was gone on with."""
        if first is not None:
            from leverstep.faces.screens.work import WorkScreen

            self.push_screen(WorkScreen(first, self.visit))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer the tour where nothing is waiting: at the problems, and in practice."""
        if action == "tour":
            return bool(self.screen_stack) and getattr(self.lowest_in_sight, "leads_to_tour", False)
        return super().check_action(action, parameters)

    @property
    def lowest_in_sight(self) -> Screen[Any]:
        """Return the screen below all those that lie over it for a moment."""
        over = reversed(self.screen_stack)
        return next(one for one in over if not isinstance(one, ModalScreen))

    def action_home(self) -> None:
        """Go back to the home screen."""
        while len(self.screen_stack) > 1:
            self.pop_screen()


def run_app(
    say: Callable[[str], None],
    material: Material,
    opening: Opened | None = None,
) -> int:
    """Run the full screen until the student quits; return the exit code of the program.

    Who opens the problems for the first time is shown the tour over them.

    Args:
        say: what prints a line, for what is still to be said when the screen is gone.
        material: the problems to choose from, and the slips, each read when it is needed.
        opening: what to open at once in place of the home screen: a working, a mixed set, a
            drill, a board, a question to explore, or the tour.

    Raises:
        Exception: what made the screen fail, when the terminal is as it was before.
    """
    if opening is None and is_first_start():
        from leverstep.faces.screens.entrances import Touring

        opening = Touring()
    app = LeverstepApp(material, opening)
    app.run()
    if app.failure is not None:
        raise app.failure
    if app.visit.farewell:
        say(app.visit.farewell)
    return app.return_code or 0
