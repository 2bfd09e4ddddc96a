"""Numbers of a page in their order: `-2.00 < 2.34 < 7.45, so inside the base`."""

from __future__ import annotations

import re
from itertools import pairwise

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import words_in
from leverstep.claims.memory import Memory
from leverstep.claims.near_numbers import is_same
from leverstep.claims.subject import Subject
from leverstep.entry.tree import Number

_VALUE = r"([+-]?\s?\d+(?:\.\d+)?)\s?(?:[a-zA-Z·*]{1,4}\s?)?"
_IN_ORDER = re.compile(
    rf"^(?P<before>[^\d<>=+-]*?){_VALUE}(?P<than>[<>])\s?{_VALUE}(?P=than)\s?{_VALUE}"
)
_SAID_OF_IT = frozenset({
    "inside", "within", "between", "base", "the", "of", "support", "so", "ok", "yes", "true", "and",
    "it", "is", "feet", "stands", "stable", "balanced", "therefore", "x", "right", "check", "line",
    "in", "cm", "mm", "m", "gravity", "still", "lies", "falls", "over", "foot", "both", "edges",
})  # fmt: skip
"""Words beside them that say no more than that one lies between the others."""


def numbers_in_order(text: str, subject: Subject, memory: Memory) -> Claim | None:
    """Return the claim that a number lies between two others, where it does and all three are
    given or stand on the page; None for any other line.

    Args:
        text: the line, made plain.
        subject: what the page is about.
        memory: what the page has written so far.
    """
    said = _IN_ORDER.match(text)
    if said is None or not words_in(said["before"] + text[said.end() :]) <= _SAID_OF_IT:
        return None
    typed = [said[place].replace(" ", "") for place in (2, 4, 5)]
    values = [float(one) for one in typed]
    if said["than"] == ">":
        values.reverse()
    numbers = [_number(one) for one in typed]
    given = subject.question.numbers.values()
    is_known = all(
        memory.holds(number) or any(is_same(number, abs(one)) for one in given)
        for number in numbers
    )
    if not is_known or not all(one < other for one, other in pairwise(values)):
        return None
    follows = any(
        result.standing in (LineStanding.WRONG, LineStanding.FOLLOWS)
        and any(is_same(number, result.plain) for number in numbers)
        for result in memory.results
    )
    return Claim(LineStanding.FOLLOWS if follows else LineStanding.KEPT, text=said.group())


def _number(typed: str) -> Number:
    decimals = len(typed.partition(".")[2])
    return Number(abs(float(typed)), half_digit=0.5 * 10.0**-decimals)
