"""The table of a term: a row for each student, as a spreadsheet opens it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction

from leverstep.course.decimals import in_percent
from leverstep.course.phrases import counted
from leverstep.drill.spreadsheet import cell, table_writer
from leverstep.marking.gradebook import GradebookCell, Sources
from leverstep.marking.outputs import Outputs
from leverstep.term.term_figures import StudentTerm
from leverstep.term.term_plan import TermPlan

TABLE = "course.csv"

TermCell = Callable[[StudentTerm], str]
"""Returns what stands in a column of the row of a student."""


def term_columns(plan: TermPlan) -> dict[str, TermCell]:
    """Return the columns of the table in their order, each with its cells.

    A drill that was not sat has no per cent there, and counts as none.
    """
    more = dict.fromkeys(name for one in plan.drills for name in one.drill.roster_columns.more)
    return {
        "id": lambda one: cell(one.student.id),
        "name": lambda one: cell(one.student.name),
        **{heading: _carried(heading) for heading in more},
        **{cell(f"{one.name} %"): _per_cent(place) for place, one in enumerate(plan.drills)},
        "total %": lambda one: "" if one.total is None else in_percent(one.total),
        "left out": lambda one: names(plan, one.left_out),
        "not sat": lambda one: names(plan, one.missing),
        "required, not sat": lambda one: names(plan, required_missing(plan, one)),
        "exempt": lambda one: names(plan, one.student.excused),
        "remarks": lambda one: cell(_remarks(plan, one)),
    }


def term_sources(plan: TermPlan) -> Sources[StudentTerm]:
    """Return what a gradebook of a term may be filled from: all that its table has."""
    columns = term_columns(plan)
    told = {heading: _told(as_text) for heading, as_text in columns.items()}
    of_drills = {cell(f"{one.name} %"): place for place, one in enumerate(plan.drills)}
    told |= {heading: _drill_told(columns[heading], place) for heading, place in of_drills.items()}
    told["total %"] = lambda one: _in_numbers(columns["total %"](one), one.total)
    return Sources(told, frozenset((*of_drills, "total %")))


def _told(as_text: TermCell) -> Callable[[StudentTerm], GradebookCell]:
    return lambda one: GradebookCell(as_text(one))


def _drill_told(as_text: TermCell, place: int) -> Callable[[StudentTerm], GradebookCell]:
    """Return what says the per cent of a drill."""

    def told(one: StudentTerm) -> GradebookCell:
        is_excused = place in one.student.excused
        return _in_numbers(as_text(one), one.student.shares.get(place), is_excused)

    return told


def _in_numbers(text: str, share: Fraction | None, is_excused: bool = False) -> GradebookCell:
    return GradebookCell(text, None if share is None else 100 * share, Fraction(100), is_excused)


def required_missing(plan: TermPlan, one: StudentTerm) -> list[int]:
    """Return the drills that are required, and that a student has not sat."""
    return [place for place in one.missing if plan.drills[place].required]


def names(plan: TermPlan, places: Iterable[int]) -> str:
    """Return drills by their names, in the order of the plan."""
    return cell(", ".join(plan.drills[place].name for place in sorted(places)))


def _carried(heading: str) -> TermCell:
    return lambda one: cell(one.student.carried.get(heading, ""))


def _per_cent(place: int) -> TermCell:
    def told(one: StudentTerm) -> str:
        share = one.student.shares.get(place)
        return "" if share is None else in_percent(share)

    return told


def _remarks(plan: TermPlan, one: StudentTerm) -> str:
    """Return how many remarks the records of each drill have; its own table says which."""
    told = (
        f"{plan.drills[place].name}: {counted(count, 'remark')}"
        for place, count in sorted(one.student.odd.items())
    )
    return "; ".join([*told, *(["not on every roster"] if not one.student.listed else [])])


def write_table(plan: TermPlan, students: Iterable[StudentTerm], out: Outputs) -> None:
    """Write the table of a term.

    Raises:
        OSError: where it can't be written.
    """
    columns = term_columns(plan)
    with out.open(TABLE) as file:
        table = table_writer(file)
        table.writerow(columns)
        for one in students:
            table.writerow(told(one) for told in columns.values())
