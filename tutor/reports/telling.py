"""The class report in words, from its figures, for every writer alike.

Nothing before the heading FOR_THE_TEACHER names a student.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from tutor.drill.tables import number
from tutor.reports import alike
from tutor.reports.document import Bar, Bars, Block, Heading, Listing, NewPage, Table, Words
from tutor.reports.figures import (
    NEEDS_HELP,
    REPEATED,
    SMALL,
    Figures,
    Help,
    LineFigures,
    Marks,
    SlipFigures,
    Who,
)
from tutor.working.wording import CAUTION

FOR_THE_TEACHER = "For the teacher alone"
SMALL_CLASS = f"Small class: fewer than {SMALL} students. Read every figure with care."
NOT_GIVEN = "–"
"""Stands where a figure is not given."""


def headline(figures: Figures) -> str:
    """Return the report in a line or two of plain text."""
    told = [_attendance(figures)]
    if figures.marks is not None:
        told.append(f"The median is {number(figures.marks.median, 1)} %.")
    if figures.slips:
        most = figures.slips[0]
        told.append(f"Made by most: {most.slip.name} ({_students(most.students)}).")
    if figures.pairs:
        told.append(f"Pairs of records too alike: {len(figures.pairs)}.")
    return " ".join(told)


def class_report(figures: Figures) -> tuple[Block, ...]:
    """Return the whole report."""
    parts = (_opening, _next, _lines, _slips, _help, _alike, _made)
    return tuple(block for part in parts for block in part(figures))


def _opening(figures: Figures) -> Iterator[Block]:
    yield Heading(1, f"{figures.drill.title}: class report")
    yield Words(CAUTION)
    if figures.small:
        yield Words(SMALL_CLASS, weight=True)
    yield Heading(2, "The class")
    yield Words(_attendance(figures))
    if figures.marks is not None:
        yield from _marks(figures.marks)


def _attendance(figures: Figures) -> str:
    told = [f"{_students(figures.sat)} sat, {figures.finished} handed in."]
    if figures.absent:
        told.append(f"{figures.absent} of the roster have no record.")
    if figures.unmarked:
        told.append(f"Records that can't be marked: {figures.unmarked}.")
    return " ".join(told)


def _students(count: int) -> str:
    return f"{count} student{'' if count == 1 else 's'}"


def _marks(marks: Marks) -> Iterator[Block]:
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


def _next(figures: Figures) -> Iterator[Block]:
    yield Heading(2, "What to teach next")
    told = [_taught(slip, figures.sat) for slip in figures.teach]
    if not told:
        told.append("No slip was made by more than one student.")
    if figures.hardest:
        told.append(_hardest(figures.hardest[0]))
    yield Words(" ".join(told))


def _taught(one: SlipFigures, sat: int) -> str:
    told = f"{_capital(one.slip.name)}: {one.students} of {sat} students made it"
    told += f", most of them on {_place(one.most_on)}"
    if one.facility is not None:
        told += f", which {_percent(one.facility)} had right at the first try"
    return f"{told}. {one.slip.reason}"


def _hardest(line: LineFigures) -> str:
    return (
        f"The line that fewest had right at the first try is {_place((line.task, line.name))} "
        f"({_percent(line.facility)}): {line.asks}."
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _place(place: tuple[int, str]) -> str:
    """Return a line with its task: `M_l of task 2`."""
    return f"{place[1]} of task {place[0]}"


def _percent(share: Fraction | None) -> str:
    return NOT_GIVEN if share is None else f"{number(100 * share, 0)} %"


def _lines(figures: Figures) -> Iterator[Block]:
    if not figures.lines:
        return
    yield Heading(2, "Line by line")
    bars = [
        Bar(_place((line.task, line.name)), line.facility, _percent(line.facility))
        for line in figures.hardest
        if line.facility is not None
    ]
    if bars:
        yield Bars("Right at the first try: the hardest lines", tuple(bars))
    columns = ("Line", "Asks for", "Tried", "Right at first try", "Tells apart")
    titles = [item.problem.title for item in figures.drill.items for _ in range(item.count)]
    for task, title in enumerate(titles, 1):
        yield Heading(3, f"Task {task}: {title}")
        rows = tuple(_line(line) for line in figures.lines if line.task == task)
        yield Table(columns, rows, frozenset({2, 3, 4}))


def _line(line: LineFigures) -> tuple[str, ...]:
    apart = NOT_GIVEN
    if line.discrimination is not None:
        apart = f"{round(line.discrimination, 2) + 0:.2f}".replace("-", "−")
    return (line.name, line.asks, str(line.tried), _percent(line.facility), apart)


def _slips(figures: Figures) -> Iterator[Block]:
    yield Heading(2, "Slips")
    if not figures.slips:
        yield Words("No slip was found for sure.")
        return
    yield Table(
        ("Slip", "Students", "Times", "Most of them on", "A wrong line that shows it"),
        tuple(
            (
                one.slip.name,
                str(one.students),
                str(one.times),
                _place(one.most_on),
                f"{_place(one.example)}: {one.typed}" if one.typed else NOT_GIVEN,
            )
            for one in figures.slips
        ),
        frozenset({1, 2}),
    )


def _help(figures: Figures) -> Iterator[Block]:
    yield NewPage()
    yield Heading(2, FOR_THE_TEACHER)
    yield Heading(3, "Who needs help, and with what")
    if not figures.help:
        yield Words(f"Nobody has less than {NEEDS_HELP} %, and nobody repeated a slip.")
        return
    yield Table(
        ("Student", "Marks", "Slips on several lines", "Not right in the end"),
        tuple(_helped(one) for one in figures.help),
        frozenset({1}),
    )


def _helped(one: Help) -> tuple[str, ...]:
    repeated = "; ".join(f"{slip.name}, on {count} lines" for slip, count in one.repeated)
    parts = "; ".join(f"{part}, {count}" for part, count in one.open)
    percent = f"{number(one.percent, 1)} %"
    return (_who(one.who), percent, repeated or NOT_GIVEN, parts or NOT_GIVEN)


def _who(who: Who) -> str:
    return f"{who.id} {who.name}".strip()


def _alike(figures: Figures) -> Iterator[Block]:
    yield Heading(3, "Records too alike")
    if not figures.pairs:
        yield Words("None.")
        return
    yield Words(
        "Students have numbers of their own. On the lines named here, the second student typed, "
        "digit for digit, a number that is right for the first and wrong for the second, and that "
        "no slip explains. That is a reason to ask, and no proof."
    )
    yield Table(
        ("Right for", "Typed by", "Lines", "Which"),
        tuple(
            (
                _who(pair.right),
                _who(pair.wrong),
                str(len(pair.lines)),
                ", ".join(_place(place) for place in pair.lines),
            )
            for pair in figures.pairs
        ),
        frozenset({2}),
    )


def _made(figures: Figures) -> Iterator[Block]:
    """Yield how the figures are made."""
    del figures
    yield Heading(2, "How these figures are made")
    yield Listing(
        (
            "Of several sittings of a student, the one that counts is taken.",
            "Right at first try (facility): the share of those who tried a line that had it right, "
            "or right with an earlier value of their own, with the first entry that was judged.",
            "Tells apart (discrimination): the point-biserial correlation of that with the number "
            "of other lines right at the first try. Near 1, those who have the line right are "
            "strong elsewhere; near 0 or below, look at the line itself. It is not given for fewer "
            f"than {SMALL} students.",
            "Slips count where one was told for sure, not where it was only asked about.",
            f"Help is needed below {NEEDS_HELP} % of the marks, or where a slip was made on "
            f"{REPEATED} lines or more.",
            f"Records are too alike from {alike.LEAST} such lines on; numbers of fewer than "
            f"{alike.FIGURES} figures do not count.",
        )
    )
