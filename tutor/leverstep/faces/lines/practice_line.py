"""Practice line by line: a working, and when its reasons are told."""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.bench.record_note import RecordNote
from leverstep.course.plain_text import plain
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.line import LineMode
from leverstep.faces.lines.verbs import Place, Verb
from leverstep.faces.terminal import Listen, Say
from leverstep.working.rules import Thinking


class PracticeLine(LineMode):
    """Asks for each line of a practice in turn.

    `in_set` is how its place in a mixed set is told, "" where it is in none; `passes_on` whether
    the student went on from it to the next of the set.
    """

    place = Place.WORKING

    def __init__(
        self, dialogue: PracticeDialogue, say: Say, listen: Listen, in_set: str = ""
    ) -> None:
        super().__init__(dialogue, say, listen)
        self.passes_on = False
        self._practice = dialogue
        self._in_set = in_set

    @property
    def verbs(self) -> tuple[Verb, ...]:
        """Return what can be typed: nothing of a mixed set outside one."""
        return tuple(v for v in super().verbs if self._in_set or v.does != "next_problem")

    def heading(self) -> Iterable[str]:
        """Return what stands above the statement: in a mixed set which of its problems it is."""
        return (*filter(None, [self._in_set]), *super().heading())

    def do_next_problem(self, _: str) -> None:
        """Leave this problem for the next one of the set."""
        self.let_go()
        self.say(plain(self.dialogue.unsaved) or "What was typed is kept.")
        self.passes_on = self.is_left = True

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
