"""The report of a term in words, from its figures, for every writer alike.

Nothing before the heading FOR_THE_TEACHER names a student.
"""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.decimals import in_percent, number
from leverstep.course.phrases import capital, counted, listed
from leverstep.documents.blocks import NOT_GIVEN, Heading, NewPage, Table, Told, Words
from leverstep.reports.class_report import SMALL_CLASS, discrimination_told, marks_told
from leverstep.reports.figures import SMALL
from leverstep.reports.interval import LEAST
from leverstep.reports.report_phrases import percent_told, place_told, who_told
from leverstep.reports.slipped import TAUGHT
from leverstep.reports.teacher import FOR_THE_TEACHER, MOST_SEEN, missed
from leverstep.term.slips_followed import SlipFollowed, stays
from leverstep.term.term_change import TermChange
from leverstep.term.term_change_told import beside_earlier
from leverstep.term.term_figures import APART, DrillFigures, StudentTerm, TermFigures
from leverstep.term.term_how_made import how_made
from leverstep.term.term_table import names, required_missing
from leverstep.working.cautions import CAUTION


def term_report(
    figures: TermFigures, change: TermChange | None = None, with_names: bool = True
) -> tuple[Told, ...]:
    """Return the whole report; without names it has no part for the teacher alone."""
    parts = (_opening, _staying, _drills, _totals, _slips, _apart)
    of_class = [block for part in parts for block in part(figures)]
    of_class += () if change is None else beside_earlier(change)
    teacher = _for_the_teacher(figures) if with_names else ()
    return (*of_class, *teacher, *how_made(change is not None))


def summary(figures: TermFigures) -> str:
    """Return how many sat how many drills, and the median of the totals unless it names few."""
    drills = counted(len(figures.sat), "drill")
    told = f"{counted(figures.students, 'student')}, {drills}."
    if figures.absent:
        told += f" On the roster, and without any marks: {figures.absent}."
    if figures.marks is not None and figures.marks.names_nobody:
        told += f" The median of the totals is {number(figures.marks.median, 1)} %."
    return told


def _opening(figures: TermFigures) -> Iterator[Told]:
    yield Heading(1, f"{figures.plan.title}: course report")
    yield Words(summary(figures))
    if figures.students < SMALL:
        yield Words(SMALL_CLASS, weight=True)
    yield Words(CAUTION, small=True)


def _staying(figures: TermFigures) -> Iterator[Told]:
    """Yield the slips that stayed most often."""
    yield Heading(2, "What stays")
    several = [one for one in figures.slips if one.students > 1 and one.stayed]
    for one in sorted(several, key=lambda slip: -slip.stayed)[:TAUGHT]:
        yield Words(
            f"{capital(one.name)}: {counted(one.students, 'student')} made it. "
            f"Met again: {one.met}; made again then: {one.stayed}. {one.reason}"
        )
    if not several:
        yield Words("No slip of more than one student was made again in the next drill.")


def _drills(figures: TermFigures) -> Iterator[Told]:
    yield Heading(2, "The drills")
    columns = ("Drill", "Weight", "Sat", "Not sat", "Exempt", "Median")
    rows = tuple(_drill(one, figures.missing[one.place]) for one in figures.sat)
    yield Table(columns, rows, frozenset({1, 2, 3, 4, 5}))
    if told := figures.plan.lowest_told:
        yield Words(f"For each student {told}; a required one is never left out.")
    later = [one.planned.name for one in figures.drills if not one.is_sat]
    if later:
        yield Words(f"No marks yet, and not counted: {', '.join(later)}.")


def _drill(one: DrillFigures, missing: int) -> tuple[str, ...]:
    required = ", required" if one.planned.required else ""
    is_shown = one.marks is not None and one.marks.names_nobody
    median = f"{number(one.marks.median, 1)} %" if one.marks and is_shown else NOT_GIVEN
    return (
        f"{one.planned.name}{required}",
        number(one.planned.weight),
        str(one.sat),
        str(missing),
        str(one.excused),
        median,
    )


