"""What a line that was written freely is taken as by its own, before it is kept."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Verdict

_OPERATORS = ("*", "/", "+", "-", "^", "(", "×", "÷", "·", "−")


@dataclass(frozen=True, slots=True)
class Understood:
    """What a line that was written freely is taken as, before it is kept.

    `line` is what would be kept with the verdict, None where nothing would. `is_sure` says that it
    tells by its form which line it is, right or wrong.
    """

    verdict: Verdict
    line: Line | None = None
    is_sure: bool = False

    @property
    def breaks_off(self) -> bool:
        """Return whether it could not be read because an unknown word stands in its formula."""
        text, place = self.verdict.text, self.verdict.place
        return bool(place) and text[:place].rstrip().endswith(_OPERATORS)

    @property
    def is_clear(self) -> bool:
        """Return whether the page need not be asked: it is right, or a line that can't be read."""
        return self.verdict.settled or (self.line is not None and not self.verdict.counts)
