"""Line by line: the same working as plain lines, for screen readers, scripts and pipes.

One fact on each line, no cursor movement, no boxes, no colour. Prompts end in a colon and a space.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tutor.course.faults import plain
from tutor.course.symbols import sign_of, spelt
from tutor.diagram.words import describe
from tutor.drill.bench import Bench
from tutor.statics.step import Step
from tutor.working.guidance import Guidance
from tutor.working.page import (
    line_name,
    missing,
    neighbour,
    on_page,
    outcomes,
    to_find,
    within_reach,
)
from tutor.working.verdict import Outcome
from tutor.working.wording import CAUTION, SECTIONS, ask
from tutor.working.writing import value_text

HELP_FREE = (
    "Here you decide which line comes next: write it with its symbol, such as F_m = 123.4 N.",
    "A word, such as third, will do too, and so will 0 = -8.2 + 0.042*F_m, with one unknown.",
)
"""What is told besides where any line may be written."""

Say = Callable[[str], None]
Listen = Callable[[str], str]

HELP = (
    "Type a number with its unit, or arithmetic such as 3.2*9.81 N.",
    "hint: a hint for this line, up to three.",
    "go on, or leave: leave this line for now.",
    "back: change the line before; back and a symbol: change that line.",
    "lines: read the working so far.",
    "missing: what is still to find, and which lines lead there.",
    "problem: read the problem and the picture again.",
    "stop: stop here. Everything is kept.",
)


class LineMode:
    """Asks for each line in turn until all are right or the input ends."""

    help: tuple[str, ...] = HELP
    ends_with = "Type stop to end here."

    def __init__(self, bench: Bench, say: Say, listen: Listen) -> None:
        self.bench = bench
        self.working = bench.working
        self.say = say
        self.listen = listen
        self.revising: str | None = None

    def run(self) -> None:
        """Work the question; returns at its end, at `stop`, or where the input ends."""
        self._problem()
        self.say("Type help for what you can type.")
        for line in HELP_FREE if self.working.guidance.free else ():
            self.say(line)
        while (step := self._step()) is not None:
            self.say("")
            self.say(self._asked(step))
            try:
                text = self.listen("Line: " if self._is_free else f"{line_name(step)}: ")
            except EOFError:
                self.say("")
                self.say(f"The input has ended. {self._kept()}")
                return
            if text.strip().lower() in ("stop", "quit", "exit"):
                self.say(f"Stopped. {self._kept()}")
                return
            self._answer(step, text)
        self._end()

    @property
    def _is_free(self) -> bool:
        """Return whether any line may be written now."""
        return self.working.guidance.free and self.revising is None

    def _kept(self) -> str:
        """Return whether what was typed is on the disk."""
        trouble = self.bench.trouble
        return f"Not all is kept: {plain(trouble)}" if trouble else "What was typed is kept."

    def _step(self) -> Step | None:
        """Return the line to ask for; lines that were left come round again at the end."""
        if self.revising is not None:
            return self.working.step(self.revising)
        step = self.working.current()
        if step is None and self.working.left:
            if self.working.to_find:
                self.say(f"Still to be done: {to_find(self.working)}. {self.ends_with}")
            self.working.left.clear()
            step = self.working.current()
        return step

    def _asked(self, step: Step) -> str:
        asks = f"{ask(self.bench.question, step)}."
        if self.working.guidance is Guidance.BLANK and self._is_free:
            return f"Still to find: {to_find(self.working)}."
        if self.working.guidance.free:
            return f"{line_name(step)}: {asks}"
        return f"Line {self.working.steps.index(step) + 1} of {len(self.working.steps)}: {asks}"

    def _problem(self) -> None:
        question = self.bench.question
        for line in (*self._heading(), question.statement):
            self.say(line)
        for line in describe(question, {}):
            self.say(line)
        found = [s for s in self.working.steps if s.kind in SECTIONS["The unknown"]]
        last = found[-1] if found else self.working.steps[-1]
        self.say(f"To be found: {sign_of(last.key)}. {ask(question, last)}.")
        for idealised in question.problem.idealised:
            self.say(f"Idealised: {idealised}.")
        self.say(f"Caution: {CAUTION}")
        if self.bench.trouble:
            self.say(f"Nothing is being kept: {plain(self.bench.trouble)}")

    def _heading(self) -> Iterable[str]:
        """Return what stands above the statement of a problem."""
        return self.bench.question.problem.title, f"Numbers: {self.bench.question.seed}"

    def _answer(self, step: Step, text: str) -> None:
        word, _, rest = text.strip().partition(" ")
        match word.lower():
            case "help" | "?":
                for line in (*self.help, *(HELP_FREE if self.working.guidance.free else ())):
                    self.say(line)
            case "hint":
                self._hint(step)
            case "missing":
                self._missing()
            case "lines":
                self._lines()
            case "problem":
                self._problem()
            case "back":
                self._back(rest.strip())
            case "leave":
                self._go_on(step)
            case "go" if rest.strip().lower() == "on":
                self._go_on(step)
            case _:
                self._enter(step, text)

    def _hint(self, step: Step) -> None:
        """Give the next hint: for the line asked for, or where any may be written, name it."""
        key = self.bench.hint_line() if self._is_free else step.key
        of = f" for {line_name(self.working.step(key))}" if self._is_free else ""
        hint = self.bench.hint(key)
        told = f"Hint {len(self.bench.hints(key))} of 3{of}: {hint}"
        self.say(told if hint else f"There is no further hint{of or ' for this line'}.")

    def _missing(self) -> None:
        """Tell what is still to find, then the lines that lead to the first of it."""
        for heading, lines in missing(self.working).items():
            self.say(f"{heading}:" if lines else heading)
            for name, asks in lines.items():
                self.say(f"{name}: {asks}.")

    def _enter(self, step: Step, text: str) -> None:
        before = outcomes(self.working)
        is_free = self._is_free
        verdict = self.bench.write(text) if is_free else self.bench.enter(step.key, text)
        if self.bench.trouble:
            self.say(f"This entry is not on the disk: {plain(self.bench.trouble)}")
        told = self.bench.tell(verdict)
        is_named = is_free and verdict.step
        name = f"{line_name(self.working.step(verdict.step))}: " if is_named else ""
        self.say(f"{name}{told}")
        for key, outcome in outcomes(self.working).items():
            if key != verdict.step and before.get(key) not in (None, outcome):
                self.say(f"The line {line_name(self.working.step(key))} is now: {outcome}.")
        is_read = verdict.outcome is not Outcome.UNREAD
        if is_read and verdict.step and self.working.done(verdict.step):
            self.revising = None

    def _go_on(self, step: Step) -> None:
        """Leave a line for now; one that is done already stays."""
        self.revising = None
        if self.working.done(step.key):
            self.say("This line stays as it is.")
            return
        self.bench.leave(step.key)
        self.say("Left for now.")

    def _back(self, name: str) -> None:
        """Open an earlier line again: the one before, or the one named."""
        wanted = self._named(name) if name else neighbour(self.working, self.revising or "", -1)
        if wanted is None and not name:
            self.say("This is the first line.")
            return
        if wanted is None:
            names = ", ".join(line_name(step) for step in self.working.steps)
            self.say(f"There is no such line. The lines are {names}.")
            return
        if wanted not in within_reach(self.working):
            sign = sign_of(wanted)
            free = f"{sign} is not written yet. Write it with its symbol."
            led = f"{sign} comes later: first the lines before it."
            self.say(free if self.working.guidance.free else led)
            return
        line = self.working.lines.get(wanted)
        self.say(f"You wrote: {plain(line.text)}" if line else "Nothing is written there yet.")
        if self.working.closed(wanted):
            self.say("No try is left for this line.")
            return
        if told := self.bench.opened_again(wanted):
            self.say(told)
        self.revising = wanted

    def _named(self, name: str) -> str | None:
        """Return the key of the line with this name, in its own case before any other."""
        keys = {step.key: step.key for step in self.working.steps}
        keys |= {line_name(step): step.key for step in self.working.steps}
        low = {other.lower(): key for other, key in reversed(keys.items())}
        return keys.get(name) or low.get(spelt(name).lower())

    def _lines(self) -> None:
        """Read out every line: what is written, what is left, and what is still to come."""
        told = outcomes(self.working)
        for step in on_page(self.working):
            line, name = self.working.lines.get(step.key), line_name(step)
            if line is not None:
                outcome = str(told.get(step.key, "taken")).capitalize()
                self.say(f"{name}: {plain(line.text)}. {outcome}.")
            elif step.key in self.working.left:
                self.say(f"{name}: left for now.")
        if not self.working.lines:
            self.say("No line is written yet.")
        known = set(self.working.lines) | self.working.left
        ahead = [line_name(step) for step in self.working.asked if step.key not in known]
        if ahead:
            self.say(f"Still to come: {', '.join(ahead)}.")

    def _end(self) -> None:
        self.say("")
        values = self.working.values()
        asked_for = " asked for" if self.working.guidance.free else ""
        standing = outcomes(self.working)
        followed = [
            line_name(step)
            for step in self.working.asked
            if standing.get(step.key) is Outcome.FOLLOWED
        ]
        if not followed:
            self.say(f"All lines{asked_for} are right.")
        else:
            told = ", ".join(followed)
            self.say(f"Right only with your own earlier values: {told}.")
        wrong = [line_name(s) for s in on_page(self.working) if not self.working.stands(s.key)]
        if wrong:
            self.say(f"Not right yet: {', '.join(wrong)}. Type back and its symbol to mend one.")
        question = self.bench.question
        for step in self.working.asked:
            if step.kind in SECTIONS["The unknown"]:
                self.say(f"{ask(question, step)}: {value_text(step, values[step.key])}.")
        self.say(f"Entries judged: {sum(self.working.attempts.values())}.")
        self.say(f"Hints: {self.bench.hints_asked}.")
