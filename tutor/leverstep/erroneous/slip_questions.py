"""What is asked of a working with a slip: which line first goes wrong, and which slip that is."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.erroneous.erroneous_working import ErroneousWorking, told_of_slip
from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.slips.hypotheses import Hypothesis
from leverstep.statics.step import Step
from leverstep.working.page import line_name
from leverstep.working.writing import value_text

MOST_LINES = 7
"""So many lines are offered, one after the other as they stand: each has a digit."""

INTRODUCED = (
    "Somebody else worked this problem and made a slip on one line. What rests on that line "
    "carries the slip on. Find the line and the slip, then mend it."
)
"""What is said first of such a working."""

LINE_KEY, SLIP_KEY = "slip:line", "slip:name"
"""The keys of both questions."""


def line_question(working: ErroneousWorking) -> ChoiceQuestion:
    """Return the question which line first goes wrong, of some that stand one after the other."""
    wrong = working.step
    answers = tuple(
        OfferedAnswer(step.key, line_name(step), told_of_line(working, step))
        for step in _offered(working)
    )
    asks = "Which of these lines is the first that is wrong?"
    return ChoiceQuestion(LINE_KEY, QuestionSort.LINE, asks, answers, frozenset({wrong.key}))


def _offered(working: ErroneousWorking) -> tuple[Step, ...]:
    """Return the lines to choose from; where among them the wrong one lies tells nothing."""
    steps = working.question.derivation.asked
    place, spare = steps.index(working.step), max(0, len(steps) - MOST_LINES)
    least, most = max(0, place - MOST_LINES + 1), min(place, spare)
    start = least + int(working.question.lot("slip", "offered") * (most - least + 1))
    start = min(start, most)
    return steps[start : start + MOST_LINES]


def told_of_line(working: ErroneousWorking, step: Step) -> str:
    """Return what is told to who chooses a line."""
    if step is working.step:
        return "All lines before it are right."
    name = line_name(step)
    if step.key in working.carried:
        return f"{name} is worked out rightly from a line before it that is wrong."
    return f"{name} is right."


def slip_question(working: ErroneousWorking) -> ChoiceQuestion:
    """Return the question which slip was made on the line that first goes wrong."""
    question, key = working.question, working.made.step
    there = sorted(
        (working.made, *working.others), key=lambda one: question.lot("slip", "asked", key_of(one))
    )
    answers = tuple(_answers(working, there))
    line = working.line(key).text
    asks = f"This line is the first that is wrong: {line}. Which slip was made there?"
    right = frozenset({key_of(working.made)})
    return ChoiceQuestion(SLIP_KEY, QuestionSort.SLIP, asks, answers, right)


def _answers(working: ErroneousWorking, there: list[Hypothesis]) -> Iterator[OfferedAnswer]:
    question = working.question
    for one in there:
        told = one.slip.reason
        if one is not working.made:
            values = question.graph.values(question.numbers, {}, choices=dict(one.changes))
            told = f"With that, it would be {value_text(working.step, values[one.step])}."
        yield OfferedAnswer(key_of(one), told_of_slip(question, one), told)


def key_of(one: Hypothesis) -> str:
    """Return the key that a slip at its place is kept by."""
    return " ".join([one.slip.id, *(f"{choice.name}={value:g}" for choice, value in one.changes)])
