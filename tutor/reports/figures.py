"""The figures of a class: collected student by student, each from the sitting that counts.

What is kept grows with the lines of the drill and with what stands out, not with the records; for
each student it keeps an id, and for each right line the digest in `alike`.
"""

from __future__ import annotations

import hashlib
import statistics
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from tutor.course.faults import plain
from tutor.drill.collecting import Student
from tutor.drill.drill import Drill
from tutor.drill.marking import Entry, LineMark, Marked
from tutor.reports.alike import Likeness, Place
from tutor.reports.measures import LineSums
from tutor.slips.catalogue import Catalogue, Slip, catalogue_in_use
from tutor.working.page import called
from tutor.working.verdict import Outcome
from tutor.working.wording import SECTIONS, ask

SMALL = 8
"""Figures of fewer students say little, and so carry a warning."""

NEEDS_HELP = 50
"""A student with fewer per cent of the marks is listed as in need of help."""

REPEATED = 2
"""A slip on so many lines of one student is a repeated one, as in `slips.habits`."""

BINS = 10
TAUGHT, HARDEST = 2, 10
"""So many slips are named as what to teach next; so many lines are shown as the hardest."""


@dataclass(frozen=True, slots=True)
class Who:
    """A student by id and name."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class Marks:
    """How the marks lie, in per cent of all marks, to a tenth.

    `bins` counts the students from 0 to below 10 per cent and so on; the last holds 100 too.
    """

    bins: tuple[int, ...]
    lower: Fraction
    median: Fraction
    upper: Fraction


@dataclass(frozen=True, slots=True)
class LineFigures:
    """One line of a task over the class; `asks` is what it asks for.

    `facility` is the share right at the first try of those who tried it, `discrimination` the
    point-biserial correlation with the rest, None where too few tried it or it has no value.
    """

    task: int
    key: str
    name: str
    asks: str
    tried: int
    facility: Fraction | None
    discrimination: float | None


@dataclass(frozen=True, slots=True)
class SlipFigures:
    """A slip that was told: how often, by how many students, and on which line by most of them.

    `typed` is a wrong line that shows it, of `example` by its task and name, and of nobody in
    particular.
    """

    slip: Slip
    times: int
    students: int
    most_on: tuple[int, str]
    facility: Fraction | None
    example: tuple[int, str]
    typed: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Two students whose records are too alike, and on which lines: task and name of each."""

    right: Who
    wrong: Who
    lines: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Help:
    """A student who needs help: the marks in per cent, and with what.

    `repeated` holds the slips made on several lines, each with their number; `open` the lines that
    were not right in the end, counted by the part of the working.
    """

    who: Who
    percent: Fraction
    repeated: tuple[tuple[Slip, int], ...]
    open: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures of a class. `absent` have no record, `unmarked` are records without marks.

    `slips` come by the number of students, `teach` are those to teach next, `hardest` the lines
    that fewest had right at the first try, of those that half the class tried.
    """

    drill: Drill
    sat: int
    finished: int
    absent: int
    unmarked: int
    marks: Marks | None
    lines: tuple[LineFigures, ...]
    slips: tuple[SlipFigures, ...]
    teach: tuple[SlipFigures, ...]
    hardest: tuple[LineFigures, ...]
    pairs: tuple[Pair, ...]
    help: tuple[Help, ...]

    @property
    def small(self) -> bool:
        """Return whether there are so few students that figures say little."""
        return self.sat < SMALL


@dataclass(slots=True)
class _Made:
    """What is collected of one slip; the example is the one with the least digest."""

    times: int = 0
    students: int = 0
    on: Counter[Place] = field(default_factory=Counter)
    example: tuple[str, Place, str] | None = None


class ClassFigures:
    """Collects the figures of a class, one student after the other."""

    def __init__(self, drill: Drill, catalogue: Catalogue | None = None) -> None:
        self._drill = drill
        self._catalogue = catalogue or catalogue_in_use()
        self._counts: Counter[str] = Counter()
        self._percents: Counter[int] = Counter()
        self._sums: dict[Place, LineSums] = {}
        self._names: dict[Place, str] = {}
        self._asks: dict[Place, str] = {}
        self._made: defaultdict[str, _Made] = defaultdict(_Made)
        self._likeness = Likeness()
        self._who: list[Who] = []
        self._help: list[Help] = []
        items = [item for item in drill.items for _ in range(item.count)]
        self._individual = {number for number, item in enumerate(items, 1) if not item.fixed}

    def add(self, student: Student) -> None:
        """Add what one student did, by the sitting that counts."""
        marked = student.counted
        if marked is None:
            self._counts["absent" if student.id else "unmarked"] += 1
            return
        self._counts["finished"] += marked.ended
        self._percents[_tenths(100 * marked.total / self._drill.marks)] += 1
        self._likeness.add(len(self._who), marked.entries, self._individual)
        self._who.append(Who(student.id, student.name))
        written: tuple[LineMark | Entry, ...] = (*marked.lines, *marked.entries)
        for one in written:
            self._names.setdefault((one.task, one.step), called(one.kind, one.step))
        self._add_lines(marked)
        self._add_slips(marked)
        self._add_help(marked)

    def figures(self) -> Figures:
        """Return the figures of all students added so far."""
        lines = tuple(self._line(place) for place in sorted(self._sums, key=lambda p: p[0]))
        slips = sorted(self._slips(lines), key=lambda s: (-s.students, -s.times, s.slip.id))
        return Figures(
            drill=self._drill,
            sat=len(self._who),
            finished=self._counts["finished"],
            absent=self._counts["absent"],
            unmarked=self._counts["unmarked"],
            marks=_marks(self._percents),
            lines=lines,
            slips=tuple(slips),
            teach=_to_teach(slips),
            hardest=_hardest(lines, len(self._who)),
            pairs=tuple(self._pairs()),
            help=tuple(sorted(self._help, key=lambda one: one.percent)),
        )

    def _add_lines(self, marked: Marked) -> None:
        self._note_new(
            [one for one in marked.lines if (one.task, one.step) not in self._sums], marked
        )
        right = sum(line.first_right for line in marked.lines)
        for line in marked.lines:
            if line.tries:
                rest = right - line.first_right
                self._sums[line.task, line.step].add(line.first_right, rest)

    def _note_new(self, lines: list[LineMark], marked: Marked) -> None:
        """Note what lines ask for that no student before had; numbers may open other lines."""
        tasks = self._drill.tasks(marked.student) if lines else ()
        for line in lines:
            question = tasks[line.task - 1].question
            self._sums[line.task, line.step] = LineSums()
            self._asks[line.task, line.step] = ask(question, question.derivation.step(line.step))

    def _add_slips(self, marked: Marked) -> None:
        for slip, entries in _told(marked).items():
            made = self._made[slip]
            made.times += len(entries)
            made.students += 1
            made.on.update({(entry.task, entry.step) for entry in entries})
            for entry in entries:
                if not _names_someone(entry.text, marked):
                    shown = (_digest(entry.text), (entry.task, entry.step), entry.text)
                    made.example = min(shown, made.example or shown)

    def _add_help(self, marked: Marked) -> None:
        percent = 100 * marked.total / self._drill.marks
        places: dict[str, set[Place]] = {}  # slips that share a reason are one, as in habits
        first: dict[str, Slip] = {}
        for ident, entries in _told(marked).items():
            slip = self._catalogue.slips[ident]
            first.setdefault(slip.reason, slip)
            places.setdefault(slip.reason, set()).update((e.task, e.step) for e in entries)
        repeated = tuple(
            (first[reason], len(found))
            for reason, found in places.items()
            if len(found) >= REPEATED
        )
        if percent < NEEDS_HELP or repeated:
            who = Who(marked.student, marked.name)
            self._help.append(Help(who, percent, repeated, _open_parts(marked.lines)))

    def _line(self, place: Place) -> LineFigures:
        sums = self._sums[place]
        return LineFigures(
            *place,
            self._names[place],
            self._asks[place],
            sums.tried,
            sums.facility,
            sums.discrimination if sums.tried >= SMALL else None,
        )

    def _slips(self, lines: Iterable[LineFigures]) -> Iterable[SlipFigures]:
        facility = {(line.task, line.key): line.facility for line in lines}
        for ident, made in self._made.items():
            most = min(made.on, key=lambda place: (-made.on[place], place))
            _, place, typed = made.example or ("", most, "")
            yield SlipFigures(
                self._catalogue.slips[ident],
                made.times,
                made.students,
                (most[0], self._names[most]),
                facility.get(most),
                (place[0], self._names[place]),
                typed,
            )

    def _pairs(self) -> Iterable[Pair]:
        for pair in self._likeness.pairs():
            places = sorted(pair.places, key=list(self._names).index)
            lines = tuple((place[0], self._names[place]) for place in places)
            yield Pair(self._who[pair.right], self._who[pair.wrong], lines)


def _tenths(value: Fraction) -> int:
    """Return a value in tenths, rounded half up."""
    scaled = 10 * value
    return (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)


def _marks(percents: Counter[int]) -> Marks | None:
    """Return how marks lie, from the students counted by tenths of a per cent.

    Quartiles are interpolated as definition 7 of R. J. Hyndman and Y. Fan, Sample quantiles in
    statistical packages, The American Statistician 50 (1996) 361-365.
    """
    values = [Fraction(tenths, 10) for tenths in sorted(percents.elements())]
    if not values:
        return None
    bins = Counter(min(BINS - 1, int(value) * BINS // 100) for value in values)
    if len(values) == 1:
        values *= 2  # quantiles are asked of two at least; all are this one
    lower, median, upper = statistics.quantiles(values, n=4, method="inclusive")
    return Marks(tuple(bins[place] for place in range(BINS)), lower, median, upper)


def _told(marked: Marked) -> dict[str, list[Entry]]:
    """Return the wrong entries behind which a slip was found for sure, by the slip's id."""
    found: dict[str, list[Entry]] = {}
    for entry in marked.entries:
        if entry.outcome is Outcome.WRONG and entry.sure:
            for slip in entry.slips:
                found.setdefault(slip, []).append(entry)
    return found


