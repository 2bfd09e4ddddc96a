"""A bench of a sitting: what is not on the disk is not judged, and is tried again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.timer import Timer

from leverstep.bench.record_note import HalfTyped, RecordNote
from leverstep.course.problem import Question
from leverstep.dialogue.replies import Reply, Trouble, Unkept
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue
from leverstep.faces.screens.asides import FolderScreen
from leverstep.faces.screens.desk import warning_of
from leverstep.faces.screens.half_typed import HalfTypedScreen

_WAYS = {
    Trouble.DISK: "Trying again automatically; Enter tries at once, Ctrl+O takes another folder.",
    Trouble.NEVER: "",
    Trouble.ELSEWHERE: "Quit here with Ctrl+Q, and go on in the other window. "
    "If there is none: Esc leaves, Esc goes home, and F2 there opens the drill again.",
}
"""What the keys do where something could not be written."""


class KeepingScreen(HalfTypedScreen):
    """What could not be written stays in the field and waits until a disk takes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "ctrl+o", "folder", "Folder", id="drill.folder", show=False,
            tooltip="Go on with the record in another folder",
        ),
    ]  # fmt: skip

    def __init__(
        self, heading: str, question: Question, onward: str, dialogue: SittingDialogue
    ) -> None:
        super().__init__(heading, question, onward)
        self.sitting_dialogue = dialogue
        self.sitting = dialogue.sitting
        self.dialogue = dialogue.working
        self._again: Timer | None = None

    @property
    def record_note(self) -> RecordNote:
        """Return the note beside the record."""
        return self.sitting.record_note

    @property
    def dialogues(self) -> Sequence[WorkingDialogue]:
        """Return the workings of the drill."""
        return self.sitting_dialogue.workings

    @property
    def place_at_hand(self) -> int:
        """Return the place of the task at hand, from 0."""
        return self.sitting_dialogue.place

    def half_typed(self) -> Iterator[HalfTyped]:
        """Yield what is typed and not entered now; nothing of it is kept once handed in."""
        if not self.sitting.ended:
            yield from super().half_typed()

    @property
    def answering(self) -> Answering:
        """Return what answers the student: the dialogue of the sitting."""
        return self.sitting_dialogue

    def warnings(self, dialogue: WorkingDialogue) -> Iterable[Content]:
        """Return what must be said first: that something is not kept."""
        yield from super().warnings(dialogue)
        unkept = self.sitting_dialogue.unkept
        if unkept is not None:
            told = f"{unkept.told} {_WAYS[unkept.trouble]}".rstrip()
            yield warning_of(unkept.heading, told)

    def take(self, reply: Reply) -> None:
        """Show what came of something, or that it waits for the disk, and have it tried again."""
        super().take(reply)
        if self._again is not None:
            self._again.stop()
            self._again = None
        if isinstance(reply, Unkept) and reply.again is not None:
            self._again = self.set_timer(reply.again, self.try_again)

    def try_again(self) -> None:
        """Try again what could not be written, or only the disk where the student is elsewhere."""
        if self.sitting_dialogue.waits and not self.busy:
            typed = self.typed
            self.attempt(lambda: self.sitting_dialogue.try_again(typed))

    def action_folder(self) -> None:
        """Ask for another folder, and go on with the record there."""
        dialogue, typed = self.sitting_dialogue, self.typed

        def chosen(folder: Path | None) -> None:
            if folder and not self.busy:
                self.attempt(lambda: self.moved(folder, typed))

        if dialogue.unkept is None or dialogue.unkept.trouble is not Trouble.ELSEWHERE:
            self.app.push_screen(FolderScreen(str(self.sitting.place)), chosen)

    def moved(self, folder: Path, typed: str) -> Reply:
        """Go on in another folder, with what waits to be written; return what came of it."""
        return self.sitting_dialogue.move(folder, typed)
