"""A sweep as a table: for a spreadsheet, and in lines that are read aloud."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from fractions import Fraction

from leverstep.course.problem import Question
from leverstep.explore.axes import round_step
from leverstep.explore.givens import Movable
from leverstep.explore.results import Result, results_of, values_of
from leverstep.explore.sentences import doubling, extremes, limits
from leverstep.explore.sweep import Sweep

_ROWS = 12
"""About how many lines are read aloud."""


def as_csv(question: Question, movable: Movable) -> str:
    """Return a row for each step of a given's span, by RFC 4180; empty without equilibrium.

    The first row holds each sign with its unit: `d_l (cm),F_m (N),R (N)`.
    """
    text = io.StringIO(newline="")
    rows = csv.writer(text)
    results = results_of(question)
    rows.writerow([movable.titled, *(result.titled for result in results)])
    for place in stops(question, movable):
        values = values_of(question.with_given(movable.key, place))
        found = ["" if values is None else f"{values[one.key]:.6g}" for one in results]
        rows.writerow([f"{float(place):.10g}", *found])
    return text.getvalue()


def stops(question: Question, movable: Movable) -> tuple[Fraction, ...]:
    """Return the values of a table: each step of the span, and the one at present."""
    return tuple(sorted({*movable.span.stops(), question.exact[movable.key]}))


def stated(question: Question) -> Iterator[str]:
    """Yield the title and the statement of a question."""
    yield f"{question.problem.title}, numbers {question.seed}."
    yield question.statement


def told(question: Question, found: Sweep) -> Iterator[str]:
    """Yield a sweep in words: what is changed, some values, where results double, where it ends."""
    movable, span = found.movable, found.movable.span
    low, high = (movable.at(question, value) for value in (span.low, span.high))
    yield f"{movable.sign}, {movable.name}, goes from {low} to {high}; all else stays the same."
    for result in found.results:
        yield f"{result.sign} is the {result.name}."
    yield from rows(question, movable)
    yield from limits(question, found)
    values = values_of(question)
    for result in found.results if values is not None else ():
        assert values is not None
        yield from doubling(question, found, result, values)
        yield extremes(found, result)


def rows(question: Question, movable: Movable) -> Iterator[str]:
    """Yield some values over the span, each with what follows: `d_l 40.0 cm: F_m 512 N`."""
    steps, own = movable.span.stops(), question.exact[movable.key]
    apart = movable.span.step * round_step(len(steps) / _ROWS)
    chosen = {place for place in steps if place % apart == 0}
    for place in sorted({steps[0], *chosen, steps[-1], own}):
        moved = question.with_given(movable.key, place)
        mark = ", the present value" if place == own else ""
        yield f"{movable.sign} {movable.written(moved)}{mark}: {_told(moved)}"


def _told(question: Question) -> str:
    values = values_of(question)
    if values is None:
        return f"no equilibrium: {question.trouble}"
    return ", ".join(_pair(result, values[result.key]) for result in results_of(question))


def _pair(result: Result, value: float) -> str:
    return f"{result.sign} {result.written(value)}"
