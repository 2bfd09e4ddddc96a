"""Line by line: the same working as plain lines, for screen readers, scripts and pipes.

One fact on each line, no cursor movement, no boxes, no colour. Prompts end in a colon and a space.
"""

from __future__ import annotations

from collections.abc import Callable

from tutor.course.faults import plain
from tutor.course.symbols import sign_of, spelt
from tutor.diagram.words import describe
from tutor.drill.practice import Practice
from tutor.statics.step import Step
from tutor.working.verdict import Outcome
from tutor.working.wording import CAUTION, SECTIONS, ask
from tutor.working.writing import value_text

Say = Callable[[str], None]
Listen = Callable[[str], str]

HELP = (
    "Type a number with its unit, or arithmetic such as 3.2*9.81 N.",
    "hint: a hint for this line, up to three.",
    "go on, or leave: leave this line for now.",
    "back: change the line before; back and a symbol: change that line.",
    "lines: read the working so far.",
    "problem: read the problem and the picture again.",
    "stop: stop here. Everything is kept.",
)


class LineMode:
    """Asks for each line in turn until all are right or the input ends."""

    def __init__(self, practice: Practice, say: Say, listen: Listen) -> None:
        self.practice = practice
        self.working = practice.working
        self.say = say
        self.listen = listen
        self.revising: str | None = None

    def run(self) -> None:
        """Work the question; returns at its end, at `stop`, or where the input ends."""
        self._problem()
        self.say("Type help for what you can type.")
        while (step := self._step()) is not None:
            self.say("")
            self.say(self._asked(step))
            try:
                text = self.listen(f"{sign_of(step.key)}: ")
            except EOFError:
                self.say("")
                self.say(f"The input has ended. {self._kept()}")
                return
            if text.strip().lower() in ("stop", "quit", "exit"):
                self.say(f"Stopped. {self._kept()}")
                return
            self._answer(step, text)
        self._end()

    def _kept(self) -> str:
        """Return whether what was typed is on the disk."""
        trouble = self.practice.trouble
        return f"Not all is kept: {plain(trouble)}" if trouble else "What was typed is kept."

    def _step(self) -> Step | None:
        """Return the line to ask for; lines that were left come round again at the end."""
        if self.revising is not None:
            return self.working.step(self.revising)
        step = self.working.current()
        if step is None and self.working.left:
            left = [sign_of(s.key) for s in self.working.steps if s.key in self.working.left]
            self.say(f"Still to be done: {', '.join(left)}. Type stop to end here.")
            self.working.left.clear()
            step = self.working.current()
        return step

    def _asked(self, step: Step) -> str:
        number, of = self.working.steps.index(step) + 1, len(self.working.steps)
        return f"Line {number} of {of}: {ask(self.practice.question, step)}."

    def _problem(self) -> None:
        question = self.practice.question
        self.say(question.problem.title)
        self.say(f"Numbers: {question.seed}")
        self.say(question.statement)
        for line in describe(question, {}):
            self.say(line)
        found = [s for s in self.working.steps if s.kind in SECTIONS["The unknown"]]
        last = found[-1] if found else self.working.steps[-1]
        self.say(f"To be found: {sign_of(last.key)}. {ask(question, last)}.")
        for idealised in question.problem.idealised:
            self.say(f"Idealised: {idealised}.")
        self.say(f"Caution: {CAUTION}")
        if self.practice.trouble:
            self.say(f"Nothing is being kept: {plain(self.practice.trouble)}")

    def _answer(self, step: Step, text: str) -> None:
        word, _, rest = text.strip().partition(" ")
        match word.lower():
            case "help" | "?":
                for line in HELP:
                    self.say(line)
            case "hint":
                hint = self.practice.hint(step.key)
                number = len(self.practice.hints(step.key))
                told = f"Hint {number} of 3: {hint}"
                self.say(told if hint else "There is no further hint for this line.")
            case "lines":
                self._lines()
            case "problem":
                self._problem()
            case "back":
                self._back(step, rest.strip())
            case "leave":
                self._go_on(step)
            case "go" if rest.strip().lower() == "on":
                self._go_on(step)
            case _:
                self._enter(step, text)

    def _enter(self, step: Step, text: str) -> None:
        before = self._outcomes()
        verdict = self.practice.enter(step.key, text)
        if self.practice.trouble:
            self.say(f"This entry is not on the disk: {plain(self.practice.trouble)}")
        self.say(self.practice.tell(verdict))
        for key, outcome in self._outcomes().items():
            if key != step.key and before.get(key) not in (None, outcome):
                self.say(f"The line {sign_of(key)} is now: {outcome}.")
        if verdict.settled:
            self.revising = None

    def _outcomes(self) -> dict[str, Outcome]:
        return {key: line.verdict.outcome for key, line in self.working.lines.items()}

    def _go_on(self, step: Step) -> None:
        """Leave a line for now; one that is right already stands."""
        self.revising = None
        line = self.working.lines.get(step.key)
        if line is not None and line.verdict.settled:
            self.say("This line stays as it is.")
            return
        self.practice.leave(step.key)
        self.say("Left for now.")

    def _back(self, step: Step, name: str) -> None:
        """Open an earlier line again: the one before, or the one named."""
        keys = [other.key for other in self.working.steps]
        wanted = next((key for key in keys if key == name), None)
        wanted = wanted or next((key for key in keys if key.lower() == spelt(name).lower()), None)
        if not name and keys.index(step.key):
            wanted = keys[keys.index(step.key) - 1]
        if wanted is None and not name:
            self.say("This is the first line.")
            return
        if wanted is None:
            self.say(f"There is no such line. The lines are {', '.join(map(sign_of, keys))}.")
            return
        if self._comes_later(wanted):
            self.say(f"{sign_of(wanted)} comes later: first the lines before it.")
            return
        self.revising = wanted
        line = self.working.lines.get(wanted)
        self.say(f"You wrote: {plain(line.text)}" if line else "Nothing is written there yet.")

    def _comes_later(self, key: str) -> bool:
        """Return whether a line lies past the one to be done, and is neither written nor left."""
        current = self.working.current()
        keys = [step.key for step in self.working.steps]
        if current is None or key in self.working.lines or key in self.working.left:
            return False
        return keys.index(key) > keys.index(current.key)

    def _lines(self) -> None:
        """Read out every line: what is written, what is left, and what is still to come."""
        ahead = []
        for step in self.working.steps:
            line = self.working.lines.get(step.key)
            if line is not None:
                outcome = str(line.verdict.outcome).capitalize()
                self.say(f"{sign_of(step.key)}: {plain(line.text)}. {outcome}.")
            elif step.key in self.working.left:
                self.say(f"{sign_of(step.key)}: left for now.")
            else:
                ahead.append(sign_of(step.key))
        if not self.working.lines:
            self.say("No line is written yet.")
        if ahead:
            self.say(f"Still to come: {', '.join(ahead)}.")

    def _end(self) -> None:
        self.say("")
        values = self.working.values()
        self.say("All lines are right.")
        question = self.practice.question
        for step in self.working.steps:
            if step.kind in SECTIONS["The unknown"]:
                self.say(f"{ask(question, step)}: {value_text(step, values[step.key])}.")
        self.say(f"Entries judged: {sum(self.working.attempts.values())}.")
        self.say(f"Hints: {self.practice.hints_asked}.")
