"""Lines that only bring a given to newtons or metres: which they are, and who converts cleanly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from leverstep.course.problem import Problem

CLEAN_IN_A_ROW = 3
"""So many lines of one unit in a row, right at the first try, and the unit is known."""


def converted(problem: Problem) -> Mapping[str, str]:
    """Return the unit of the given of each line that only converts it, by the key of the line.

    Weighing a mass is more than that. A force in newtons goes in as it is; so does a distance in
    metres, which has no line of its own.
    """
    lengths = {d.symbol: d.given.unit for d in problem.distances if d.is_measured}
    forces = {
        force.symbol: force.magnitude.unit
        for force in problem.forces
        if force.magnitude is not None
        and not (force.share or force.source or force.before or force.magnitude.is_mass)
    }
    return {**lengths, **forces}


class CleanConversions:
    """How many lines of each unit in a row were right at the first try, over several workings."""

    def __init__(self) -> None:
        self._runs: Counter[str] = Counter()

    def notice(self, unit: str, is_clean: bool) -> None:
        """Take note of the first try of a line that converts a unit, clean without a hint."""
        self._runs[unit] = self._runs[unit] + 1 if is_clean else 0

    def knows(self, unit: str) -> bool:
        """Return whether a unit was converted cleanly often enough."""
        return self._runs[unit] >= CLEAN_IN_A_ROW
