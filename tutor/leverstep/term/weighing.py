"""The marks of several drills weighed into one, without the lowest of them; exact throughout."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from leverstep.term.term_plan import TermDrill


@dataclass(frozen=True, slots=True)
class Weighed:
    """What the drills of a student come to, as a share from 0 to 1; None where none counts.

    `left_out` are the places of the drills that do not count for being the lowest.
    """

    total: Fraction | None
    left_out: frozenset[int] = frozenset()


def weighed(drills: Sequence[TermDrill], shares: Mapping[int, Fraction], lowest: int) -> Weighed:
    """Return what a student's drills come to: the mean of their shares by their weights.

    As is common practice, what does not count is the lowest per cent; of several as low the
    heaviest, and of these the last. Nothing is left out where that would lower the total, as it
    might beside a required drill that is lower still.

    Args:
        drills: those of the term.
        shares: the share of its marks that each drill earned, 0 to 1, by its place from 0; without
            those of which the student is exempt.
        lowest: how many of the lowest do not count.
    """
    counting = [place for place in shares if drills[place].weight]
    low = [place for place in counting if drills[place].may_be_left_out]
    low.sort(key=lambda place: (shares[place], -drills[place].weight, -place))
    mean, left_out = _Mean(), set[int]()
    for place in counting:
        mean.add(shares[place], drills[place].weight)
    for place in low[:lowest]:
        if len(counting) - len(left_out) > 1 and shares[place] <= mean.value:
            mean.add(shares[place], -drills[place].weight)
            left_out.add(place)
    return Weighed(mean.value if counting else None, frozenset(left_out))


@dataclass(slots=True)
class _Mean:
    """A mean with weights; what was added is taken away again with its weight below nothing."""

    weights: Fraction = Fraction(0)
    earned: Fraction = Fraction(0)

    def add(self, share: Fraction, weight: Fraction) -> None:
        self.weights += weight
        self.earned += weight * share

    @property
    def value(self) -> Fraction:
        return self.earned / self.weights
