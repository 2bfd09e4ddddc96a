"""What is asked of a working with slips: which lines go wrong, and which slip each of them is."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.erroneous.erroneous_working import ErroneousWorking, MadeSlip, told_of_slip
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
"""What is said first of a working with one slip."""

TWO_INTRODUCED = (
    "Somebody else worked this problem and made two slips, on two lines. What rests on these "
    "lines carries the slips on. Find both lines and both slips, then mend them."
)
"""What is said first of a working with two slips."""

_OF_ITS_OWN = "It does not follow from the lines before it"
"""What is told of the line of a second slip."""

_SECOND = ":2"
"""What the key of a question about the second slip ends with."""


def introduced(working: ErroneousWorking) -> str:
    """Return what is said first of a working with slips."""
    return INTRODUCED if len(working.slips) == 1 else TWO_INTRODUCED


def slip_questions(working: ErroneousWorking) -> tuple[ChoiceQuestion, ...]:
    """Return all that is asked of a working: of each slip its line, then which it is."""
    return tuple(
        asked
        for slip in working.slips
        for asked in (_line_question(working, slip), _slip_question(working, slip))
    )


def _line_question(working: ErroneousWorking, slip: MadeSlip) -> ChoiceQuestion:
    """Return the question which line goes wrong, of some that stand one after the other."""
    answers = tuple(
        OfferedAnswer(step.key, line_name(step), told_of_line(working, slip, step))
        for step in _offered(working, slip)
    )
    right = frozenset({slip.step.key})
    if slip is working.slips[0]:
        asks = "Which of these lines is the first that is wrong?"
        return ChoiceQuestion("slip:line", QuestionSort.LINE, asks, answers, right)
    before = line_name(working.step)
    asks = (
        f"A second slip was made on a line after {before}. Which of these lines is wrong by that, "
        f"and not only by what it rests on?"
    )
    return ChoiceQuestion(f"slip:line{_SECOND}", QuestionSort.LINE, asks, answers, right)


def _offered(working: ErroneousWorking, slip: MadeSlip) -> tuple[Step, ...]:
    """Return the lines to choose from; where among them the wrong one lies tells nothing.

    For a second slip they are lines after the first.
    """
    steps = working.question.derivation.asked
    about: tuple[str, ...] = ("offered",)
    if slip is not working.slips[0]:
        steps, about = steps[steps.index(working.step) + 1 :], ("offered", "second")
    place, spare = steps.index(slip.step), max(0, len(steps) - MOST_LINES)
    least, most = max(0, place - MOST_LINES + 1), min(place, spare)
    start = least + int(working.question.lot("slip", *about) * (most - least + 1))
    start = min(start, most)
    return steps[start : start + MOST_LINES]


def told_of_line(working: ErroneousWorking, slip: MadeSlip, step: Step) -> str:
    """Return what is told to who takes a line for that of a slip."""
    is_first = slip is working.slips[0]
    if step is slip.step:
        return f"{'All lines before it are right' if is_first else _OF_ITS_OWN}."
    if step in [one.step for one in working.slips]:
        return "A line before it is wrong already."
    name = line_name(step)
    if step.key in working.carried:
        return f"{name} is worked out rightly from a line before it that is wrong."
    return f"{name} is right."


def _slip_question(working: ErroneousWorking, slip: MadeSlip) -> ChoiceQuestion:
    """Return the question which slip was made on a line that goes wrong."""
    question, right = working.question, frozenset({key_of(slip.made)})
    there = sorted(
        (slip.made, *slip.others), key=lambda one: question.lot("slip", "asked", key_of(one))
    )
    answers = tuple(_answers(working, slip, there))
    line = working.line(slip.step.key).text
    if slip is working.slips[0]:
        asks = f"This line is the first that is wrong: {line}. Which slip was made there?"
        return ChoiceQuestion("slip:name", QuestionSort.SLIP, asks, answers, right)
    asks = f"This line has the second slip: {line}. Which slip was made there?"
    return ChoiceQuestion(f"slip:name{_SECOND}", QuestionSort.SLIP, asks, answers, right)


def _answers(
    working: ErroneousWorking, slip: MadeSlip, there: list[Hypothesis]
) -> Iterator[OfferedAnswer]:
    for one in there:
        told = one.slip.reason
        if one is not slip.made:
            value = working.would_be(slip, one)
            told = f"With that, it would be {value_text(slip.step, value)}."
        yield OfferedAnswer(key_of(one), told_of_slip(working.question, one), told)


def key_of(one: Hypothesis) -> str:
    """Return the key that a slip at its place is kept by."""
    return " ".join([one.slip.id, *(f"{choice.name}={value:g}" for choice, value in one.changes)])
