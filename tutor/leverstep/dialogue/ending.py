"""What is said at the end of a working: how it went, what is open, and what was found."""

from __future__ import annotations

from collections.abc import Iterable

from leverstep.bench.bench import Bench
from leverstep.course.phrases import counted
from leverstep.dialogue.example_told import example_account, example_headline
from leverstep.dialogue.mending_told import mended_headline
from leverstep.dialogue.replies import Ending
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.page import line_name, on_page, outcomes, to_find
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working
from leverstep.working.writing import value_text


def ending(bench: Bench) -> Ending:
    """Return how a working stands where nothing more is asked for."""
    working = bench.working
    is_part = working.guidance.free or bench.fading is not None
    lines = "lines asked for" if is_part else "lines"
    headline = _headline(working, lines) if working.rules.tells else _written(working, lines)
    if bench.mending is not None:
        headline = mended_headline(bench, bench.mending)
    example = example_headline(bench)
    headline = example or headline
    saved = "Everything is saved." if bench.saved else ""
    account = saved if example else f"{_entered(bench)} {saved}".rstrip()
    filled = [key for key in working.filled if not bench.shows(key)]
    if filled and bench.mending is None:
        account += f" {counted(len(filled), 'line was', 'lines were')} filled in for you."
    account = f"{account} {example_account(bench)}".strip()
    is_own = bench.mending is None and not example
    steps = working.asked if is_own else working.steps
    return Ending(headline, account, _results(working, steps), bool(working.to_find))


def _entered(bench: Bench) -> str:
    """Return in a sentence how much was entered, and with how many hints."""
    working, hints = bench.working, counted(bench.hints_given.count, "hint")
    if not working.written:
        done = "written" if bench.mending is None else "mended"
        told = f"with {hints}" if bench.hints_given.count else "and no hint was asked for"
        return f"No line was {done}, {told}."
    entries = counted(sum(working.attempts.values()), "entry", "entries")
    return f"{entries} on {counted(len(working.written), 'line')}, with {hints}."


def _results(working: Working, steps: Iterable[Step]) -> tuple[str, ...]:
    """Return the value of each thing that was to be found, the student's own where there is one."""
    values, question = working.values(), working.question
    return tuple(
        f"{ask(question, step)}: {value_text(step, values[step.key])}."
        for step in steps
        if step.kind.is_result or step.kind.part is kinds.Part.FURTHER
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
    done = len(working.asked) - len(working.to_find)
    headline = f"{done} of {len(working.asked)} {lines} are written."
    return headline + (f" Still open: {to_find(working)}." if working.to_find else "")
