"""Values with the names of their forces behind: `15.7 cm (trunk), 25.2 cm (pot)`."""

from __future__ import annotations

import re
from collections.abc import Set

from leverstep.claims.labels import words_in

_PARTED = re.compile(r"\s*[,;]\s+")
_NAMED_BEHIND = re.compile(
    r"^(?P<head>[^\d=]*:)?(?P<value>.*\d.*?)\s*"
    r"(?:\((?P<name>[^\W\d][^()\d=]*)\)|\bfor\s+(?:the\s+)?(?P<for>[^\W\d][^()\d=:+*/]*?))\s*\.?$"
)
_FEWEST = 2
"""So many values in one line have their names behind them; one alone is understood as it is."""


def parts_named(text: str, names: Set[str]) -> list[str]:
    """Return the values of a line, each with its name and what heads them before it, where all of
    them have their names behind; none for any other line.

    Args:
        text: the line as it was typed, with decimal points.
        names: the words that forces are called by.
    """
    parts = [_NAMED_BEHIND.match(part) for part in _PARTED.split(text)]
    found = [part for part in parts if part is not None and words_in(_name_of(part)) & names]
    if len(found) < max(_FEWEST, len(parts)):
        return []
    head = found[0]["head"] or ""
    return [f"{part['head'] or head} {_name_of(part)} {part['value']}" for part in found]


def _name_of(part: re.Match[str]) -> str:
    """Return the name that stands behind a value."""
    return part["name"] or part["for"]
