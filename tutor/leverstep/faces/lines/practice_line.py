"""Practice line by line: a working, and when its reasons are told."""

from __future__ import annotations

from leverstep.bench.record_note import RecordNote
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.line import LineMode
from leverstep.faces.lines.verbs import Place
from leverstep.faces.terminal import Listen, Say
from leverstep.working.rules import Thinking


class PracticeLine(LineMode):
    """Asks for each line of a practice in turn."""

    place = Place.WORKING
    meanwhile = LineMode.meanwhile | {
        "own_picture", "predict", "sense", "sure", "reasons", "conversions", "units",
    }  # fmt: skip

    def __init__(self, dialogue: PracticeDialogue, say: Say, listen: Listen) -> None:
        super().__init__(dialogue, say, listen)
        self._practice = dialogue

    @property
    def record_note(self) -> RecordNote | None:
        """Return the note beside the record; None where there is no record."""
        return self._practice.practice.record_note

    def do_reasons(self, _: str) -> None:
        """Have likely slips named at once, or only in a hint."""
        self.tell(self._practice.change_reasons())

    def do_conversions(self, _: str) -> None:
        """Have lines that only convert a unit filled in: none, those known, or all."""
        self.tell(self._practice.change_conversions())

    def do_own_picture(self, _: str) -> None:
        """Have the free-body diagram drawn by the student, or given."""
        self.tell(self._practice.change_pictures())

    def do_units(self, _: str) -> None:
        """Have a number without a unit taken in the unit asked for, or not."""
        self.tell(self._practice.change_units())

    def do_predict(self, _: str) -> None:
        """Have it asked before the first line what to expect, or not."""
        self.tell(self._practice.change_thinking(Thinking.PREDICT))

    def do_sure(self, _: str) -> None:
        """Have it asked with each line how sure the student is, or not."""
        self.tell(self._practice.change_thinking(Thinking.SURE))

    def do_sense(self, _: str) -> None:
        """Have it asked after the last line whether the result makes sense, or not."""
        self.tell(self._practice.change_thinking(Thinking.SENSE))
