"""A term beside an earlier one: other students, so that means and shares are compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.reports.changes import unlike_rules
from leverstep.reports.interval import LEAST, Sums, means_interval, shares_interval
from leverstep.term.slips_followed import SlipFollowed
from leverstep.term.term_figures import DrillFigures, TermFigures

Ends = tuple[float, float]
"""From where to where a difference lies, with 95 % confidence."""


@dataclass(frozen=True, slots=True)
class MeanChange:
    """Marks then and now: of a drill by its name, or of all, as shares from 0 to 1.

    `interval` is None where either are too few students, or have no spread; `unlike` are the rules
    by name that differ.
    """

    name: str
    then: Sums
    now: Sums
    interval: Ends | None
    unlike: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ShareChange:
    """How many of all students made a slip then and now; `interval` as in `MeanChange`."""

    name: str
    then: int
    now: int
    interval: Ends | None

    @property
    def is_sure(self) -> bool:
        """Return whether 0 lies outside the interval."""
        return self.interval is not None and not self.interval[0] <= 0 <= self.interval[1]


@dataclass(frozen=True, slots=True)
class TermChange:
    """What is otherwise than in an earlier term: in all, in drills of one name, and of slips.

    `alone` are the names of drills that only one of the terms has.
    """

    title: str
    total: MeanChange
    students: tuple[int, int]
    drills: tuple[MeanChange, ...]
    alone: tuple[str, ...]
    slips: tuple[ShareChange, ...]


def changed(then: TermFigures, now: TermFigures) -> TermChange:
    """Return what is otherwise in a term than in an earlier one."""
    before = {one.planned.name.casefold(): one for one in then.sat}
    after = {one.planned.name.casefold(): one for one in now.sat}
    return TermChange(
        title=then.plan.title,
        total=_means("All drills", then.sums, now.sums),
        students=(then.students, now.students),
        drills=tuple(_drill(before[name], after[name]) for name in after if name in before),
        alone=tuple(
            one.planned.name
            for found, others in ((before, after), (after, before))
            for name, one in found.items()
            if name not in others
        ),
        slips=tuple(_slips(then, now)),
    )


def _drill(then: DrillFigures, now: DrillFigures) -> MeanChange:
    unlike = unlike_rules(then.planned.drill, now.planned.drill)
    return _means(now.planned.name, then.sums, now.sums, tuple(unlike))


def _means(name: str, then: Sums, now: Sums, unlike: tuple[str, ...] = ()) -> MeanChange:
    enough = min(then.count, now.count) >= LEAST
    return MeanChange(name, then, now, means_interval(then, now) if enough else None, unlike)


def _slips(then: TermFigures, now: TermFigures) -> Iterator[ShareChange]:
    """Yield each slip that was made in either term, by how many make it now."""
    before = {one.reason: one for one in then.slips}
    after = {one.reason: one for one in now.slips}
    enough = min(then.students, now.students) >= LEAST
    named: dict[str, SlipFollowed] = {
        **after,
        **{r: o for r, o in before.items() if r not in after},
    }
    for reason, one in named.items():
        counts = [found[reason].students if reason in found else 0 for found in (before, after)]
        ends = None
        if enough:
            ends = shares_interval((counts[0], then.students), (counts[1], now.students))
        yield ShareChange(one.name, counts[0], counts[1], ends)
