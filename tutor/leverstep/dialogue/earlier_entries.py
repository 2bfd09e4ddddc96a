"""What was typed at a line before, brought back into a field one by one."""

from __future__ import annotations


class EarlierEntries:
    """Goes from what is half typed to the entries before it, and forward again."""

    def __init__(self) -> None:
        self._entries: tuple[str, ...] = ()
        self._row: list[str] = []
        self._at = 0

    def offer(self, entries: tuple[str, ...]) -> None:
        """Take the entries that can be brought back, the latest first."""
        if entries != self._entries:
            self._entries, self._row = entries, []

    def beside(self, text: str, way: int) -> str:
        """Return what comes before a text (1) or after it (-1); the text itself at either end.

        Args:
            text: what stands in the field. Unless it was brought back it is half typed, and is
                what the way forward ends at.
            way: 1 for an earlier entry, -1 for a later one.
        """
        if not self._row or text != self._row[self._at]:
            self._row = [text, *(entry for entry in self._entries if entry != text)]
            self._at = 0
        self._at = min(max(self._at + way, 0), len(self._row) - 1)
        return self._row[self._at]
