"""What is told of a working with slips: at its beginning, once a line is mended, at the end."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.bench.bench import Bench
from leverstep.bench.mending import Mending
from leverstep.course.phrases import listed
from leverstep.erroneous.erroneous_working import carried_to
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.working.page import line_name, missing

_MOST_RESULTS = 2
"""So many of the lines that follow a mended one are told with their values."""

_TO_FIND = (
    ("The line", "which line is the first that is wrong"),
    ("The slip", "which slip was made there"),
    ("The second line", "which line after it has a slip of its own"),
    ("The second slip", "which slip was made there"),
)
"""What is to be found, in the order in which it is asked for."""


def finding(mending: Mending) -> str:
    """Return where the student is."""
    return "find the slip" if len(mending.slips) == 1 else "find the slips"


def slip_told(mending: Mending, question: ChoiceQuestion, is_named: bool) -> str:
    """Return what is said once it was asked which slip was made, with what to mend after the last.

    That is what it was, unless that is said already; "" of another question.
    """
    if question not in mending.questions[1::2]:
        return ""
    was = next(one.text for one in question.answers if one.key in question.right)
    told = "" if is_named else f"It was: {was}."
    if question is not mending.questions[-1]:
        return told
    names = [line_name(one.step) for one in mending.slips]
    lines = f"the line {names[0]}" if len(names) == 1 else f"the lines {listed(names)}, in turn"
    return f"{told} Now mend {lines}.".lstrip()


def missing_told(bench: Bench) -> Mapping[str, Mapping[str, str]]:
    """Return what is missing, as `page.missing` does; slips while they are to be found."""
    mending = bench.mending
    due = None if mending is None else mending.due(bench.answers)
    if mending is None or due is None:
        return missing(bench.working)
    questions = mending.questions
    to_find = dict(_TO_FIND[questions.index(due) : len(questions)])
    is_one = len(mending.slips) == 1
    to_mend = {"That line": "as it should be"} if is_one else {"Both lines": "as they should be"}
    return {"Still to find": to_find, "Then to mend": to_mend}


def followed_told(bench: Bench, entered: str) -> str:
    """Return that what rests on a mended line follows, the last with its values; "" before that.

    `entered` is the key of the line that was entered.
    """
    mending, working = bench.mending, bench.working
    if mending is None or not working.rules.tells:
        return ""
    over = mending.over(working)
    if over != mending.slips:
        is_mended = entered in [one.step.key for one in over if working.stands(one.step.key)]
        due = line_name(mending.slips[len(over)].step)
        return f"The lines after it follow now. Mend {due} next." if is_mended else ""
    keys = carried_to(working.question, mending.slips[-1].step.key)
    carried = [one for one in mending.lines if one.step.key in keys and one.step.kind.is_number]
    results = [one for one in carried if one.step.kind.is_result] or carried
    told = (f"{line_name(one.step)} = {one.entry}" for one in results[-_MOST_RESULTS:])
    return f"The lines after it follow now: {', '.join(told)}."


def slips_of_other(bench: Bench) -> tuple[str, ...]:
    """Return the slips that somebody else made, with what to remember; () before they are told."""
    mending = bench.mending
    if mending is None or mending.due(bench.answers) is not None:
        return ()
    return tuple(
        f"{one.made.slip.name}, at {line_name(one.step)}, by somebody else. "
        f"Remember: {one.made.slip.reason}"
        for one in mending.slips
    )


def mended_headline(bench: Bench, mending: Mending) -> str:
    """Return how far slips were found and mended, where nothing more is asked for."""
    if not bench.working.rules.tells:
        return "All is written."
    lines, slips = mending.found(bench.answers)
    mended = sum(bench.working.stands(one.step.key) for one in mending.slips)
    if len(mending.slips) == 1:
        name = line_name(mending.erroneous.step)
        return _one_headline(name, bool(lines), bool(slips), bool(mended))
    if lines == slips == mended == 2:
        return "You found both lines, named both slips and mended them. Well done."
    told = f"You found {lines} of 2 lines and named {slips} of 2 slips."
    return f"{told} {('Neither is', 'One is', 'Both are')[mended]} mended."


def _one_headline(name: str, line: bool, slip: bool, is_mended: bool) -> str:
    """Return how far one slip was found and mended, by the name of its line."""
    found = f"You found the line {name}" if line else f"The line was {name}"
    named = "named its slip" if slip else "the slip was not the one you named"
    if not is_mended:
        return f"{found}. It is not mended."
    if line and slip:
        return f"{found}, {named} and mended it. Well done."
    return f"{found}, {'and you ' if slip and not line else ''}{named}. It is mended now."