def _names_someone(text: str, marked: Marked) -> bool:
    """Return whether a text holds the student's id or a part of the name."""
    words = [marked.student, *plain(marked.name).split()]
    return any(len(word) > 2 and word.casefold() in text.casefold() for word in words)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode(errors="backslashreplace")).hexdigest()


def _open_parts(lines: Iterable[LineMark]) -> tuple[tuple[str, int], ...]:
    """Return the parts of a working with lines that were not right in the end, and how many."""
    part_of = {kind: part for part, kinds in SECTIONS.items() for kind in kinds}
    settled = (Outcome.RIGHT, Outcome.FOLLOWED)
    counts = Counter(part_of[line.kind] for line in lines if line.outcome not in settled)
    return tuple(sorted(counts.items(), key=lambda one: -one[1]))


def _to_teach(slips: Iterable[SlipFigures]) -> tuple[SlipFigures, ...]:
    """Return the slips to teach next: made by many, on lines that few had right at once.

    Each counts its students times the share that was not right at the first try on the line where
    most made it. A slip of one student alone is no matter for the class.
    """

    def weight(one: SlipFigures) -> Fraction:
        return one.students * (1 - (one.facility or Fraction(0)))

    of_several = [one for one in slips if one.students > 1]
    return tuple(sorted(of_several, key=weight, reverse=True)[:TAUGHT])


def _hardest(lines: Iterable[LineFigures], sat: int) -> tuple[LineFigures, ...]:
    """Return the lines that fewest had right at once, of those that half the class tried."""
    tried = [
        (line.facility, line)
        for line in lines
        if line.facility is not None and line.facility < 1 and 2 * line.tried >= sat
    ]
    return tuple(line for _, line in sorted(tried, key=lambda one: one[0])[:HARDEST])
