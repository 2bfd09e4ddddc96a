"""The figures of a class, as every writer of the report shows them; `gathering` makes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from leverstep.course.phrases import either, in_problem
from leverstep.drill.drill import Drill
from leverstep.questions.choice_question import QuestionSort
from leverstep.reports.changes import Changes
from leverstep.reports.drawn_diagrams import DrawnFigures, DrawnSlipFigures
from leverstep.reports.measures import Marks
from leverstep.slips.catalogue import Slip
from leverstep.slips.picture_slips import SlipWords

SMALL = 8
"""Figures of fewer students say little, and so carry a warning."""

NamedPlace = tuple[int, str]
"""A task by its number, and a line of it by its name."""


@dataclass(frozen=True, slots=True)
class Who:
    """A student by id and name, and what the roster says besides."""

    id: str
    name: str = ""
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LineFigures:
    """One line of a task over the class; `asks` is what it asks for.

    `facility` is the share right at the first try of those who tried it, `discrimination` the
    point-biserial correlation with the rest, None where too few tried it or it has no value.
    `hints` is how many were taken on it. `problem` is the title of its problem where that was drawn
    from a bank, else ""; `had` is how many sat the problem.
    """

    task: int
    key: str
    name: str
    asks: str
    tried: int
    facility: Fraction | None
    discrimination: float | None
    hints: int
    problem: str = ""
    had: int = 0

    @property
    def place(self) -> NamedPlace:
        """Return the task and what the line is called, with the problem if it is of a bank."""
        return self.task, in_problem(self.name, self.problem)


@dataclass(frozen=True, slots=True)
class BankFigures:
    """One problem of a bank by its title: to how many students it fell, and how well they did.

    `share` is the mean share of its marks that they earned in their first sitting, None of too few.
    """

    task: int
    problem: str
    students: int
    share: Fraction | None


@dataclass(frozen=True, slots=True)
class ClassSlipFigures:
    """Slips for one reason: how often they were told, to how many students, and on which lines.

    `slips` come by how often each was told. `most_on` is the line on which most of the students
    made them, with its facility; None where no line stands out. `held` is how often the student was
    sure of the line. `typed` is a wrong line that shows
    one, of `example` by its task and name, and of nobody in particular. `weight` is how much there
    is to teach.
    """

    slips: tuple[Slip, ...]
    times: int
    students: int
    most_on: NamedPlace | None
    facility: Fraction | None
    example: NamedPlace
    typed: str
    held: int = 0
    weight: Fraction = Fraction(0)

    @property
    def name(self) -> str:
        """Return the names of the slips."""
        return either(list(dict.fromkeys(slip.name for slip in self.slips)))

    @property
    def reason(self) -> str:
        """Return the reason that they share."""
        return self.slips[0].reason


TaughtSlip = ClassSlipFigures | DrawnSlipFigures
"""A slip of several students, on lines or in free-body diagrams."""


@dataclass(frozen=True, slots=True)
class AnswerFigures:
    """One sort of question beside the lines: how often it was answered, and how often right."""

    sort: QuestionSort
    answered: int
    right: int


@dataclass(frozen=True, slots=True)
class SureFigures:
    """The entries of which students were so sure, from 1 to 3: how many, and how many right."""

    sure: int
    entries: int
    right: int


@dataclass(frozen=True, slots=True)
class GroupFigures:
    """A part of the class by what the roster says: how many sat, and the median in per cent."""

    name: str
    sat: int
    median: Fraction


@dataclass(frozen=True, slots=True)
class Pair:
    """Two students whose records are too alike, and on which lines."""

    right: Who
    wrong: Who
    lines: tuple[NamedPlace, ...]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A student, or a record that can't be marked by its name, with what is odd about it."""

    who: Who
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Help:
    """A student who needs help: the marks in per cent, the hints taken, and with what.

    `slips` holds those made on several lines, or on a line that was not right in the end, each with
    its lines; a free-body diagram counts as a line. `open` are the lines that were tried and not
    right in the end, by the part of the working; `closed` those of them without a try left.
    `unwritten` counts the lines never tried.
    """

    who: Who
    percent: Fraction
    hints: int
    slips: tuple[tuple[Slip | SlipWords, tuple[NamedPlace, ...]], ...]
    open: tuple[tuple[str, tuple[NamedPlace, ...]], ...]
    closed: tuple[NamedPlace, ...]
    unwritten: int

    @property
    def most_made(self) -> Slip | SlipWords | None:
        """Return the slip on most lines, None where there is none."""
        made = max(self.slips, key=lambda slip: len(slip[1]), default=None)
        return None if made is None else made[0]


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures of a class. `absent` have no record, `unmarked` are records without marks.

    `slips` come by the number of students, `teach` are those to teach next, `hardest` the lines
    that fewest had right at the first try, of those that half the class tried. `doubts` are the
    records to look at, `shared` what is remarked on all of them alike; `drawn` are the free-body
    diagrams. `answers` has the sorts of questions beside the lines that were answered, `sureness`
    how sure students were of entries. `changes` is what changed since an earlier drill, None where
    it is compared with none. `strangers` are not on the roster, and counted nowhere else.
    `notes` say for whom an exception was made or who was late; `excused` are as many as have none.
    `without_record` are those who are absent, `not_handed_in` who sat and did not hand in.
    `groups` are those of each column of the roster that is carried, by its heading; so few students
    that it would tell of one make none. `banks` are the problems that were drawn, by task. `give`
    has the ids of problems to give, by the name of the slip that they show.
    """

    drill: Drill
    sat: int
    finished: int
    absent: int
    unmarked: int
    marks: Marks | None
    lines: tuple[LineFigures, ...]
    slips: tuple[ClassSlipFigures, ...]
    teach: tuple[TaughtSlip, ...]
    hardest: tuple[LineFigures, ...]
    pairs: tuple[Pair, ...]
    help: tuple[Help, ...]
    doubts: tuple[Doubt, ...]
    shared: tuple[str, ...] = ()
    drawn: DrawnFigures = field(default_factory=DrawnFigures)
    answers: tuple[AnswerFigures, ...] = ()
    sureness: tuple[SureFigures, ...] = ()
    strangers: tuple[str, ...] = ()
    notes: tuple[Doubt, ...] = ()
    without_record: tuple[Who, ...] = ()
    not_handed_in: tuple[Who, ...] = ()
    excused: int = 0
    groups: tuple[tuple[str, tuple[GroupFigures, ...]], ...] = ()
    changes: Changes | None = None
    banks: tuple[BankFigures, ...] = ()
    give: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def small(self) -> bool:
        """Return whether there are so few students that figures say little."""
        return self.sat < SMALL
