"""The mark in the margin of a line: a word with a colour, never a colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.working.verdict import Outcome


@dataclass(frozen=True, slots=True)
class MarginMark:
    """What stands in the margin: a sign and a word, and the class that colours them."""

    sign: str
    word: str
    style: str

    @property
    def text(self) -> str:
        """Return sign and word, as they stand in the margin."""
        return f"{self.sign} {self.word}".strip()


MARKS: dict[Outcome, MarginMark] = {
    Outcome.RIGHT: MarginMark("✓", "ok", "-ok"),
    Outcome.FOLLOWED: MarginMark("✓", "follows", "-ok"),
    Outcome.WRONG: MarginMark("✗", "not yet", "-wrong"),
    Outcome.UNREAD: MarginMark("?", "not read", "-wrong"),
    Outcome.FAILED: MarginMark("?", "not judged", "-wrong"),
    Outcome.SAME: MarginMark("=", "the same", "-taken"),
}
CLOSED = MarginMark("✗", "not right", "-wrong")
"""The mark of a wrong line that can't be tried again."""

SKIPPED = MarginMark("»", "skipped", "-left")
TAKEN = MarginMark("•", "saved", "-taken")
OPEN = MarginMark("", "", "-open")
