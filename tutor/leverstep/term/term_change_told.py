"""What is otherwise than in an earlier term, in words, and what that can tell."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.phrases import listed
from leverstep.documents.blocks import NOT_GIVEN, Heading, Table, Told, Words
from leverstep.reports.change_told import points_told
from leverstep.reports.interval import LEAST, Sums
from leverstep.reports.report_phrases import percent_told
from leverstep.term.term_change import Ends, MeanChange, ShareChange, TermChange


def beside_earlier(change: TermChange) -> Iterator[Told]:
    """Yield the marks and slips of this term beside those of an earlier one."""
    yield Heading(2, f"Beside {change.title}")
    columns = ("Drill", "Students then", "Mean", "Students now", "Mean now", "Difference", "95 %")
    rows = tuple(_mean(one) for one in (*change.drills, change.total))
    yield Table(columns, rows, frozenset(range(1, 7)))
    if change.alone:
        yield Words(f"In one of the terms only: {', '.join(change.alone)}.")
    for one in change.drills:
        if one.unlike:
            yield Words(f"{one.name} differs in {listed(list(one.unlike))}, which changes marks.")
    yield from _slips(change)
    yield Words(
        "These are other students: a difference may be theirs, or one of teaching, or of numbers "
        "drawn. Where 0 lies in the 95 % interval it may be chance; of many slips some change by "
        "chance even so."
    )


def _slips(change: TermChange) -> Iterator[Told]:
    if not change.slips:
        return
    then, now = change.students
    yield Words(f"Of {then} students then and {now} now, so many made each slip:")
    columns = ("Slip", "Then", "Now", "Difference", "95 %", "More than chance")
    rows = tuple(_share(one, then, now) for one in change.slips)
    yield Table(columns, rows, frozenset({1, 2, 3, 4}))


def _share(one: ShareChange, then: int, now: int) -> tuple[str, ...]:
    known = then and now
    difference = points_told(one.now / now - one.then / then) if known else NOT_GIVEN
    sure = NOT_GIVEN if one.interval is None else "yes" if one.is_sure else "no"
    return one.name, str(one.then), str(one.now), difference, _ends(one.interval), sure


def _mean(one: MeanChange) -> tuple[str, ...]:
    then, now = one.then, one.now
    known = min(then.count, now.count) >= LEAST
    difference = points_told(float(now.mean - then.mean)) if known else NOT_GIVEN
    return (
        one.name,
        *_of(then),
        *_of(now),
        difference,
        _ends(one.interval),
    )


def _of(sums: Sums) -> tuple[str, str]:
    return str(sums.count), percent_told(sums.mean if sums.count >= LEAST else None)


def _ends(ends: Ends | None) -> str:
    return NOT_GIVEN if ends is None else f"{points_told(ends[0])} to {points_told(ends[1])}"
