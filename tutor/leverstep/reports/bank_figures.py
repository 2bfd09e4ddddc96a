"""The problems of banks over a class: to how many students each fell, and how well they did."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from leverstep.drill.drill import Drill
from leverstep.marking.marking import LinePlace, Marked
from leverstep.marking.shares import share_earned
from leverstep.reports.counts_data import exact, pairs_of, whole, word
from leverstep.reports.figures import SMALL, BankFigures
from leverstep.reports.interval import Sums


class Banks:
    """Collects which problems were drawn, one sitting after the other."""

    def __init__(self, drill: Drill) -> None:
        """Begin with nobody; titles are those of a drill and of its earlier versions."""
        banks = [item.bank for one in (*drill.sat_with, drill) for item in one.items]
        self._titles = {problem.id: problem.title for bank in banks for problem in bank}
        self._shares: defaultdict[tuple[int, str], Sums] = defaultdict(Sums)

    def title(self, problem: str) -> str:
        """Return the title of a problem, "" for none."""
        return self._titles.get(problem, problem)

    def had(self, place: LinePlace) -> int:
        """Return how many students had the problem of a line."""
        return self._shares[place.task, place.problem].count

    def add(self, marked: Marked) -> None:
        """Add the problems of one student's sitting; what can't be marked is left out."""
        for task, problem in marked.drawn.items():
            if earning := marked.earning(task):
                self._shares[task, problem].add(share_earned(earning))

    def as_data(self) -> list[list[object]]:
        """Return what was collected as data, with no id and no name."""
        return [
            [[*drawn], [sums.count, str(sums.total), str(sums.squares)]]
            for drawn, sums in sorted(self._shares.items(), key=lambda one: one[0])
        ]

    def add_data(self, data: object) -> None:
        """Add what was collected of another part of the class.

        Raises:
            ValueError, TypeError, ArithmeticError: where it is none.
        """
        for (task, problem), (count, total, squares) in pairs_of(data):
            sums = Sums(whole(count), exact(total), exact(squares))
            self._shares[whole(task), word(problem)].add_sums(sums)

    def figures(self) -> Iterator[BankFigures]:
        """Yield the problems of each task."""
        for (task, problem), sums in sorted(self._shares.items(), key=lambda one: one[0]):
            mean = sums.mean if sums.count >= SMALL else None
            yield BankFigures(task, self.title(problem), sums.count, mean)
