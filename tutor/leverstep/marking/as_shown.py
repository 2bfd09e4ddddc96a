"""The tasks of a drill as a record has them, where the drill's file was changed after the sitting.

A task whose numbers were drawn anew is marked by those that the student was shown, as far as the
record tells them and they are possible. Nobody can tell them from numbers that were made up, so
that a remark says by which it was marked. Where the file that the record names is at hand, in this
version or an earlier one, the numbers which that one draws count alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import zip_longest

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, RecordLine, TaskShown
from leverstep.course.faults import FileError
from leverstep.course.numbers import Range, quadrant_of
from leverstep.course.phrases import tasks_told
from leverstep.course.problem import SAMPLE, Question
from leverstep.drill.drill import MOST_WORKINGS, Drill, Task
from leverstep.drill.lines import is_as_set, is_shown
from leverstep.statics.points import Given

OTHER_NUMBERS = "other numbers were shown for"
"""How the remark begins on tasks whose entries are judged by numbers that were never shown."""

BY_RECORD = "marked by the numbers in the record, not by those of the file:"
"""How the remark begins on tasks whose entries are judged by what the record says was shown."""

UNKNOWN = "shown with a problem that is no more in the bank, and not marked without the old file:"
"""How the remark begins on tasks of which nobody knows any more what is right."""

_NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9}|/[1-9][0-9]{0,8})?", re.ASCII)

Numbers = Mapping[str, Fraction]
"""The number of each given that has one, by key."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """What a record says was shown in a task: the id of its problem, and its numbers."""

    problem: str
    numbers: Numbers


@dataclass(frozen=True, slots=True)
class AsShown:
    """The tasks of a drill as they are marked in one record.

    `recorded` has the numbers of the record by the number of the task, where these count, and
    `proved` says that an earlier version of the file draws them; `odd` are
    the tasks that were shown with others which don't, `absent` those that were not shown at all,
    `unknown` those that were shown with a problem which is in no bank that is known,
    `left_out` the tasks of the record that the drill no longer has. `moved` has the task of the
    drill that each task of the record is now, None where all stand where they stood.
    """

    tasks: tuple[Task, ...]
    recorded: Mapping[int, Recorded] = field(default_factory=dict)
    odd: tuple[int, ...] = ()
    absent: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    moved: Mapping[int, int] | None = None
    proved: bool = False

    @property
    def unmarked(self) -> frozenset[int]:
        """Return the tasks that can't be marked, since what was shown there is not set."""
        return frozenset((*self.absent, *self.unknown))

    def renumbered(self, found: Contents) -> Contents:
        """Return what a record holds with the tasks numbered as they are in the drill now."""
        if self.moved is None:
            return found
        return replace(found, lines=tuple(map(self.line_renumbered, found.lines)))

    def line_renumbered(self, line: RecordLine) -> RecordLine:
        """Return one line with its task numbered as it is in the drill now."""
        if self.moved is None or line.task is None:
            return line
        return replace(line, task=self.number_now(line.task))

    def number_now(self, task: int) -> int:
        """Return the number that a task of the record has in the drill now, 0 where it is gone."""
        return task if self.moved is None else self.moved.get(task, 0)

    def remarks(self) -> Iterator[str]:
        """Yield what a teacher is to know of this."""
        if self.odd:
            yield f"{OTHER_NUMBERS} {tasks_told(self.odd)}"
        if self.recorded and not self.proved:
            yield f"{BY_RECORD} {tasks_told(self.recorded)}"
        if self.absent:
            yield f"not in the drill when it was sat: {tasks_told(self.absent)}"
        if self.unknown:
            yield f"{UNKNOWN} {tasks_told(self.unknown)}"
        if self.left_out:
            yield f"no more in the drill, and not marked: {tasks_told(self.left_out)} of the record"


