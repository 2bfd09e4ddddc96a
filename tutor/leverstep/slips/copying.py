"""Numbers copied: one of another line or given, or one with its digits changed."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from leverstep.comparing.differences import Difference
from leverstep.comparing.digits import swapped, with_a_digit_changed
from leverstep.course.problem import Question
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.hypotheses import distances
from leverstep.statics.graph import Probe
from leverstep.statics.step import Derivation, Step
from leverstep.working.attempt import Attempt
from leverstep.working.judge import constant_sets
from leverstep.working.precision import ends_as_given, given_converted

EXACT = 1e-6
"""Arithmetic has no last digit: it comes to its value as near as this."""


@dataclass(frozen=True, slots=True)
class Copied:
    """A given, and the number that was copied for it."""

    given: str
    number: str


def found_in_value(attempt: Attempt) -> Copied | None:
    """Return the given that gives the very number typed when two of its digits are swapped.

    Where the given itself is typed, as finely as it is stated, one digit may be another too.
    """
    copies = _copies(attempt, swapped)
    if ends_as_given(attempt.question, attempt.step, attempt.reading):
        copies = itertools.chain(copies, _copies(attempt, with_a_digit_changed))
    return next(copies, None)


def may_be_in_value(attempt: Attempt) -> bool:
    """Return whether one given gives the very number typed with its digits changed in one place."""
    return any(True for change in (swapped, with_a_digit_changed) for _ in _copies(attempt, change))


def _copies(attempt: Attempt, changed: Callable[[str], Iterable[str]]) -> Iterator[Copied]:
    """Yield the givens, each with a number in its place that gives the very number typed."""
    question, step = attempt.question, attempt.step
    probe = question.graph.probe(step.key, question.numbers, attempt.own, attempt.taken)
    names = tuple(name for name in question.constants if name in probe.constants)
    ways = constant_sets(question, names)
    for given in _givens_behind(attempt):
        for number in changed(number_of(question, given)):
            if any(_gives(attempt, probe, {**way, given: float(number)}) for way in ways):
                yield Copied(given, number)


def _gives(attempt: Attempt, probe: Probe, numbers: Mapping[str, float]) -> bool:
    """Return whether a line comes to the number typed, to its last digit, with some numbers."""
    typed = attempt.reading.value
    exact = max(attempt.reading.half_digit, EXACT * abs(typed)) * 1.0001
    try:
        value = probe.at((), numbers)
    except ArithmeticError:
        return False
    value = abs(value) if typed > 0 and attempt.step.kind.is_size else value
    return abs(value - typed) <= exact


def _givens_behind(attempt: Attempt) -> list[str]:
    """Return the givens that a line rests on through lines that are not written."""
    question = attempt.question
    derivation = question.derivation
    open_lines = distances(derivation, attempt.step.key, frozenset(attempt.own))
    used = {use for key in open_lines for use in derivation.step(key).uses}
    return [key for key in question.exact if key in used]


def number_of(question: Question, given: str) -> str:
    """Return the number of a given as it is stated, without its unit: `53.5`."""
    return question.number_written(next(one for one in question.givens if one.key == given))


def found_in_arithmetic(question: Question, differences: Iterable[Difference]) -> Copied | None:
    """Return the given in whose place a number stands that differs from it in its digits alone."""
    for one in differences:
        if one.what != "instead" or one.about not in question.exact:
            continue
        right = number_of(question, one.about)
        decimals = len(right.partition(".")[2])
        try:
            typed = f"{float(one.typed):.{decimals}f}"
        except ValueError:
            continue
        if typed in (*swapped(right), *with_a_digit_changed(right)):
            return Copied(one.about, typed)
    return None


def value_of_another_line(
    attempt: Attempt, catalogue: Catalogue, slack: float
) -> tuple[Explanation, ...]:
    """Return that the value of another line stands here, within a slack, as a question."""
    exact = attempt.values
    for step, slip in _lines_like_it(attempt, catalogue):
        values = [found[step.key] for found in (attempt.written, exact) if step.key in found]
        if any(abs(value - attempt.reading.value) <= slack for value in values):
            return _copied_from(step, slip, attempt)
    return ()


def another_given(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return that another given was typed just as it is, as a question."""
    question = attempt.question
    for step, slip in _lines_like_it(attempt, catalogue):
        is_same = is_exactly(attempt.reading.value, question.right[step.key])
        if is_same and given_converted(question, step) is not None:
            return _copied_from(step, slip, attempt)
    return ()


def is_exactly(number: float, value: float) -> bool:
    """Return whether a number is a value, but for what the arithmetic of a computer loses."""
    return abs(number - value) <= EXACT * abs(value)


def _lines_like_it(attempt: Attempt, catalogue: Catalogue) -> Iterator[tuple[Step, Slip]]:
    """Yield the lines whose value may be copied here, each with the slip that this is."""
    alike = _alike(attempt.question.derivation, catalogue, attempt.step.key)
    # A line that is written already is likelier than one not yet reached.
    yield from (one for one in alike if one[0].key in attempt.written)
    yield from (one for one in alike if one[0].key not in attempt.written)


@lru_cache(maxsize=4096)
def _alike(derivation: Derivation, catalogue: Catalogue, key: str) -> tuple[tuple[Step, Slip], ...]:
    """Return the lines whose value may be copied at a line, in order, each with its slip."""
    here, slips = derivation.step(key), catalogue.slips.values()
    found: list[tuple[Step, Slip]] = []
    for step in derivation.asked:
        if step.key == here.key or step.unit != here.unit:
            continue
        is_same = step.kind is here.kind and step.mark != here.mark
        slip = next((s for s in slips if (s.another_posture if is_same else s.another_line)), None)
        if slip is not None and {step.kind.name, here.kind.name} <= set(slip.kinds):
            found.append((step, slip))
    return tuple(found)


def _copied_from(step: Step, slip: Slip, attempt: Attempt) -> tuple[Explanation, ...]:
    """Return that the value of another line was typed, as a question."""
    found = Finding(slip.id, attempt.step.key, (), line=step.key)
    return (Explanation((found,), sure=False),)


def miscopied(
    attempt: Attempt, catalogue: Catalogue, copied: Copied | None
) -> tuple[Explanation, ...]:
    """Return that a number was copied wrongly, as a question."""
    slip = next((s for s in catalogue.slips.values() if s.miscopied), None)
    if copied is None or slip is None or attempt.step.kind.name not in slip.kinds:
        return ()
    found = Finding(slip.id, attempt.step.key, (), miscopied=copied.given, copied=copied.number)
    return (Explanation((found,), sure=False),)
