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

from leverstep.bench.contents import Contents
from leverstep.bench.record_lines import DrillBegun, RecordLine, TaskShown
from leverstep.course.faults import FileError
from leverstep.course.numbers import Range, quadrant_of
from leverstep.course.phrases import tasks_told
from leverstep.course.problem import Question
from leverstep.drill.drill import MOST_WORKINGS, Drill, Task

OTHER_NUMBERS = "other numbers were shown for"
"""How the remark begins on tasks whose entries are judged by numbers that were never shown."""

BY_RECORD = "marked by the numbers in the record, not by those of the file:"
"""How the remark begins on tasks whose entries are judged by what the record says was shown."""

_NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9}|/[1-9][0-9]{0,8})?", re.ASCII)

Numbers = Mapping[str, Fraction]
"""The number of each given that has one, by key."""


@dataclass(frozen=True, slots=True)
class AsShown:
    """The tasks of a drill as they are marked in one record.

    `recorded` has the numbers of the record by the number of the task, where these count, and
    `proved` says that an earlier version of the file draws them; `odd` are
    the tasks that were shown with others which don't, `absent` those that were not shown at all,
    `left_out` the tasks of the record that the drill no longer has. `moved` has the task of the
    drill that each task of the record is now, None where all stand where they stood.
    """

    tasks: tuple[Task, ...]
    recorded: Mapping[int, Numbers] = field(default_factory=dict)
    odd: tuple[int, ...] = ()
    absent: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    moved: Mapping[int, int] | None = None
    proved: bool = False

    def renumbered(self, found: Contents) -> Contents:
        """Return what a record holds with the tasks numbered as they are in the drill now."""
        if self.moved is None:
            return found
        return replace(found, lines=tuple(map(self.line_renumbered, found.lines)))

    def line_renumbered(self, line: RecordLine) -> RecordLine:
        """Return one line with its task numbered as it is in the drill now."""
        if self.moved is None or line.task is None:
            return line
        return replace(line, task=self.moved.get(line.task, 0))

    def remarks(self) -> Iterator[str]:
        """Yield what a teacher is to know of this."""
        if self.odd:
            yield f"{OTHER_NUMBERS} {tasks_told(self.odd)}"
        if self.recorded and not self.proved:
            yield f"{BY_RECORD} {tasks_told(self.recorded)}"
        if self.absent:
            yield f"not in the drill when it was sat: {tasks_told(self.absent)}"
        if self.left_out:
            yield f"no more in the drill, and not marked: {tasks_told(self.left_out)} of the record"


def as_shown(drill: Drill, student: str, first: RecordLine) -> AsShown:
    """Return the tasks of a student's record by its first line."""
    begun = first if isinstance(first, DrillBegun) else DrillBegun()
    tasks, shown = drill.tasks(student), begun.tasks[:MOST_WORKINGS]
    written = [task.question.givens_written for task in tasks]
    given = [one.givens for one in shown]
    if given == written:
        return AsShown(tasks)
    if not shown or begun.digest == drill.digest:
        pairs = enumerate(zip([*given, *[None] * len(tasks)], written, strict=False), 1)
        return AsShown(tasks, odd=tuple(place for place, (said, is_) in pairs if said != is_))
    sat = next((one for one in drill.sat_with if one.digest == begun.digest), None)
    labels = (begun.items or ()) if sat is None else sat.labels
    places = _places(drill, tasks, written, shown, labels)
    paired = {place: shown[number] for number, place in sorted(places.items())}
    anew = {place: one for place, one in paired.items() if one.givens != written[place]}
    possible = {place + 1: _possible(tasks[place].question, one) for place, one in anew.items()}
    if sat is not None:
        drawn = [
            one.question.givens_written for one in sat.with_key(drill.start_key).tasks(student)
        ]
        made_up = {places.get(n) for n, one in enumerate(given) if one not in drawn[n : n + 1]}
        possible |= {place + 1: None for place in anew if place in made_up}
    elif drill.sat_with:  # the record names a file that nobody has
        possible = dict.fromkeys(possible)
    recorded = {number: one for number, one in sorted(possible.items()) if one is not None}
    moved = {number + 1: place + 1 for number, place in places.items()}
    return AsShown(
        with_numbers(tasks, recorded), recorded,
        tuple(sorted(possible.keys() - recorded.keys())),
        tuple(task.number for task in tasks if task.number - 1 not in paired),
        tuple(number for number in range(1, len(shown) + 1) if number not in moved),
        None if all(old == new for old, new in moved.items()) else moved,
        sat is not None,
    )  # fmt: skip


def with_numbers(tasks: tuple[Task, ...], numbers: Mapping[int, Numbers]) -> tuple[Task, ...]:
    """Return tasks with other numbers for some, by the number of the task."""
    return tuple(
        replace(task, question=replace(task.question, exact=numbers[task.number]))
        if task.number in numbers
        else task
        for task in tasks
    )


def _places(
    drill: Drill,
    tasks: Sequence[Task],
    written: Sequence[Mapping[str, str]],
    shown: Sequence[TaskShown],
    known: Sequence[str],
) -> dict[int, int]:
    """Return where each task of a record stands in the drill, both from 0.

    A task is known by its label, where those of the record are `known`; else by its problem and
    its numbers, by its problem and its place, and by its problem alone. What is left at one place
    is taken as the same, with other numbers; but not in a mixed set, where another problem was
    drawn.
    """
    labels, items = drill.labels, drill.task_items
    found: dict[int, int] = {}

    def is_problem(number: int, place: int) -> bool:
        return shown[number].problem == tasks[place].question.problem.id

    def is_alike(number: int, place: int) -> bool:
        return is_problem(number, place) and shown[number].givens == written[place]

    def take(is_one: Callable[[int, int], bool], in_place: bool = False) -> None:
        for number in range(len(shown)):
            for place in (number,) if in_place else range(len(tasks)):
                free = number not in found and place not in found.values() and place < len(tasks)
                if free and is_one(number, place):
                    found[number] = place

    if len(known) == len(shown):
        take(lambda number, place: known[number] == labels[place] and is_problem(number, place))
    take(is_alike, in_place=True)
    take(is_alike)
    take(is_problem, in_place=True)
    take(is_problem)
    take(lambda _number, place: not items[place].is_drawn, in_place=True)
    return found


def _possible(question: Question, shown: TaskShown) -> Numbers | None:
    """Return the numbers that a record says were shown, None where they can't have been.

    They are for each given of the problem, in its unit, above 0, and have a working.
    """
    given = shown.givens or {}
    if shown.problem != question.problem.id or given.keys() != question.givens_written.keys():
        return None
    numbers = dict(question.exact)
    for one in question.givens:
        unit = "°" if one.unit == "deg" else f" {one.unit}" if one.unit else ""
        text = given[one.key]
        number = text.removesuffix(unit)
        if text == question.written(one):
            continue
        if one.key not in question.exact:
            return None
        if not text.endswith(unit) or not _NUMBER.fullmatch(number) or not Fraction(number) > 0:
            return None
        numbers[one.key] = Fraction(number)
        if unit == "°" and not _is_in_quadrant(numbers[one.key], question.problem.ranges[one.key]):
            return None
    try:
        trouble = replace(question, exact=numbers).trouble
    except FileError:
        return None
    return None if trouble else numbers


def _is_in_quadrant(angle: Fraction, drawn: Range) -> bool:
    """Return whether an angle lies between the multiples of 90 degrees that the drawn ones do."""
    low, high = quadrant_of(drawn)
    return low <= angle <= high
