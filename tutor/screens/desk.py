"""The desk at the foot of the screen: what is asked, the entry, and what is said of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from tutor.course.problem import Question
from tutor.screens.marks import MARKS, Mark
from tutor.screens.sitting import News, prompt_of
from tutor.statics.step import Step
from tutor.working.tokens import LONGEST_ENTRY
from tutor.working.verdict import Outcome
from tutor.working.wording import ask, example

_INK = {"-ok": "$success bold", "-wrong": "$warning bold", "-left": "$secondary bold"}


class Desk(Vertical):
    """Where the student writes. It keeps what is typed at each line until it is right."""

    @dataclass
    class Entered(Message):
        """A line has been entered."""

        text: str

    def __init__(self) -> None:
        super().__init__()
        self._step: Step | None = None
        self._settled = False
        self._drafts: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """Lay out question, entry and answer."""
        yield Static("One moment: the lines are being set out …", id="ask", markup=False)
        with Horizontal(id="pen"):
            yield Static(id="prompt", markup=False)
            yield Input(id="entry", compact=True, select_on_focus=False, max_length=LONGEST_ENTRY)
        with VerticalScroll(id="answer", can_focus=False):
            yield Static(id="said", markup=False)

    @property
    def entry(self) -> Input:
        """Return the field that is typed into."""
        return self.query_one("#entry", Input)

    @on(Input.Submitted)
    def pass_on(self, event: Input.Submitted) -> None:
        """Pass an entry on, unless there is nothing in it."""
        event.stop()
        if event.value.strip():
            self.post_message(self.Entered(event.value))

    def ask_for(self, question: Question, step: Step, standing: str) -> None:
        """Ask for a step. Its last text comes back: as typed before, or as it stands."""
        if self._step is step:
            return
        typed_ahead = self.entry.value if self._step is None or self._settled else ""
        if not typed_ahead:
            self._put_by()
        self._settled = False
        self._step = step
        self.query_one("#ask", Static).update(f"{ask(question, step)}.")
        self.query_one("#prompt", Static).update(prompt_of(step))
        self.entry.placeholder = f"for example {example(step)}"
        kept = self._drafts.pop(step.key, "") or standing
        self.entry.value = kept or typed_ahead
        self.entry.cursor_position = len(self.entry.value)
        if kept:
            self.entry.action_select_all()
        if not self.entry.has_focus:
            self.call_after_refresh(self.entry.focus)

    def rest(self) -> None:
        """Ask for nothing, at the end of a working."""
        self._put_by()
        self._step, self.entry.value = None, ""

    def give_up(self, why: Iterable[Content]) -> None:
        """Say that there is nothing to ask for."""
        self.query_one("#ask", Static).update("This working can't be opened. Esc leads back.")
        self.say(why)

    def _put_by(self) -> None:
        """Keep what is typed at this line for when it is come back to."""
        if self._step is not None and self.entry.value:
            self._drafts[self._step.key] = self.entry.value

    def answered(self, news: News) -> None:
        """Take an entry that is right out of the field; any other is typed over, or mended."""
        verdict = news.verdict
        if verdict is None:
            return
        # What was typed while a right line was checked is meant for the next one.
        self._settled = verdict.settled
        if self.entry.value != verdict.text:
            return
        if verdict.settled:
            self.entry.value = ""
        else:
            self.entry.action_select_all()

    def say(self, parts: Iterable[Content]) -> None:
        """Show what is said of the line, one part under the other."""
        shown = list(parts)
        self.query_one("#said", Static).update(Content("\n").join(shown))
        answer = self.query_one("#answer", VerticalScroll)
        answer.call_after_refresh(answer.scroll_home, animate=False)


def remarks(step: Step, news: News | None, told: str, hints: tuple[str, ...]) -> list[Content]:
    """Return what is to be said at a line: the verdict, what else changed, and the hints."""
    parts: list[Content] = []
    if news is not None and news.verdict is not None:
        parts.append(_verdict(MARKS[news.verdict.outcome], news, step))
    elif news is not None and news.told:
        parts.append(Content(news.told))
    elif told:
        parts.append(_verdict(MARKS[Outcome.WRONG], News(step.key, told=told), step))
    if news is not None and news.changed:
        parts.append(Content(news.changed))
    numbered = list(enumerate(hints, start=1))
    for number, hint in reversed(numbered):
        parts.append(Content.assemble((f"Hint {number}  ", "$primary bold"), hint))
    if not parts:
        parts.append(
            Content.styled(
                "Enter checks the line · F2 gives a hint · ↑ ↓ other lines · F4 line to be done",
                "$foreground 60%",
            )
        )
    return parts


def unsaved(trouble: str) -> list[Content]:
    """Return the warning that nothing can be kept, with the reason, if there is one."""
    return [Content.assemble(("Not saved: ", "$warning bold"), trouble)] if trouble else []


def _verdict(mark: Mark, news: News, step: Step) -> Content:
    name = "" if news.key == step.key else f"{news.key}: "
    head = (f"{mark.sign} ", _INK[mark.style])
    return Content.assemble(head, name, news.told)
