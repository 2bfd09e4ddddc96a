"""What is read out of a working: the problem, its picture, its lines and hints, in plain lines."""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.bench.record_note import HalfTyped, RecordNote
from leverstep.course.plain_text import plain
from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe, senses_told
from leverstep.dialogue.mending_told import missing_told
from leverstep.dialogue.working_dialogue import NONE_WRITTEN, WorkingDialogue
from leverstep.faces.terminal import Say
from leverstep.working.cautions import CAUTION_IN_SHORT, CAUTION_SAID
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.page import (
    found,
    given_and_taken,
    key_named,
    line_name,
    on_page,
)
from leverstep.working.wording import ask
from leverstep.working.working import Working


class ReadOut:
    """Reads a working out. What is said is for the ear: Greek symbols are spelt."""

    def __init__(self, dialogue: WorkingDialogue, say: Say) -> None:
        self.dialogue = dialogue
        self.say: Say = lambda text: say(read_out(text))
        self.caution = CAUTION_SAID

    @property
    def working(self) -> Working:
        """Return the working that is read out."""
        return self.dialogue.working

    def read_problem(self, again: bool = False) -> None:
        """Read the problem and its picture; what is idealised only when it is asked for again.

        The caution is said whole the first time, then in short.
        """
        question, dialogue = self.working.question, self.dialogue
        described = (
            describe(question, found(self.working), dialogue.hidden_pictures)
            if dialogue.has_pictures
            else senses_told(question)
        )
        for line in (*self.heading(), question.statement, *described):
            self.say(line)
        self.read_to_be_found()
        for told in (self.dialogue.filled_told(), self.dialogue.example_told):
            if told:
                self.say(told)
        for idealised in question.problem.idealised if again else ():
            self.say(f"Assumption: {idealised}.")
        self.say(self.caution)
        self.caution = CAUTION_IN_SHORT
        if self.dialogue.unsaved:
            self.say(plain(self.dialogue.unsaved))

    def read_to_be_found(self) -> None:
        """Read each line that is to be found, however much the student is led to it."""
        sought = led_to(self.working.steps, Guidance.BLANK)
        told = [(line_name(step), ask(self.working.question, step)) for step in sought]
        if len(told) == 1:
            self.say("To be found: {}. {}.".format(*told[0]))
            return
        self.say("To be found:")
        for name, asks in told:
            self.say(f"{name}: {asks}.")

    def read_givens(self) -> None:
        """Read what is given under a symbol, then what is to be taken for g and for units."""
        for one in given_and_taken(self.working.question):
            text = one if " = " in one else one.replace(" ", " = ", 1)
            self.say(f"{text}.")

    def heading(self) -> Iterable[str]:
        """Return what stands above the statement of a problem."""
        return self.working.question.problem.title, f"Numbers: {self.working.question.seed}"

    def read_hints(self, key: str) -> None:
        """Read the hints again that were given on a line."""
        given = self.dialogue.hints_told.on(key)
        for hint in given:
            self.say(f"{hint.heading}: {hint.text}")
        if not given:
            self.say(f"No hint was given for {line_name(self.working.step(key))}.")

    def read_half_typed(self, note: RecordNote | None) -> None:
        """Read what was typed the last time on the full screen and not entered."""
        for one in () if note is None else note.noted.typed:
            at = f" at {line_name(self.working.step(one.step))}" if self._names(one) else ""
            of = f" of task {one.task + 1}" if one.task else ""
            self.say(f"Half typed the last time{at}{of}, and not entered: {plain(one.text)}")

    def _names(self, one: HalfTyped) -> bool:
        """Return whether a half-typed text was at a line of this working that has a name."""
        return not one.task and self.working.has(one.step)

    def read_missing(self) -> None:
        """Tell what is still to find, then the lines that lead to the first of it."""
        for heading, lines in missing_told(self.dialogue.bench).items():
            self.say(f"{heading}:" if lines else heading)
            for name, asks in lines.items():
                self.say(f"{name}: {asks}.")

    def named(self, name: str) -> str | None:
        """Return the key of the line with this name, in its own case before any other."""
        return key_named(self.working.steps, name)

    def text_named(self, key: str) -> str:
        """Return what is written on a line, with its name unless it says that itself."""
        text = plain(self.working.lines[key].text).strip()
        before, is_named, _ = text.partition("=")
        if is_named and self.named(before.strip()) == key:
            return text
        return f"{line_name(self.working.step(key))}: {text}"

    def standing(self, key: str) -> str:
        """Return what is written on a line, with what came of it as far as that is told."""
        return f"{self.text_named(key)}. {self.dialogue.standing(key)}"

    def read_opened(self, key: str) -> None:
        """Say how a line stands that is gone back to, and the hints that were given there."""
        if key not in self.working.lines:
            self.say(f"{line_name(self.working.step(key))}: nothing is written there yet.")
        elif self.working.closed(key):
            self.say(self.standing(key))
        else:
            self.say(f"{self.text_named(key)}. {self.dialogue.opened(key)}")
        if self.dialogue.hints_told.on(key):
            self.read_hints(key)

    def read_other(self) -> None:
        """Read the working of an invented student, where one is to be mended."""
        if self.dialogue.introduced:
            self.say(self.dialogue.introduced)
            self.read_lines_of_other()

    def read_lines_of_other(self) -> None:
        """Read the working of an invented student, with what is mended and follows."""
        shown = self.dialogue.lines_shown
        for step in self.working.steps:
            self.say(f"{shown.get(step.key) or self.standing(step.key)}")

    def read_lines(self) -> None:
        """Read out every line: what is written, what is left, and what is still to come."""
        if self.dialogue.introduced:
            self.read_lines_of_other()
            return
        for step in on_page(self.working):
            if step.key in self.working.lines:
                self.say(self.standing(step.key))
            elif step.key in self.working.left:
                self.say(f"{line_name(step)}: skipped for now.")
        if not self.working.lines:
            self.say(NONE_WRITTEN)
        known = set(self.working.lines) | self.working.left
        ahead = [line_name(step) for step in self.working.asked if step.key not in known]
        if ahead:
            self.say(f"Still to come: {', '.join(ahead)}.")
