"""The part of the class report for the teacher alone, and how its figures are made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from leverstep.course.decimals import number
from leverstep.course.phrases import capital, counted
from leverstep.documents.blocks import Heading, Listing, NewPage, Table, Told, Words
from leverstep.marking.as_shown import BY_RECORD, OTHER_NUMBERS
from leverstep.reports import alike
from leverstep.reports.change_told import HOW_MADE
from leverstep.reports.figures import SMALL, Figures, Help, NamedPlace, Who
from leverstep.reports.needs import NEEDS_HELP, REPEATED
from leverstep.reports.report_phrases import each_told, of_all_records, place_told, who_told

FOR_THE_TEACHER = "For the teacher alone"

MOST_SEEN = 12
"""So many students a teacher can speak with in an hour of a lab."""

FEW = 2
"""So many lines of a part of the working are named, more are counted."""


_OF_DIAGRAMS = (
    "A free-body diagram counts in what to teach next and in who needs help as a line does; it is "
    "right first time where no slip was made in it, and nothing was left out.",
)


_OF_BANKS = (
    "Where students had one of several problems, each line is that of one problem, and its figures "
    "are of those who had it. The other lines that its discrimination counts are those of the same "
    "problem and of tasks that all have in common. The problems are drawn by lot: a difference "
    "between their means that is large for so many students comes of the problems.",
)


def for_the_teacher(figures: Figures) -> Iterator[Told]:
    """Yield who needs help, which records to look at, and which are too alike."""
    yield NewPage()
    yield Heading(2, FOR_THE_TEACHER)
    if few := each_told(figures):
        yield Words(few)
    yield from _help(figures)
    yield from _doubts(figures)
    yield from _notes(figures)
    yield from missed("Not handed in", figures.not_handed_in)
    yield from missed("Without a record", figures.without_record)
    yield from _strangers(figures)
    yield from _alike(figures)


def _help(figures: Figures) -> Iterator[Told]:
    yield Heading(3, "Who needs help, and with what")
    if not figures.help:
        what = _line_or_diagram(figures)
        yield Words(f"Nobody: no {what} that was tried was left wrong, and no slip was repeated.")
        return
    seen = seen_first(figures)
    if others := len(figures.help) - len(seen):
        yield Words(
            f"The {MOST_SEEN} with the fewest marks, by what to talk about. "
            f"{counted(others, 'more student has', 'more students have')} a "
            f"{_line_or_diagram(figures)} left wrong or a slip repeated; their pages say which."
        )
    groups = Counter(map(_talk_about, seen))
    yield Table(
        ("Talk about", "Student", "Marks", "Hints", "Slips", "Lines not right in the end"),
        tuple(
            (capital(_talk_about(one)), *_helped(one))
            for one in sorted(seen, key=lambda one: (-groups[_talk_about(one)], _talk_about(one)))
        ),
        frozenset({2, 3}),
    )
    rows = tuple((capital(name), ", ".join(ids)) for name, ids in figures.give.items() if ids)
    if rows:
        yield Table(("Talk about", "Problems to give, in which it can be made"), rows)


def seen_first(figures: Figures) -> tuple[Help, ...]:
    """Return those who need help most, as many as a teacher can speak with."""
    return figures.help[:MOST_SEEN]


def _line_or_diagram(figures: Figures) -> str:
    return "line or diagram" if figures.drawn.diagrams else "line"


def _talk_about(one: Help) -> str:
    """Return what to talk about with a student first: the slip on most lines, or what is open."""
    if one.most_made is not None:
        return one.most_made.name
    return one.open[0][0] if one.open else "what was not written"


def _helped(one: Help) -> tuple[str, ...]:
    slips = [
        f"{slip.name}, on {place_told(places[0]) if len(places) == 1 else f'{len(places)} lines'}"
        for slip, places in one.slips
    ]
    lines = [told for part, places in one.open if (told := _open_told(part, places, one.closed))]
    if one.closed:
        lines.append(f"no tries left: {', '.join(place_told(place) for place in one.closed)}")
    if one.unwritten:
        lines.append(f"not written, {one.unwritten}")
    return (
        who_told(one.who),
        f"{number(one.percent, 1)} %",
        str(one.hints),
        "; ".join(slips) or "none",
        "; ".join(lines) or "none",
    )


def _open_told(part: str, places: tuple[NamedPlace, ...], closed: tuple[NamedPlace, ...]) -> str:
    """Return lines not right in the end: a few by name, more by their number.

    Those without a try left are named elsewhere.
    """
    if len(places) > FEW:
        return f"{part}, {len(places)}"
    return ", ".join(place_told(place) for place in places if place not in closed)


def _doubts(figures: Figures) -> Iterator[Told]:
    yield Heading(3, "Records to look at")
    for remark in figures.shared:
        yield Words(of_all_records(remark))
    if not figures.doubts:
        yield Words("No record has a remark of its own." if figures.shared else "None.")
        return
    if any(remark.startswith(OTHER_NUMBERS) for one in figures.doubts for remark in one.remarks):
        yield Words(
            "Where other numbers were shown, entries are judged by numbers that the student never "
            "saw. Either the drill or a problem was changed after it was sat: mark with the files "
            "as they were. Or else the record is not that student's own."
        )
    if any(remark.startswith(BY_RECORD) for one in figures.doubts for remark in one.remarks):
        yield Words(
            "Where entries were marked by the numbers in the record, the file of the drill or of a "
            "problem was changed after it was sat. They are what the record says was shown: "
            "compare them with another student's, or mark with --sat-with and the old file, if you "
            "doubt them. Or else the record is not that student's own."
        )
    rows = tuple((who_told(one.who), "; ".join(one.remarks)) for one in figures.doubts)
    yield Table(("Student or record", "Remarks"), rows)


def _notes(figures: Figures) -> Iterator[Told]:
    """Yield who was late and for whom an exception was made, where there is anybody."""
    if figures.notes:
        yield Heading(3, "Late, and exceptions")
        rows = tuple((who_told(one.who), "; ".join(one.remarks)) for one in figures.notes)
        yield Table(("Student", "What, and why"), rows)


def missed(heading: str, those: Sequence[Who]) -> Iterator[Told]:
    """Yield a heading and some students by name, where there is anybody."""
    if those:
        yield Heading(3, heading)
        yield Words(f"{', '.join(map(who_told, those))}.")


def _strangers(figures: Figures) -> Iterator[Told]:
    """Yield who is not on the roster, where there is anybody."""
    if figures.strangers:
        yield Heading(3, "Not on the roster")
        yield Words(
            "These ids are counted nowhere in this report. One may be that of a student who typed "
            f"it otherwise than the roster has it: {', '.join(figures.strangers)}."
        )


def _alike(figures: Figures) -> Iterator[Told]:
    yield Heading(3, "Records too alike")
    if not figures.pairs:
        yield Words("None.")
        return
    yield Words(
        "Students have numbers of their own. On the lines named here, the second student typed, "
        "digit for digit, a number that is right for the first and wrong for the second, and that "
        "no slip explains. That is a reason to ask, not proof."
    )
    yield Table(
        ("Right for", "Typed by", "Lines", "Which"),
        tuple(
            (
                who_told(pair.right),
                who_told(pair.wrong),
                str(len(pair.lines)),
                ", ".join(place_told(place) for place in pair.lines),
            )
            for pair in figures.pairs
        ),
        frozenset({2}),
    )


def how_made(figures: Figures) -> Iterator[Told]:
    """Yield how the figures are made."""
    yield Heading(2, "How these figures are made")
    yield Listing(
        (
            "Where a student has several sittings, marks and the lines not right in the end are "
            "those of the one that counts; first tries, slips and hints are those of the first, "
            "since a student who sits again has been told what was right.",
            "Right first time (facility): of those who tried a line, the share whose first judged "
            "entry was right, or right with an earlier value of their own.",
            "Discrimination: the point-biserial correlation of that with the number "
            "of other lines right first time. Near 1, those who get the line right are strong "
            "elsewhere; near 0 or below, look at the line itself. It is not given for fewer "
            f"than {SMALL} students.",
            *(_OF_BANKS if figures.banks else ()),
            "A slip counts where it was certain, not where it was only asked about. Slips with the "
            "same reason count as one. What to teach next weighs, over all lines where a slip was "
            "made, its students with the share that did not get the line right first time.",
            f"Help is needed below {NEEDS_HELP} % of the marks, where a line that was tried is not "
            f"right in the end, or where a slip was made on {REPEATED} lines or more. The slips "
            "named are these, and those on lines not right in the end.",
            *(_OF_DIAGRAMS if figures.drawn.diagrams else ()),
            *(() if figures.changes is None else HOW_MADE),
            f"Records are too alike from {alike.LEAST} such lines on; numbers of fewer than "
            f"{alike.FIGURES} figures do not count.",
        )
    )
