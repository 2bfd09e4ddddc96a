"""A number as it is written, with digits of it otherwise, as they are copied wrongly."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

_DIGITS = "0123456789"


def swapped(number: str) -> Iterator[str]:
    """Yield a number with two digits beside each other swapped, in every way."""
    places = [place for place, sign in enumerate(number) if sign in _DIGITS]
    for one, other in itertools.pairwise(places):
        signs = list(number)
        signs[one], signs[other] = signs[other], signs[one]
        if signs[one] != signs[other] and _is_written_so(signs):
            yield "".join(signs)


def with_a_digit_changed(number: str) -> Iterator[str]:
    """Yield a number with one of its digits another, in every way."""
    for place, sign in enumerate(number):
        for digit in _DIGITS if sign in _DIGITS else "":
            signs = [*number[:place], digit, *number[place + 1 :]]
            if digit != sign and _is_written_so(signs):
                yield "".join(signs)


def _is_written_so(signs: list[str]) -> bool:
    """Return whether a number is written so: not nothing, and with no needless zero before it.

    A ratio of whole numbers, as 2/3, is not looked at.
    """
    text = "".join(signs)
    if "/" in text:
        return False
    return float(text) > 0 and not (text[0] == "0" and text[1:2] != ".")
