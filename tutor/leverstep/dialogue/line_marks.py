"""How the lines of a working stand, as marks, and which of them changed by an entry."""

from __future__ import annotations

from leverstep.dialogue.replies import MARK_OF, LineChanged, Mark
from leverstep.working.page import line_name, outcomes
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working


def mark_of(working: Working, verdict: Verdict) -> Mark:
    """Return the mark of a verdict, as far as it is to be told."""
    if verdict.counts and not working.rules.tells:
        return Mark.TAKEN
    if verdict.outcome is Outcome.WRONG and working.closed(verdict.step):
        return Mark.CLOSED
    return MARK_OF[verdict.outcome]


def line_mark(working: Working, key: str) -> Mark:
    """Return the mark of a line as it stands."""
    line = working.lines.get(key)
    if key in working.filled:
        return Mark.FILLED
    if key in working.left and not working.done(key):
        return Mark.SKIPPED
    return Mark.OPEN if line is None else mark_of(working, line.verdict)


def changed_lines(
    working: Working, entered: str, before: dict[str, Outcome]
) -> tuple[LineChanged, ...]:
    """Return which other lines have another verdict than before."""
    return tuple(
        LineChanged(key, line_name(working.step(key)), outcome)
        for key, outcome in outcomes(working).items()
        if key != entered and key in before and before[key] is not outcome
    )
