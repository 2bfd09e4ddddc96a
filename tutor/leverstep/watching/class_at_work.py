"""Who to go to next in a class at work, and what runs through it: a pure function of its sittings.

A student is stuck after `MANY` wrong tries, hints and lines not read at one line, or after one of
these where nothing came right for `LONG`. Among those with the same need the first is who has the
most of them, where `MINUTES` without a right line count as much as one. These limits are a choice
of this program; none is taken from a source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import IntEnum

from leverstep.drill.drill import Drill, same_student
from leverstep.drill.sitting import KEPT_EVERY, KEPT_EVERY_WITHOUT_LIMIT
from leverstep.watching.sitting_state import LineAtHand, SittingState

MANY, LONG, VERY_LONG = 3, 300.0, 480.0
"""So many tries, seconds after which one is enough, and after which none is needed."""

MINUTES = 120.0
"""Seconds without a right line that count as much as one wrong try."""

SHORT = 300.0
"""Seconds left of the time of a sitting from which on it is short."""

LATELY = 600.0
"""A slip is made now where its student is still at that line, or for so many seconds."""

_MISSED = 4
"""A sitting shows no sign once the clock should have been kept so often, and was not."""


class Need(IntEnum):
    """What a student needs, the most urgent first."""

    STUCK = 0
    SLOW = 1
    SHORT_OF_TIME = 2
    TRYING = 3
    WORKING = 4
    NO_SIGN = 5
    DONE = 6
    AWAY = 7
    NOT_BEGUN = 8
    HANDED_IN = 9


@dataclass(frozen=True, slots=True)
class StudentRow:
    """One student at work: what is needed, where, and why. Times are in seconds.

    Attributes:
        student, name: the id and the name, "" where no roster has one.
        need: what puts the student where the row stands.
        at: the line at hand, None where none is.
        here: for how long the student is at it, by the clock of the sitting.
        since_right: how long ago a line was got right last, or the sitting began.
        wrong, unread, hints: wrong tries, lines not read and hints at that line.
        used_up: lines that are not right and can't be tried again.
        slip: the name of the slip made there last, "" where none is known.
        left: what is left of the time, None without a limit.
        quiet: how long ago the record grew last.
        done, asked: lines done, and asked for.
        is_listed: whether the student is on the roster, where there is one.
    """

    student: str
    name: str
    need: Need
    at: LineAtHand | None = None
    here: float = 0.0
    since_right: float = 0.0
    wrong: int = 0
    unread: int = 0
    hints: int = 0
    slip: str = ""
    left: float | None = None
    quiet: float = 0.0
    done: int = 0
    asked: int = 0
    is_listed: bool = True
    used_up: tuple[LineAtHand, ...] = ()

    @property
    def tries(self) -> int:
        """Return what has gone wrong at the line, or was asked about it."""
        return self.wrong + self.unread + self.hints

    @property
    def is_short(self) -> bool:
        """Return whether the time is short."""
        return self.left is not None and self.left <= SHORT

    @property
    def _order(self) -> tuple[int, float, str]:
        waits = self.need <= Need.WORKING
        weight = self.tries + self.since_right / MINUTES if waits else 0.0
        return self.need, -weight, same_student(self.name or self.student)


@dataclass(frozen=True, slots=True)
class SlipRow:
    """A slip made now: how many students made it, and how many of them at each line."""

    name: str
    students: int
    lines: tuple[tuple[LineAtHand, int], ...]


@dataclass(frozen=True, slots=True)
class LineRow:
    """A line that students are at: how many, how many of them are stuck, the longest in seconds."""

    at: LineAtHand
    students: int
    stuck: int
    longest: float


@dataclass(frozen=True, slots=True)
class ClassAtWork:
    """A class at a moment: its students, who to go to next on top, and what runs through it.

    `tasks` is how many tasks the drill has; `troubles` are sentences, each on a file that could not
    be read or followed, which name it, `others` is how many records are of another drill, and
    `folder_trouble` a sentence on the folder itself, "" where it could be read.
    """

    when: datetime
    tasks: int
    rows: tuple[StudentRow, ...]
    slips: tuple[SlipRow, ...]
    lines: tuple[LineRow, ...]
    troubles: tuple[str, ...] = ()
    others: int = 0
    folder_trouble: str = ""

    def of(self, *needs: Need) -> tuple[StudentRow, ...]:
        """Return the rows of some needs, in their order."""
        return tuple(row for row in self.rows if row.need in needs)

    @property
    def at_work(self) -> tuple[StudentRow, ...]:
        """Return the rows of those who are working, as far as that is known."""
        return tuple(row for row in self.rows if row.need <= Need.WORKING)


def class_at_work(
    drill: Drill,
    sittings: Iterable[SittingState],
    now: datetime,
    troubles: Iterable[str] = (),
    others: int = 0,
    folder_trouble: str = "",
) -> ClassAtWork:
    """Return how a class stands, by one sitting of each student.

    Args:
        drill: the drill, with the roster of the class where there is one.
        sittings: how each stands.
        now: the moment, by the clock of the computer that watches.
        troubles: sentences, each on a file that could not be read or followed.
        others: how many records are of another drill.
        folder_trouble: one on the folder itself, "" where it could be read.
    """
    known = list(sittings)
    rows = [_row(drill, one, now) for one in known]
    begun = {same_student(one.student) for one in known}
    rows += [
        StudentRow(student, name, Need.NOT_BEGUN)
        for student, name in drill.students.items()
        if same_student(student) not in begun and not _is_excused(drill, student)
    ]
    rows.sort(key=lambda row: row._order)
    slips, lines = tuple(_slips(drill, known, now)), tuple(_lines(rows))
    tasks = len(drill.task_items)
    told = tuple(troubles)
    return ClassAtWork(now, tasks, tuple(rows), slips, lines, told, others, folder_trouble)


def _is_excused(drill: Drill, student: str) -> bool:
    allowance = drill.allowance(student)
    return allowance is not None and allowance.excused


def _row(drill: Drill, state: SittingState, now: datetime) -> StudentRow:
    """Return the row of one sitting."""
    own = drill.for_student(state.student)
    quiet, clock = _quiet(state, now), _clock(own, state, now)
    row = StudentRow(
        state.student, drill.students.get(state.student, ""), Need.WORKING, state.at,
        clock - state.came, clock - state.stepped, state.wrong, state.unread, state.hints,
        state.slip, _left(own, state, now), quiet, state.done, state.asked,
        is_listed=drill.is_open_to(state.student), used_up=state.used_up,
    )  # fmt: skip
    return replace(row, need=_need(state, row, _runs(own, state, now)))


def _need(state: SittingState, row: StudentRow, runs: bool) -> Need:
    """Return what a student needs; `runs` says whether the sitting seems to go on."""
    if state.is_ended:
        return Need.HANDED_IN
    if state.is_away:
        return Need.AWAY
    if not runs:
        return Need.NO_SIGN
    if state.at is None:
        return Need.DONE
    if row.tries >= MANY or (row.tries and row.since_right >= LONG):
        return Need.STUCK
    if row.since_right >= VERY_LONG:
        return Need.SLOW
    if row.is_short:
        return Need.SHORT_OF_TIME
    return Need.TRYING if row.tries else Need.WORKING


def _quiet(state: SittingState, now: datetime) -> float:
    """Return for how many seconds nothing was added to a record."""
    return 0.0 if state.seen is None else max(0.0, (now - state.seen).total_seconds())


def _still(drill: Drill) -> float:
    """Return after how many seconds without a sign a sitting does not seem to be open any more."""
    return _MISSED * (KEPT_EVERY_WITHOUT_LIMIT if drill.minutes is None else KEPT_EVERY)


def _runs(drill: Drill, state: SittingState, now: datetime) -> bool:
    """Return whether a sitting seems to go on: neither ended nor left, and with a sign of it."""
    return not (state.is_ended or state.is_away) and _quiet(state, now) <= _still(drill)


def _clock(drill: Drill, state: SittingState, now: datetime) -> float:
    """Return what the clock of a sitting stands at by now; without a sign it stands still."""
    return state.used + (_quiet(state, now) if _runs(drill, state, now) else 0.0)


def _left(drill: Drill, state: SittingState, now: datetime) -> float | None:
    """Return how many seconds a sitting has left, None without a limit or once it has ended."""
    if state.is_ended:
        return None
    since = timedelta(seconds=_quiet(state, now))
    there = None if state.last is None else state.last + since  # by the clock of its computer
    left = [drill.seconds_left(drill.spent(_clock(drill, state, now), state.begun, there))]
    if drill.closes is not None:
        left.append(max(0.0, (drill.closes - now).total_seconds()))
    return min((one for one in left if one is not None), default=None)


def _slips(drill: Drill, sittings: Iterable[SittingState], now: datetime) -> Iterator[SlipRow]:
    """Yield the slips that are made now, the commonest first."""
    made: dict[str, dict[LineAtHand, set[str]]] = {}
    for state in sittings:
        clock = _clock(drill, state, now)
        for slip in state.slips if _runs(drill, state, now) else ():
            if slip.at == state.at or clock - slip.used <= LATELY:
                made.setdefault(slip.name, {}).setdefault(slip.at, set()).add(state.student)
    rows = [
        SlipRow(name, len(set().union(*at.values())), _most_first(at)) for name, at in made.items()
    ]
    yield from sorted(rows, key=lambda row: (-row.students, row.name))


def _most_first(at: Mapping[LineAtHand, set[str]]) -> tuple[tuple[LineAtHand, int], ...]:
    """Return how many students there are at each line, that of most first."""
    there = ((line, len(students)) for line, students in at.items())
    return tuple(sorted(there, key=lambda one: (-one[1], one[0])))


def _lines(rows: Iterable[StudentRow]) -> Iterator[LineRow]:
    """Yield the lines that those at work are at, that with most who are stuck first."""
    there: dict[LineAtHand, list[StudentRow]] = {}
    for row in rows:
        if row.at is not None and row.need <= Need.WORKING:
            there.setdefault(row.at, []).append(row)
    found = [
        LineRow(
            at, len(those), sum(one.need is Need.STUCK for one in those),
            max(one.here for one in those),
        )
        for at, those in there.items()
    ]  # fmt: skip
    yield from sorted(found, key=lambda one: (-one.stuck, -one.students, one.at))
