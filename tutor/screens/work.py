"""The work screen: the sheet, the paper, and the desk where one line after the other is entered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Static

from tutor.course.shelf import Shelf
from tutor.screens import sitting
from tutor.screens.closing import Closing
from tutor.screens.desk import Desk, remarks, unsaved
from tutor.screens.help import MissingScreen
from tutor.screens.opening import Opening
from tutor.screens.paper import Paper
from tutor.screens.room import TooSmall
from tutor.screens.sheet import Sheet
from tutor.screens.sitting import News
from tutor.statics.step import Step
from tutor.working.page import line_name, missing, neighbour

if TYPE_CHECKING:
    from tutor.drill.practice import Practice
    from tutor.screens.app import LeverstepApp


class WorkScreen(Screen[None]):
    """One working, from its first line to its last. Whatever is entered is on disk at once."""

    AUTO_FOCUS = "#entry"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "attend('hint')", "Hint", id="work.hint", key_display="F2",
            tooltip="Show the next hint for this line"),
        Binding(
            "f3", "attend('leave')", "Leave", id="work.leave", key_display="F3",
            tooltip="Leave this line and go on; come back later",
        ),
        Binding(
            "up,shift+tab", "choose(-1)", "Back", id="work.before", key_display="↑",
            tooltip="Go back to an earlier line to change it",
        ),
        Binding(
            "down", "choose(1)", "Line after", id="work.after", key_display="↓", show=False,
            tooltip="Go to the next line again",
        ),
        Binding(
            "f4", "choose(0)", "Latest", id="work.latest", show=False, key_display="F4",
            tooltip="Return to the first line that is still to be done",
        ),
        Binding(
            "f5", "turn", "Diagram", id="work.turn", key_display="F5",
            tooltip="Show the diagram in place of the statement, or the statement again",
        ),
        Binding(
            "f8", "missing", "Missing", id="work.missing", key_display="F8",
            tooltip="Tell what is still to find, and which lines lead there",
        ),
        Binding(
            "f7", "again", "New numbers", id="work.again", key_display="F7",
            tooltip="Do the same problem again with new numbers",
        ),
        Binding(
            "pageup", "look(-1)", "Look up", id="work.up", show=False, priority=True,
            tooltip="Scroll the statement and the hints up",
        ),
        Binding(
            "pagedown", "look(1)", "More", id="work.down", key_display="PgDn", priority=True,
            tooltip="Scroll the statement and the hints down",
        ),
        Binding(
            "escape", "app.home", "Home", id="work.home", key_display="Esc",
            tooltip="Go back to the problems; everything entered is kept",
        ),
        # Not shown here, where there is room for no more keys: the first screen shows it.
        Binding(
            "ctrl+q", "app.quit", "Quit", id="work.quit", show=False, priority=True,
            tooltip="Quit; everything is kept",
        ),
    ]  # fmt: skip

    @dataclass
    class Opened(Message):
        """The practice is ready, or `trouble` says why there is none; `before` what was begun."""

        practice: Practice | None
        trouble: str
        before: str

    @dataclass
    class Answered(Message):
        """Something the student did has been answered."""

        news: News

    def __init__(self, opening: Opening, shelf: Shelf) -> None:
        super().__init__()
        self.opening = opening
        self.practice: Practice | None = None
        self.chosen = ""
        self.news: News | None = None
        self.busy = False
        self._offered = (False, False, False)
        self._shelf = shelf

    def compose(self) -> ComposeResult:
        """Lay out the sheet beside the paper, and the desk beneath."""
        problem, seed = self.opening.problem, self.opening.seed
        with Horizontal(id="top"):
            yield Static(problem.title, id="heading", markup=False)
            yield Static(id="progress", markup=False)
        with Horizontal(id="middle"):
            yield Sheet(problem.question(seed) if seed else None)
            yield Paper()
        yield Desk()
        yield Closing()
        yield Footer(show_command_palette=False)
        yield TooSmall()

    def on_mount(self) -> None:
        """Start what takes a moment: the first derivation."""
        self.busy = True
        opening, shelf = self.opening, self._shelf
        habits = cast("LeverstepApp", self.app).habits

        def opened() -> Message:
            before = sitting.begun_before(opening, shelf)
            return self.Opened(*sitting.open_practice(opening, shelf, habits), before)

        self.run_job(opened)

    @work(thread=True, group="practice")
    def run_job(self, job: Callable[[], Message]) -> None:
        """Do something beside the screen, and post what came of it."""
        self.post_message(job())

    @on(Opened)
    def begin(self, event: Opened) -> None:
        """Show the working, also one that is gone on with."""
        event.stop()
        self.practice, self.busy = event.practice, False
        if event.practice is None:
            self.query_one(Desk).give_up([Content(event.trouble)])
        step = self.step_at_hand
        if event.before and step is not None:
            self.news = News(step.key, told=event.before)
        self.paint()

    @on(Desk.Entered)
    def enter(self, event: Desk.Entered) -> None:
        """Have a line checked. While another is being checked the text only stays where it is."""
        event.stop()
        practice, step = self.practice, self.step_at_hand
        if practice is None or step is None or self.busy:
            return
        self.busy = True
        key, text = sitting.asked(practice.working, step, self.chosen).key, event.text
        self.run_job(lambda: self.Answered(sitting.enter(practice, key, text)))

    @on(Answered)
    def answer(self, event: Answered) -> None:
        """Show what came of it; a line that is right gives way to the next one to be done."""
        event.stop()
        self.busy = False
        self.news = event.news
        self.query_one(Desk).answered(event.news)
        if event.news.moves_on:
            self.chosen = ""
        self.paint()

    @property
    def step_at_hand(self) -> Step | None:
        """Return the step that the student is at; None at the end, or before the start."""
        if self.practice is None:
            return None
        return sitting.at_hand(self.practice.working, self.chosen)

    def paint(self) -> None:
        """Show how everything stands."""
        practice, step = self.practice, self.step_at_hand
        if practice is None:
            return
        working, key = practice.working, "" if step is None else step.key
        self.set_class(step is None, "-ended")
        self.query_one(Sheet).show_working(working, key)
        self.query_one(Paper).write(working, key, sitting.in_sight(working, self.chosen, self.news))
        self.query_one("#progress", Static).update(sitting.progress(practice, step), layout=False)
        if step is None:
            self.query_one(Desk).rest()
            self.query_one(Closing).tell(practice, self.news)
        else:
            self._ask(practice, step)
        self._offer()

    def _ask(self, practice: Practice, step: Step) -> None:
        """Ask for what is at hand, and say what there is to say of it."""
        desk, working = self.query_one(Desk), practice.working
        desk.ask_for(sitting.asked(working, step, self.chosen))
        key = sitting.hinted(practice, step, self.chosen)
        name, is_free = line_name(working.step(key)), sitting.is_free(working, self.chosen)
        parts = remarks(self.news, sitting.told(practice, key), practice.hints(key), name, is_free)
        desk.say([*parts, *unsaved(practice.trouble)])

    def on_resize(self) -> None:
        """Offer what fits the new size, once the screen has its classes for it."""
        self.call_after_refresh(self._offer)

    def _offer(self) -> None:
        """Have the keys offered that can be used now."""
        is_free = self.practice is not None and self.practice.working.guidance.free
        is_large = self.has_class("-wide") and self.has_class("-tall")
        offered = (self.step_at_hand is None, is_large, is_free)
        if offered != self._offered:
            self._offered = offered
            self.refresh_bindings()

    def action_attend(self, what: str) -> None:
        """Show the next hint for the line at hand ("hint"), or leave the line ("leave")."""
        practice, step = self.practice, self.step_at_hand
        if practice is None or step is None or self.busy:
            return
        self.busy = True
        if what == "leave":
            self.run_job(lambda: self.Answered(sitting.leave(practice, step.key)))
            return
        key = sitting.hinted(practice, step, self.chosen)
        self.run_job(lambda: self.Answered(sitting.hint(practice, key)))

    def action_choose(self, way: int) -> None:
        """Go to the line before (-1), after (1), or the first still to be done (0)."""
        if self.practice is None or self.busy:
            return
        chosen = neighbour(self.practice.working, self.chosen, way) if way else ""
        step = self.step_at_hand
        if chosen is not None and chosen != self.chosen:
            self.chosen, self.news = chosen, None
        elif step is not None:
            told = "This is the first line." if way < 0 else "There is no line after this one yet."
            self.news = News(step.key, told=told)
        self.paint()

    def action_turn(self) -> None:
        """Turn the sheet from statement to diagram, or back."""
        self.query_one(Sheet).turn()

    def action_again(self) -> None:
        """Open the same problem with new numbers, led as before."""
        if self.practice is not None:
            guidance = self.practice.working.guidance
            opening = Opening(self.opening.problem, guidance=guidance)
            self.app.switch_screen(WorkScreen(opening, self._shelf))

    def action_missing(self) -> None:
        """Tell what is still to find, and which lines lead there."""
        if self.practice is not None:
            self.app.push_screen(MissingScreen(missing(self.practice.working)))

    def action_look(self, way: int) -> None:
        """Scroll what may be longer than its room: the statement and what is said of a line."""
        for pane in self.query("#statement, #answer").results(VerticalScroll):
            pane.scroll_relative(y=way * max(1, pane.size.height - 1), animate=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        del parameters
        ended = self.practice is not None and self.step_at_hand is None
        if action == "again":
            return ended
        if action == "attend":
            return not ended
        if action == "missing":
            return self._offered[2] and not ended
        return not (action == "turn" and self._offered[1])
