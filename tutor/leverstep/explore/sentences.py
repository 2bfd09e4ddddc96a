"""A sweep in sentences: where it has no equilibrium, what is off the scale, where it doubles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from statistics import median

from leverstep.course.problem import Question
from leverstep.explore.axes import Axis
from leverstep.explore.givens import Movable
from leverstep.explore.results import FIGURES, Result, Values
from leverstep.explore.sweep import Border, Sweep, SweepSample, crossings
from leverstep.statics import kinds
from leverstep.working.writing import plain_number


def limits(question: Question, found: Sweep) -> Iterator[str]:
    """Yield where equilibrium ends and why, one sentence for each border."""
    for border in found.borders:
        yield _border(question, found.movable, border)
    if not found.runs:
        trouble = found.samples[0].trouble
        yield f"There is no equilibrium anywhere in this range: {trouble}."


def value_at(movable: Movable, at: float) -> str:
    """Return a value of a given in words, to three figures: `36.0 cm`, `72.5°`."""
    number, unit = plain_number(at, FIGURES), movable.unit
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}".strip()


def _border(question: Question, movable: Movable, border: Border) -> str:
    unknown = None if question.problem.stages else question.problem.posture.balancing
    where = f"{movable.sign} = {value_at(movable, float(border.at))}"
    beyond = "above" if border.upward else "below"
    if unknown is None or border.kind == "other":
        return f"At {where} equilibrium ends: {border.trouble}."
    sign, axis = unknown.symbol, question.problem.axis
    if border.kind == "singular":
        turns = "passes through" not in border.trouble
        end = f", and {beyond} that it would turn the other way" if turns else ""
        return (
            f"At {where} the line of action of {sign} passes through the {axis}: "
            f"it has no moment there{end}."
        )
    if "other way" in border.trouble:
        return (
            f"At {where} the other forces balance without {sign}; {beyond} that it would have "
            "to turn the other way."
        )
    return f"At {where} nothing is left for {sign} to balance: {border.trouble}."


def off_scale(
    question: Question, found: Sweep, shown: Sequence[Result], scale: Axis
) -> Iterator[str]:
    """Yield over which stretches results are too large for a scale, those that share one at once.

    Args:
        question: what is explored, as it stands.
        found: the sweep of it.
        shown: the results that are drawn.
        scale: what they are drawn on.
    """
    stretches: dict[str, list[str]] = {}
    for result in shown:
        beyond = [
            sample
            for sample in found.samples
            if sample.values is not None and not _on(scale, sample.values[result.key])
        ]
        if beyond:
            told = f"{_stretch(found, beyond)}: {{}}{_because(question, found, result, beyond)}"
            stretches.setdefault(told, []).append(result.sign)
    for told, signs in stretches.items():
        yield f"Off the scale {told.format(' and '.join(signs))}."


def _on(scale: Axis, value: float) -> bool:
    return -1e-9 <= scale.share(value) <= 1 + 1e-9


def _stretch(found: Sweep, beyond: Sequence[SweepSample]) -> str:
    movable, first, last = found.movable, beyond[0], beyond[-1]
    there = [sample for run in found.runs for sample in run]
    if first is there[0]:
        return f"up to {movable.sign} = {value_at(movable, float(last.at))}"
    start = f"from {movable.sign} = {value_at(movable, float(first.at))}"
    if last is there[-1]:
        return f"{start} on"
    return f"{start} to {value_at(movable, float(last.at))}"


def _because(
    question: Question, found: Sweep, result: Result, beyond: Sequence[SweepSample]
) -> str:
    """Return why a force grows so where that is its moment arm, which nearly is none."""
    question = question.view(result.mark)
    posture, unknown = question.problem.posture, question.problem.posture.balancing
    if unknown is None or posture.finds_place(unknown) or result.role == "ratio":
        return ""
    total = question.key(kinds.SUM)
    arms = [
        abs(sample.values[total] / sample.values[unknown.symbol])
        for sample in found.samples
        if sample.values is not None and sample.values[unknown.symbol]
    ]
    values = beyond[len(beyond) // 2].values
    assert values is not None
    if abs(values[total] / values[unknown.symbol]) > median(arms) / 2:
        return ""
    return f", because the moment arm of {unknown.symbol} is short"


def doubling(question: Question, found: Sweep, result: Result, values: Values) -> Iterator[str]:
    """Yield where a result is twice and half what it is with the present numbers."""
    for factor, word in ((2.0, "twice"), (0.5, "half")):
        level = values[result.key] * factor
        places = list(crossings(question, found, result.key, level))
        if places:
            where = " and ".join(value_at(found.movable, place) for place in places)
            size = result.written(level)
            yield f"{result.sign} is {word} as large, {size}, at {found.movable.sign} = {where}."


def extremes(found: Sweep, result: Result) -> str:
    """Return where a result is least and greatest, or that it stays the same throughout."""
    there = [
        (sample.values[result.key], sample.at)
        for run in found.runs
        for sample in run
        if sample.values is not None
    ]
    least, most = min(there), max(there)
    if most[0] - least[0] <= 1e-9 * max(abs(most[0]), abs(least[0])):
        return f"{result.sign} stays {result.written(least[0])} throughout."
    low, high = _extreme(found, result, "least", *least), _extreme(found, result, "greatest", *most)
    again = high.removeprefix("is ") if low.startswith("is ") else high
    return f"{result.sign} {low} and {again}."


def _extreme(found: Sweep, result: Result, word: str, value: float, at: Fraction) -> str:
    """Return where a result is least or greatest; towards some borders it has no such value."""
    where = f"{found.movable.sign} = {value_at(found.movable, float(at))}"
    for run in found.runs:
        for edge, beside in ((run[0], run[1:2]), (run[-1], run[-2:-1])):
            if edge.at != at or not beside or beside[0].values is None:
                continue
            if not any(abs(border.at - at) < found.movable.span.step for border in found.borders):
                continue
            next_to = abs(beside[0].values[result.key])
            if abs(value) > 2 * next_to:
                return f"grows without end towards {where}"
            if abs(value) < next_to / 2:
                return f"falls to nothing towards {where}"
    return f"is {word}, {result.written(value)}, at {where}"


def change(before: float, after: float) -> str:
    """Return how a value has changed: `same`, `× 0.50`, or from what where its sign has.

    What changes by less than its factor would show is `about same`.
    """
    if before == after or abs(after - before) <= 1e-9 * abs(before):
        return "same"
    if before * after <= 0:
        return f"was {plain_number(before, FIGURES)}"
    told = factor_text(after / before)
    return "about same" if told == factor_text(1.0) else told


def factor_text(factor: float) -> str:
    """Return a factor as it is shown: `× 0.50`."""
    return f"× {factor:.2f}" if 0.095 < factor < 99.95 else f"× {plain_number(factor, FIGURES)}"
