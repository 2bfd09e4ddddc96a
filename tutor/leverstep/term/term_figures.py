"""The figures of a term, as every writer of its documents shows them; `term_marking` makes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from leverstep.reports.figures import LineFigures, Who
from leverstep.reports.interval import Sums
from leverstep.reports.measures import Marks
from leverstep.term.slips_followed import SlipFollowed, Track
from leverstep.term.term_plan import TermDrill, TermPlan

APART = 0.2
"""A line that discriminates less is one to look at: common practice in the analysis of items."""

STAYING = 2
"""Who has so many slips that stay, or are back, is one to speak with."""


@dataclass(slots=True)
class TermStudent:
    """What is kept of one student: the share that each drill earned, by its place from 0.

    `carried` is what rosters say besides, by heading. `excused` are the drills that do not count
    for the student, `odd` how many remarks the records of a drill have. `tracks` has what the
    drills show of each slip that was made, by its reason. `listed` says whether every roster has
    the student.
    """

    id: str
    name: str = ""
    carried: dict[str, str] = field(default_factory=dict)
    shares: dict[int, Fraction] = field(default_factory=dict)
    excused: set[int] = field(default_factory=set)
    odd: dict[int, int] = field(default_factory=dict)
    tracks: dict[str, Track] = field(default_factory=dict)
    listed: bool = True

    @property
    def who(self) -> Who:
        """Return the student as reports name one."""
        return Who(self.id, self.name, tuple(self.carried.values()))


@dataclass(frozen=True, slots=True)
class StudentTerm:
    """A student's term: the share of each drill that counts, and the total, None where none does.

    `shares` is by the place of the drill, 0 where it is `missing`: sat by others, and set to the
    student too. What a student is exempt from, or what has no such student on its roster, has none.
    """

    student: TermStudent
    shares: Mapping[int, Fraction]
    total: Fraction | None
    left_out: frozenset[int]
    missing: frozenset[int]


@dataclass(frozen=True, slots=True)
class DrillFigures:
    """A drill over the class: who sat it, and how well.

    `sums` are those of the shares of its marks, 0 to 1; `marks` how they lie, None for none. `odd`
    is how many records have remarks, `strangers` how many ids are not on the roster. `lines` is how
    many lines enough students tried, `apart` those of them that discriminate badly.
    """

    place: int
    planned: TermDrill
    sat: int
    excused: int
    odd: int
    strangers: int
    marks: Marks | None
    sums: Sums
    lines: int
    apart: tuple[LineFigures, ...]

    @property
    def is_sat(self) -> bool:
        """Return whether anybody has marks for it; else it counts for nobody yet."""
        return self.sat > 0


@dataclass(frozen=True)
class TermFigures:
    """All figures of a term: of its drills, of its totals, of slips by the number of students.

    `students` are as many as sat a drill and are on every roster; `sums` and `marks` are those of
    their totals, as of a drill. `missing` counts by drill those who lack it, `without_marks` are
    those who lack all. `needs` are the students that the teacher may speak with.
    """

    plan: TermPlan
    students: int
    drills: tuple[DrillFigures, ...]
    marks: Marks | None
    sums: Sums
    slips: tuple[SlipFollowed, ...]
    missing: tuple[int, ...]
    without_marks: tuple[Who, ...] = ()
    needs: tuple[StudentTerm, ...] = ()

    @property
    def absent(self) -> int:
        """Return how many lack all drills."""
        return len(self.without_marks)

    @property
    def sat(self) -> tuple[DrillFigures, ...]:
        """Return the drills that were sat."""
        return tuple(one for one in self.drills if one.is_sat)
