"""The screen on which a student changes one number of a question and sees what follows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from leverstep.course.faults import FileError
from leverstep.explore.answers import ANSWERS
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.chart import Chart, GivenList, ResultList
from leverstep.faces.screens.entrances import Exploring
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.side_sheet import Diagram
from leverstep.faces.screens.styles import styles
from leverstep.working.own import OwnError

if TYPE_CHECKING:
    from leverstep.explore.exploration import Exploration
    from leverstep.faces.screens.standing import Standing


class ExploreScreen(Screen[None]):
    """Change a given, and its results follow at once."""

    CSS = styles("explore")
    SCOPED_CSS = False
    AUTO_FOCUS = "#givens"
    help_text = """\
What the plot shows
  A thick line with ● is the first result named above it, a dashed line
  with ◆ the second. ○ ◇ are where the problem's own numbers lie.
  ▲ shows that a line goes on above the plot; a sentence says from where.
  Where there is no equilibrium there is no line; a sentence says why.

Predicting
  F2 asks what happens to a result when a given is halved or doubled.
  Answer with a digit; after that come the plot and the reason."""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "up", "choose(-1)", "Given before", id="explore.up", show=False,
            tooltip="Choose the previous given",
        ),
        Binding(
            "down", "choose(1)", "Given after", id="explore.down", show=False,
            tooltip="Choose the next given",
        ),
        Binding(
            "left", "move(-1)", "Less", id="explore.less", show=False,
            tooltip="Make the chosen given smaller by one step",
        ),
        Binding(
            "right", "move(1)", "More", id="explore.more", show=False,
            tooltip="Make the chosen given larger by one step",
        ),
        Binding(
            "shift+left,ctrl+left,pagedown", "move(-10)", "Ten less", id="explore.ten-less",
            key_display="PgDn", show=False, tooltip="Make the chosen given smaller by ten steps",
        ),
        Binding(
            "shift+right,ctrl+right,pageup", "move(10)", "Ten more", id="explore.ten-more",
            key_display="PgUp", show=False, tooltip="Make the chosen given larger by ten steps",
        ),
        Binding(
            "home", "set_back", "Own value", id="explore.back", show=False,
            tooltip="Set the chosen given back to its own value",
        ),
        Binding(
            "f2", "ask", "Question", id="explore.ask",
            tooltip="Ask what will happen, before the plot shows it",
        ),
        Binding(
            "f3", "hold", "Axis", id="explore.hold",
            tooltip="Put the chosen given on the horizontal axis of the plot",
        ),
        Binding(
            "f4", "panel", "Results", id="explore.panel",
            tooltip="Plot the results of the next unit",
        ),
        Binding(
            "f5", "turn", "Diagram", id="explore.turn",
            tooltip="Show the diagram in place of the plot, or the plot again",
        ),
        Binding(
            "f7", "all_back", "Reset", id="explore.all-back",
            tooltip="Set all givens back to their own values",
        ),
        Binding(
            "escape", "leave", "Back", id="explore.leave",
            tooltip="Leave the question, or go back to where you came from",
        ),
        *(
            Binding(
                str(number), f"answer({number})", answer.capitalize(),
                id=f"explore.answer-{number}", system=True,
                tooltip="Answer that the result does this",
            )
            for number, answer in enumerate(ANSWERS, 1)
        ),
    ]  # fmt: skip

    @dataclass
    class Ready(Message):
        """The first values are there; `trouble` says what can't be done, or why there are none."""

        exploration: Exploration | None
        trouble: str

    def __init__(self, exploring: Exploring) -> None:
        super().__init__()
        self.standing: Standing | None = None
        self._exploring = exploring

    def compose(self) -> ComposeResult:
        """Lay out results and givens beside the plot, and beneath what is asked and said."""
        with Horizontal(id="top"):
            yield Static(f"Explore: {self._exploring.title}", id="heading", markup=False)
            yield Static(id="progress", markup=False)
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield ResultList()
                yield GivenList()
            yield Chart()
            yield Diagram()
        yield Static("One moment …", id="said", markup=False)
        yield Caution()
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Work out the first values beside the screen: the first derivation takes a moment."""
        self.prepare()

    @work(thread=True, group="explore")
    def prepare(self) -> None:
        """Make the question and all that follows from it once, so that each change is quick."""
        from leverstep.explore.exploration import Exploration

        try:
            exploration = Exploration(self._exploring.make())
            trouble = exploration.hold(self._exploring.over) if self._exploring.over else ""
            exploration.warm_up()
        except (FileError, OwnError) as error:
            self.post_message(self.Ready(None, str(error)))
            return
        self.post_message(self.Ready(exploration, trouble))

    @on(Ready)
    def begin(self, event: Ready) -> None:
        """Show the exploration as it begins, with what stands on the axis chosen."""
        event.stop()
        if event.exploration is None:
            self._say([event.trouble])
            return
        from leverstep.faces.screens.standing import Standing

        self.standing = Standing(event.exploration, event.trouble)
        self.refresh_bindings()
        numbers = f"numbers {event.exploration.own.seed}"
        self.query_one("#progress", Static).update(numbers)
        self.paint()

    def paint(self) -> None:
        """Show how everything stands."""
        standing = self._there
        exploration, asks = standing.exploration, standing.asked is not None
        self.query_one(ResultList).list(exploration, asks)
        self.query_one(GivenList).list(exploration, standing.chosen)
        is_drawn = self.has_class("-diagram") or asks
        self.query_one(Chart).display = not is_drawn
        self.query_one(Diagram).display = is_drawn
        if is_drawn:
            values = {} if asks else exploration.values or {}
            key = exploration.movables[standing.chosen].sign
            self.query_one(Diagram).draw(exploration.now, key, values)
        else:
            self.query_one(Chart).draw(exploration)
        self._say(standing.said)

    def _say(self, lines: list[str]) -> None:
        self.query_one("#said", Static).update("\n".join(filter(None, lines)), layout=False)

    @property
    def _there(self) -> Standing:
        """Return how it stands; before that no key does anything."""
        assert self.standing is not None
        return self.standing

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer what can be done now; leaving always."""
        del parameters
        return action == "leave" or (self.standing is not None and self.standing.offers(action))

    def action_choose(self, way: int) -> None:
        """Choose the previous given (-1) or after (1)."""
        self._there.choose(way)
        self.paint()

    def action_move(self, steps: int) -> None:
        """Change the chosen given by some steps."""
        self._there.move(steps)
        self.paint()

    def action_set_back(self) -> None:
        """Set the chosen given back to its own value."""
        self._there.set_back()
        self.paint()

    def action_all_back(self) -> None:
        """Set all givens back to their own values."""
        self._there.set_all_back()
        self.paint()

    def action_hold(self) -> None:
        """Put the chosen given on the axis."""
        self._there.hold()
        self.paint()

    def action_panel(self) -> None:
        """Plot the results of the next unit."""
        self._there.turn_panel()
        self.paint()

    def action_turn(self) -> None:
        """Turn from plot to diagram, or back."""
        self.toggle_class("-diagram")
        self.paint()

    def action_ask(self) -> None:
        """Ask the next question; the plot is hidden meanwhile."""
        self._there.ask()
        self.refresh_bindings()
        self.paint()

    def action_answer(self, number: int) -> None:
        """Take an answer, and show what came of it."""
        self._there.answer(number)
        self.remove_class("-diagram")
        self.refresh_bindings()
        self.paint()

    def action_leave(self) -> None:
        """Leave the question that is asked, or else the screen."""
        if self.standing is None or self.standing.asked is None:
            self.app.pop_screen()
            return
        self.standing.drop_question()
        self.refresh_bindings()
        self.paint()
