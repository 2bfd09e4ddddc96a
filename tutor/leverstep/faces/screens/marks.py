"""The mark of a line: a sign in the margin, a word where the line is at hand, no colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from leverstep.dialogue.replies import Mark


@dataclass(frozen=True, slots=True)
class MarginMark:
    """A mark: the sign in the margin, its word, and the class that colours them."""

    sign: str
    word: str
    style: str

    @property
    def text(self) -> str:
        """Return sign and word, as they stand beside the line at hand."""
        return f"{self.sign} {self.word}".strip()


MARKS: dict[Mark, MarginMark] = {
    Mark.OPEN: MarginMark("", "", "-open"),
    Mark.SKIPPED: MarginMark("»", "skipped", "-left"),
    Mark.FILLED: MarginMark("=", "filled in", "-taken"),
    Mark.TAKEN: MarginMark("•", "saved", "-taken"),
    Mark.RIGHT: MarginMark("✓", "ok", "-ok"),
    Mark.FOLLOWED: MarginMark("⇒", "follows", "-ok"),
    Mark.WRONG: MarginMark("✗", "not yet", "-wrong"),
    Mark.CLOSED: MarginMark("✗", "not right", "-wrong"),
    Mark.UNREAD: MarginMark("?", "not read", "-wrong"),
    Mark.FAILED: MarginMark("?", "not judged", "-wrong"),
    Mark.SAME: MarginMark("=", "the same", "-taken"),
    Mark.KEPT: MarginMark("✓", "not asked for", "-ok"),
    Mark.UNKEPT: MarginMark("!", "not saved", "-wrong"),
}
"""How each mark looks, in the margin and before what is told of a line."""
