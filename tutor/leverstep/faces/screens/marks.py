"""The mark in the margin of a line: a word with a colour, never a colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.working.verdict import Outcome


@dataclass(frozen=True, slots=True)
class Mark:
    """What stands in the margin: a sign and a word, and the class that colours them."""

    sign: str
    word: str
    style: str

    @property
    def text(self) -> str:
        """Return sign and word, as they stand in the margin."""
        return f"{self.sign} {self.word}".strip()


MARKS: dict[Outcome, Mark] = {
    Outcome.RIGHT: Mark("✓", "ok", "-ok"),
    Outcome.FOLLOWED: Mark("✓", "follows", "-ok"),
    Outcome.WRONG: Mark("✗", "not yet", "-wrong"),
    Outcome.UNREAD: Mark("?", "not read", "-wrong"),
    Outcome.FAILED: Mark("?", "not judged", "-wrong"),
    Outcome.SAME: Mark("=", "the same", "-taken"),
}
CLOSED = Mark("✗", "not right", "-wrong")
"""The mark of a wrong line that can't be tried again."""

SKIPPED = Mark("»", "skipped", "-left")
TAKEN = Mark("•", "taken", "-taken")
OPEN = Mark("", "", "-open")
