"""Marking a term: the records of its drills are replayed one drill after the other.

What is kept of a student is what a row of the table needs; all else is counted and let go.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from leverstep.course.decimals import half_up
from leverstep.course.phrases import counted, some_named
from leverstep.course.plain_text import plain
from leverstep.drill.codes import Noted, read_codes
from leverstep.drill.drill import same_student
from leverstep.drill.in_progress import InProgress, who_goes_on
from leverstep.marking.collecting import (
    ATTENDANCE,
    Gathered,
    Student,
    Taker,
    gather,
    mark_class,
    shared_remarks,
)
from leverstep.marking.part import MOST_NAMED, OfPart, of_part, without_going_on
from leverstep.marking.practised import PractisedNumbers
from leverstep.marking.seals import with_secrets
from leverstep.reports.figures import Figures, Who
from leverstep.reports.gathering import ClassFigures
from leverstep.reports.interval import LEAST, Sums
from leverstep.reports.measures import spread
from leverstep.reports.needs import NEEDS_HELP
from leverstep.slips.catalogue import Catalogue
from leverstep.term.slips_followed import (
    AVOIDED,
    MADE,
    SlipSums,
    TrackSums,
    extended,
    followed,
    signs,
    stays,
)
from leverstep.term.term_figures import (
    APART,
    STAYING,
    DrillFigures,
    StudentTerm,
    TermFigures,
    TermStudent,
)
from leverstep.term.term_plan import TermDrill, TermPlan
from leverstep.term.term_table import required_missing
from leverstep.term.weighing import weighed


@dataclass(frozen=True, slots=True)
class MarkedTerm:
    """A term as it was marked: its figures, and each student's term in the order of the ids.

    `parts` are the records of each drill that were marked, `unread` the files that may be records
    and name no drill, `others` the drills that other records name, each once for a record. `seals`
    says of which drills seals are not checked, and why.
    """

    figures: TermFigures
    students: tuple[StudentTerm, ...]
    parts: tuple[OfPart, ...]
    unread: tuple[str, ...]
    others: tuple[str, ...]
    seals: tuple[str, ...] = ()

    def left_out(self, with_names: bool) -> Iterator[str]:
        """Yield what was not marked: records of others, files, and drills that nobody has sat.

        And where seals are not checked.
        """
        yield from map(plain, self.seals)
        for planned, part in zip(self.figures.plan.drills, self.parts, strict=True):
            if told := part.left_out(with_names):
                yield f"{planned.name}: {told}"
        for found, single, several in (
            (self.unread, "file that names no drill", "files that name no drill"),
            (self.others, "record of a drill not in the plan", "records of drills not in the plan"),
        ):
            if found:
                which = some_named(list(dict.fromkeys(found)), MOST_NAMED)
                told = f"Not marked: {counted(len(found), single, several)}"
                yield plain(f"{told}: {which}" if with_names else told)
        for one in self.figures.drills:
            if not one.is_sat:
                where = "" if one.planned.records.exists() else ", which is not there"
                told = f"no marks yet, and not counted; its records: {one.planned.records}{where}"
                yield plain(f"{one.planned.name}: {told}")


def codes_noted(plan: TermPlan) -> tuple[Noted | None, ...]:
    """Return for each drill of a term the codes that were noted, None where none were.

    Raises:
        FileError: where they can't be read.
    """
    return tuple(None if one.codes is None else read_codes(one.codes) for one in plan.drills)


def probes_of(plan: TermPlan) -> list[Path]:
    """Return a file of each folder of records, by which to see whether a machine has them all."""
    folders = dict.fromkeys(one.records for one in plan.drills if one.records.is_dir())
    files = (next((one for one in folder.rglob("*") if one.is_file()), None) for folder in folders)
    return [one for one in files if one is not None]


def mark_term(
    plan: TermPlan,
    catalogue: Catalogue,
    executor: Executor,
    noted: Sequence[Noted | None],
    seal_keys: Collection[Path] = (),
    going_on: Collection[InProgress] = (),
) -> MarkedTerm:
    """Return the term of a class, by the records that lie where its plan says.

    A drill without any has not been sat yet, and counts for nobody. `noted` are the codes of each
    drill, as `codes_noted` has them, `seal_keys` files with private keys of sealed ones. What is of
    students who are `going_on` with a drill on this computer is not marked.
    """
    plan, seals = _with_secrets(plan, seal_keys)
    keys = [key for one in plan.drills for key in one.drill.seal_keys]
    kept = KeptTerm(plan, catalogue)
    parts: list[OfPart] = []
    folders: dict[Path, Gathered] = {}
    for place, (one, codes) in enumerate(zip(plan.drills, noted, strict=True)):
        if one.records not in folders:
            folders[one.records] = gather([one.records] if one.records.exists() else [], keys)
        part = _part(one, folders[one.records])
        part = without_going_on(part, who_goes_on(one.drill, going_on))
        parts.append(part)
        takes = kept.of_drill(place)
        practised = folders[one.records].practised
        figures = _mark(one, part, catalogue, executor, takes, codes, practised)
        kept.finish(place, figures)
    found = [each for gathered in folders.values() for each in gathered.records]
    known = {one.drill.id for one in plan.drills}
    students = tuple(kept.students())
    return MarkedTerm(
        kept.figures(students),
        students,
        tuple(parts),
        unread=tuple(each.name for each in found if not each.drill),
        others=tuple(each.drill for each in found if each.drill and each.drill not in known),
        seals=seals,
    )


def _with_secrets(plan: TermPlan, named: Collection[Path]) -> tuple[TermPlan, tuple[str, ...]]:
    """Return a plan whose drills have the private keys at hand, and what is told where none is."""
    drills, told = with_secrets([one.drill for one in plan.drills], named)
    both = zip(plan.drills, drills, strict=True)
    return replace(plan, drills=tuple(replace(one, drill=drill) for one, drill in both)), told


def _part(one: TermDrill, found: Gathered) -> OfPart:
    """Return the records of a drill, of all that lie in its folder; several may share one."""
    return of_part(one.drill, (each for each in found.records if each.drill == one.drill.id))


def _mark(
    one: TermDrill,
    part: OfPart,
    catalogue: Catalogue,
    executor: Executor,
    taker: OfDrill,
    noted: Noted | None,
    practised: Collection[PractisedNumbers],
) -> Figures:
    """Mark the records of a drill, hand on each student, and return the figures of the class."""
    shared = shared_remarks(one.drill, part.records)
    collected = ClassFigures(one.drill, catalogue, shared, part.strangers)
    takers: list[Taker] = [collected, taker]
    mark_class(one.drill, catalogue, part.records, executor, takers, shared, noted, practised)
    return collected.figures()


class KeptTerm:
    """What is kept of a term while its drills are marked, in their order."""

    def __init__(self, plan: TermPlan, catalogue: Catalogue) -> None:
        """Begin with nobody."""
        self.plan = plan
        self.catalogue = catalogue
        self._students: dict[str, TermStudent] = {}
        self._slips: dict[str, SlipSums] = {}
        self._drills: list[DrillFigures] = []
        self._sums = [Sums() for _ in plan.drills]

    def of_drill(self, place: int) -> OfDrill:
        """Return what takes the students of the drill at a place, from 0."""
        return OfDrill(self, place)

    def add(self, place: int, student: Student) -> None:
        """Keep what a row needs of a student who was marked in a drill, and count the rest."""
        if not student.id:
            return
        drill = self.plan.drills[place].drill
        key = same_student(student.id)
        kept = self._students.setdefault(key, TermStudent(student.id))
        kept.name = kept.name or student.name
        said = zip(drill.roster_columns.more, drill.carried(student.id), strict=True)
        kept.carried.update((heading, text) for heading, text in said if text)
        kept.listed &= drill.is_open_to(student.id)
        if odd := sum(remark not in ATTENDANCE for remark in student.remarks):
            kept.odd[place] = odd
        if student.excused:
            kept.excused.add(place)
        elif student.counted is not None:
            kept.shares[place] = student.counted.total / drill.marks
            if drill.is_open_to(student.id):
                self._sums[place].add(kept.shares[place])
                self._follow(place, kept, student)

    def _follow(self, place: int, kept: TermStudent, student: Student) -> None:
        """Count what the first sitting shows of slips, and keep it of those that were made."""
        if student.first is None:
            return
        withdrawn = self.plan.drills[place].drill.withdrawn_for(student.first.drawn)
        made, avoided = signs(student.first.without(withdrawn), self.catalogue)
        for reason, slips in made.items():
            sums = self._slips.setdefault(reason, SlipSums())
            sums.made[place] += 1
            sums.told.update(slips)
            kept.tracks[reason] = extended(kept.tracks.get(reason, ""), place, MADE)
        for reason in avoided:
            if reason in kept.tracks:
                kept.tracks[reason] = extended(kept.tracks[reason], place, AVOIDED)
        for reason in (*made, *avoided):
            self._slips.setdefault(reason, SlipSums()).shown[place] += 1

    def finish(self, place: int, figures: Figures) -> None:
        """Keep of the figures of a drill what the term shows of it."""
        tried = [line for line in figures.lines if line.tried >= LEAST]
        known = [(line.discrimination, line) for line in tried if line.discrimination is not None]
        apart = tuple(line for value, line in sorted(known, key=lambda o: o[0]) if value < APART)
        self._drills.append(
            DrillFigures(
                place, self.plan.drills[place], figures.sat, figures.excused, len(figures.doubts),
                len(figures.strangers), figures.marks, self._sums[place], len(tried), apart,
            )
        )  # fmt: skip

    def students(self) -> Iterator[StudentTerm]:
        """Yield the term of each student, by their ids."""
        sat = [one.place for one in self._drills if one.is_sat]
        for key in sorted(self._students):
            yield self._term(self._students[key], sat)

    def _term(self, student: TermStudent, sat: list[int]) -> StudentTerm:
        asked = [place for place in sat if self._is_set(place, student)]
        missing = frozenset(place for place in asked if place not in student.shares)
        shares = {place: student.shares.get(place, Fraction(0)) for place in asked}
        found = weighed(self.plan.drills, shares, self.plan.lowest_left_out)
        return StudentTerm(student, shares, found.total, found.left_out, missing)

    def _is_set(self, place: int, student: TermStudent) -> bool:
        """Return whether a drill counts for a student: none that its roster is without does."""
        if place in student.excused:
            return False
        return place in student.shares or self.plan.drills[place].drill.is_open_to(student.id)

    def figures(self, students: Iterable[StudentTerm]) -> TermFigures:
        """Return the figures of all that was marked, with the term of each of the `students`."""
        totals, percents, needs, count = Sums(), Counter[int](), list[StudentTerm](), 0
        without = list[Who]()
        tracks: dict[str, TrackSums] = {}
        missing: Counter[int] = Counter()
        for one in students:
            if not one.student.listed:
                continue
            missing.update(one.missing)
            if not one.student.shares:
                without += [one.student.who] if one.missing else []
                if required_missing(self.plan, one):
                    needs.append(one)
                continue
            count += 1
            for reason, track in one.student.tracks.items():
                tracks.setdefault(reason, TrackSums()).add(track)
            if one.total is not None:
                totals.add(one.total)
                percents[half_up(1000 * one.total)] += 1
            if self._is_in_need(one):
                needs.append(one)
        by_students = sorted(tracks, key=lambda reason: (-tracks[reason].students, reason))
        drills = len(self.plan.drills)
        return TermFigures(
            self.plan, count, tuple(self._drills), spread(percents), totals,
            tuple(
                followed(reason, self._slips[reason], tracks[reason], drills)
                for reason in by_students
            ),
            tuple(missing[place] for place in range(drills)), tuple(without),
            tuple(sorted(needs, key=lambda one: one.total or Fraction(0))),
        )  # fmt: skip

    def _is_in_need(self, one: StudentTerm) -> bool:
        """Return whether the total is low, a required drill was not sat, or several slips stay."""
        is_low = one.total is not None and 100 * one.total < NEEDS_HELP
        stay = sum(map(stays, one.student.tracks.values()))
        return is_low or bool(required_missing(self.plan, one)) or stay >= STAYING


@dataclass(frozen=True, slots=True)
class OfDrill:
    """Takes the students of one drill of a term, one after the other."""

    kept: KeptTerm
    place: int

    def add(self, student: Student) -> None:
        """Take a student."""
        self.kept.add(self.place, student)
