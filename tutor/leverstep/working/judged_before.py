"""Lines that were judged before, by their question and all else that their verdict rests on.

Students who have the same numbers write many of the same lines, after others that come to the same.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import NamedTuple

from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome

MOST_KEPT = 32_768
"""Lines that are kept, of all questions together, at some 2.5 kB each; the one that was not asked
for longest goes first. A thousand students write some 3000 different ones of a question."""


class Judged(NamedTuple):
    """A line, and how often something was judged in judging it."""

    line: Line
    judgings: int


class JudgedBefore:
    """Lines as they were judged, up to `MOST_KEPT`, each by its content."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, Judged] = {}

    def __len__(self) -> int:
        return len(self._kept)

    def find(self, content: Hashable) -> Judged | None:
        """Return the line that was judged with the same content, None where none is kept."""
        judged = self._kept.pop(content, None)
        if judged is not None:
            self._kept[content] = judged  # the latest asked for is the last to go
        return judged

    def keep(self, content: Hashable, judged: Judged) -> None:
        """Keep a line. One that is long, or that a fault kept from being judged, is judged anew."""
        failed = judged.line.verdict.outcome is Outcome.FAILED
        if failed or len(judged.line.text) > LONGEST_ENTRY:
            return
        self._kept[content] = judged
        if len(self._kept) > MOST_KEPT:
            del self._kept[next(iter(self._kept))]
