"""Numbers of one's own body in place of drawn ones: `m_b = 72 kg; L = 26,5 cm`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from fractions import Fraction

from leverstep.course.numbers import decimal
from leverstep.course.plain_text import near, plain, shown
from leverstep.course.problem import Problem
from leverstep.course.symbols import sign_of, spelt
from leverstep.entry.amount import evaluate
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Unreadable
from leverstep.statics.points import Given
from leverstep.statics.units import NUMBER, known_unit
from leverstep.working.reasons import reason_words

DECIMALS = 3
"""Measured values are kept to so many decimals in the unit of the given."""

_PAIR = re.compile(r"(?:^|[;,\s]+)(?=[^\W\d]\w*\s*=)")


class OwnError(ValueError):
    """An own number that can't be taken, with a sentence that says why."""


def own_givens(problem: Problem) -> tuple[Given, ...]:
    """Return the givens for which a problem takes measured values."""
    return tuple(given for given in problem.givens if given.key in problem.own)


def read_own(problem: Problem, texts: Iterable[str]) -> dict[str, Fraction]:
    """Return the measured values that some texts give, by the key of each given.

    Args:
        problem: whose givens they are.
        texts: each one or more of `SYMBOL = VALUE`; a value without a unit is in the given's own.

    Raises:
        OwnError: where a symbol is not one of those, or a value can't be read or is not plausible.
    """
    found = read_values(texts, own_givens(problem))
    for given, measured in found.items():
        low, high = problem.own[given.key]
        if not low <= measured <= high:
            limits = f"{float(low):g} to {float(high):g} {given.unit}"
            raise OwnError(
                f"{sign_of(given.sign)} of {float(measured):g} {given.unit} is outside {limits}"
            )
    return {given.key: measured for given, measured in found.items()}


def read_values(texts: Iterable[str], givens: Iterable[Given]) -> dict[Given, Fraction]:
    """Return the values that some texts give for some givens, each in the given's own unit.

    Args:
        texts: each one or more of `SYMBOL = VALUE`; a value without a unit is in the given's own.
        givens: those that may be named.

    Raises:
        OwnError: where a symbol is none of theirs, or a value can't be read.
    """
    named = {given.sign: given for given in givens if given.sign}
    found: dict[Given, Fraction] = {}
    for pair in (pair for text in texts for pair in _PAIR.split(text) if pair.strip()):
        typed, mark, value = (part.strip() for part in pair.partition("="))
        symbol = spelt(typed)
        if symbol not in named:
            raise OwnError(_unknown(symbol, named))
        if not mark:
            unit = named[symbol].unit or "a number without a unit"
            raise OwnError(f"{sign_of(symbol)} has no value; expected it in {unit}")
        found[named[symbol]] = _read(value, named[symbol])
    return found


def _unknown(symbol: str, givens: Mapping[str, Given]) -> str:
    if not givens:
        return "this problem takes no numbers of your own"
    named = " or ".join(
        f"{sign_of(sign)} (in {given.unit})" if given.unit else sign_of(sign)
        for sign, given in givens.items()
    )
    known = near(symbol, givens)
    return f'"{plain(symbol[:20])}" is not a number you can give here{known}; expected {named}'


def _read(text: str, given: Given) -> Fraction:
    """Return a value in the unit of its given."""
    try:
        amount = evaluate(read_line(text, {})[-1], {})
    except Unreadable as error:
        raise OwnError(f"{sign_of(given.sign)}: {reason_words(error.reason)}") from error
    unit = known_unit(given.unit) if given.unit else None
    if amount.dimension == NUMBER:
        value = amount.value
    elif unit is not None and amount.dimension == unit.dimension:
        value = amount.value / float(unit.size)
    else:
        wanted = f'in "{given.unit}"' if given.unit else "as a number without a unit"
        raise OwnError(f"{sign_of(given.sign)} is asked for {wanted}; found {shown(text)}")
    return Fraction(decimal(Fraction(value), DECIMALS))
