"""Texts of whatever origin as they may be shown: on one line, short, free of control signs."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from datetime import date, time
from fractions import Fraction
from unicodedata import category, combining, east_asian_width

LONGEST_SHOWN = 60
"""Characters of a value that a message shows."""


def spaced(text: str) -> str:
    """Return a text with an ordinary space for one of another width, or that holds a line."""
    if text.isprintable():
        return text
    return "".join(" " if category(c) == "Zs" else c for c in text)


def plain(text: str) -> str:
    """Return a text on one line, with ordinary spaces, and ? for each sign that is not shown."""
    text = spaced(text)
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else "?" for c in text)


def is_one_column(character: str) -> bool:
    """Return whether a character is shown, and takes one column of a terminal."""
    is_wide = east_asian_width(character) in ("W", "F")
    return character.isprintable() and not combining(character) and not is_wide


def shown(value: object) -> str:
    """Return a value of a file for a message: short, on one line, and free of control signs."""
    value = _in_decimals(value)
    return cut(plain(str(value) if isinstance(value, date | time) else repr(value)))


def _in_decimals(value: object) -> object:
    """Return a value of a file with its fractions, and those within it, as decimal numbers."""
    if isinstance(value, list):
        return [_in_decimals(one) for one in value]
    if isinstance(value, dict):
        return {key: _in_decimals(one) for key, one in value.items()}
    return float(value) if isinstance(value, Fraction) else value


def cut(text: str, most: int = LONGEST_SHOWN) -> str:
    """Return a text, or its beginning where it is longer than `most` characters."""
    return text if len(text) <= most else f"{text[: most - 3]}..."


def near(word: str, names: Iterable[str]) -> str:
    """Return ` (did you mean "x"?)` for the name nearest to a word of sane length, or nothing."""
    if len(word) > LONGEST_SHOWN:
        return ""
    close = difflib.get_close_matches(word, list(names), n=1, cutoff=0.6)
    return f' (did you mean "{close[0]}"?)' if close else ""
