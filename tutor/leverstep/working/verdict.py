"""What is said of an entry: the verdict, and the slips that explain a wrong one."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from leverstep.comparing.differences import Difference
from leverstep.entry.tree import Reason
from leverstep.statics.choices import Choice


class Outcome(StrEnum):
    """What an entry turned out to be; `FAILED` where a fault of the program kept it from that."""

    RIGHT = "right"
    FOLLOWED = "right with your earlier value"
    WRONG = "not yet"
    UNREAD = "not read"
    SAME = "the same again"
    FAILED = "could not be judged"
    KEPT = "right, and not asked for"

    @property
    def counts(self) -> bool:
        """Return whether an entry was judged: it could be read, and is new on its line."""
        return self not in (Outcome.UNREAD, Outcome.SAME, Outcome.FAILED, Outcome.KEPT)


@dataclass(frozen=True, slots=True)
class Finding:
    """One slip at one place: the slip's id, the step where it was made, and what it changed.

    `abouts` are the forces or distances it may be about: more than one where the number typed can't
    tell them apart. `line` is the other line whose value was written, for a slip of that kind.
    `miscopied` is the key of a given whose number seems to be copied wrongly, `copied` the number
    that was taken for it.
    """

    slip: str
    step: str
    changes: tuple[tuple[Choice, float], ...]
    abouts: tuple[str, ...] = ()
    line: str = ""
    miscopied: str = ""
    copied: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """One or two slips that together give the number that was typed.

    `sure` is False where random numbers would often be met as well, so that it is asked, not told.
    """

    findings: tuple[Finding, ...]
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer to one entry.

    `reason` says why an entry was not read or not judged, or what to note about one that was;
    `place` is the character it speaks of. `explanations` are those that fit equally well, the
    likeliest first; empty for a wrong entry that no known slip explains. `differences` are what
    arithmetic shows of itself.
    """

    step: str
    text: str
    outcome: Outcome
    reason: Reason | None = None
    place: int | None = None
    explanations: tuple[Explanation, ...] = ()
    differences: tuple[Difference, ...] = ()

    @property
    def settled(self) -> bool:
        """Return whether the line stands: right, or right with an earlier value."""
        return self.outcome in (Outcome.RIGHT, Outcome.FOLLOWED)

    @property
    def counts(self) -> bool:
        """Return whether the entry was judged."""
        return self.outcome.counts