def _totals(figures: TermFigures) -> Iterator[Told]:
    if figures.marks is not None and figures.marks.names_nobody:
        yield Heading(2, "The totals")
        yield from marks_told(figures.marks)


def _slips(figures: TermFigures) -> Iterator[Told]:
    """Yield in which drills each slip was made, and what became of it."""
    yield Heading(2, "Slips over the term")
    if not figures.slips:
        yield Words("No slip on a line was certain.")
        return
    columns = ("Slip", "Students", "Made in", "Met again", "Staying", "Gone", "Back")
    rows = tuple(_slip(figures, one) for one in figures.slips)
    yield Table(columns, rows, frozenset({1, 3, 4, 5, 6}))


def _slip(figures: TermFigures, one: SlipFollowed) -> tuple[str, ...]:
    made_in = (
        f"{drill.planned.name}: {one.made[drill.place]} of {one.shown[drill.place]}"
        for drill in figures.sat
        if one.made[drill.place]
    )
    counts = (one.met, one.stayed, one.gone, one.back)
    return one.name, str(one.students), "; ".join(made_in), *map(str, counts)


def _apart(figures: TermFigures) -> Iterator[Told]:
    """Yield the lines that discriminate badly."""
    yield Heading(2, "Lines that separate strong from weak poorly")
    if not any(one.lines for one in figures.sat):
        yield Words(f"Fewer than {LEAST} students tried any line: too few to say.")
        return
    columns = ("Drill", "Line", "Asks for", "Students", "Right first time", "Discrimination")
    rows = tuple(
        (
            one.planned.name,
            place_told(line.place),
            line.asks,
            str(line.tried),
            percent_told(line.facility),
            discrimination_told(line.discrimination or 0.0),
        )
        for one in figures.sat
        for line in one.apart
    )
    if rows:
        yield Table(columns, rows, frozenset({3, 4, 5}))
    else:
        yield Words(f"None: each that {LEAST} students or more tried has {APART} at least.")


def _for_the_teacher(figures: TermFigures) -> Iterator[Told]:
    """Yield whom to speak with, and which records to look at."""
    yield NewPage()
    yield Heading(2, FOR_THE_TEACHER)
    yield Heading(3, "Whom to speak with")
    seen = figures.needs[:MOST_SEEN]
    if others := len(figures.needs) - len(seen):
        yield Words(f"Those with the lowest totals; {others} more are in the same position.")
    if seen:
        columns = ("Student", "Total", "Required, not sat", "Not sat", "Slips that stay")
        yield Table(columns, tuple(_in_need(figures, one) for one in seen), frozenset({1}))
    else:
        yield Words("Nobody has a low total, lacks a required drill, or keeps several slips.")
    yield from missed("Without any marks", figures.without_marks)
    yield from _records(figures)


def _in_need(figures: TermFigures, one: StudentTerm) -> tuple[str, ...]:
    tracks = one.student.tracks
    staying = (
        slip.name for slip in figures.slips if slip.reason in tracks and stays(tracks[slip.reason])
    )
    return (
        who_told(one.student.who),
        NOT_GIVEN if one.total is None else f"{in_percent(one.total)} %",
        names(figures.plan, required_missing(figures.plan, one)) or "none",
        names(figures.plan, one.missing) or "none",
        "; ".join(staying) or "none",
    )


def _records(figures: TermFigures) -> Iterator[Told]:
    """Yield how many records of each drill have remarks, and how many ids are on no roster."""
    yield Heading(3, "Records to look at")
    odd = [f"{one.planned.name}, {one.odd}" for one in figures.drills if one.odd]
    strange = [f"{one.planned.name}, {one.strangers}" for one in figures.drills if one.strangers]
    if odd:
        yield Words(f"Records with remarks: {listed(odd)}. The tables of each drill say which.")
    if strange:
        yield Words(f"Ids that are not on the roster, and not counted here: {listed(strange)}.")
    if not odd and not strange:
        yield Words("None.")
