"""Lines that only bring a given to newtons or metres: which they are, and who converts cleanly."""

from __future__ import annotations

from collections import Counter

CLEAN_IN_A_ROW = 3
"""So many lines of one unit in a row, right at the first try, and the unit is known."""


class CleanConversions:
    """How many lines of each unit in a row were right at the first try, over several workings."""

    def __init__(self) -> None:
        self._runs: Counter[str] = Counter()

    def notice(self, unit: str, is_clean: bool) -> None:
        """Take note of the first try of a line that converts a unit, clean without a hint."""
        self._runs[unit] = self._runs[unit] + 1 if is_clean else 0

    def knows(self, unit: str) -> bool:
        """Return whether a unit was converted cleanly often enough."""
        return self._runs[unit] >= CLEAN_IN_A_ROW
