"""A page of the term for each student, to give back: marks of all drills, and what became of slips.

What the teacher alone is to know, such as remarks on a record, does not stand there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.course.decimals import in_percent, number
from leverstep.documents.blocks import NOT_GIVEN, Document, Heading, Table, Told, Words
from leverstep.marking.outputs import Outputs
from leverstep.reports.pages import PageFolder
from leverstep.term.slips_followed import MADE, state_of
from leverstep.term.term_figures import StudentTerm, TermFigures
from leverstep.term.term_plan import TermDrill
from leverstep.working.cautions import CAUTION

PAGES = "course"
"""The folder of the pages, within that of the table."""


def write_pages(
    figures: TermFigures, students: Iterable[StudentTerm], out: Outputs, latex: bool = False
) -> PageFolder:
    """Write a page for each student who has marks, and LaTeX too if `latex`; return their folder.

    Raises:
        OSError: where the folder can't be written.
    """
    pages = PageFolder(out, PAGES, latex)
    for one in students:
        if one.student.shares:
            page = Document(figures.plan.title, tuple(student_page(figures, one)))
            pages.write(one.student.id, page)
    pages.remove_earlier()
    return pages


def student_page(figures: TermFigures, one: StudentTerm) -> Iterator[Told]:
    """Yield what stands on a page: the total, each drill, and what became of each slip."""
    yield Heading(1, figures.plan.title)
    yield Words(f"{one.student.id} {one.student.name}".strip(), weight=True)
    if one.total is not None:
        yield Words(
            f"Your total so far is {_shown(one, None)}: the mean of the drills that count, each by "
            "its weight."
        )
    yield Words(CAUTION)
    columns = ("Drill", "Your marks", "Weight", "Does it count?")
    rows = tuple(_drill(figures, one, drill.place) for drill in figures.sat)
    yield Table(columns, rows, frozenset({1, 2}))
    yield from _slips(figures, one)


def _shown(one: StudentTerm, place: int | None) -> str:
    share = one.total if place is None else one.student.shares.get(place)
    return NOT_GIVEN if share is None else f"{in_percent(share)} %"


def _drill(figures: TermFigures, one: StudentTerm, place: int) -> tuple[str, ...]:
    planned = figures.plan.drills[place]
    return (
        planned.name,
        _shown(one, place),
        number(planned.weight),
        _counts(one, planned, place, figures.plan.lowest_told),
    )


def _counts(one: StudentTerm, planned: TermDrill, place: int, lowest_told: str) -> str:
    """Return whether a drill counts for a student, and why not."""
    if place not in one.shares:
        return "no: you are exempt" if place in one.student.excused else "no: not set for you"
    sat = "you have not sat it" if place in one.missing else ""
    if not planned.weight:
        return f"no: {sat or 'it has no weight'}"
    if place in one.left_out:
        return f"no: {sat}, and {lowest_told}" if sat else f"no: {lowest_told}"
    needed = ", and it is required" if planned.required and sat else ""
    return f"as 0 %: {sat}{needed}" if sat else "yes"


def _slips(figures: TermFigures, one: StudentTerm) -> Iterator[Told]:
    """Yield in which drills each slip was made, what became of it, and what to remember."""
    yield Heading(2, "Your slips over the term")
    found = [slip for slip in figures.slips if slip.reason in one.student.tracks]
    if not found:
        yield Words("No slip was certain.")
        return
    rows = []
    for slip in found:
        track = one.student.tracks[slip.reason]
        made_in = (figures.plan.drills[n].name for n, sign in enumerate(track) if sign == MADE)
        rows.append((slip.name, ", ".join(made_in), state_of(track), slip.reason))
    yield Table(("Slip", "Made in", "Since then", "Remember"), tuple(rows))
