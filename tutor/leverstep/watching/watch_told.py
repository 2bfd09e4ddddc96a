"""A class at work in words: for each student why to go there, and what is new since it was told."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.phrases import counted, in_problem, listed
from leverstep.drill.drill import same_student
from leverstep.watching.class_at_work import ClassAtWork, Need, SlipRow, StudentRow
from leverstep.watching.sitting_state import LineAtHand

HEADINGS = {
    Need.STUCK: "Stuck",
    Need.SLOW: "Slow",
    Need.SHORT_OF_TIME: "Short of time",
    Need.TRYING: "Not right yet",
    Need.WORKING: "Getting on",
    Need.NO_SIGN: "No sign",
    Need.DONE: "Done, not handed in",
    Need.AWAY: "Away",
    Need.NOT_BEGUN: "Not begun",
    Need.HANDED_IN: "Handed in",
}
"""What students with a need are called together."""

_ELSEWHERE = {
    Need.DONE: "done but not handed in",
    Need.NO_SIGN: "no sign for a while",
    Need.AWAY: "away",
    Need.HANDED_IN: "handed in",
    Need.NOT_BEGUN: "not begun",
}
"""How those are counted who are not at work."""

_ONLY_NAMED = (Need.DONE, Need.NOT_BEGUN, Need.HANDED_IN)
"""The needs of which there is no more to tell than who has them."""

NO_SLIP = "No slip is made by several students now"

_MOST_TOLD = 3
"""Lines that are told of a slip, or of a student."""

NOBODY = "Nobody needs you at the moment, as far as the records tell."


def title_told(drill_title: str, now: ClassAtWork) -> str:
    """Return the drill, the time of the day and how many are where: `Levers, 09:40: 3 at work`."""
    return f"{drill_title}, {now.when.astimezone():%H:%M}: {counts_told(now)}"


def counts_told(now: ClassAtWork) -> str:
    """Return how many are at work, and how many are elsewhere."""
    those = ((len(now.of(need)), told) for need, told in _ELSEWHERE.items())
    parts = [f"{number} {told}" for number, told in those if number]
    return ", ".join([f"{len(now.at_work)} at work", *parts])


def groups(now: ClassAtWork) -> Iterator[tuple[str, tuple[StudentRow, ...], bool]]:
    """Yield the students by what they need: a heading, their rows, and whether names alone do."""
    for need, heading in HEADINGS.items():
        if rows := now.of(need):
            yield f"{heading}: {len(rows)}", rows, need in _ONLY_NAMED


def called(row: StudentRow) -> str:
    """Return what a student is called: by name, by the id where there is none."""
    told = row.name or row.student
    return told if row.is_listed else f"{told} (not on the roster)"


def line_told(at: LineAtHand, tasks: int) -> str:
    """Return a line with its task, where there are several: `F_m of task 2`."""
    told = at.told if tasks == 1 else f"{at.told} of task {at.task}"
    return in_problem(told, at.problem)


def minutes_told(seconds: float) -> str:
    """Return a time in whole minutes."""
    minutes = int(seconds // 60)
    return f"{minutes} min" if minutes else "less than a minute"


def why_told(row: StudentRow, tasks: int) -> str:
    """Return why to go to a student: `4 wrong tries at F_m, 6 min: sign of a moment`."""
    where = "" if row.at is None else line_told(row.at, tasks)
    match row.need:
        case Need.STUCK | Need.TRYING:
            told = f"{_tries_told(row)} at {where}, {minutes_told(row.here)}{_waits(row)}"
            told += f": {row.slip}" if row.slip else ""
        case Need.SLOW:
            told = f"nothing right for {minutes_told(row.since_right)}, at {where}"
        case Need.NO_SIGN:
            told = f"no sign for {minutes_told(row.quiet)}" + (f", at {where}" if where else "")
        case Need.AWAY:
            told = f"away for {minutes_told(row.quiet)}" + (f", at {where}" if where else "")
        case Need.SHORT_OF_TIME | Need.WORKING:
            told = f"at {where}, {minutes_told(row.here)}"
        case Need.DONE:
            told = "all lines are done; not handed in"
        case _:
            return HEADINGS[row.need].lower()
    told += f"; {_left_told(row)}" if row.is_short else ""
    return told + (f"; {_used_up_told(row, tasks)}" if row.used_up else "")


def _used_up_told(row: StudentRow, tasks: int) -> str:
    """Return at which lines no try is left: `no try left at F_m and d_l`."""
    where = [line_told(at, tasks) for at in row.used_up[:_MOST_TOLD]]
    if more := row.used_up[_MOST_TOLD:]:
        where.append(counted(len(more), "more line"))
    return f"no try left at {listed(where)}"


def _tries_told(row: StudentRow) -> str:
    """Return what went wrong at a line: `3 wrong tries and 1 hint`."""
    parts = (
        counted(row.wrong, "wrong try", "wrong tries") if row.wrong else "",
        counted(row.unread, "line not read", "lines not read") if row.unread else "",
        counted(row.hints, "hint") if row.hints else "",
    )
    return listed([part for part in parts if part])


def _waits(row: StudentRow) -> str:
    """Return for how long nothing came right, where that is longer than the time at the line."""
    is_longer = row.since_right // 60 > row.here // 60
    return f", nothing right for {minutes_told(row.since_right)}" if is_longer else ""


def _left_told(row: StudentRow) -> str:
    """Return what is left of the time, and of the lines."""
    to_do = counted(row.asked - row.done, "line")
    return f"{minutes_told(row.left or 0.0)} left for {to_do}"


def row_told(row: StudentRow, tasks: int) -> str:
    """Return a student and why to go there, in one sentence."""
    return f"{called(row)}: {why_told(row, tasks)}."


def slip_told(row: SlipRow, tasks: int) -> str:
    """Return a slip with how many made it and where: `sign of a moment: 3 students, at M_l (2)`."""
    where = [f"{line_told(at, tasks)} ({number})" for at, number in row.lines[:_MOST_TOLD]]
    if more := row.lines[_MOST_TOLD:]:
        where.append(counted(len(more), "more line"))
    return f"{row.name}: {counted(row.students, 'student')}, at {listed(where)}"


def slips_told(now: ClassAtWork) -> list[str]:
    """Return the slips that several students make now, the commonest first, and how many others
    there are: a slip of one student alone is no matter for the class.
    """
    told = [slip_told(row, now.tasks) for row in now.slips if row.students > 1]
    alone = sum(row.students == 1 for row in now.slips)
    if alone:
        told.append(
            counted(alone, "slip, made by only one student", "slips, each made by only one student")
        )
    return told or [NO_SLIP]


def slips_in_short(now: ClassAtWork) -> str:
    """Return the slips that several students make now, with how many do."""
    told = [f"{row.name} ({row.students})" for row in now.slips if row.students > 1]
    return f"Slips now: {', '.join(told)}" if told else f"{NO_SLIP}."


def lines_told(now: ClassAtWork) -> list[str]:
    """Return how many students are at which line."""
    told = []
    for row in now.lines:
        stuck = f", {row.stuck} stuck" if row.stuck else ""
        longest = f"the longest for {minutes_told(row.longest)}"
        there = counted(row.students, "student")
        told.append(f"{line_told(row.at, now.tasks)}: {there}{stuck}, {longest}")
    return told or ["Nobody is at work"]


def troubles_told(now: ClassAtWork, with_names: bool) -> list[str]:
    """Return what could not be read; without names no file is named, since it may hold one."""
    told = [now.folder_trouble] if now.folder_trouble else []
    if with_names:
        told += now.troubles
    elif now.troubles:
        files = counted(len(now.troubles), "file was", "files were")
        told.append(f"{files} changed, or could not be read.")
    if now.others:
        told.append(f"{counted(now.others, 'record is', 'records are')} of another drill.")
    return told


def next_told(now: ClassAtWork) -> str:
    """Return who to go to next and why, or that nobody is known to need it."""
    waits = now.rows and now.rows[0].need <= Need.TRYING
    return row_told(now.rows[0], now.tasks) if waits else NOBODY


def progress_told(row: StudentRow) -> str:
    """Return how many lines are done, "" of who has not begun."""
    return f"{row.done} of {counted(row.asked, 'line')} done." if row.asked else ""


def rows_called(now: ClassAtWork, typed: str) -> tuple[StudentRow, ...]:
    """Return the rows of the student with an id, else of all whose name has that in it."""
    wanted = same_student(typed)
    named = [row for row in now.rows if same_student(row.student) == wanted]
    return tuple(named or (row for row in now.rows if wanted and wanted in same_student(row.name)))


def news(before: ClassAtWork, now: ClassAtWork, with_names: bool) -> list[str]:
    """Return in sentences what is new in a class since an earlier look."""
    known = troubles_told(before, with_names)
    told = [one for one in troubles_told(now, with_names) if one not in known]
    return [*told, *_news_of_students(before, now, with_names), *_news_of_slips(before, now)]


_EVENTS = (Need.STUCK, Need.SLOW, Need.SHORT_OF_TIME, Need.NO_SIGN, Need.HANDED_IN)
"""The needs that a student comes into with a word."""


def _news_of_students(before: ClassAtWork, now: ClassAtWork, with_names: bool) -> Iterator[str]:
    """Yield who came to need something, or tried once more in vain; without names how many."""
    earlier = {row.student: row for row in before.rows}
    for need in _EVENTS:
        rows = [row for row in now.of(need) if _is_new(earlier.get(row.student), row)]
        if with_names:
            yield from (row_told(row, now.tasks) for row in rows)
        elif rows:
            yield f"{HEADINGS[need]}: {counted(len(now.of(need)), 'student')}."
    without = [row for row in now.rows if row.used_up and row.need < Need.HANDED_IN]
    rows = [row for row in without if _lost_a_line(earlier.get(row.student), row)]
    if with_names:
        yield from (f"{called(row)}: {_used_up_told(row, now.tasks)}." for row in rows)
    elif rows:
        yield f"No try left at a line: {counted(len(without), 'student')}."


def _lost_a_line(before: StudentRow | None, row: StudentRow) -> bool:
    """Return whether the tries at one more line are used up."""
    return before is None or len(row.used_up) > len(before.used_up)


def _is_new(before: StudentRow | None, row: StudentRow) -> bool:
    """Return whether there is something to tell of a student who needs something."""
    if before is None or before.need is not row.need:
        return True
    return row.need is Need.STUCK and (before.at != row.at or row.tries > before.tries)


def _news_of_slips(before: ClassAtWork, now: ClassAtWork) -> Iterator[str]:
    """Yield the slips that two students make by now, or twice as many as were told of before."""
    earlier = {row.name: row.students for row in before.slips}
    for row in now.slips:
        if row.students > 1 and row.students.bit_length() > earlier.get(row.name, 0).bit_length():
            yield f"{slip_told(row, now.tasks)}."
