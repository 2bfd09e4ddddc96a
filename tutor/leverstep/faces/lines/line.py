"""Line by line: the same working as plain lines, for screen readers, scripts and pipes.

One fact on each line, no cursor movement, no boxes, no colour. Prompts end in a colon and a space.
"""

from __future__ import annotations

from leverstep.bench.bench import Bench
from leverstep.course.plain_text import plain
from leverstep.course.symbols import read_out, sign_of
from leverstep.entry.forms import FORMS, NOTE
from leverstep.faces.lines.line_reading import ReadOut
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import (
    line_example,
    line_name,
    neighbour,
    on_page,
    outcomes,
    to_find,
    within_reach,
)
from leverstep.working.verdict import Outcome
from leverstep.working.wording import CAUTION_SAID, ask, example
from leverstep.working.writing import value_text

HELP_FREE = (
    "Here you decide which line comes next: write it with its symbol, such as F_m = 123.4 N.",
    "A word, such as third, will do too, and so will 0 = -8.2 + 0.042*F_m, with one unknown.",
)
"""What is told besides where any line may be written."""

HELP = (
    *(f"{', '.join(forms)}: {shows}." for forms, shows in FORMS),
    NOTE,
    "hint: a hint for this line, up to three. hints: read them again, at no cost.",
    "skip, go on, or leave: skip this line for now.",
    "back: change the line before; back and a symbol: change that line.",
    "lines: read the working so far.",
    "missing: what is still to find, and which lines lead there.",
    "problem: read the problem, the picture and the assumptions again.",
    "stop: stop here. Everything is kept.",
)


