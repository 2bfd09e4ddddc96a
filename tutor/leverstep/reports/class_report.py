"""The class report in words, from its figures, for every writer alike.

Nothing before the heading FOR_THE_TEACHER names a student.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby

from leverstep.course.decimals import number, true_minus
from leverstep.course.phrases import capital, counted
from leverstep.documents.blocks import NOT_GIVEN, Bar, Bars, Heading, Table, Told, Words
from leverstep.drill.withdrawn import all_withdrawn_told, faulty_told, withdrawn_told
from leverstep.questions.sureness import SURENESS
from leverstep.reports.change_told import did_it_help
from leverstep.reports.figures import SMALL, ClassSlipFigures, Figures, LineFigures, TaughtSlip
from leverstep.reports.measures import FEW, Marks
from leverstep.reports.report_phrases import (
    each_told,
    of_all_records,
    percent_told,
    place_told,
)
from leverstep.reports.teacher import for_the_teacher, how_made
from leverstep.working.cautions import CAUTION

SMALL_CLASS = f"Small class: fewer than {SMALL} students. Read every figure with care."


def headline(figures: Figures) -> str:
    """Return the report in a line or two of plain text."""
    told = [_summary(figures, each_told(figures)), *_doubts(figures)]
    if figures.teach:
        first = figures.teach[0]
        told.append(f"To teach next: {first.name} ({counted(first.students, 'student')}).")
    told += [of_all_records(remark) for remark in figures.shared]
    if figures.pairs:
        told.append(f"Pairs of records too alike: {len(figures.pairs)}.")
    return " ".join(told)


def class_report(figures: Figures, with_names: bool = True) -> tuple[Told, ...]:
    """Return the whole report; without names it has no part for the teacher alone."""
    parts = (_next, _class, did_it_help, _lines, _slips, _drawn, _sureness, _answers)
    of_class = (block for part in parts for block in part(figures))
    of_teacher = for_the_teacher(figures) if with_names else ()
    return (*_opening(figures, with_names), *of_class, *of_teacher, *how_made(figures))


def _opening(figures: Figures, with_names: bool) -> Iterator[Told]:
    yield Heading(1, f"{figures.drill.title}: class report")
    few = f"With fewer than {FEW} students, no marks are shown here."
    summary = _summary(figures, few if each_told(figures) else "")
    yield Words(" ".join((summary, *(_doubts(figures) if with_names else ()))))
    for told in all_withdrawn_told(figures.drill):
        yield Words(told)
    if figures.small:
        yield Words(SMALL_CLASS, weight=True)
    yield Words(CAUTION, small=True)


def _summary(figures: Figures, few: str) -> str:
    """Return who sat, and the median or what is told of `few`."""
    told = [_attendance(figures)]
    marks = figures.marks
    if marks is not None:
        told.append(few or f"The median is {number(marks.median, 1)} %.")
    return " ".join(told)


def _doubts(figures: Figures) -> list[str]:
    """Return how many records have remarks, which is for the teacher alone; nothing for none."""
    count = len(figures.doubts)
    return [f"Records to look at: {count}{_most_remarked(figures)}."] if count else []


def _most_remarked(figures: Figures) -> str:
    """Return the remark that most records share, and how many, "" where each has its own."""
    counts = Counter(remark for one in figures.doubts for remark in one.remarks)
    remark, count = counts.most_common(1)[0]
    return f" ({count}: {remark})" if count > 1 else ""


def _class(figures: Figures) -> Iterator[Told]:
    if figures.marks is not None and figures.marks.names_nobody:
        yield Heading(2, "The class")
        yield from marks_told(figures.marks)
        yield from _groups(figures)


def _groups(figures: Figures) -> Iterator[Told]:
    """Yield how each part of the class did, by what the roster says of students."""
    for heading, groups in figures.groups:
        rows = tuple((one.name, str(one.sat), f"{number(one.median, 1)} %") for one in groups)
        yield Table((capital(heading), "Students", "Median"), rows, frozenset({1, 2}))


def _attendance(figures: Figures) -> str:
    told = [f"{counted(figures.sat, 'student')} sat, {figures.finished} handed in."]
    if figures.absent:
        has = "has" if figures.absent == 1 else "have"
        told.append(f"{figures.absent} of the roster {has} no record.")
    if figures.excused:
        told.append(f"Excused: {figures.excused}.")
    if figures.strangers:
        told.append(f"Not on the roster, and not counted: {len(figures.strangers)}.")
    if figures.unmarked:
        told.append(f"Records that can't be marked: {figures.unmarked}.")
    return " ".join(told)


def marks_told(marks: Marks) -> Iterator[Told]:
    """Yield how marks lie: median and quartiles, and a chart of them."""
    lower, median, upper = (number(v, 1) for v in (marks.lower, marks.median, marks.upper))
    yield Words(
        f"Of all marks, half the class has {median} % or more (the median). The middle half of the "
        f"class lies from {lower} % to {upper} % (the quartiles)."
    )
    width, most = 100 // len(marks.bins), max(marks.bins)
    bars = [
        Bar(_bin(place * width, width), Fraction(count, most), str(count))
        for place, count in enumerate(marks.bins)
    ]
    yield Bars("Students by marks in per cent", tuple(bars))


def _bin(least: int, width: int) -> str:
    """Return what a bin holds: `20 to 29`, the last `90 to 100`."""
    most = least + width
    return f"{least} to {most if most == 100 else most - 1}"


def _next(figures: Figures) -> Iterator[Told]:
    yield Heading(2, "What to teach next")
    for slip in figures.teach:
        yield Words(_taught(slip, figures.sat))
    if not figures.teach:
        yield Words("No slip was made by more than one student.")
    if figures.hardest:
        yield Words(_hardest(figures.hardest[0]))


def _taught(one: TaughtSlip, sat: int) -> str:
    told = f"{capital(one.name)}: {one.students} of {sat} students made it"
    told += f", {_most_of_them(one)}"
    if one.facility is not None:
        told += f", which {percent_told(one.facility)} got right first time"
    return f"{told}. {one.reason}"


def _most_of_them(one: TaughtSlip) -> str:
    return f"most of them on {place_told(one.most_on)}" if one.most_on else "on several lines"


def _hardest(line: LineFigures) -> str:
    return (
        f"The line that fewest got right first time is {place_told(line.place)} "
        f"({percent_told(line.facility)}): {line.asks}."
    )


def _lines(figures: Figures) -> Iterator[Told]:
    if not figures.lines:
        return
    yield Heading(2, "Line by line")
    bars = [
        Bar(place_told(line.place), line.facility, percent_told(line.facility))
        for line in figures.hardest
        if line.facility is not None
    ]
    if bars:
        yield Bars("Right first time: the hardest lines", tuple(bars))
    columns = ("Line", "Asks for", "Tried", "Right first time", "Discrimination", "Hints")
    for task, item in enumerate(figures.drill.task_items, 1):
        yield Heading(3, f"Task {task}: {item.title}")
        if withdrawn := withdrawn_told(figures.drill, task):
            yield Words(withdrawn)
            continue
        there = [line for line in figures.lines if line.task == task]
        if not there:
            yield Words("It was not in the drill when anybody sat it.")
        if faulty := faulty_told(figures.drill, task):
            yield Words(faulty)
        yield from _bank(figures, task)
        for problem, of_problem in groupby(there, key=lambda line: line.problem):
            if problem:
                yield Heading(3, f"Task {task}: {problem}")
            yield Table(columns, tuple(map(_line, of_problem)), frozenset({2, 3, 4, 5}))


def _bank(figures: Figures, task: int) -> Iterator[Told]:
    """Yield which problems were drawn for a task, where students have several."""
    rows = tuple(
        (one.problem, str(one.students), percent_told(one.share))
        for one in figures.banks
        if one.task == task
    )
    if rows:
        yield Table(("Problem", "Students", "Mean of its marks"), rows, frozenset({1, 2}))


def _line(line: LineFigures) -> tuple[str, ...]:
    apart = NOT_GIVEN if line.discrimination is None else discrimination_told(line.discrimination)
    return (
        line.name,
        line.asks,
        str(line.tried),
        percent_told(line.facility),
        apart,
        str(line.hints),
    )


def discrimination_told(value: float) -> str:
    """Return how a line discriminates, to hundredths."""
    return true_minus(f"{round(value, 2) + 0:.2f}")


def _slips(figures: Figures) -> Iterator[Told]:
    yield Heading(2, "Slips")
    if not figures.slips:
        where = " on a line" if figures.drawn.slips else ""
        yield Words(f"No slip{where} was certain.")
        return
    columns: tuple[str, ...] = (
        "Slip", "Students", "Times", "Most of them on", "A wrong line that shows it",
    )  # fmt: skip
    rows = [_slip(one) for one in figures.slips]
    if figures.sureness:  # how often they were sure stands beside how often it was made
        columns = (*columns[:3], "When sure", *columns[3:])
        rows = [
            (*row[:3], str(one.held), *row[3:])
            for row, one in zip(rows, figures.slips, strict=True)
        ]
    numbers = frozenset({1, 2, 3} if figures.sureness else {1, 2})
    yield Table(columns, tuple(rows), numbers)


def _slip(one: ClassSlipFigures) -> tuple[str, ...]:
    return (
        one.name,
        str(one.students),
        str(one.times),
        place_told(one.most_on) if one.most_on else "several lines",
        f"{place_told(one.example)}: {one.typed}" if one.typed else NOT_GIVEN,
    )


def _sureness(figures: Figures) -> Iterator[Told]:
    """Yield how sure students were, where they said so, and which slips they held surely."""
    if not figures.sureness:
        return
    yield Heading(2, "How sure they were")
    held = sorted((one for one in figures.slips if one.held), key=lambda one: -one.held)
    if held:
        names = "; ".join(f"{one.name} ({counted(one.held, 'entry', 'entries')})" for one in held)
        yield Words(f"Slips made by students who were sure: {names}.")
    yield Table(
        ("Said to be", "Entries", "Right"),
        tuple(
            (
                capital(SURENESS[one.sure - 1]),
                str(one.entries),
                percent_told(Fraction(one.right, one.entries)),
            )
            for one in figures.sureness
        ),
        frozenset({1, 2}),
    )


def _answers(figures: Figures) -> Iterator[Told]:
    """Yield how the questions beside the lines were answered, where any was."""
    if not figures.answers:
        return
    yield Heading(2, "Questions beside the lines")
    yield Table(
        ("Question", "Answered", "Right"),
        tuple(
            (
                capital(one.sort),
                str(one.answered),
                percent_told(Fraction(one.right, one.answered)),
            )
            for one in figures.answers
        ),
        frozenset({1, 2}),
    )


def _drawn(figures: Figures) -> Iterator[Told]:
    """Yield how much of the free-body diagrams was right, where some were drawn."""
    if not figures.drawn.diagrams:
        return
    yield Heading(2, "Free-body diagrams")
    rows = tuple(
        (f"{one.segment}, task {one.task}", str(one.students), percent_told(one.right))
        for one in figures.drawn.diagrams
    )
    yield Table(("Diagram", "Students", "Right in the end"), rows, frozenset({1, 2}))
    slips = tuple((one.name, str(one.students)) for one in figures.drawn.slips)
    if slips:
        yield Table(("Slip", "Students"), slips, frozenset({1}))
