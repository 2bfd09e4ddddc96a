"""Whole workings in conventions of a student's own: the other sense of rotation, decimal commas.

Each line is written on a blank sheet as a value or as arithmetic, by the student of `student`, who
keeps to one convention from the first line to the last. None of them is wrong.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace

from leverstep.statics import kinds
from leverstep.working.guidance import Guidance
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from marking import Desk, told_in_short, typed
from student.balances import balance
from student.entries import equation, equation_text
from student.lines import FIGURES, WORDS, Formula, formula_text, rounded
from student.sheet import Sheet
from tables import Tally

_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def turned(line: Formula) -> Formula:
    """Return a line with the other sign before each of its terms."""
    return replace(line, terms=tuple(replace(term, sign=-term.sign) for term in line.terms))


def written_lines(sheet: Sheet, sense: int, chance: random.Random) -> Iterator[tuple[str, str]]:
    """Yield the lines of a whole working, each with its key, with one sense as positive.

    Args:
        sheet: of the student.
        sense: 1 for the sense of the problem, -1 for the other one.
        chance: decides which lines show their arithmetic.
    """
    values = sheet.start()
    for key, step in sheet.steps.items():
        if step.kind.is_equation:
            view = sheet.at(step)
            line = equation(view) if step.kind is kinds.EQUATION else balance(view, step)
            yield key, equation_text(turned(line) if sense < 0 else line, chance.random() < 0.5)
            continue
        line = sheet.formula(key, values)
        if sense < 0 and step.kind.name in ("moment", "couple_moment"):
            line = turned(line)
        if sense < 0 and step.kind is kinds.MOMENT_SPED_UP:
            line = line.flipped("sped up")  # the moment held has its other sign already
        value = line.value
        text = typed(step, value)
        if step.kind.name not in WORDS:
            if line.terms and chance.random() < 0.5:
                text = f"{formula_text(line)} = {text}"
            text = f"{key} = {text}"
        values[key] = rounded(value, FIGURES, step.kind.name)
        yield key, text


def whole_workings(desk: Desk, tally: Tally, chance: random.Random) -> None:
    """Measure 8: whole workings with the other sense as positive, and with decimal commas.

    Where lines are asked for, the sense is the problem's own.
    """
    for measure, sense, comma, guidance in (
        ("the other sense kept", -1, False, Guidance.BLANK),
        ("decimal commas, blank sheet", 1, True, Guidance.BLANK),
        ("decimal commas, lines asked", 1, True, Guidance.LINES),
    ):
        working = Working(desk.question, guidance)
        for key, text in written_lines(desk.sheet, sense, chance):
            line = _POINT.sub(",", text) if comma else text
            verdict = working.write(line) if guidance.free else working.enter(key, line)
            said = f"{desk.question.problem.id} seed {desk.question.seed}: {key}: {line} -> "
            said += f"{verdict.outcome}: {told_in_short(verdict) or reason_words(verdict.reason)}"
            tally.add(measure, desk.sheet.steps[key].kind.name, _outcome(verdict), said)


def _outcome(verdict: Verdict) -> str:
    """Return what came of a right line in a convention of one's own."""
    if verdict.outcome is Outcome.WRONG:
        return "right called wrong"
    return "right" if verdict.settled else "not judged"
