"""The tour on the full screen: one line, entered step by step, with what to do said above it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from leverstep.course.problem import Question
from leverstep.dialogue.first_start import note_tour
from leverstep.dialogue.tour import PROBLEM, Tour, TourReply, TourWords
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.faces.openings import Opening
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.pane import WrappedText
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.visit import Visit
from leverstep.statics.step import Step

_KEYS = (
    "In a working ↑ brings back what you typed at a line before, Ctrl+L explains a word, Ctrl+R is "
    "a calculator, F1 shows all keys."
)
_BACK = f"{_KEYS} Enter goes back to where you were."

_CSS = """
TourScreen {
    & #top { height: 1; padding: 0 1; background: $panel; }
    & #heading { width: 1fr; text-style: bold; color: $primary; }
    & #progress { width: 14; text-align: right; color: $quiet; }
    & #statement { height: 1fr; padding: 1 1 0 1; scrollbar-size-vertical: 1; }
    & #tour { height: auto; padding: 0 1 1 1; }
    & #guide { height: auto; padding: 0 0 1 0; color: $accent; text-style: bold; }
    & #ask { height: auto; }
    & #pen { height: 1; }
    & #prompt { width: auto; padding: 0 1 0 0; color: $accent; text-style: bold; }
    & #entry { width: 1fr; background: $panel; border: none; }
    & #said { height: auto; min-height: 3; }
    &.-ended #ask, &.-ended #prompt { display: none; }
    &.-short #statement { padding: 0 1; }
    &.-short #tour { padding: 0 1; }
}
"""
"""Read when it is first opened, so that the first screen does not wait for it."""


class TourScreen(Screen[Opening | None]):
    """One line of a problem; closes with the problem to begin with, or with nothing."""

    CSS = _CSS
    AUTO_FOCUS = "#entry"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "hint", "Hint", id="tour.hint", tooltip="Show a hint for this line"),
        Binding(
            "escape", "leave", "Skip the tour", id="tour.leave",
            tooltip="Leave the tour; you can take it again from the list of problems",
        ),
    ]  # fmt: skip
    help_text = "Enter alone says what to type, and once more goes on to the next step."

    @dataclass
    class Prepared(Message):
        """The tour is ready, with the problem that it leads to."""

        tour: Tour
        first: Opening | None

    @dataclass
    class Replied(Message):
        """Something in the tour has been answered."""

        reply: TourReply

    def __init__(self, visit: Visit, leads_on: bool) -> None:
        """Open it; `leads_on` says whether it leads on to a first problem, or back."""
        super().__init__()
        self._visit = visit
        self._leads_on = leads_on
        self._tour: Tour | None = None
        self._first: Opening | None = None
        self._busy = True

    def compose(self) -> ComposeResult:
        """Lay out the problem, what to do, the line, and what is said of it."""
        with Horizontal(id="top"):
            yield Static("A tour of one line", id="heading", markup=False)
            yield Static(id="progress", markup=False)
        with VerticalScroll(id="statement", can_focus=False):
            yield WrappedText("task")
        with Cautioned("tour"):
            yield WrappedText("guide", "Preparing…")
            yield WrappedText("ask")
            with Horizontal(id="pen"):
                yield Static(id="prompt", markup=False)
                yield Field(
                    id="entry", compact=True, select_on_focus=False, max_length=LONGEST_ENTRY
                )
            yield WrappedText("said")
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Prepare beside the screen what takes a moment: the first derivation."""
        self.run_job(self._prepared)

    def on_unmount(self) -> None:
        """Keep that it was shown, however it was left."""
        note_tour()

    @work(thread=True, group="tour")
    def run_job(self, job: Callable[[], Message]) -> None:
        """Do something beside the screen, and post what came of it."""
        self.post_message(job())

    @property
    def line_in_question(self) -> tuple[Question, Step] | None:
        """Return the line that the tour is about, for its terms; None while it is prepared."""
        tour = self._tour
        return None if tour is None else (tour.question, tour.step)

    @property
    def names_now(self) -> Mapping[str, str]:
        """Return the names of keys that change with what is shown."""
        is_at_end = self._tour is not None and self._tour.is_at_end
        leads = "All problems" if self._leads_on else "Back"
        return {"tour.leave": leads if is_at_end else "Skip the tour"}

    def _prepared(self) -> Message:
        """Return the tour, and what it leads to."""
        material = self._visit.material
        card = material.shelf.first if self._leads_on else None
        first, onward = None, _BACK
        if card is not None:
            first = Opening(material.shelf.problems[card.id])
            onward = f"{_KEYS}\nEnter opens a first problem: {card.title}. Esc shows all problems."
        words = TourWords(hint="press F2", onward=onward)
        tour = Tour(material.shelf.problems[PROBLEM], material.catalogue, words)
        return self.Prepared(tour, first)

    @on(Prepared)
    def begin(self, event: Prepared) -> None:
        """Show the problem and the first step."""
        event.stop()
        self._tour, self._first, self._busy = event.tour, event.first, False
        self.query_one("#task", Static).update(event.tour.question.statement)
        self.query_one("#ask", Static).update(event.tour.asks)
        self.query_one("#prompt", Static).update(event.tour.prompt)
        self._paint()

    def _paint(self) -> None:
        tour = self._tour
        if tour is not None:
            self.query_one("#progress", Static).update(tour.place)
            self.query_one("#guide", Static).update(tour.told)
            self.set_class(tour.is_at_end, "-ended")
            self.refresh_bindings()

    @on(Input.Submitted)
    def enter(self, event: Input.Submitted) -> None:
        """Enter the line; at the end, close and go on."""
        event.stop()
        tour = self._tour
        if tour is None or self._busy:
            return
        if tour.is_at_end:
            self.dismiss(self._first)
        else:
            self._attempt(lambda: tour.enter(event.value))

    def action_hint(self) -> None:
        """Give the next hint of the line."""
        tour = self._tour
        if tour is not None and not self._busy:
            self._attempt(tour.hint)

    def _attempt(self, deed: Callable[[], TourReply]) -> None:
        """Have something answered; until it is, nothing else is."""
        self._busy = True
        self.run_job(lambda: self.Replied(deed()))

    @on(Replied)
    def answer(self, event: Replied) -> None:
        """Show what came of it, and what is to be done now."""
        event.stop()
        self._busy = False
        typed = [Content.styled(event.reply.typed, "bold")] if event.reply.typed else []
        said = Content("\n").join([*typed, *map(Content, event.reply.told)])
        self.query_one("#said", Static).update(said)
        entry = self.query_one("#entry", Input)
        if event.reply.moved_on:
            entry.value = ""
        else:
            entry.action_select_all()
        self._paint()

    def action_leave(self) -> None:
        """Leave the tour at once."""
        self.dismiss(None)
