"""How a working is laid out on the screen: the givens, the sheet, the desk, and their rows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from leverstep.bench.bench import Bench
from leverstep.course.problem import Question
from leverstep.dialogue.replies import Asked
from leverstep.dialogue.working_dialogue import NOT_SAVED, WorkingDialogue
from leverstep.faces.screens.aided import AidedScreen
from leverstep.faces.screens.choice_panel import ChoicePanel
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.desk import Desk, after_prompt, keys_there_are, remarks, warning_of
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.given_strip import GivenStrip
from leverstep.faces.screens.help import WRITING, on_working
from leverstep.faces.screens.paper import Paper
from leverstep.faces.screens.room import Needs, TooSmall, shared
from leverstep.faces.screens.side_sheet import Sheet
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.statics.step import Step
from leverstep.working.page import line_name

_EDGE = 2
"""Columns beside a text that goes across the screen."""

_LINES_OF_OTHER = 9
"""Rows of a working that somebody else wrote, in which something is looked for."""

_LITTLE_SAID = 2
"""Rows of what is said as long as nothing is wrong, at most."""

_TOP, _RULE, _KEYS = 1, 1, 1
"""Rows of the heading, of the rule with the caution, and of the keys."""


class BenchLayout(AidedScreen):
    """What is shown of one working at its bench; what is done there is told by its subclass."""

    def __init__(self, heading: str, question: Question | None, onward: str) -> None:
        super().__init__()
        self.dialogue: WorkingDialogue | None = None
        self._heading = heading
        self._question = question
        self._onward = onward
        self._offered = (False,) * 6

    def compose(self) -> ComposeResult:
        """Lay out the givens, the sheet with the working, and the desk beneath."""
        with Horizontal(id="top"):
            yield Static(self._heading, id="heading", markup=False)
            yield Static(id="progress", markup=False)
        yield GivenStrip()
        yield Sheet(self._question, Paper(), *self.compose_page())
        yield Desk()
        yield ChoicePanel()
        yield Closing(self._onward)
        yield KeyLine()
        yield TooSmall()

    def compose_page(self) -> Iterable[Widget]:
        """Return what may stand in the place of the paper; nothing here."""
        return ()

    @property
    def least_worked(self) -> int:
        """Return the rows that the working keeps while the statement is shown."""
        return _LINES_OF_OTHER if self.dialogue is not None and self.dialogue.introduced else 2

    @property
    def bench(self) -> Bench | None:
        """Return the bench that is worked at; None before the start."""
        return None if self.dialogue is None else self.dialogue.bench

    @property
    def step_at_hand(self) -> Step | None:
        """Return the step that the student is at; None at the end, or before the start."""
        return None if self.dialogue is None else self.dialogue.at_hand

    @property
    def question(self) -> ChoiceQuestion | None:
        """Return the question that stands in the place of the desk; None where none is asked."""
        return None if self.dialogue is None else self.dialogue.question

    @property
    def key_shown(self) -> str:
        """Return the key of the line that stands out in the diagram, "" for none."""
        return "" if self.dialogue is None else self.dialogue.key_at_hand

    def focus_field(self) -> None:
        """Give the focus to where lines are written."""
        self.query_one(Desk).entry.focus()

    def share(self) -> None:
        """Share out the rows."""
        sheet, desk, width = self.query_one(Sheet), self.query_one(Desk), self.size.width - _EDGE
        around = _TOP + _RULE + _KEYS + len(self.query_one(GivenStrip).rows(width))
        if self.has_class("-asking"):
            rows, said = self.size.height - around, 0
            asked = self.query_one(ChoicePanel).needs(width)
        elif self.has_class("-ended"):
            rows, said, asked = sheet.size.height, 0, 0
        else:
            rows = self.size.height - around - desk.field_rows
            said, asked = desk.needs(width)
        needs = Needs(sheet.needs(width), said, asked, self.least_worked)
        is_stated = self.has_class("-asking") and sheet.is_statement_chosen
        shares = shared(rows, needs, sheet.wants_picture, sheet.has_picture, is_stated)
        sheet.share(shares, width)
        at_once = 0
        if shares.is_drawn and shares.statement:
            at_once = shares.worked + shares.said - _LITTLE_SAID
        columns = self.size.width - sheet.picture_columns
        self.query_one(Paper).take(columns, shares.worked, at_once)
        desk.share(shares.said, width)

    @on(Sheet.Resized)
    def share_what_is_left(self, event: Sheet.Resized) -> None:
        """At the end share out what the closing panel has left of the rows."""
        event.stop()
        if self.has_class("-ended") and not self.has_class("-asking"):
            self.share()
            self.offer()

    @property
    def names_now(self) -> Mapping[str, str]:
        """Return the names of keys that change with what is shown."""
        sheet = self.query_one_optional(Sheet)
        return {} if sheet is None else {"work.turn": sheet.turns_to}

    def on_resize(self) -> None:
        """Share out the rows of the new size, and offer what fits it."""
        if self.is_mounted:
            self.share()
            self.offer()

    def offer(self) -> None:
        """Have the keys offered that can be used now."""
        bench = self.bench
        is_free = bench is not None and bench.working.guidance.free
        sheet, is_ended = self.query_one(Sheet), self.step_at_hand is None
        has_no_choice = sheet.shows_all or (is_ended and sheet.shows_none)
        now = (
            is_ended, has_no_choice, is_free, self.may_calculate, sheet.wants_picture,
            self.question is not None,
        )  # fmt: skip
        if now != self._offered:
            self._offered = now
            self.refresh_bindings()

    def _turn_to(self, question: ChoiceQuestion | None) -> None:
        """Have the panel of a question in the place of the desk, or the desk again."""
        was_asked, panel, dialogue = (
            self.has_class("-asking"),
            self.query_one(ChoicePanel),
            self.dialogue,
        )
        self.set_class(question is not None, "-asking")
        if question is not None and dialogue is not None:
            told = list(self.warnings(dialogue))
            if dialogue.latest is not None and dialogue.latest.told:
                told.append(Content(dialogue.latest.told))
            elif dialogue.is_finding:
                told.append(Content(dialogue.introduced))
            panel.put(question, dialogue.question_place, told, self.size.width - _EDGE)
            panel.focus()
        elif was_asked:
            self.focus_field()  # before the keys that were typed ahead

    def write_lines(self, dialogue: WorkingDialogue) -> None:
        """Show the lines of the working."""
        shown = dialogue.lines_shown
        self.query_one(Paper).write(dialogue.working, dialogue.here, dialogue.in_sight, shown)

    def ask_for(self, asked: Asked) -> None:
        """Ask for a line, with the symbols of this working and what was typed there before."""
        desk = self.query_one(Desk)
        if self.dialogue is not None:
            desk.entry.symbols = self.dialogue.working.symbols
            typed = (after_prompt(text, asked) for text in self.dialogue.earlier_entries)
            desk.entry.earlier.offer(tuple(dict.fromkeys(typed)))
        desk.ask_for(asked)

    def close(self, dialogue: WorkingDialogue) -> None:
        """Show how the working ended."""
        self.query_one(Closing).tell(dialogue, self.warnings(dialogue), dialogue.latest)

    def remark(self, dialogue: WorkingDialogue) -> None:
        """Say what there is to say of what is at hand, or else which keys there are."""
        keys = f"{self.keys_told(dialogue)}\n{self.aids_told}"
        parts = self.remarks(dialogue) or [Content.styled(keys, "$quiet")]
        is_hint = dialogue.latest is not None and dialogue.latest.hint is not None
        self.query_one(Desk).say([*self.warnings(dialogue), *parts], is_last_new=is_hint)
        self.share()

    def remarks(self, dialogue: WorkingDialogue) -> list[Content]:
        """Return what there is to say of what is at hand."""
        key, at_hand = dialogue.hinted, dialogue.at_hand
        name = line_name(dialogue.working.step(key))
        asked = "" if dialogue.is_free or at_hand is None else line_name(at_hand)
        return remarks(
            dialogue.latest,
            dialogue.wrong_told(key),
            dialogue.hints_told.in_sight(key, dialogue.latest),
            name,
            asked,
        )

    def keys_told(self, dialogue: WorkingDialogue) -> str:
        """Return which keys there are to go on with."""
        return keys_there_are(dialogue)

    def tell_progress(self, dialogue: WorkingDialogue) -> None:
        """Show in the top line how far the student is."""
        self.show_progress(dialogue.progress)

    def show_progress(self, told: str) -> None:
        """Show something at the right of the top line, which leaves the heading all the rest."""
        progress = self.query_one("#progress", Static)
        before = str(progress.content)
        if told != before:
            progress.update(told, layout=len(told) != len(before))

    def warnings(self, dialogue: WorkingDialogue) -> Iterable[Content]:
        """Return what must be said whatever else is: that something is not kept."""
        if dialogue.unsaved:
            yield warning_of(NOT_SAVED, dialogue.bench.trouble)

    @property
    def help_text(self) -> str:
        """Return what there is to know of a working beside its keys."""
        if self.dialogue is None:
            return WRITING
        return on_working(self.dialogue.working)
