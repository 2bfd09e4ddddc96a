"""Phrases that the parts of a report share."""

from __future__ import annotations

from fractions import Fraction

from leverstep.course.decimals import number, whole_percent
from leverstep.course.phrases import listed
from leverstep.documents.blocks import NOT_GIVEN
from leverstep.reports.figures import Figures, NamedPlace, Who


def place_told(place: NamedPlace) -> str:
    """Return a line with its task: `M_l of task 2`."""
    return f"{place[1]} of task {place[0]}"


def percent_told(share: Fraction | None) -> str:
    """Return a share in per cent, or that it is not given."""
    return NOT_GIVEN if share is None else whole_percent(share)


def who_told(who: Who) -> str:
    """Return a student by id and name, and what the roster says besides."""
    more = ", ".join(filter(None, who.more))
    return f"{who.id} {who.name}{f' ({more})' if more else ''}".strip()


def each_told(figures: Figures) -> str:
    """Return the marks of a few students, of whom half or the middle half would say nothing.

    It is for the teacher alone; "" where they are not so few.
    """
    each = () if figures.marks is None else figures.marks.each
    if not each:
        return ""
    values = listed([f"{number(value, 1)} %" for value in each])
    return f"Of all marks {'the student has' if len(each) == 1 else 'they have'} {values}."


def of_all_records(remark: str) -> str:
    """Return what holds for every record, and what of it does not."""
    return (
        f"All records were {remark}, and are marked by this one. Where a student had other numbers "
        "or other tasks, a remark says so."
    )
