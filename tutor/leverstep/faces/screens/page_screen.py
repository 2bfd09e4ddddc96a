"""A bench whose blank sheet is a page: a line is entered when the cursor leaves it changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from textual import events, on
from textual.content import Content
from textual.widget import Widget
from textual.widgets import TextArea

from leverstep.course.problem import Question
from leverstep.dialogue.free_page import FreePage
from leverstep.dialogue.replies import Asked, Reply, Way
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.screens.bench_screen import BenchScreen
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.desk import WAYS, Desk, remarks
from leverstep.faces.screens.page_editor import PageEditor
from leverstep.faces.screens.side_sheet import Sheet
from leverstep.working.guidance import Guidance
from leverstep.working.page import line_name
from leverstep.working.rules import Rules

_WAYS = {**WAYS, Way.BACK: "Write it whenever you like."}
"""What is said of how to go on from an answer, where no line need be gone to."""


_MOST_KEPT = 6
"""Rows that a page keeps at most while the statement is shown."""


class PageScreen(BenchScreen):
    """A bench where, on a blank sheet, the page stands in the place of paper and field."""

    def __init__(self, heading: str, question: Question | None, onward: str) -> None:
        super().__init__(heading, question, onward)
        self._pages: dict[WorkingDialogue, FreePage] = {}
        self._shown: FreePage | None = None
        self._then: Callable[[], None] | None = None

    def compose_page(self) -> Iterable[Widget]:
        """Return the page; it is shown on a blank sheet alone."""
        return (PageEditor(),)

    @property
    def least_worked(self) -> int:
        """Return the rows that the working keeps: those of a page, and a few to write on.

        At the end nothing has to be written: a statement that is chosen has its rows then.
        """
        page, sheet = self.page, self.query_one(Sheet)
        if page is None or (self.step_at_hand is None and sheet.is_statement_chosen):
            return super().least_worked
        return min(_MOST_KEPT, len(page.texts) + 2)

    @property
    def page(self) -> FreePage | None:
        """Return the page of the working at hand; None where it is no blank sheet."""
        dialogue = self.dialogue
        if dialogue is None or dialogue.working.guidance is not Guidance.BLANK:
            return None
        if dialogue not in self._pages:
            self._pages[dialogue] = self.new_page(dialogue)
        return self._pages[dialogue]

    def new_page(self, dialogue: WorkingDialogue) -> FreePage:
        """Return the page of a working that is opened for the first time."""
        return FreePage(dialogue)

    @property
    def editor(self) -> PageEditor:
        """Return what the page is written in."""
        return self.query_one(PageEditor)

    @on(TextArea.Changed)
    @on(TextArea.SelectionChanged)
    @on(events.DescendantFocus, "PageEditor")
    @on(events.DescendantBlur, "PageEditor")
    def follow(self, event: events.Event | TextArea.Changed | TextArea.SelectionChanged) -> None:
        """Follow what is written, and where the cursor is."""
        event.stop()
        if self.page is not None and self._shown is self.page:
            is_elsewhere = self.focused not in (None, self.editor)
            self._follow(self.page, None if is_elsewhere else self.editor.row)

    def _follow(self, page: FreePage, row: int | None) -> None:
        """Take the page as it is written, and have entered what was left."""
        moved = page.write(self.editor.lines, row)
        if moved and page.waits:
            self.try_again()
        self.enter_left()
        if moved:
            self.paint()
        self.editor.show_marks(page.marks)

    def enter_left(self) -> None:
        """Have the next line entered that was left; or do what was to be done after the last."""
        page, answering = self.page, self.answering
        if page is None or answering is None or self.busy:
            return
        text = page.next_due()
        if text is not None:
            self.attempt(lambda: answering.enter(text))
        elif self._then is not None:
            then, self._then = self._then, None
            then()

    def leave_line(self, then: Callable[[], None]) -> None:
        """Do something for which the line at the cursor is left, once that is entered.

        Nothing is done while the student waits for something else.
        """
        page = self.page
        if page is None:
            then()
        elif page.enters or not self.busy:
            self._then = then
            self._follow(page, None)

    def enter_rest(self) -> None:
        """Enter what is left at the very end, where nothing is shown any more; this writes."""
        page, answering = self.page, self.answering
        if page is None or answering is None or self.busy:
            return
        page.write(page.texts, None)
        while (text := page.next_due()) is not None:
            page.take(answering.enter(text))

    def try_again(self) -> None:
        """Try again what could not be written; where nothing waits there is nothing to do."""

    @property
    def typed(self) -> str:
        """Return the text that waits to be entered."""
        return super().typed if self.page is None else self.page.waiting

    @on(PageEditor.Refused)
    def tell_refused(self, event: PageEditor.Refused) -> None:
        """Say why something was not taken."""
        event.stop()
        if self.dialogue is not None:
            self.dialogue.say(event.told)
            self.paint()

    def focus_field(self) -> None:
        """Give the focus to where lines are written: on a page, to the page."""
        if self.page is None:
            super().focus_field()
        else:
            self.editor.focus()

    def put_in(self, text: str) -> None:
        """Put a text into the line that is typed, on a page at its cursor."""
        if self.page is None:
            super().put_in(text)
        else:
            self.editor.insert(text)
            self.editor.focus()

    def take(self, reply: Reply) -> None:
        """Show what came of something, and go on with the next line that was left."""
        page = self.page
        if page is not None:
            page.take(reply)
        super().take(reply)
        self.enter_left()

    def write_lines(self, dialogue: WorkingDialogue) -> None:
        """Show the page, or the paper where every line or some are asked for."""
        page = self.page
        if page is None:
            super().write_lines(dialogue)
            return
        if page is not self._shown:
            self._open(page)
        self.editor.show_marks(page.marks)

    def _open(self, page: FreePage) -> None:
        """Show another page, with what was typed before there was one."""
        is_first, self._shown = self._shown is None, page
        self.set_class(True, "-page")
        self.editor.turn_to(page.opened())
        if is_first:
            if typed := self.query_one(Desk).make_way():
                self.editor.insert(typed)
            self.share()  # the row of the field is free now
            self.call_after_refresh(self.editor.focus)

    @property
    def key_shown(self) -> str:
        """Return the key of the line that the cursor is on, or else of the line at hand."""
        return (self.page.key if self.page else "") or super().key_shown

    @property
    def key_for_hint(self) -> str:
        """Return the line that a hint is for: that at the cursor while it is not right."""
        return self.page.key_to_mend if self.page else super().key_for_hint

    def ask_for(self, asked: Asked) -> None:
        """Ask for a line; on a page nothing but words is needed for that."""
        if self.page is None:
            super().ask_for(asked)
        else:
            self.query_one(Desk).tell_asked(asked)

    def close(self, dialogue: WorkingDialogue) -> None:
        """Show how the working ended, and what is told of the page, which can still be changed."""
        if self.page is None:
            super().close(dialogue)
        else:
            told = [*self.warnings(dialogue), *self.remarks(dialogue)]
            self.query_one(Closing).tell(dialogue, told, None)

    def remarks(self, dialogue: WorkingDialogue) -> list[Content]:
        """Return what there is to say of the line that was left last, or that at the cursor."""
        page = self.page
        if page is None:
            return super().remarks(dialogue)
        key = page.key_to_mend or dialogue.hinted
        name = line_name(dialogue.working.step(key)) if key else ""
        hints = dialogue.hints_told.in_sight(key, dialogue.latest) if key and dialogue.asked else ()
        parts = remarks(page.told, dialogue.wrong_told(key), hints, name, "", _WAYS)
        return [*parts, Content(page.off_page)] if page.off_page else parts

    def keys_told(self, dialogue: WorkingDialogue) -> str:
        """Return which keys there are to go on with."""
        told = super().keys_told(dialogue)
        return told if self.page is None else _keys(dialogue.working.rules)

    def action_choose(self, way: int) -> None:
        """Go to another line; on a page, back to it (-1), or to its end for the next one (0)."""
        page, dialogue = self.page, self.dialogue
        if page is None or dialogue is None:
            super().action_choose(way)
            return
        self.editor.focus()
        if way:
            return
        self.editor.action_to_end()
        if told := dialogue.come_round():
            dialogue.say(told)
            self.paint()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now; a page has ways of its own from line to line."""
        if self.page is not None and action == "choose" and parameters != (0,):
            return parameters == (-1,) and self.focused is not self.editor
        return super().check_action(action, parameters)


def _keys(rules: Rules) -> str:
    """Return which keys there are where nothing else is to be said."""
    does = "checks" if rules.tells else "saves"
    hint = " · F2 gives a hint" if rules.hints else ""
    return f"Enter, or leaving a line, {does} it{hint} · F8 what is missing"
