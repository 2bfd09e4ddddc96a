"""The values that a student may count on at a working: given, written, or told."""

from __future__ import annotations

import math

from leverstep.entry.amount import Amount
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.standing_lines import Line, amount_of
from leverstep.working.working import Working


def values_written(working: Working) -> dict[str, Amount]:
    """Return every symbol of the problem with the value that is given, or that the student wrote
    (else nan).

    What an equation comes to is only told where verdicts are, and so no value before that.
    """
    known, right = working.values_known(), working.question.right
    for key, line in dict(working.lines).items():
        if key in known and not _is_written_out(working, line):
            known[key] = Amount(math.nan)
    for step in working.question.derivation.steps:
        if step.key in right and _is_as_stated(working, step):
            known[step.key] = amount_of(step, right[step.key])
    return known


def _is_written_out(working: Working, line: Line) -> bool:
    """Return whether the value of a line is one that the student typed, or was told."""
    is_told = working.rules.tells and bool(line.claimed or line.implies)
    return line.reading is not None and (line.reading.tree is not None or is_told)


def _is_as_stated(working: Working, step: Step) -> bool:
    """Return whether a step only carries a given on, so that no line is asked for it."""
    rests_on_givens = not working.question.derivation.ancestors(step.key)
    return not step.asked and rests_on_givens and CONVENTIONS.keys().isdisjoint(step.uses)
