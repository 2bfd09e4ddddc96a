"""Judging a value: against the reference, and against what follows from the student's own lines."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from tutor.library.problem import Question
from tutor.statics.choices import CONVENTIONS, Choice
from tutor.statics.graph import Values
from tutor.statics.step import Step
from tutor.working.reading import Reading

COARSE = 3
"""An entry needs this many significant figures, where its value has them."""


@dataclass(frozen=True, slots=True)
class Band:
    """The values that count as one: from `low` to `high`."""

    low: float
    high: float

    def holds(self, value: float, slack: float = 0.0) -> bool:
        """Return whether a value lies in the band, widened by `slack` on both sides."""
        return self.low - slack <= value <= self.high + slack

    def widened(self, share: float) -> Band:
        """Return the band widened by a share of its own size."""
        by = share * max(abs(self.low), abs(self.high))
        return Band(self.low - by, self.high + by)


def constant_sets(question: Question) -> Iterator[dict[str, float]]:
    """Yield each way of taking the constants, the printed ones first, then the extremes."""
    yield {}
    names = question.constants
    ends = [(min(v := CONVENTIONS[name].values), max(v)) for name in names]
    for values in itertools.product(*ends):
        yield dict(zip(names, values, strict=True))


def all_values(
    question: Question,
    own: Mapping[str, float] | None = None,
    choices: Mapping[Choice, float] | None = None,
) -> list[Values]:
    """Return the values of all steps for each way of taking the constants."""
    return [
        question.graph.values(question.numbers, constants, choices, own)
        for constants in constant_sets(question)
    ]


def band(values: Iterable[Values], key: str) -> Band:
    """Return the band that a step spans over several evaluations."""
    found = [one[key] for one in values]
    return Band(min(found), max(found))


@dataclass(frozen=True, slots=True)
class Judgement:
    """How a value compares: with the reference, with the student's own lines, and if too coarse."""

    right: bool
    follows: bool
    coarse: bool


def judge_value(
    question: Question, step: Step, reading: Reading, carried: Iterable[Mapping[str, float]]
) -> Judgement:
    """Return how a reading compares with its step.

    Args:
        question: whose numbers count.
        step: the step it was typed at.
        reading: the value, in the step's unit.
        carried: sets of the student's own earlier values, any of which may have been used.
    """
    reference = band(all_values(question), step.key)
    right, coarse = _compare(question, step, reading, reference)
    follows = False
    for own in carried:
        if right or coarse or not own:
            break
        try:
            followed = band(all_values(question, own), step.key)
        except ArithmeticError:
            continue
        follows, coarse = _compare(question, step, reading, followed)
        if follows:
            break
    return Judgement(right, follows, coarse)


def _compare(
    question: Question, step: Step, reading: Reading, reference: Band
) -> tuple[bool, bool]:
    """Return whether a value fits a band, and whether it is too coarse to say."""
    if step.kind in ("class", "reaction_direction"):
        return reference.holds(reading.value), False
    if reading.mass_unit:
        return False, False
    accepted = reference.widened(float(question.problem.tolerance))
    fits = accepted.holds(reading.value, reading.half_digit)
    if fits and reading.figures is not None and reading.figures < COARSE:
        shown = {float(f"{end:.{COARSE}g}") for end in (reference.low, reference.high)}
        exact = any(abs(reading.value - end) <= 1e-9 * abs(end) for end in shown)
        return exact, not exact
    return fits, False
