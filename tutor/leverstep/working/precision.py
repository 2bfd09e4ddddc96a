"""How finely a value is typed, beside the figures that the given behind its line carries."""

from __future__ import annotations

from leverstep.course.problem import Question
from leverstep.entry.reading import COARSE, Reading
from leverstep.statics.posture import Given
from leverstep.statics.step import Step
from leverstep.working.wording import given_about

_SAME_PLACE = 0.01
"""Digits end at one place where what they leave open differs by no more than this share."""


def is_coarse(question: Question, step: Step, reading: Reading) -> bool:
    """Return whether a value has too few figures, whatever it is; nothing but zero may have.

    Three are enough; on a line that only converts or weighs one given so are as many as that has,
    if they are two or end where its own do.
    """
    figures = reading.figures
    if not step.kind.is_number or figures is None or figures >= COARSE or reading.value == 0:
        return False
    given = given_converted(question, step)
    if given is None:
        return True
    carried = max(2, len(question.number_written(given).replace(".", "").lstrip("0")))
    return figures < carried and not ends_as_given(question, step, reading)


def given_converted(question: Question, step: Step) -> Given | None:
    """Return the measured given that a line only converts or weighs; None where it does more."""
    given = given_about(question, step)
    if given not in question.givens or given.key not in step.quantities:
        return None
    return given if given.unit else None


def ends_as_given(question: Question, step: Step, reading: Reading) -> bool:
    """Return whether the last digit typed stands where that of the given does, in its unit."""
    given = given_converted(question, step)
    if given is None or reading.figures is None:
        return False
    number = question.number_written(given)
    half_digit = float(f"0.5e-{len(number.partition('.')[2])}")
    carried = half_digit * abs(question.right[step.key]) / float(number)
    return abs(reading.half_digit - carried) <= _SAME_PLACE * carried
