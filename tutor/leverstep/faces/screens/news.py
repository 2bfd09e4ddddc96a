"""What the screens ask of a bench: to open it, enter a line, give a hint, skip a line.

Everything here is plain Python without widgets, and may run in a worker thread.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING

from leverstep.course.faults import FileError
from leverstep.course.phrases import counted
from leverstep.course.problem import Question
from leverstep.course.shelf import Shelf
from leverstep.entry.reading import after_symbol
from leverstep.faces.screens.entrances import Opening
from leverstep.faces.screens.marks import CLOSED, MARKS, OPEN, SKIPPED, TAKEN, MarginMark
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.page import (
    line_example,
    line_name,
    on_page,
    outcomes,
    prompt_of,
    to_find,
)
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.wording import PARTS, ask, example
from leverstep.working.working import Line, Working
from leverstep.working.writing import quantity

if TYPE_CHECKING:
    from leverstep.bench.bench import Bench
    from leverstep.bench.practice import Practice
    from leverstep.slips.habits import Habits


@dataclass(frozen=True, slots=True)
class News:
    """What came of one thing the student did at a line.

    `typed` is what was entered, `name` what the line is called that it was taken as, `mark` what
    is shown of its verdict.
    """

    key: str
    verdict: Verdict | None = None
    mark: MarginMark = OPEN
    told: str = ""
    changed: str = ""
    moves_on: bool = False
    typed: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class Asked:
    """What the desk asks for: one line, or with the key "" any line of the working."""

    key: str
    asks: str
    prompt: str
    example: str
    standing: str = ""


def open_practice(opening: Opening, shelf: Shelf, habits: Habits) -> tuple[Practice | None, str]:
    """Return the practice with its first derivation made, or else why it can't be opened."""
    from leverstep.bench.practice import Practice, new_seed
    from leverstep.bench.record import RecordError
    from leverstep.working.own import OwnError, read_own

    try:
        if opening.path is not None:
            practice = Practice.resume(opening.path, shelf, habits)
        else:
            own = read_own(opening.problem, opening.own)
            seed = opening.seed or new_seed()
            practice = Practice.start(
                opening.problem, seed, own=own, guidance=opening.guidance, habits=habits
            )
    except (RecordError, FileError, OwnError) as error:
        return None, str(error)
    practice.working.values()
    return practice, ""


def to_explore(opening: Opening) -> Question:
    """Return the question that a line of the first screen opens for exploring.

    A working that is not finished is explored with new numbers, so that no answer is given away.

    Raises:
        FileError: where its numbers have no equilibrium.
        OwnError: where what was measured can't be read.
    """
    from leverstep.bench.practice import new_seed, sound
    from leverstep.working.own import read_own

    seed = new_seed() if opening.path else opening.seed or new_seed()
    own = read_own(opening.problem, opening.own)
    return sound(opening.problem.question(seed, own))


def worth_exploring(practice: Practice) -> Question:
    """Return the question of a working at its end, with new numbers where a line is still open.

    So exploring gives no answer away. What was measured on the own body stays.

    Raises:
        FileError: where the new numbers have no equilibrium.
    """
    from leverstep.bench.practice import new_seed, sound

    question = practice.question
    if practice.working.complete:
        return question
    own = {key: question.exact[key] for key in question.own}
    return sound(question.problem.question(new_seed(), own))


def begun_before(opening: Opening, shelf: Shelf) -> str:
    """Return what to say first: of own hints left out, or a working to go on with; "" for none."""
    from leverstep.bench.practice import unfinished
    from leverstep.slips.catalogue import catalogue_in_use

    if faults := catalogue_in_use().faults:
        return f"Your own file of hints is left out. {faults[0]}."
    if opening.path is not None or opening.seed:
        return ""
    if not any(one.problem is opening.problem for one in unfinished(shelf)):
        return ""
    return "You have an unfinished working of this problem: press Esc to find it in the list."


def enter(bench: Bench, key: str, text: str) -> News:
    """Enter a line, "" for one that says itself which it is; tell the verdict and what changed.

    A formula in symbols may be right and is no line yet: the student stays at it.
    """
    working = bench.working
    before = outcomes(working)
    verdict = bench.enter(key, text) if key else bench.write(text)
    changed = _changes(working, verdict.step, before)
    is_read = verdict.outcome is not Outcome.UNREAD
    moves_on = bool(verdict.step) and is_read and working.done(verdict.step)
    name = line_name(working.step(verdict.step)) if verdict.step else ""
    mark = _mark(working, verdict)
    return News(verdict.step, verdict, mark, bench.tell(verdict), changed, moves_on, text, name)


def hint(bench: Bench, key: str) -> News:
    """Show the next hint of a line, if there is one."""
    name = line_name(bench.working.step(key))
    if bench.working.closed(key):
        return News(key, told=f"No tries are left for {name}, so there is no hint.")
    text = bench.hint(key)
    return News(key, told="" if text else f"These are all the hints for {name}.")


def skip(bench: Bench, key: str) -> News:
    """Skip a line, unless it is done already, and go on."""
    working = bench.working
    if working.done(key):
        return News(key, moves_on=True)
    bench.leave(key)
    name = line_name(working.step(key))
    return News(key, told=f"{name} is skipped for now; ↑ goes back to it.", moves_on=True)


def told(bench: Bench, key: str) -> str:
    """Return what is to be said of the standing entry of a line that is known not to be right."""
    line = bench.working.lines.get(key)
    if line is None or outcomes(bench.working).get(key) is not Outcome.WRONG:
        return ""
    return bench.tell(line.verdict)


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
}


