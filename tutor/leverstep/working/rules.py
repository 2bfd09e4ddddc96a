"""The rules that a working is under: practice has none, a drill may have some."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum

MOST_SLIPS = 2
"""So many slips are to be found at most in one working of somebody else."""


class Reasons(StrEnum):
    """When a student is told which slip seems to be behind a wrong line: at once, or by a hint."""

    AT_ONCE = "at once"
    WHEN_ASKED = "when asked"


class Conversions(StrEnum):
    """Which lines that only convert a given are filled in for a student.

    None; those of a unit that was converted cleanly often enough; or all.
    """

    ASKED = "asked"
    UNTIL_CLEAN = "until clean"
    GIVEN = "given"


class Units(StrEnum):
    """Whether a bare number is asked for its unit, or taken in the unit that the line names."""

    ASKED = "asked"
    NAMED = "named"


class Thinking(StrEnum):
    """What makes a student think beside the lines: what is asked before, after and with them.

    What to expect, before the first line; whether the result makes sense, after the last; how sure
    the student is of each entry.
    """

    PREDICT = "predict"
    SENSE = "sense"
    SURE = "sure"


class Pictures(StrEnum):
    """Whether the free-body diagram is given, or drawn by the student before the first line.

    Or neither: then none is shown at all.
    """

    GIVEN = "given"
    ASKED = "asked"
    OFF = "off"


class Rung(IntEnum):
    """How much a hint tells: where to look, what seems to have happened, formula, the line."""

    LOOK = 0
    HAPPENED = 1
    FORMULA = 2
    WORKED = 3


@dataclass(frozen=True, slots=True)
class Rules:
    """How often a line may be tried, and what the student is told.

    `attempts` is the most entries judged for a line, None for any number, 0 once nothing more is
    taken. `tells` says whether verdicts are shown as lines are entered, `hints` whether there are
    any, `reasons` when a likely slip is named. `conversions` says which lines are filled in,
    `units` how a number without a unit is taken, `calculator` whether one is at hand. `pictures`
    says whether the student draws the free-body diagrams, `thinking` what is asked beside the
    lines. `marked` says whether lines earn marks: what is told then works out no value that is the
    student's own to write.
    """

    attempts: int | None = None
    tells: bool = True
    hints: bool = True
    marked: bool = False
    reasons: Reasons = Reasons.AT_ONCE
    conversions: Conversions = Conversions.ASKED
    units: Units = Units.ASKED
    calculator: bool = True
    pictures: Pictures = Pictures.GIVEN
    thinking: frozenset[Thinking] = frozenset()

    @property
    def own_words(self) -> bool:
        """Return whether a line that names no symbol of the problem is taken as what it says.

        Marks must not depend on whether a line happens to be understood.
        """
        return not self.marked
