"""What is told of a working with a slip: at its beginning, once its line is mended, at the end."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.bench.bench import Bench
from leverstep.bench.mending import Mending
from leverstep.working.page import line_name, missing
from leverstep.working.writing import value_text

FINDING = "find the slip"
"""Where the student is before the line is mended."""

_MOST_RESULTS = 2
"""So many of the lines that follow a mended one are told with their values."""


def now_mend(mending: Mending, is_named: bool) -> str:
    """Return what is said once the slip was asked for: what it was, unless that is said already."""
    slip = mending.questions[-1]
    was = (
        "" if is_named else f"It was: {next(a.text for a in slip.answers if a.key in slip.right)}. "
    )
    return f"{was}Now mend the line {line_name(mending.erroneous.step)}."


def missing_told(bench: Bench) -> Mapping[str, Mapping[str, str]]:
    """Return what is missing, as `page.missing` does; while the slip is to be found, that it is."""
    mending = bench.mending
    due = None if mending is None else mending.due(bench.answers)
    if mending is None or due is None:
        return missing(bench.working)
    is_line = due is mending.questions[0]
    to_find = {"The line": "which line is the first that is wrong"} if is_line else {}
    to_find["The slip"] = "which slip was made there"
    return {"Still to find": to_find, "Then to mend": {"That line": "as it should be"}}


def followed_told(bench: Bench) -> str:
    """Return that what rests on the mended line follows, with the last values; "" before that."""
    mending, working = bench.mending, bench.working
    if mending is None or not working.stands(mending.erroneous.step.key) or not working.rules.tells:
        return ""
    carried = [s for s in working.steps if s.key in mending.erroneous.carried and s.kind.is_number]
    results = [step for step in carried if step.kind.is_result] or carried
    values = working.question.right
    told = (
        f"{line_name(step)} = {value_text(step, values[step.key])}"
        for step in results[-_MOST_RESULTS:]
    )
    return f"The lines after it follow now: {', '.join(told)}."


def slip_of_other(bench: Bench) -> tuple[str, ...]:
    """Return the slip that somebody else made, with what to remember; () before it is told."""
    mending = bench.mending
    if mending is None or mending.due(bench.answers) is not None:
        return ()
    made, name = mending.erroneous.made.slip, line_name(mending.erroneous.step)
    return (f"{made.name}, at {name}, by somebody else. Remember: {made.reason}",)


def mended_headline(bench: Bench, mending: Mending) -> str:
    """Return how far the slip was found and mended, where nothing more is asked for."""
    line, slip = mending.is_found(bench.answers)
    name = line_name(mending.erroneous.step)
    found = f"You found the line {name}" if line else f"The line was {name}"
    named = "named its slip" if slip else "the slip was not the one you named"
    if not bench.working.rules.tells:
        return "All is written."
    if not bench.working.stands(mending.erroneous.step.key):
        return f"{found}. It is not mended."
    if line and slip:
        return f"{found}, {named} and mended it. Well done."
    return f"{found}, {'and you ' if slip and not line else ''}{named}. It is mended now."
