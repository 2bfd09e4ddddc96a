"""The board on the full screen: a worked solution, line by line, for the back of a room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Digits, Input, Static

from leverstep.course.faults import FileError
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.dialogue.replies import MARK_OF
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.faces.openings import refuse_any_numbers
from leverstep.faces.screens.caution import Caution, Cautioned
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.side_sheet import Diagram
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.visit import Visit
from leverstep.working.verdict import Outcome

if TYPE_CHECKING:
    from leverstep.board.board import Board, BoardLine


_FIELDS = {
    "say": ("The class says:", "as a student would type it"),
    "change": ("Given:", "its symbol, and its new value"),
}
"""What stands before the field, and in it while it is empty, by what it is for."""


class BoardScreen(Screen[None]):
    """Shows one line more or less at a key, with its reason, and judges what a class says."""

    CSS = styles("board")
    SCOPED_CSS = False
    AUTO_FOCUS = ""
    help_text = """\
Before a class
  The next line is asked for at the foot: let the class say it first.
  What the class says is judged as a student's entry would be; a wrong one
  gets a likely explanation. Nothing is kept."""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "right,space,pagedown,enter", "turn(1)", "Next", id="board.next",
            key_display="→", tooltip="Show the next line; Space, Enter and PgDn do too",
        ),
        Binding(
            "left,pageup,backspace", "turn(-1)", "Back", id="board.before",
            key_display="←", tooltip="Take the last line away; PgUp does too",
        ),
        Binding(
            "f2", "listen('say')", "Answer", id="board.judge",
            tooltip="Type what the class says for the next line, to have it judged",
        ),
        Binding(
            "f3", "listen('change')", "Change", id="board.change",
            tooltip="Change a given on the spot; all lines are updated",
        ),
        Binding(
            "f5", "statement", "Statement", id="board.statement",
            tooltip="Show the statement in place of the diagram, or the diagram again",
        ),
        Binding(
            "home", "turn(-10000)", "From the start", id="board.first", show=False,
            tooltip="Take all lines away",
        ),
        Binding(
            "end", "turn(10000)", "To the end", id="board.last", show=False,
            tooltip="Show all lines",
        ),
        Binding(
            "up", "scroll(-1)", "Scroll up", id="board.up", show=False,
            tooltip="Read the lines above",
        ),
        Binding(
            "down", "scroll(1)", "Scroll down", id="board.down", show=False,
            tooltip="Read the lines below",
        ),
        Binding(
            "escape", "leave", "Close", id="board.home",
            tooltip="Close the field, or go back to the problems",
        ),
    ]  # fmt: skip

    @dataclass
    class Ready(Message):
        """The lines are worked out."""

        board: Board

    @dataclass
    class Refused(Message):
        """They are not worked out: why."""

        told: str

    def __init__(self, question: Question, visit: Visit, slips_to_find: int = 0) -> None:
        super().__init__()
        self._slips_to_find = slips_to_find
        self._question = question
        self._visit = visit
        self._wish = ""
        self.board: Board | None = None

    def compose(self) -> ComposeResult:
        """Lay out the picture above, the lines beneath, and the line at hand in large numbers."""
        problem = self._question.problem
        yield Static(f"{problem.title} · numbers {self._question.seed}", id="title", markup=False)
        with VerticalScroll(id="task", can_focus=False):
            yield Static(self._question.statement, id="statement", markup=False)
            yield Caution()
        yield Diagram()
        with Cautioned("board"):
            with VerticalScroll(id="earlier", can_focus=False):
                yield Static(id="lines", markup=False)
            yield Static(id="line", markup=False)
            yield Digits(id="value")
            yield Static(id="reason", markup=False)
            yield Static(id="next", markup=False)
            with Horizontal(id="pen"):
                yield Static(id="label", markup=False)
                yield Field(
                    id="field", compact=True, select_on_focus=False, max_length=LONGEST_ENTRY
                )
            yield Static(id="said", markup=False)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Begin with the statement, while the lines are being worked out."""
        self.add_class("-statement")
        self.query_one("#next", Static).update("One moment: the lines are being worked out …")
        self.work_out()

    @work(thread=True, group="board")
    def work_out(self) -> None:
        """Work the lines out beside the screen."""
        from leverstep.board.board import Board
        from leverstep.erroneous.slipped_board import SlippedBoard

        question, catalogue = self._question, self._visit.material.catalogue
        slips = self._slips_to_find
        try:
            refuse_any_numbers(question.problem, self._visit.material.shelf)
        except FileError as error:
            self.post_message(self.Refused(str(error)))
            return
        board = SlippedBoard(question, catalogue, slips) if slips else Board(question, catalogue)
        self.post_message(self.Ready(board))

    @on(Ready)
    def begin(self, event: Ready) -> None:
        """Show the first question to the class."""
        event.stop()
        self.board = event.board
        self.paint()

    @on(Refused)
    def refuse(self, event: Refused) -> None:
        """Say why nothing is shown."""
        event.stop()
        self.query_one("#next", Static).update(event.told)

    def paint(self) -> None:
        """Show how the board stands."""
        board = self.board
        if board is None:
            return
        lines, coming = board.lines, board.next_line
        *earlier, last = lines or (None,)
        self.query_one("#lines", Static).update("\n".join(one.worked for one in earlier if one))
        self.query_one("#earlier", VerticalScroll).scroll_end(animate=False)
        self._show_last(last)
        changed = ", some changed" if board.changed else ""
        title = f"{board.question.problem.title} · numbers {board.question.seed}{changed}"
        self.query_one("#title", Static).update(title)
        place = f"{board.shown} of {board.count} lines"
        self.query_one("#next", Static).update(f"{board.asks} ({place})")
        self.query_one("#statement", Static).update(board.question.statement)
        at_hand = coming if self._wish == "say" and coming else last
        key = "" if at_hand is None else at_hand.key
        self.query_one(Diagram).draw(board.question, key, board.found)

    def _show_last(self, last: BoardLine | None) -> None:
        """Show the line at hand: as it is written, its value in large numbers, and its reason."""
        self.query_one("#line", Static).update("" if last is None else last.worked)
        self.query_one("#value", Digits).update("" if last is None else last.value)
        reason = "" if last is None else f"{last.reason} {last.note}".rstrip()
        self.query_one("#reason", Static).update(reason)

    def action_turn(self, by: int) -> None:
        """Show so many lines more, or fewer; the first leads from the statement to the picture."""
        if self.board is None:
            return
        self.remove_class("-statement")
        self.query_one("#said", Static).update("")
        self.board.show(self.board.shown + by)
        self.paint()

    def action_scroll(self, by: int) -> None:
        """Scroll the lines, or the statement while that is shown."""
        where = "#task" if self.has_class("-statement") else "#earlier"
        self.query_one(where, VerticalScroll).scroll_relative(y=by, animate=False)

    def action_statement(self) -> None:
        """Turn from the picture to the statement, or back."""
        self.toggle_class("-statement")

    def action_listen(self, wish: str) -> None:
        """Open the field: for what the class says, or for a given that is to change."""
        if self.board is None:
            return
        self._wish = wish
        self.add_class("-listening")
        self.query_one("#said", Static).update(self._prompt(self.board))
        field = self.query_one("#field", Input)
        field.value = ""
        label, wanted = _FIELDS[wish]
        self.query_one("#label", Static).update(label)
        field.placeholder = wanted
        field.focus()
        self.paint()

    def _prompt(self, board: Board) -> str:
        if self._wish == "say":
            return "Enter judges it; Esc closes the field."
        named = [(given, board.question.written(given)) for given in board.givens]
        givens = ", ".join(f"{sign_of(given.sign)} {written}" for given, written in named)
        return f"For example {sign_of(named[0][0].sign)} = {named[0][1]}. The givens: {givens}."

    @on(Input.Submitted)
    def take(self, event: Input.Submitted) -> None:
        """Judge what the class says, or change a given."""
        event.stop()
        text = event.value.strip()
        if self.board is None or not text:
            return
        said = self.query_one("#said", Static)
        if self._wish == "say":
            verdict, told = self.board.judge(text)
            mark = MARKS[MARK_OF[verdict.outcome]]
            said.update(Content(f"{mark.sign} {told}"))
            if verdict.outcome is Outcome.RIGHT:
                self.close_field()
            return
        try:
            self.board.change(text)
        except ValueError as error:
            said.update(f"Not changed: {error}.")
            return
        self.close_field()
        said.update("Changed: all lines are updated.")
        self.paint()

    def close_field(self) -> None:
        """Close the field; the keys turn lines again."""
        self._wish = ""
        self.remove_class("-listening")
        self.set_focus(None)

    def action_leave(self) -> None:
        """Close the field, or else go back to the problems."""
        if self.has_class("-listening"):
            self.close_field()
            self.query_one("#said", Static).update("")
        else:
            self.app.pop_screen()