def as_shown(drill: Drill, student: str, first: RecordLine) -> AsShown:
    """Return the tasks of a student's record by its first line."""
    begun = first if isinstance(first, DrillBegun) else DrillBegun()
    tasks, shown = drill.tasks(student), begun.tasks[:MOST_WORKINGS]
    if is_shown(begun, tasks):
        return AsShown(tasks)
    if not shown or begun.digest == drill.digest:
        pairs = enumerate(zip_longest(shown[: len(tasks)], tasks), 1)
        odd = (n for n, (one, task) in pairs if one is None or not is_as_set(one, task))
        return AsShown(tasks, odd=tuple(odd))
    sat = next((one for one in drill.sat_with if one.digest == begun.digest), None)
    labels = (begun.items or ()) if sat is None else sat.labels
    places = _places(drill, tasks, shown, labels)
    paired = {place: shown[number] for number, place in sorted(places.items())}
    anew = {place: one for place, one in paired.items() if not is_as_set(one, tasks[place])}
    known = {place: _as_shown_there(drill, tasks[place], one) for place, one in anew.items()}
    possible = {
        place + 1: None if task is None else _possible(task.question, anew[place])
        for place, task in known.items()
    }
    if sat is not None:
        drawn = sat.with_key(drill.start_key).tasks(student)
        made_up = {
            places.get(n)
            for n, one in enumerate(shown)
            if n >= len(drawn) or not is_as_set(one, drawn[n])
        }
        possible |= {place + 1: None for place in anew if place in made_up}
    elif drill.sat_with:  # the record names a file that nobody has
        possible = dict.fromkeys(possible)
    recorded = {number: one for number, one in sorted(possible.items()) if one is not None}
    unknown = {place + 1 for place, task in known.items() if task is None}
    moved = {number + 1: place + 1 for number, place in places.items()}
    return AsShown(
        with_recorded(drill, tasks, recorded), recorded,
        tuple(sorted(possible.keys() - recorded.keys() - unknown)),
        tuple(task.number for task in tasks if task.number - 1 not in paired),
        tuple(sorted(unknown)),
        tuple(number for number in range(1, len(shown) + 1) if number not in moved),
        None if all(old == new for old, new in moved.items()) else moved,
        sat is not None,
    )  # fmt: skip


def with_recorded(
    drill: Drill, tasks: tuple[Task, ...], recorded: Mapping[int, Recorded]
) -> tuple[Task, ...]:
    """Return the tasks of a drill with what a record says of some, by the number of the task."""
    found = list(tasks)
    for number, one in recorded.items():
        task = _with_problem(drill, tasks[number - 1], one.problem)
        assert task is not None
        question = replace(task.question, exact=one.numbers)
        found[number - 1] = replace(task, question=question)
    return tuple(found)


def _as_shown_there(drill: Drill, task: Task, shown: TaskShown) -> Task | None:
    """Return a task with the problem that was shown, None where a bank has it no more.

    One of another problem that is of no bank stays, and its numbers are none that can be.
    """
    found = _with_problem(drill, task, shown.problem or "")
    return found or (None if task.drawn else task)


def _with_problem(drill: Drill, task: Task, ident: str) -> Task | None:
    """Return a task with a problem of its bank, or of one of an earlier version of the drill."""
    if task.question.problem.id == ident:
        return task
    earlier = (item for one in drill.sat_with for item in one.items if item.others)
    for item in (drill.task_items[task.number - 1], *earlier):
        for problem in item.bank:
            if problem.id == ident:
                question = (
                    drill.at(task.number).as_set(problem).question(SAMPLE, accepted=drill.accepted)
                )
                return replace(task, question=question, drawn=ident)
    return None


