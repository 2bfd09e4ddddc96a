"""A bench that keeps what is half typed, so that it comes back however the program ends."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator, Sequence

from textual import on, work
from textual.timer import Timer
from textual.widgets import Input, TextArea

from leverstep.bench.record_note import HalfTyped, RecordNote
from leverstep.course.problem import Question
from leverstep.dialogue.free_page import FreePage
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.page_screen import PageScreen
from leverstep.working.guidance import Guidance

KEPT_AFTER = 0.5
"""Seconds from a change to when it is kept, with all that was typed in between."""


class HalfTypedScreen(PageScreen):
    """Keeps what is typed and not entered in the note of the record, a moment after each change."""

    def __init__(self, heading: str, question: Question | None, onward: str) -> None:
        super().__init__(heading, question, onward)
        self._soon: Timer | None = None
        self._desk: Desk | None = None
        self._typed: tuple[HalfTyped, ...] = ()
        self._for_pages: dict[int, tuple[str, ...]] = {}
        self._paged: dict[int, FreePage] = {}

    @property
    def record_note(self) -> RecordNote | None:
        """Return the note beside the record; None where there is no record."""
        return None

    @property
    def dialogues(self) -> Sequence[WorkingDialogue]:
        """Return the workings that are worked here, in their order."""
        return [] if self.dialogue is None else [self.dialogue]

    @property
    def place_at_hand(self) -> int:
        """Return the place of the working at hand among them."""
        return 0

    def put_back_typed(self) -> None:
        """Put what was half typed the last time where it was; once, before anything is asked."""
        self._desk = self.query_one(Desk)
        dialogues = self.dialogues
        for one in self.record_note.noted.typed if self.record_note is not None else ():
            working = dialogues[one.task].working if one.task < len(dialogues) else None
            if working is None or (one.step and not working.has(one.step)):
                continue  # the note is not of this working
            if working.guidance is Guidance.BLANK:
                self._for_pages[one.task] = (*self._for_pages.get(one.task, ()), one.text)
            else:
                self._desk.put_back(one.task, one.step, one.text)

    def new_page(self, dialogue: WorkingDialogue) -> FreePage:
        """Return the page of a working, with what was half typed on it."""
        self._paged[self.place_at_hand] = FreePage(
            dialogue, self._for_pages.pop(self.place_at_hand, ())
        )
        return self._paged[self.place_at_hand]

    def half_typed(self) -> Iterator[HalfTyped]:
        """Yield what is typed and not entered now."""
        if self._desk is not None and not self._paged:
            for task, step, text in self._desk.half_typed():
                yield HalfTyped(text, step, task)
        for task, texts in self._for_pages.items():
            yield from (HalfTyped(text, task=task) for text in texts)
        for task, page in self._paged.items():
            yield from (HalfTyped(text, task=task) for text in page.half_typed)

    @on(Input.Changed, "#entry")
    @on(TextArea.Changed)
    def keep_typed_soon(self) -> None:
        """Have what is typed kept in a moment, unless that is to be done already."""
        if self._soon is None and self._desk is not None:
            self._soon = self.set_timer(KEPT_AFTER, self._keep_typed)

    def _keep_typed(self) -> None:
        self._soon = None
        self._typed = tuple(self.half_typed())
        self.write_typed()

    @work(thread=True, group="typed")
    def write_typed(self) -> None:
        """Write what is half typed beside the screen."""
        self._write_typed()

    def _write_typed(self) -> None:
        if self.record_note is not None:
            self.record_note.keep_typed(self._typed)

    async def on_unmount(self) -> None:
        """Keep what is in the field when the bench is left."""
        if self._desk is not None:
            self._typed = tuple(self.half_typed())
            await asyncio.to_thread(self._write_typed)
