"""Numbers of one's own body in place of drawn ones: `m_b = 72 kg; L = 26,5 cm`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction

from tutor.course.faults import near, plain
from tutor.course.numbers import decimal
from tutor.course.problem import Problem
from tutor.statics.posture import Given
from tutor.statics.units import NUMBER, known_unit
from tutor.working.amount import evaluate
from tutor.working.grammar import read_line
from tutor.working.tree import Unreadable

DECIMALS = 3
"""Measured values are kept to so many decimals in the unit of the given."""

_PAIR = re.compile(r"(?:^|[;,\s]+)(?=[A-Za-z]\w*\s*=)")


class OwnError(ValueError):
    """An own number that can't be taken, with a sentence that says why."""


def own_givens(problem: Problem) -> tuple[Given, ...]:
    """Return the givens for which a problem takes measured values."""
    return tuple(given for given in problem.posture.givens() if given.key in problem.own)


def read_own(problem: Problem, texts: Iterable[str]) -> dict[str, Fraction]:
    """Return the measured values that some texts give, by the key of each given.

    Args:
        problem: whose givens they are.
        texts: each one or more of `SYMBOL = VALUE`; a value without a unit is in the given's own.

    Raises:
        OwnError: where a symbol is not one of those, or a value can't be read or is not plausible.
    """
    givens = {given.sign: given for given in own_givens(problem)}
    found: dict[str, Fraction] = {}
    for pair in (pair for text in texts for pair in _PAIR.split(text) if pair.strip()):
        symbol, mark, value = (part.strip() for part in pair.partition("="))
        if not mark or symbol not in givens:
            raise OwnError(_unknown(symbol, givens))
        given = givens[symbol]
        found[given.key] = _read(value, given, problem)
    return found


def _unknown(symbol: str, givens: Mapping[str, Given]) -> str:
    if not givens:
        return "this problem takes no numbers of your own"
    named = ", ".join(f"{sign} (in {given.unit})" for sign, given in givens.items())
    return f'"{plain(symbol[:20])}" is no number to measure here{near(symbol, givens)}: {named}'


def _read(text: str, given: Given, problem: Problem) -> Fraction:
    """Return a measured value in the unit of its given."""
    try:
        amount = evaluate(read_line(text, {})[-1], {})
    except Unreadable as error:
        raise OwnError(f"{given.sign}: {error.reason}") from error
    unit = known_unit(given.unit)
    if amount.dimension == NUMBER:
        value = amount.value
    elif amount.dimension == unit.dimension:
        value = amount.value / float(unit.size)
    else:
        raise OwnError(f"{given.sign} is asked for in {given.unit}")
    measured = Fraction(decimal(Fraction(value), DECIMALS))
    low, high = problem.own[given.key]
    if not low <= measured <= high:
        limits = f"{float(low):g} to {float(high):g} {given.unit}"
        raise OwnError(f"{given.sign} of {float(measured):g} {given.unit} is not in {limits}")
    return measured
