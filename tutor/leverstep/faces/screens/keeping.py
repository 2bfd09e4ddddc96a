"""A bench of a sitting: what is not on the disk is not judged, and is tried again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.timer import Timer

from leverstep.bench.bench import Bench
from leverstep.bench.record import ChangedOutside, NeverKept, RecordError
from leverstep.course.phrases import sentence
from leverstep.course.problem import Question
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.asides import FolderScreen
from leverstep.faces.screens.bench_screen import BenchScreen
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.news import News
from leverstep.working.page import line_name

AGAIN = 5.0
"""Seconds until a line that could not be written is tried again."""

_ELSEWHERE = (
    "this sitting was continued outside this window, perhaps in a second one. Close this window "
    "with Ctrl+Q and go on in the other. If there is none: Esc, Esc, then F2 to come back."
)


class KeepingScreen(BenchScreen):
    """What could not be written stays in the field and waits until a disk takes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "ctrl+o", "folder", "Folder", id="drill.folder", show=False,
            tooltip="Go on with the record in another folder",
        ),
    ]  # fmt: skip

    @dataclass
    class Unkept(Message):
        """Something could not be done, since it could not be written; with what it was."""

        error: RecordError
        deed: Callable[[], News]

    def __init__(self, heading: str, question: Question, onward: str, sitting: Sitting) -> None:
        super().__init__(heading, question, onward)
        self.sitting = sitting
        self.trouble = ""
        self._refused = ""
        self._waiting: Callable[[], News] | None = None
        self._as_it_was: tuple[Bench | None, str, str] = (None, "", "")
        self._again: Timer | None = None

    def warnings(self, bench: Bench) -> Iterable[Content]:
        """Return what must be said first: that something is not kept."""
        del bench
        if self._refused:
            yield Content.assemble(("Not taken: ", "$warning bold"), self._refused)
        elif self.trouble:
            kept = "It is handed in" if self._waiting == self.hand_in else "Your entry is judged"
            yield Content.assemble(
                ("Not saved: ", "$warning bold"), f"{self.trouble}. "
                f"{kept} as soon as it is. Trying again automatically; Enter tries at once, "
                "Ctrl+O takes another folder.",
            )  # fmt: skip

    def attempt(self, deed: Callable[[], News]) -> None:
        """Have something done, and notice where it could not be written."""

        def done() -> Message:
            try:
                return self.Answered(deed())
            except RecordError as error:
                return self.Unkept(error, deed)

        self.busy = True
        self.run_job(done)

    def take(self, news: News) -> None:
        """Show what came of something, all of which is on the disk."""
        self.trouble, self._refused, self._waiting = "", "", None
        super().take(news)

    @on(Unkept)
    def wait(self, event: Unkept) -> None:
        """Keep what could not be written for another try; nothing came of it yet.

        What no try will ever put on the disk is only told of.
        """
        event.stop()
        self.busy = False
        if self.sitting.over and event.deed != self.hand_in:
            self.attempt(self.hand_in)
            return
        if isinstance(event.error, NeverKept):
            self.trouble, self._refused, self._waiting = "", sentence(event.error), None
            self.news = None
            self.paint()
            return
        self.trouble, self._waiting = str(event.error), event.deed
        self._refused = _ELSEWHERE if isinstance(event.error, ChangedOutside) else ""
        self._as_it_was = self._now()
        self.news = self._as_before()
        self.paint()
        if self._again is not None:
            self._again.stop()
        if not self._refused:
            self._again = self.set_timer(AGAIN, self.try_again)

    def _as_before(self) -> News | None:
        """Return what to say in place of the verdict of a line that waits to be changed."""
        bench, step = self.bench, self.step_at_hand
        if bench is None or step is None or step.key not in bench.working.lines:
            return None
        return News(step.key, told=f"Until then {line_name(step)} stays as it was.")

    def _now(self) -> tuple[Bench | None, str, str]:
        """Return where the student is, and what stands in the field."""
        step = self.step_at_hand
        return self.bench, "" if step is None else step.key, self.query_one(Desk).entry.value

    def try_again(self) -> None:
        """Try again what could not be written, or only the disk where the student is elsewhere."""
        if self._waiting is None or self.busy:
            return
        is_same = self._waiting == self.hand_in or self._as_it_was == self._now()
        self.attempt(self._waiting if is_same else self._probe)

    def _probe(self) -> News:
        if not self.sitting.note():
            raise RecordError(self.trouble)
        return News("", told="The record can be written again. Enter saves your line.")

    def hand_in(self) -> News:
        """Hand in; the screen is told by what comes back."""
        self.sitting.hand_in()
        return News("")

    def action_folder(self) -> None:
        """Ask for another folder, and go on with the record there."""
        waiting = self._waiting if self._as_it_was == self._now() else None

        def chosen(folder: Path | None) -> None:
            if folder and not self.busy:
                self.busy = True
                self.run_job(lambda: self.moved(folder, waiting))

        if not self._refused:
            self.app.push_screen(FolderScreen(str(self.sitting.place)), chosen)

    def moved(self, folder: Path, waiting: Callable[[], News] | None) -> Message:
        """Go on in another folder, with what waits to be written; return what came of it."""
        try:
            self.sitting.move(folder)
            lies = f"The record is now at {self.sitting.place}."
            if waiting is None:
                return self.Answered(News("", told=lies))
            news = waiting()
            return self.Answered(replace(news, changed=f"{news.changed} {lies}".strip()))
        except RecordError as error:
            if self.trouble:
                return self.Unkept(error, waiting or self._probe)
            return self.Answered(
                News("", told=f"Kept in the old folder; the new one failed: {error}.")
            )
