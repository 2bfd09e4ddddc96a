"""The screen of a bench: givens, sheet and paper, and the desk where line after line is entered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events, on, work
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Static

from leverstep.course.problem import Question
from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.mending_told import missing_told
from leverstep.dialogue.pasted_lines import enter_lines
from leverstep.dialogue.replies import DialogueAnswer, Reply, Unkept
from leverstep.dialogue.working_dialogue import Answering
from leverstep.faces.screens.bench_layout import BenchLayout
from leverstep.faces.screens.choice_panel import SKIP, ChoicePanel
from leverstep.faces.screens.desk import Desk, LineField
from leverstep.faces.screens.given_strip import GivenStrip
from leverstep.faces.screens.help import MissingScreen
from leverstep.faces.screens.pane import Scrolled
from leverstep.faces.screens.paper import Paper
from leverstep.faces.screens.room import leaf
from leverstep.faces.screens.side_sheet import Sheet
from leverstep.faces.screens.styles import styles
from leverstep.working.page import key_to_do, within_reach

if TYPE_CHECKING:
    from leverstep.faces.screens.picture_screen import FreeBodyScreen

_NOT_TAKEN = "What you typed behind that answer is not taken: type it again."
"""What is said where an answer waits for the disk."""


class BenchScreen(BenchLayout):
    """One working, from its first line to its last. What it is for is told by its subclasses."""

    CSS = styles("work")
    SCOPED_CSS = False
    AUTO_FOCUS = "#entry"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f2", "attend('hint')", "Hint", id="work.hint",
            tooltip="Show the next hint for this line",
        ),
        Binding(
            "f3", "attend('skip')", "Skip", id="work.skip",
            tooltip="Skip this line for now and go on; come back later",
        ),
        Binding(
            "f5", "turn", "Diagram", id="work.turn",
            tooltip="Show the diagram in place of the statement, or the statement again",
        ),
        Binding(
            "f8", "missing", "Missing", id="work.missing", show=False,
            tooltip="Show what is still to find, and which lines lead there",
        ),
        Binding(
            "pagedown", "look(1)", "More", id="work.down", show=False, priority=True,
            tooltip="Scroll the statement and the hints down",
        ),
        Binding(
            "shift+tab,up", "choose(-1)", "Back", id="work.before", show=False,
            tooltip="Go back to an earlier line to change it",
        ),
        Binding(
            "f4", "choose(0)", "To do", id="work.latest", show=False,
            tooltip="Return to the first line that is still to be done",
        ),
        Binding(
            "pageup", "look(-1)", "Look up", id="work.up", show=False, priority=True,
            tooltip="Scroll the statement and the hints up",
        ),
        Binding(  # which the desk names, as it does the key of the glossary
            "ctrl+r", "calculate", "Calculator", id="work.calculate", show=False, system=True,
            tooltip="Work out arithmetic with the symbols that have a value; it is no entry",
        ),
    ]  # fmt: skip

    @dataclass
    class Answered(Message):
        """Something the student did has been answered."""

        reply: Reply

    def __init__(self, heading: str, question: Question | None, onward: str) -> None:
        super().__init__(heading, question, onward)
        self.busy = False
        self._drawing: FreeBodyScreen | None = None

    @work(thread=True, group="bench")
    def run_job(self, job: Callable[[], Message]) -> None:
        """Do something beside the screen, and post what came of it."""
        self.post_message(job())

    def attempt(self, deed: Callable[[], Reply]) -> None:
        """Have something done. Until it is answered nothing else is."""
        self.busy = True
        self.run_job(lambda: self.Answered(deed()))

    @property
    def answering(self) -> Answering | None:
        """Return what answers the student; None before the start."""
        return self.dialogue

    @on(Desk.Entered)
    def enter(self, event: Desk.Entered) -> None:
        """Have a line checked. While another is being checked the text only stays where it is."""
        event.stop()
        answering, text = self.answering, event.text
        if answering is not None and self.step_at_hand is not None and not self.busy:
            self.attempt(lambda: answering.submit(text))

    def enter_early(self) -> None:
        """Have checked what was entered before the first line was asked for."""
        answering, dialogue, lines = (
            self.answering,
            self.dialogue,
            self.query_one(Desk).take_early(),
        )
        if answering is None or dialogue is None or self.step_at_hand is None or not lines:
            return
        if len(lines) == 1:
            self.attempt(lambda: answering.submit(lines[0]))
        else:
            self.attempt(lambda: enter_lines(answering, dialogue, lines, "typed"))

    @on(LineField.Pasted)
    def enter_pasted(self, event: LineField.Pasted) -> None:
        """Have lines checked that were pasted, one after the other."""
        event.stop()
        answering, dialogue, lines = self.answering, self.dialogue, event.lines
        if answering is None or dialogue is None or self.step_at_hand is None or self.busy:
            return
        self.attempt(lambda: enter_lines(answering, dialogue, lines))

    @on(ChoicePanel.Typed)
    def take_typed(self) -> None:
        """Have taken what was typed at the questions: one answer, or all behind the last one.

        That goes to where lines are written. What comes of an answer leads here again.
        """
        answering, panel = self.answering, self.query_one(ChoicePanel)
        if answering is None or self.busy or not self.is_current:
            return
        if self.question is not None:
            number = panel.take_choice()
            if number is not None:
                self.attempt(lambda: answering.choose(number))
            return
        typed = panel.take_typed()
        if self.step_at_hand is not None:  # at the end nothing is written
            for key in typed:
                self.app.post_message(key)

    @on(Answered)
    def answer(self, event: Answered) -> None:
        """Go on from what came of something; at a picture that is shown there."""
        event.stop()
        self.busy = False
        if isinstance(event.reply, Unkept) and self.query_one(ChoicePanel).take_typed():
            self.notify(_NOT_TAKEN, markup=False)  # what waits for the disk comes first
        self.take(event.reply)
        if self._drawing is not None and self._drawing in self.app.screen_stack:
            self._drawing.take(event.reply)

    def draw_first(self) -> None:
        """Have the free-body diagram drawn that comes before the line at hand, if any."""
        dialogue, answering = self.dialogue, self.answering
        if dialogue is None or answering is None or dialogue.picture is None:
            return
        if self.app.screen is not self:
            return

        def attempt(deed: Callable[[], DialogueAnswer]) -> bool:
            if is_free := not self.busy:
                self.attempt(lambda: answering.draw(deed))
            return is_free

        def left(how: str | None) -> None:
            self._drawing = None
            self.leave_picture(how or "")

        from leverstep.faces.screens.picture_screen import FreeBodyScreen  # light until it is asked

        heading = str(self.query_one("#heading", Static).content)
        self._drawing = FreeBodyScreen(
            heading, dialogue, attempt, self.picture_progress, self.picture_ways
        )
        self.app.push_screen(self._drawing, left)

    @property
    def picture_ways(self) -> frozenset[str]:
        """Return where a picture may be left for, besides away from here: nowhere."""
        return frozenset()

    def picture_progress(self) -> str:
        """Return what stands at the top while a picture is drawn."""
        return "" if self.bench is None else f"numbers {self.bench.question.seed}"

    def leave_picture(self, how: str) -> None:
        """Go on where a picture was left: to the lines, or home."""
        if how == "leave":
            self.call_later(self.run_action, "app.home")
        else:
            self.paint()

    def take(self, reply: Reply) -> None:
        """Show what came of something; a line that is done gives way to the next one."""
        if isinstance(reply, DialogueAnswer):
            self.query_one(Desk).take(reply)
        self.paint()

    def paint(self) -> None:
        """Show how everything stands."""
        dialogue = self.dialogue
        if dialogue is None:
            self.share()
            return
        asked, question = dialogue.asked, dialogue.question
        self.set_class(asked is None, "-ended")
        self._turn_to(question)
        self.query_one(GivenStrip).show(dialogue.working.question)
        key = self.key_shown if question is None else dialogue.reading
        self.query_one(Sheet).take(dialogue.working, key)
        self.tell_progress(dialogue)
        if question is not None:
            self.share()
        elif asked is None:
            self.query_one(Desk).rest()
            self.close(dialogue)
            self.share()
        else:
            self.ask_for(asked)
            self.query_one(Desk).tell_mark(line_mark(dialogue.working, asked.key))
            self.remark(dialogue)
        self.write_lines(dialogue)
        self.offer()
        self.take_typed()
        if dialogue.picture is not None:
            self.call_after_refresh(self.draw_first)

    @property
    def key_for_hint(self) -> str:
        """Return the line that a hint is asked for, "" to leave that to the dialogue."""
        return ""

    @property
    def typed(self) -> str:
        """Return what is typed and not entered yet."""
        return self.query_one(Desk).entry.value

    def action_attend(self, what: str) -> None:
        """Show the next hint for the line at hand ("hint"), or skip the line ("skip").

        Where a question is asked, that is what is skipped.
        """
        answering = self.answering
        if self.question is not None:
            self.query_one(ChoicePanel).press(events.Key(SKIP, None))
            return
        if answering is not None and self.step_at_hand is not None and not self.busy:
            key = self.key_for_hint
            self.attempt(answering.skip if what == "skip" else lambda: answering.hint(key))

    def action_choose(self, way: int) -> None:
        """Go to the line before (-1), after (1), or the first still to be done (0)."""
        if self.dialogue is not None and not self.busy:
            self.dialogue.go(way)
            self.paint()

    @on(Paper.Picked)
    def choose_picked(self, event: Paper.Picked) -> None:
        """Go to the line that was clicked, if the keys lead there too."""
        event.stop()
        if self.dialogue is None or self.busy:
            return
        working = self.dialogue.working
        if event.key in within_reach(working):
            self.dialogue.go_to("" if event.key == key_to_do(working) else event.key)
            self.paint()

    def action_turn(self) -> None:
        """Turn the sheet from statement to diagram, or back."""
        self.query_one(Sheet).turn()
        self.share()
        self.refresh_bindings()

    def action_missing(self) -> None:
        """Show what is still to find, and which lines lead there."""
        if self.bench is not None:
            self.app.push_screen(MissingScreen(missing_told(self.bench)))

    def action_look(self, way: int) -> None:
        """Scroll what may be longer than its room: the statement and what is said of a line."""
        for pane in self.query(Scrolled):
            leaf(pane, way)
        if self.dialogue is not None and self.dialogue.introduced:
            leaf(self.query_one(Paper), way)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        ended = self.bench is not None and self.step_at_hand is None
        if self.question is not None and action in ("attend", "choose"):
            return parameters == ("skip",)
        if action == "attend":
            no_hints = self.bench is not None and not self.bench.working.rules.hints
            return not ended and not (no_hints and parameters == ("hint",))
        if action == "missing":
            return self._offered[2] and not ended
        if action == "turn":
            sheet = self.query_one_optional(Sheet)
            is_other = sheet is None or sheet.has_picture or self.question is not None
            return not self._offered[1] and is_other
        return super().check_action(action, parameters)
