"""What the screens ask of the practice: open it, enter a line, give a hint, leave a line.

Everything here is plain Python without widgets, and may run in a worker thread.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING

from tutor.course.faults import FileError
from tutor.course.problem import Question
from tutor.course.shelf import Shelf
from tutor.course.symbols import sign_of
from tutor.screens.marks import LEFT, MARKS, OPEN, Mark
from tutor.screens.opening import Opening
from tutor.statics.step import Step
from tutor.working.verdict import Outcome, Verdict
from tutor.working.wording import SECTIONS
from tutor.working.working import Line, Working
from tutor.working.writing import quantity

if TYPE_CHECKING:
    from tutor.drill.practice import Practice

WORDS = {"class": "class", "reaction_direction": "direction"}
"""What the lines are called that are answered with a word."""


@dataclass(frozen=True, slots=True)
class News:
    """What came of one thing the student did at a line."""

    key: str
    verdict: Verdict | None = None
    told: str = ""
    changed: str = ""
    moves_on: bool = False


def open_practice(opening: Opening, shelf: Shelf) -> tuple[Practice | None, str]:
    """Return the practice with its first derivation made, or else why it can't be opened."""
    from tutor.drill.practice import Practice, new_seed
    from tutor.drill.record import RecordError
    from tutor.working.own import OwnError, read_own

    try:
        if opening.path is not None:
            practice = Practice.resume(opening.path, shelf)
        else:
            own = read_own(opening.problem, opening.own)
            practice = Practice.start(opening.problem, opening.seed or new_seed(), own=own)
    except (RecordError, FileError, OwnError) as error:
        return None, str(error)
    practice.working.values()
    return practice, ""


def begun_before(opening: Opening, shelf: Shelf) -> str:
    """Return what to say first: of own hints left out, or a working to go on with; "" for none."""
    from tutor.drill.practice import unfinished
    from tutor.slips.catalogue import catalogue_in_use

    if faults := catalogue_in_use().faults:
        return f"Your own file of hints is left out. {faults[0]}."
    if opening.path is not None or opening.seed:
        return ""
    if not any(one.problem is opening.problem for one in unfinished(shelf)):
        return ""
    return "A working of this problem is not finished yet: Esc leads to the list that has it."


def enter(practice: Practice, key: str, text: str) -> News:
    """Enter a line; tell the verdict, and which later lines changed theirs."""
    before = outcomes(practice.working)
    verdict = practice.enter(key, text)
    changed = _changes(practice.working, key, before)
    return News(key, verdict, practice.tell(verdict), changed, verdict.settled)


def hint(practice: Practice, key: str) -> News:
    """Show the next hint of a line, if there is one."""
    text = practice.hint(key)
    return News(key, told="" if text is not None else "These are all the hints for this line.")


def leave(practice: Practice, key: str) -> News:
    """Leave a line, unless it is right already, and go on."""
    working = practice.working
    line = working.lines.get(key)
    if line is not None and line.verdict.settled:
        return News(key, moves_on=True)
    practice.leave(key)
    name = line_name(working.step(key))
    return News(key, told=f"{name} is left for later; ↑ goes back to it.", moves_on=True)


def told(practice: Practice, key: str) -> str:
    """Return what is to be said of the standing entry of a line that is not right."""
    line = practice.working.lines.get(key)
    if line is None or line.verdict.settled:
        return ""
    return practice.tell(line.verdict)


def outcomes(working: Working) -> dict[str, Outcome]:
    """Return the outcome of each standing line."""
    return {key: line.verdict.outcome for key, line in working.lines.items()}


def _changes(working: Working, entered: str, before: dict[str, Outcome]) -> str:
    """Return in words which other lines have another verdict than before."""
    parts = [
        f"{line_name(working.step(key))} {_NOW[outcome]}"
        for key, outcome in outcomes(working).items()
        if key != entered and key in before and before[key] is not outcome
    ]
    return f"Lines that use this one were checked again: {', '.join(parts)}." if parts else ""


_NOW = {
    Outcome.RIGHT: "is right now",
    Outcome.FOLLOWED: "is right with your earlier value",
    Outcome.WRONG: "is not right any more",
    Outcome.UNREAD: "can't be read any more",
}


def at_hand(working: Working, chosen: str) -> Step | None:
    """Return the step chosen, or else the first that is still to be done."""
    return working.step(chosen) if chosen else working.current()