def _places(
    drill: Drill, tasks: Sequence[Task], shown: Sequence[TaskShown], known: Sequence[str]
) -> dict[int, int]:
    """Return where each task of a record stands in the drill, both from 0.

    A task is known by its label, where those of the record are `known`; else by its problem and
    its numbers, by its problem and its place, and by its problem alone. What is left at one place
    is taken as the same, with other numbers; but not in a mixed set, where another problem was
    drawn. Of a bank any problem is its own.
    """
    places = _PlacesFound(drill, tasks, shown, known)
    if len(known) == len(shown):
        places.take(places.is_called)
    places.take(places.is_alike, in_place=True)
    places.take(places.is_alike)
    places.take(places.is_problem, in_place=True)
    places.take(places.is_problem)
    places.take(places.may_be_another, in_place=True)
    return places.found


class _PlacesFound:
    """Where tasks of a record stand in the drill, each place taken once; numbers are from 0."""

    def __init__(
        self,
        drill: Drill,
        tasks: Sequence[Task],
        shown: Sequence[TaskShown],
        known: Sequence[str],
    ) -> None:
        self._labels, self._items = drill.labels, drill.task_items
        self._banks = [{problem.id for problem in item.bank} for item in self._items]
        self._tasks, self._shown, self._known = tasks, shown, known
        self.found: dict[int, int] = {}

    def is_problem(self, number: int, place: int) -> bool:
        """Return whether a task of the record has a problem that a place may have."""
        return self._shown[number].problem in self._banks[place]

    def is_alike(self, number: int, place: int) -> bool:
        """Return whether a task of the record has the problem of a place, and its numbers."""
        shown, task = self._shown[number], self._tasks[place]
        return shown.problem == task.question.problem.id and is_as_set(shown, task)

    def is_called(self, number: int, place: int) -> bool:
        """Return whether a task of the record has the label of a place, and may stand there."""
        is_its = self.is_problem(number, place) or bool(self._items[place].others)
        return self._known[number] == self._labels[place] and is_its

    def may_be_another(self, number: int, place: int) -> bool:
        """Return whether a place may have had another problem, whichever the record has."""
        del number
        return bool(self._items[place].others) or not self._items[place].is_drawn

    def take(self, is_one: Callable[[int, int], bool], in_place: bool = False) -> None:
        """Give tasks that have none yet a place that is one for them, its own alone `in_place`."""
        for number in range(len(self._shown)):
            for place in (number,) if in_place else range(len(self._tasks)):
                if self._is_free(number, place) and is_one(number, place):
                    self.found[number] = place

    def _is_free(self, number: int, place: int) -> bool:
        is_there = place < len(self._tasks)
        return is_there and number not in self.found and place not in self.found.values()


def _possible(question: Question, shown: TaskShown) -> Recorded | None:
    """Return what a record says was shown, None where its numbers can't have been.

    They are for each given of the problem, in its unit, above 0, and have a working.
    """
    given = shown.givens or {}
    if shown.problem != question.problem.id or given.keys() != question.givens_written.keys():
        return None
    numbers = dict(question.exact)
    for one in question.givens:
        if given[one.key] == question.written(one):
            continue
        number = _number_shown(question, one, given[one.key])
        if number is None:
            return None
        numbers[one.key] = number
    try:
        trouble = replace(question, exact=numbers).trouble
    except FileError:
        return None
    return None if trouble else Recorded(question.problem.id, numbers)


def _number_shown(question: Question, given: Given, text: str) -> Fraction | None:
    """Return the number that a given had by its text, None where it can't have had it."""
    unit = "°" if given.unit == "deg" else f" {given.unit}" if given.unit else ""
    number = text.removesuffix(unit)
    is_number = text.endswith(unit) and bool(_NUMBER.fullmatch(number))
    if given.key not in question.exact or not is_number or not Fraction(number) > 0:
        return None
    ranges, value = question.problem.ranges, Fraction(number)
    is_possible = unit != "°" or _is_in_quadrant(value, ranges[given.key])
    return value if is_possible else None


def _is_in_quadrant(angle: Fraction, drawn: Range) -> bool:
    """Return whether an angle lies between the multiples of 90 degrees that the drawn ones do."""
    low, high = quadrant_of(drawn)
    return low <= angle <= high