class LineMode(ReadOut):
    """Asks for each line in turn until all are right or the input ends.

    A question is said again only where it has changed, since the prompt names its line; Enter alone
    says it again.
    """

    help: tuple[str, ...] = HELP
    ends_with = "Type stop to end here."
    words = "hint, back, lines, help"

    def __init__(self, bench: Bench, say: Say, listen: Listen) -> None:
        super().__init__(bench, say)
        self.listen: Listen = lambda prompt: listen(read_out(prompt))
        self.revising: str | None = None
        self._asked = ""
        self._met: set[str] = set()

    def run(self) -> None:
        """Work the question; returns at its end, at `stop`, or where the input ends."""
        try:
            self._open()
            self._work()
        except EOFError:
            self.say("")
            self._leave("The input has ended.")
        except KeyboardInterrupt:
            self.say("")
            self._leave("Stopped.")

    def _open(self) -> None:
        """Say what the first line is asked for, and how to find out more."""
        self.read_problem()
        self.say("Type help for what you can type.")
        for line in HELP_FREE if self.working.guidance.free else ():
            self.say(line)

    def _work(self) -> None:
        while (step := self._step()) is not None:
            self._ask(step)
            text = self.listen(self._prompt(step)).strip()
            if text.lower() in STOP:
                self._leave("Stopped.")
                return
            self._answer(step, text)
        self._end()

    def _prompt(self, step: Step) -> str:
        return "Line: " if self._is_free else f"{line_name(step)}: "

    def _leave(self, why: str) -> None:
        """Say why the working ends here, and whether it is kept."""
        self.say(f"{why} {self._kept()}")

    @property
    def _is_free(self) -> bool:
        """Return whether any line may be written now."""
        return self.working.guidance.free and self.revising is None

    def _kept(self) -> str:
        """Return whether what was typed is on the disk."""
        trouble = self.bench.trouble
        return f"Not everything is kept: {plain(trouble)}" if trouble else "What was typed is kept."

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

    def _ask(self, step: Step) -> None:
        """Ask for a line, with an example the first time that one of its kind comes."""
        kind = step.unit if step.kind.is_number else step.kind.name
        shown = line_example(step) if self.working.guidance.free else example(step)
        self._say_new(self._question(step), "" if kind in self._met else f" For example: {shown}")
        self._met.add(kind)

    def _say_new(self, asks: str, more: str = "") -> None:
        """Say what is asked for, unless it is what was said last."""
        if asks != self._asked:
            self._asked = asks
            self.say("")
            self.say(f"{asks}{more}")

    def _question(self, step: Step) -> str:
        asks = f"{ask(self.bench.question, step)}."
        if self.working.guidance is Guidance.BLANK and self._is_free:
            return f"Still to find: {to_find(self.working)}."
        if self.working.guidance.free:
            return f"{line_name(step)}: {asks}"
        return f"Line {self.working.steps.index(step) + 1} of {len(self.working.steps)}: {asks}"

    def _answer(self, step: Step, text: str) -> None:
        word, _, rest = text.partition(" ")
        rest = rest.strip()
        match word.lower():
            case "":
                self._asked = ""
                self.say(f"Type the line, or a word: {self.words}.")
            case "help" | "?":
                for line in (*self.help, *(HELP_FREE if self.working.guidance.free else ())):
                    self.say(line)
                self.say(CAUTION_SAID)
            case "hint":
                if key := self._meant(step, rest):
                    self._hint(key)
            case "hints":
                if key := self._meant(step, rest):
                    self.read_hints(key)
            case "missing":
                self.read_missing()
            case "lines":
                self.read_lines()
            case "problem":
                self._asked = ""
                self.read_problem(again=True)
            case "back":
                self._back(rest)
            case "skip" | "leave":
                self._go_on(step)
            case "go" if rest.lower() == "on":
                self._go_on(step)
            case _:
                self._enter(step, text)

    def _meant(self, step: Step, name: str) -> str | None:
        """Return the key of the line that a hint is for; None, and why, where there is none."""
        if not name:
            return (self.bench.hint_line() if self._is_free else "") or step.key
        return self._reached(name, self.working.guidance.free)

    def hint_cost(self, key: str) -> str:
        """Return what a hint on a line costs, to be said with it; "" where it costs nothing."""
        del key
        return ""

    def _hint(self, key: str) -> None:
        """Give the next hint of a line, with what it costs."""
        name, number = line_name(self.working.step(key)), len(self.bench.hints(key)) + 1
        if hint := self.bench.hint(key):
            cost = self.hint_cost(key)
            self.say(f"Hint {number} of 3 for {name}{', ' if cost else ''}{cost}: {hint}")
        elif not self.working.rules.hints:
            self.say("There are no hints in this drill.")
        elif self.working.closed(key):
            self.say(f"There is no hint for {name}: no tries are left for it.")
        else:
            self.say(f"There is no further hint for {name}. Type hints to hear them again.")

    def _enter(self, step: Step, text: str) -> None:
        before = outcomes(self.working)
        is_free = self._is_free
        verdict = self.bench.write(text) if is_free else self.bench.enter(step.key, text)
        if self.bench.trouble:
            self.say(f"This entry is not saved: {plain(self.bench.trouble)}")
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
        """Skip a line for now; one that is done already stays."""
        self.revising = None
        if self.working.done(step.key):
            self.say("This line stays as it is.")
            return
        self.bench.leave(step.key)
        self.say("Skipped for now.")

    def _back(self, name: str) -> None:
        """Open an earlier line again, the one before or the one named, with what was said of it."""
        wanted = self._reached(name) if name else neighbour(self.working, self.revising or "", -1)
        if wanted is None:
            if not name:
                none_yet = self.working.guidance.free and not self.working.lines
                self.say("No line is written yet." if none_yet else "This is the first line.")
            return
        sign, is_closed = sign_of(wanted), self.working.closed(wanted)
        if wanted not in self.working.lines:
            self.say(f"{sign}: nothing is written there yet.")
        else:
            self.say(self.standing(wanted) if is_closed else self._opened(wanted))
        if self.bench.hints(wanted):
            self.read_hints(wanted)
        if is_closed:
            self.say(f"{sign} can't be changed: no tries are left for it.")
            return
        self.revising = wanted

    def _opened(self, key: str) -> str:
        """Return what is said of a line that is written and may be changed: how it stands."""
        verdict, again = self.working.lines[key].verdict, self.bench.opened_again(key)
        if not self.working.rules.tells:
            return f"{self.standing(key)} {again}".rstrip()
        if not verdict.settled:
            again = self.bench.tell(verdict)
        return f"{self.text_named(key)}. {again}" if again else self.standing(key)

    def _reached(self, name: str, anywhere: bool = False) -> str | None:
        """Return the key of the line with this name; None, and why, where it can't be gone to."""
        wanted = self.named(name)
        if wanted is None:
            names = ", ".join(line_name(step) for step in self.working.steps)
            self.say(f"There is no such line. The lines are {names}.")
        elif not anywhere and wanted not in within_reach(self.working):
            sign = sign_of(wanted)
            free = f"{sign} is not written yet. Write it with its symbol."
            led = f"{sign} comes later: first the lines before it."
            self.say(free if self.working.guidance.free else led)
        else:
            return wanted
        return None

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
            self.say(f"Not right yet: {', '.join(wrong)}. Type back and its symbol to correct one.")
        question = self.bench.question
        for step in self.working.asked:
            if step.kind.part is kinds.Part.UNKNOWN:
                self.say(f"{ask(question, step)}: {value_text(step, values[step.key])}.")
        self.say(CAUTION_SAID)
        self.say(f"Entries judged: {sum(self.working.attempts.values())}.")
        self.say(f"Hints: {self.bench.hints_asked}.")