def at_hand(working: Working, chosen: str) -> Step | None:
    """Return the step chosen, or else the first that is still to be done."""
    return working.step(chosen) if chosen else working.current()


def is_free(working: Working, chosen: str) -> bool:
    """Return whether any line may be written now: none is chosen, and none is prescribed."""
    return working.guidance.free and not chosen


def in_sight(working: Working, chosen: str, news: News | None) -> str:
    """Return the line to be kept in sight: that judged last, where any may be written."""
    if is_free(working, chosen) and news is not None and news.verdict is not None and news.key:
        return news.key
    step = at_hand(working, chosen)
    return "" if step is None else step.key


def asked(working: Working, step: Step, chosen: str) -> Asked:
    """Return what to ask for: the step, or any line where the student is free to write one."""
    if not is_free(working, chosen):
        asks, shown = f"{ask(working.question, step)}.", example(step)
        return Asked(step.key, asks, prompt_of(step), shown, standing(working, step.key))
    if working.guidance is Guidance.LANDMARKS:
        later = [s for s in working.to_find if s is not step and s.kind.is_number]
        shown = " or ".join([example(step), *map(line_example, later[:1])])
        asks = f"{ask(working.question, step)}. Any other line may be written with its symbol."
        return Asked("", asks, "line:", shown)
    asks = f"Write a line, such as {line_example(step)}. Still to find: {to_find(working)}."
    return Asked("", asks, "line:", line_example(step))


def hinted(bench: Bench, step: Step, chosen: str) -> str:
    """Return the line that a hint is for while a step is at hand."""
    return bench.hint_line() if is_free(bench.working, chosen) else step.key


def section_of(step: Step) -> str:
    """Return the heading that a step stands under."""
    return PARTS[step.kind.part]


def line_text(step: Step, line: Line | None) -> str:
    """Return a line as it stands on the paper."""
    if line is None:
        return f"{prompt_of(step)} ······"
    text = line.text.strip()
    if step.kind is kinds.EQUATION:
        return text
    shown = text if "=" in text else f"{prompt_of(step)} {text}"
    reading = line.reading
    if reading is not None and step.kind.is_number and not reading.half_digit:
        shown += f" = {quantity(reading.value, step.unit)}"
    return shown


def mark_of(working: Working, step: Step) -> MarginMark:
    """Return the mark in the margin of a line."""
    line = working.lines.get(step.key)
    if step.key in working.left and not working.done(step.key):
        return SKIPPED
    return OPEN if line is None else _mark(working, line.verdict)


def _mark(working: Working, verdict: Verdict) -> MarginMark:
    """Return the mark of a verdict, as far as it is to be told."""
    if verdict.counts and not working.rules.tells:
        return TAKEN
    if verdict.outcome is Outcome.WRONG and working.closed(verdict.step):
        return CLOSED
    return MARKS[verdict.outcome]


def standing(working: Working, key: str) -> str:
    """Return the text that stands on a line, to be put after its symbol; "" where it is empty."""
    line = working.lines.get(key)
    return "" if line is None else after_symbol(line.text, working.step(key))


def progress(working: Working, step: Step | None) -> str:
    """Return where the student is in a working."""
    if working.guidance.free:
        found = "found" if working.rules.tells else "written"
        return f"{done(working)} of {len(working.asked)} {found}"
    if step is None:
        return f"{done(working)} of {len(working.steps)} lines done"
    return f"line {working.steps.index(step) + 1} of {len(working.steps)}"


def wrapped_lines(text: str, width: int) -> list[str]:
    """Return a text in parts that fit, no number parted from its unit; none for no text."""
    kept = re.sub(r"(?<=\d) (?=[A-Za-z°])", "\u00a0", text)
    return wrap(kept, width, subsequent_indent="  ", break_on_hyphens=False)


def done(working: Working) -> int:
    """Return how many of the lines asked for are done."""
    return len(working.asked) - len(working.to_find)


def summary(bench: Bench) -> tuple[str, str]:
    """Return the headline and the account of a working that has come to its end."""
    working = bench.working
    lines = "lines asked for" if working.guidance.free else "lines"
    headline = _headline(working, lines) if working.rules.tells else _written(working, lines)
    entries = counted(sum(working.attempts.values()), "entry", "entries")
    saved = "Everything is saved." if bench.saved else ""
    hints = counted(bench.hints_asked, "hint")
    return (
        headline,
        f"{entries} on {counted(len(working.lines), 'line')}, with {hints}. {saved}".rstrip(),
    )


def _headline(working: Working, lines: str) -> str:
    total = len(working.asked)
    not_right = [s.key for s in on_page(working) if not working.stands(s.key)]
    still_open = [line_name(working.step(key)) for key in not_right if not working.done(key)]
    used_up = [line_name(working.step(key)) for key in not_right if working.done(key)]
    standing = outcomes(working)
    followed = sum(standing.get(s.key) is Outcome.FOLLOWED for s in working.asked)
    right = sum(working.stands(s.key) for s in working.asked) - followed
    headline = f"All {total} {lines} are right. Well done."
    if followed:
        headline = f"{right} of {total} {lines} are right, {followed} with your earlier value."
    elif not_right:
        headline = f"{right} of {total} {lines} are right."
    if still_open:
        headline += f" Still open: {', '.join(still_open)}."
    if used_up:
        headline += f" No tries are left for {', '.join(used_up)}."
    return headline


def _written(working: Working, lines: str) -> str:
    """Return the headline where what came of the lines is not to be told yet."""
    headline = f"{done(working)} of {len(working.asked)} {lines} are written."
    return headline + (f" Still open: {to_find(working)}." if working.to_find else "")
