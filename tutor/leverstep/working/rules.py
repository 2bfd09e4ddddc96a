"""The rules that a working is under: practice has none, a drill may have some."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rules:
    """How often a line may be tried, and what the student is told.

    `attempts` is the most entries judged for a line, None for any number, 0 once nothing more is
    taken. `tells` says whether verdicts are shown as lines are entered, `hints` whether there are
    any, `own_words` whether a line that names no symbol of the problem is taken as what it says.
    Marks must not depend on whether a line happens to be understood, so in a drill it is not.
    """

    attempts: int | None = None
    tells: bool = True
    hints: bool = True
    own_words: bool = True
