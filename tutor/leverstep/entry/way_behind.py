"""The way that is said behind a value: `182.8 N to the left`, `45.4 N m clockwise`."""

from __future__ import annotations

import re

from leverstep.entry.answers_in_words import WAYS
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.statics.reaction import ways_of_direction

_SAID = re.compile(
    rf"(?P<symbol>[^=]*=)?\s*(?P<value>\d[\d.,]*\s*[A-Za-z]+)[\s,]+(?:straight\s+)?(?:to\s+the\s+)?"
    rf"(?P<way>{'|'.join(filter(str.isalpha, WAYS))})\s*\.?",
    re.IGNORECASE,
)


_SIDE = re.compile(
    r"\d\s*(?:°|deg(?:rees?)?\b)[^=]*\b(?:above|below|under|beneath|over)\b", re.IGNORECASE
)


def says_side(text: str) -> bool:
    """Return whether an angle is said to be above or below: `37° below the horizontal`."""
    return len(text) <= LONGEST_ENTRY and _SIDE.search(text) is not None


def says_way(text: str) -> bool:
    """Return whether a value has a way behind it and no sign before it."""
    return _said(text) is not None


def way_as_sign(text: str, axis: str) -> str:
    """Return a component with its sign in place of the way behind it: `R_x = -182.8 N`.

    Any other text stays as it is: one that says no way, or one along another axis.

    Args:
        text: what was typed.
        axis: "x" or "y", along which the component lies.
    """
    said = _said(text)
    across, upward = (0, 0) if said is None else ways_of_direction(WAYS[said["way"].lower()])
    way = across if axis == "x" else upward
    if said is None or not way:
        return text
    return _with_sign(said, is_minus=way < 0)


_TURN = re.compile(
    r"(?P<symbol>[^=]*=)?\s*"
    r"(?P<value>\d[\d.,]*(?:\s*(?:k?N|lbf)\s*[*·⋅.-]?\s*(?:[cm]?m|in|ft))?)[\s,(]+"
    r"(?P<turn>(?:(?:anti|counter)[\s-]?)?clockwise|a?cw|ccw)\)?\s*\.?",
    re.IGNORECASE,
)


def turn_as_sign(text: str, positive: int) -> str:
    """Return a moment with its sign in place of the turn behind it; any other text as it is.

    Args:
        text: what was typed, such as `45.4 N m clockwise`.
        positive: +1 where anticlockwise counts as positive, else -1.
    """
    said = _TURN.fullmatch(text.strip()) if len(text) <= LONGEST_ENTRY else None
    if said is None:
        return text
    turns = -1 if said["turn"].lower() in ("clockwise", "cw") else 1
    return _with_sign(said, is_minus=turns != positive)


def _with_sign(said: re.Match[str], *, is_minus: bool) -> str:
    """Return the symbol and the value of what is said, with a sign in place of what is behind."""
    return f"{said['symbol'] or ''} {'-' if is_minus else ''}{said['value']}".strip()


def _said(text: str) -> re.Match[str] | None:
    return _SAID.fullmatch(text.strip()) if len(text) <= LONGEST_ENTRY else None
