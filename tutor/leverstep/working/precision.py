"""How finely a value is typed, beside the figures that the given behind its line carries."""

from __future__ import annotations

from leverstep.course.problem import FIGURES, Question
from leverstep.entry.reading import Reading
from leverstep.entry.tree import number_in
from leverstep.statics.points import Given
from leverstep.statics.step import Step
from leverstep.statics.units import STANDARD_GRAVITY
from leverstep.working.wording import given_about

_WHOLE = 0.5
"""Half a unit of the last digit of a whole number."""

ROUNDING = 1e-6
"""What the arithmetic of a computer may lose of a number, as a share of it."""

_SAME_PLACE = 0.01
"""Digits end at one place where what they leave open differs by no more than this share."""


def is_coarse(question: Question, step: Step, reading: Reading) -> bool:
    """Return whether a value has too few figures, whatever it is; nothing but zero may have.

    Three are enough, or as many as the problem says; on a line that only converts or weighs one
    given so are as many as that has, if they are two or end where its own do, and that given itself
    without the zeros at its end.
    """
    figures, enough = reading.figures, question.problem.figures
    if not step.kind.is_number or figures is None or figures >= enough or reading.value == 0:
        return False
    given = given_converted(question, step)
    if given is None:
        return True
    carried = max(2, len(question.number_written(given).replace(".", "").lstrip("0")))
    ends_there = ends_as_given(question, step, reading)
    return figures < carried and not ends_there and not _is_given(question, given, reading)


def _is_given(question: Question, given: Given, reading: Reading) -> bool:
    """Return whether a value is that of a given itself, `20 lbf` of 20.0 lbf, or its weight."""
    stated = question.in_si(given)
    ways = (stated, stated * STANDARD_GRAVITY) if given.is_mass else (stated,)
    return any(abs(reading.value - way) <= ROUNDING * abs(way) for way in ways)


def as_a_book_rounds(question: Question, reading: Reading) -> Reading | None:
    """Return a whole number that ends in zeros, with the figures that are enough for its problem.

    Two are enough where `1300 N` may be 1272 N: its zeros only hold the place. None where a number
    is none of these.
    """
    number, enough = number_in(reading.tree), question.problem.figures
    if enough == FIGURES or number is None or not number.value or number.half_digit != _WHOLE:
        return None
    digits = str(round(abs(number.value)))
    if len(digits.rstrip("0")) > enough or len(digits) <= enough:
        return None
    larger = 10 ** (len(digits) - enough)
    return reading._replace(figures=enough, half_digit=reading.half_digit * larger)


def given_converted(question: Question, step: Step) -> Given | None:
    """Return the measured given that a line only converts or weighs; None where it does more."""
    if step.kind.begins_with in ("further", "source"):
        return None
    given = given_about(question, step)
    if given is None or not given.unit or given.key not in step.quantities:
        return None
    return given if given in question.givens else None


def ends_as_given(question: Question, step: Step, reading: Reading) -> bool:
    """Return whether the last digit typed stands where that of the given does, in its unit."""
    given = given_converted(question, step)
    if given is None or reading.figures is None:
        return False
    number = question.number_written(given)
    half_digit = float(f"0.5e-{len(number.partition('.')[2])}")
    carried = half_digit * abs(question.right[step.key]) / float(number)
    return abs(reading.half_digit - carried) <= _SAME_PLACE * carried
