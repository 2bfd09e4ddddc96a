"""One given moved over its span: what follows at each value, and where nothing does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise
from typing import Literal

from leverstep.course.problem import Question
from leverstep.explore.givens import Movable
from leverstep.explore.results import Result, Values, results_of, values_of

POINTS = 60
"""How many steps a sweep takes over a span."""
_HALVINGS = 9
"""How often the step beside a border is halved, to find where the border lies."""


@dataclass(frozen=True, slots=True)
class SweepSample:
    """One value of the given, and what follows; `values` is None where `trouble` says why not."""

    at: Fraction
    values: Values | None
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Border:
    """Where equilibrium ends. `upward` says that it is missing above, else below.

    At a `singular` border what is to be found grows without end, at an `idle` one it shrinks to
    nothing; `other` has another reason, which `trouble` gives.
    """

    at: Fraction
    kind: Literal["singular", "idle", "other"]
    upward: bool
    trouble: str


@dataclass(frozen=True)
class Sweep:
    """What follows from one given over its span.

    `samples` are in the order of their values; `borders` lie where equilibrium begins or ends.
    """

    movable: Movable
    results: tuple[Result, ...]
    samples: tuple[SweepSample, ...]
    borders: tuple[Border, ...]

    @property
    def runs(self) -> tuple[tuple[SweepSample, ...], ...]:
        """Return the stretches without a gap."""
        parts = groupby(self.samples, key=lambda sample: sample.values is not None)
        return tuple(tuple(run) for there, run in parts if there)


def sweep(question: Question, movable: Movable) -> Sweep:
    """Return what follows from a given over its span, all other givens as they are."""
    results = results_of(question)
    look = _Look(question, movable, results)
    low, step = movable.span.low, (movable.span.high - movable.span.low) / POINTS
    places = {low + step * number for number in range(POINTS + 1)} | {question.exact[movable.key]}
    samples = [look.at(place) for place in sorted(places)]
    edges: list[SweepSample] = []
    borders: list[Border] = []
    for left, right in pairwise(samples):
        if (left.values is None) != (right.values is None):
            edge, border = look.border(left, right)
            edges.append(edge)
            borders.append(border)
    samples = sorted([*samples, *edges], key=lambda sample: sample.at)
    return Sweep(movable, results, tuple(samples), tuple(borders))


class _Look:
    """Looks at a question with another value for one given."""

    def __init__(self, question: Question, movable: Movable, results: tuple[Result, ...]) -> None:
        self._question, self._movable = question, movable
        self._first = results[0]

    def at(self, place: Fraction) -> SweepSample:
        """Return what follows at a value."""
        question = self._question.with_given(self._movable.key, place)
        values = values_of(question)
        return SweepSample(place, values, "" if values is not None else question.trouble)

    def _size(self, values: Values) -> float:
        return abs(values[self._first.key])

    def border(self, left: SweepSample, right: SweepSample) -> tuple[SweepSample, Border]:
        """Return the last sample before a border that lies between two, and the border."""
        upward = right.values is None
        good, bad = (left, right) if upward else (right, left)
        assert good.values is not None
        before = self._size(good.values)
        for _ in range(_HALVINGS):
            middle = self.at((good.at + bad.at) / 2)
            good, bad = (good, middle) if middle.values is None else (middle, bad)
        assert good.values is not None
        after = self._size(good.values)
        kind: Literal["singular", "idle", "other"] = "other"
        if after > 2 * before:
            kind = "singular"
        elif after < before / 2:
            kind = "idle"
        return good, Border(bad.at, kind, upward, bad.trouble)


def crossings(question: Question, found: Sweep, key: str, level: float) -> Iterator[float]:
    """Yield where a result of a sweep passes a level.

    Args:
        question: what was swept.
        found: its sweep.
        key: the result.
        level: the level.
    """
    look = _Look(question, found.movable, found.results)
    for run in found.runs:
        for left, right in pairwise(run):
            if _above(left, key, level) != _above(right, key, level):
                for _ in range(_HALVINGS):
                    middle = look.at((left.at + right.at) / 2)
                    same = _above(left, key, level) == _above(middle, key, level)
                    left, right = (middle, right) if same else (left, middle)
                yield float(left.at + right.at) / 2


def _above(sample: SweepSample, key: str, level: float) -> bool:
    assert sample.values is not None
    return sample.values[key] > level
