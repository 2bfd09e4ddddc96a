"""What is said of an entry, and of a wrong one what may explain it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from leverstep.entry.tree import Reason
from leverstep.working.attempt import Attempt


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


_OF_REMARKS = ("nothing_to_check", "sense_said")


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer to one entry.

    `reason` says why an entry was not read or not judged, or what to note about one that was;
    `place` is the character it speaks of. `attempt` is what a wrong entry may be explained by, None
    where no reason is to be looked for. `in_symbols` is a formula whose symbols have no values yet:
    it is told whether it holds, but is no try of its line.
    """

    step: str
    text: str
    outcome: Outcome
    reason: Reason | None = None
    place: int | None = None
    attempt: Attempt | None = field(default=None, compare=False)
    in_symbols: bool = False

    @property
    def settled(self) -> bool:
        """Return whether the line stands: right, or right with an earlier value."""
        return self.outcome in (Outcome.RIGHT, Outcome.FOLLOWED)

    @property
    def counts(self) -> bool:
        """Return whether the entry was judged, as a try of its line."""
        return self.outcome.counts and not self.in_symbols

    @property
    def is_remark(self) -> bool:
        """Return whether the line claims nothing that could be judged."""
        return self.reason is not None and self.reason.code in _OF_REMARKS
