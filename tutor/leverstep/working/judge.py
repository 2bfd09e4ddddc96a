"""Judging a value: against the reference, and against what follows from the student's own lines."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from leverstep.course.problem import FIGURES, Question
from leverstep.entry.reading import Reading
from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.graph import Probe
from leverstep.statics.ratios import other_definitions
from leverstep.statics.reaction import points_at
from leverstep.statics.step import NOTHING, Step
from leverstep.working.precision import ROUNDING, is_coarse

_AS_DEFINED = 0.002
"""How far a value by another definition may lie off it, as a share: as roundings on the way do.

A wrong value that only comes near one is none, so that this is less than a right value may be off.
"""


class Band(NamedTuple):
    """The values that count as one: from `low` to `high`."""

    low: float
    high: float

    def holds(self, value: float, slack: float = 0.0) -> bool:
        """Return whether a value lies in the band, widened by `slack` on both sides."""
        return self.low - slack <= value <= self.high + slack

    def gap(self, value: float) -> float:
        """Return how far a value lies outside the band, 0 within it."""
        return max(self.low - value, value - self.high, 0.0)

    def widened(self, share: float) -> Band:
        """Return the band widened by a share of its own size."""
        by = share * max(abs(self.low), abs(self.high))
        return Band(self.low - by, self.high + by)


@lru_cache(maxsize=256)
def constant_sets(question: Question, names: tuple[str, ...]) -> tuple[Mapping[str, float], ...]:
    """Return each way of taking some constants: as they are printed, then the extremes."""
    accepted = [question.accepted[name] for name in names]
    printed = tuple(values[0] for values in accepted)
    extremes = itertools.product(*((min(values), max(values)) for values in accepted))
    ways = dict.fromkeys([printed, *extremes])
    return tuple(dict(zip(names, way, strict=True)) for way in ways)


def spread(
    question: Question,
    key: str,
    own: Mapping[str, float],
    taken: Mapping[str, float] | None = None,
) -> Band | None:
    """Return the band of a step over all ways of taking the constants.

    None where some value is not finite: a number can't be divided by a length of zero.

    Args:
        question: whose numbers count.
        key: the step.
        own: values that stand in place of earlier steps.
        taken: constants that are known to be taken so.
    """
    return band_of(question, question.graph.probe(key, question.numbers, own, taken))


def band_of(
    question: Question, probe: Probe, changes: Sequence[tuple[Choice, float]] = ()
) -> Band | None:
    """Return the band of a probe over all ways of taking its constants, None as `spread` does.

    `changes` are choices that are not made as they should be; they may bring in a constant that
    the units of the givens do not.
    """
    names = tuple(
        name
        for name in CONVENTIONS
        if name in probe.constants and (changes or name in question.constants)
    )
    try:
        values = probe.values(changes, constant_sets(question, names))
    except ArithmeticError:
        return None
    return Band(min(values), max(values))


def reference(question: Question, key: str) -> Band:
    """Return the band of right values of a step, before any tolerance."""
    return _references(question)[key]


def accepted(question: Question, key: str) -> Band:
    """Return the band of a step that is called right, but for half a unit of the last digit."""
    return reference(question, key).widened(question.problem.share_off)


@lru_cache(maxsize=256)
def _references(question: Question) -> Mapping[str, Band]:
    """Return the band of right values of each step, over all ways of taking the constants."""
    graph, numbers = question.graph, question.numbers
    _, *extremes = constant_sets(question, question.constants)
    ways = (question.right, *(graph.values(numbers, constants) for constants in extremes))
    values = {key: [way[key] for way in ways] for key in question.right}
    return {key: Band(min(found), max(found)) for key, found in values.items()}


class Judgement(NamedTuple):
    """How a value compares: with the reference, with the student's own lines, and if too coarse.

    `empty` marks a zero that follows from a wrong zero before it: it shows nothing of the line.
    """

    right: bool
    follows: bool
    coarse: bool
    empty: bool = False


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
    right, coarse = _compare(question, step, reading, reference(question, step.key))
    right = right and _points_so(question, step, reading, {})
    follows = empty = False
    for own in carried:
        if right or coarse or not own:
            break
        followed = spread(question, step.key, own)
        if followed is None:
            continue
        if followed.high < 0 < reading.value and step.kind.is_size:
            followed = Band(-followed.high, -followed.low)  # a size is written without its sign
        follows, coarse = _compare(question, step, reading, followed)
        follows = follows and _points_so(question, step, reading, own)
        if follows:
            is_zero = reading.value == 0 and step.kind.is_number
            empty = is_zero and _rests_on_a_zero(question, step, own)
            break
    return Judgement(right, follows and not empty, coarse, empty)


def _points_so(question: Question, step: Step, reading: Reading, own: Mapping[str, float]) -> bool:
    """Return whether a direction that is typed as a bearing has the right angle, if it is one."""
    if reading.bearing is None:
        return True
    posture = question.at(step).problem.posture
    try:
        values = question.graph.values(question.numbers, {}, own=own)
    except ArithmeticError:
        return False
    return points_at(posture, question.numbers, values, reading.bearing)


def other_definition(
    question: Question, step: Step, reading: Reading, carried: Iterable[Mapping[str, float]]
) -> Choice | None:
    """Return the choice by which a reading is what another course calls mechanical advantage.

    None where it is not, by the right values before it or by any of the student's own (`carried`).
    """
    for choice, own in itertools.product(other_definitions(step), ({}, *carried)):
        probe = question.graph.probe(step.key, question.numbers, own)
        band = band_of(question, probe, [(choice, 1)])
        slack = max(2 * reading.half_digit, _AS_DEFINED * abs(reading.value))
        if band is not None and band.holds(reading.value, slack):
            return choice
    return None


def _rests_on_a_zero(question: Question, step: Step, own: Mapping[str, float]) -> bool:
    """Return whether a zero that should be none stands among what a step is worked out from."""
    used = question.graph.stops(step.key, own)
    return any(own[key] == 0 and question.right[key] != 0 for key in used)


def _compare(question: Question, step: Step, reading: Reading, band: Band) -> tuple[bool, bool]:
    """Return whether a value fits a band, and whether it is too coarse to say."""
    if not step.kind.is_number:
        return band.holds(reading.value), False
    if reading.mass_unit:
        return False, False
    if band.low == band.high == 0 and abs(reading.value) < NOTHING:
        return True, False
    accepted = band.widened(question.problem.share_off)
    fits = accepted.holds(reading.value, reading.half_digit)
    if not fits or reading.figures is None or reading.figures >= FIGURES:
        return fits, False
    if reading.value and not is_coarse(
        question, step, reading
    ):  # few figures are right only as they round
        return band.holds(reading.value, reading.half_digit * (1 + ROUNDING)), False
    ends, enough = (band.low, band.high), question.problem.figures
    shown = {*ends, *(float(f"{end:.{enough}g}") for end in ends)}
    exact = any(abs(reading.value - end) <= ROUNDING * abs(end) for end in shown)
    return exact, not exact
