"""Values with the name of its force in brackets behind it: `15.7 cm (trunk), 25.2 cm (pot)`."""

from __future__ import annotations

import re
from collections.abc import Set

from leverstep.claims.labels import words_in

_PARTED = re.compile(r"\s*[,;]\s+")
_NAMED_BEHIND = re.compile(
    r"^(?P<head>[^\d=]*:)?(?P<value>.*\d.*?)\s*\((?P<name>[^\W\d][^()\d=]*)\)\s*\.?$"
)
_FEWEST = 2
"""So many values in one line have their names behind them; one alone is understood as it is."""


def with_names_before(text: str, names: Set[str]) -> str:
    """Return a line with the name of each value before it, where all its values have theirs in
    brackets behind them; any other line as it is.

    Args:
        text: the line as it was typed, with decimal points.
        names: the words that forces are called by.
    """
    parts = [_NAMED_BEHIND.match(part) for part in _PARTED.split(text)]
    found = [part for part in parts if part is not None and words_in(part["name"]) & names]
    if len(found) < max(_FEWEST, len(parts)):
        return text
    return "; ".join(f"{part['head'] or ''} {part['name']} {part['value']}" for part in found)
