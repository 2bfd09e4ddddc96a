"""What is told of an entry at a working: its verdict, which line it is, and what it stands for."""

from __future__ import annotations

from leverstep.bench.bench import Bench
from leverstep.course.phrases import ended
from leverstep.dialogue.symbols_told import symbols_told
from leverstep.statics.step import Step
from leverstep.working.page import line_name
from leverstep.working.verdict import Outcome, Verdict

MOST_SYMBOLS_TOLD = 2
"""In one working it is said so often that a line may be typed in symbols."""


class EntriesTold:
    """Tells of the entries of one working as they are made."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._working = bench.working
        self._symbols_told = 0

    def told(self, verdict: Verdict, asked: Step | None, *, stays: bool) -> str:
        """Return what to say of an entry.

        Args:
            verdict: what came of it.
            asked: the line that was asked for, None where any might be written.
            stays: whether that line is still the one to be done.
        """
        told = self._bench.tell(verdict)
        if asked is not None and verdict.step != asked.key:
            told = self._elsewhere(verdict, told, asked, stays)
        if not (verdict.settled and self._working.rules.tells):
            return told
        if self._symbols_told < MOST_SYMBOLS_TOLD:
            symbols = symbols_told(self._working, verdict.step)
            self._symbols_told += bool(symbols)
            told = f"{told} {symbols}".rstrip()
        return told

    def _elsewhere(self, verdict: Verdict, told: str, asked: Step, stays: bool) -> str:
        """Return what to say of an entry that is another line than the one that was asked for."""
        key, working = verdict.step, self._working
        still = f"{line_name(asked)} is still asked for." if stays else ""
        if not key:
            return f"{told} {still}".rstrip()
        step, line = working.step(key), working.lines.get(key)
        of = line_name(step) if step.kind.is_number else f"the {line_name(step)}"
        if verdict.outcome is Outcome.SAME:
            return f"That is {of}, as it is written already. {still}".rstrip()
        says_which = line is not None and line.claimed is not None
        if not verdict.counts or not says_which:
            outcome, stop, rest = told.partition(". ")  # what came of it is what is said first
            told = f"{outcome.removesuffix('.')}. That is {of}.{stop and f' {rest}'}"
        return f"{ended(told)} {still}" if still else told
