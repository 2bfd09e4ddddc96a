"""How a line is written, for every face alike: forms that an entry may have, and what each is."""

from __future__ import annotations

import re

FORMS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("12.3 N", "0.205 m", "-4.5 N·m", "48.5 deg"), "a number with its unit"),
    (("18.0 / 2.205 * 9.81 N",), "or the arithmetic that gives it"),
    (("F_m*d_m - W_l*d_l = 0",), "a moment equation, in symbols"),
    (("sqrt", "sin", "cos", "tan", "asin", "acos", "atan"), "angles are in degrees"),
)
"""Examples with numbers of no problem, and what they show."""

NOTES = (
    "N m, Nm or N·m; × or *; ÷ or /.",
    "Give three significant figures or more, unless two are said to be enough.",
)
"""Which ways of writing are the same, and how finely a number is to be given."""

_LINE = re.compile(
    r"(?!(?:the )?axis\b).*=.*|[-+(]?\d[-+\d\s.,*/^()]*(?!(?:up|deg)\b)[a-z·*]{1,3}|\d+[.,]\d+",
    re.IGNORECASE,
)


def is_like_line(text: str) -> bool:
    """Return whether a text has the form of a line: an equation but of the axis, or a number with a
    unit or decimals. An angle alone may be a direction.
    """
    return _LINE.fullmatch(text) is not None