def neighbour(working: Working, chosen: str, way: int) -> str | None:
    """Return the key of the line before (-1) or after (1); "" for the line still to be done.

    Only lines up to the one still to be done can be chosen: None where there is no other.
    """
    keys = [step.key for step in working.steps]
    current = working.current()
    end = len(keys) if current is None else keys.index(current.key)
    place = (keys.index(chosen) if chosen else end) + way
    last = _last_touched(working, keys, end)
    if place < 0 or place > last:
        return None
    return "" if place == end else keys[place]


def _last_touched(working: Working, keys: list[str], end: int) -> int:
    touched = [n for n, key in enumerate(keys) if key in working.lines or key in working.left]
    return max([end, *touched])


def section_of(step: Step) -> str:
    """Return the heading that a step stands under."""
    return next(name for name, kinds in SECTIONS.items() if step.kind in kinds)


def line_name(step: Step) -> str:
    """Return what a line is called: its sign, or a word."""
    if step.kind == "equation":
        return "equation"
    return WORDS.get(step.kind) or sign_of(step.key)


def prompt_of(step: Step) -> str:
    """Return what stands before the entry: `W_l =`."""
    return f"{line_name(step)}{':' if step.kind in (*WORDS, 'equation') else ' ='}"


def line_text(step: Step, line: Line | None) -> str:
    """Return a line as it stands on the paper."""
    if line is None:
        return f"{prompt_of(step)} ······"
    text = line.text.strip()
    if step.kind == "equation":
        return text
    shown = text if "=" in text else f"{prompt_of(step)} {text}"
    reading = line.reading
    if reading is not None and step.kind not in WORDS and not reading.half_digit:
        shown += f" = {quantity(reading.value, step.unit)}"
    return shown


def mark_of(working: Working, step: Step) -> Mark:
    """Return the mark in the margin of a line."""
    line = working.lines.get(step.key)
    if line is not None and line.verdict.settled:
        return MARKS[line.verdict.outcome]
    if step.key in working.left:
        return LEFT
    return OPEN if line is None else MARKS[line.verdict.outcome]


def found(working: Working) -> dict[str, float]:
    """Return the values of the lines that stand, for the diagram."""
    return {
        key: line.reading.value
        for key, line in dict(working.lines).items()
        if line.verdict.settled and line.reading is not None and not line.reading.sides
    }


def standing(working: Working, key: str) -> str:
    """Return the text that stands on a line, "" where it is empty."""
    line = working.lines.get(key)
    return "" if line is None else line.text


def progress(practice: Practice, step: Step | None) -> str:
    """Return where the student is, and with which numbers."""
    working = practice.working
    numbers = f"numbers {practice.question.seed}"
    if step is None:
        return f"{done(working)} of {len(working.steps)} lines right · {numbers}"
    return f"line {working.steps.index(step) + 1} of {len(working.steps)} · {numbers}"


def givens(question: Question, drawn: str = "") -> str:
    """Return in one line what is given and not yet drawn: `Given: m_l 18.0 lb`."""
    named = [(given, sign_of(given.sign)) for given in question.givens if given.sign]
    parts = [f"{sign} {question.written(given)}" for given, sign in named]
    parts = [part.replace(" ", "\u00a0") for part in parts if part not in drawn]
    return f"Given: {' · '.join(parts)}" if parts else ""


def wrapped_lines(text: str, width: int) -> list[str]:
    """Return a text in parts that fit, no number parted from its unit; none for no text."""
    kept = re.sub(r"(?<=\d) (?=[A-Za-z°])", "\u00a0", text)
    return wrap(kept, width, subsequent_indent="  ", break_on_hyphens=False)


def done(working: Working) -> int:
    """Return how many lines stand."""
    return sum(line.verdict.settled for line in working.lines.values())


def summary(practice: Practice) -> tuple[str, str]:
    """Return the headline and the account of a working that has come to its end."""
    working = practice.working
    open_lines = [line_name(s) for s in working.steps if mark_of(working, s).style != "-ok"]
    total = len(working.steps)
    followed = sum(o is Outcome.FOLLOWED for o in outcomes(working).values())
    right = done(working) - followed
    headline = f"All {total} lines are right. Well worked."
    if followed:
        headline = f"{right} of {total} lines are right, {followed} with your earlier value."
    elif open_lines:
        headline = f"{right} of {total} lines are right."
    if open_lines:
        headline += f" Still open: {', '.join(open_lines)}."
    tries = sum(working.attempts.values())
    saved = "Everything is saved." if practice.saved else practice.trouble
    asked = practice.hints_asked
    hints = f"{asked} hint{'' if asked == 1 else 's'}"
    return headline, f"{tries} entries for {total} lines, with {hints}. {saved}"
