"""The sittings that are in progress on this computer: what tells an answer refuses their numbers.

They are those that are remembered on this account (`begun`), whose record is there, and that are
neither handed in nor out of time. Their numbers are those that the record says were shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.contents import Contents, sound
from leverstep.bench.record import RecordError, head_of, read_bytes
from leverstep.bench.record_lines import DrillBegun
from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import plain
from leverstep.course.problem import Problem, Question
from leverstep.drill.begun import Begun, sittings_begun
from leverstep.drill.drill import Drill, file_stem, same_student
from leverstep.drill.drill_file import read_drill
from leverstep.drill.earlier import is_handed_in, records_in
from leverstep.drill.lines import moment_of, used_in

_EXPECTED = "other numbers, or that drill handed in first"


@dataclass(frozen=True, slots=True)
class InProgress:
    """A sitting that goes on: the title of its drill, whose it is, and how its record begins."""

    title: str
    student: str
    first: DrillBegun

    def task_of(self, question: Question) -> int:
        """Return the number of the task that has the very numbers of a question, 0 for none."""
        shown = question.problem.id, question.givens_written
        tasks = enumerate(self.first.tasks, 1)
        return next((n for n, one in tasks if (one.problem, one.givens) == shown), 0)


def in_progress(
    problems: Mapping[str, Problem], now: datetime | None = None
) -> tuple[InProgress, ...]:
    """Return the sittings that are in progress here.

    Args:
        problems: those that drills may set.
        now: the moment that is asked about, this one unless given.
    """
    moment = now or datetime.now(UTC)
    return tuple(one for begun in sittings_begun() for one in _of(begun, problems, moment))


def refuse_numbers(questions: Iterable[Question], problems: Mapping[str, Problem]) -> None:
    """Refuse to tell the answers of some questions where they are those of a drill in progress.

    Raises:
        FileError: where one is.
    """
    sittings = in_progress(problems)
    for question in questions if sittings else ():
        for one in sittings:
            if task := one.task_of(question):
                found = f"these are the numbers of task {task} of {_named(one)}"
                raise FileError([Fault(question.problem.id, "", found, _EXPECTED)])


def refuse_problem(problem: Problem, problems: Mapping[str, Problem]) -> None:
    """Refuse what tells the answers of a problem for any numbers, if a drill in progress sets it.

    Raises:
        FileError: where one does.
    """
    for one in in_progress(problems):
        if problem.id in [task.problem for task in one.first.tasks]:
            found = f"it is a task of {_named(one)}, and here any numbers can be put in"
            raise FileError([Fault(problem.id, "", found, "that drill handed in first")])


def refuse_marking(
    drill: Drill, students: Iterable[str], going_on: Mapping[str, InProgress]
) -> None:
    """Refuse to mark what is of sittings in progress alone: it would tell their answers.

    Whoever marks a class has other records too, and is kept from nothing.

    Args:
        drill: what is to be marked.
        students: whose records there are.
        going_on: the sittings of it that are in progress, as `who_goes_on` has them.

    Raises:
        FileError: where there are no others.
    """
    whose = [same_student(one) for one in students]
    if whose and going_on.keys() >= set(whose):
        found = f"the only records are of {_named(going_on[whose[0]])}"
        raise FileError([Fault(drill.id, "", found, "that drill handed in first")])


def who_goes_on(drill: Drill, sittings: Iterable[InProgress]) -> dict[str, InProgress]:
    """Return the sittings of a drill among some, by whose they are, as `same_student` has the ids.

    A page to give back would tell them the answers.
    """
    return {same_student(one.student): one for one in sittings if one.first.drill == drill.id}


def _named(one: InProgress) -> str:
    """Return which sitting it is, and that it goes on."""
    return f"{plain(one.title)}, which {plain(one.student)} has begun here and not handed in"


def _of(begun: Begun, problems: Mapping[str, Problem], now: datetime) -> Iterator[InProgress]:
    """Yield what is in progress now of a sitting that is remembered."""
    drill, found = None, dict[Path, Contents]()
    with suppress(FileError, OSError):
        drill = read_drill(begun.path, problems, roster_needed=False)
    for path in records_in(begun.folder, file_stem(begun.student)):
        with suppress(RecordError):
            if _is_whose(head_of(path).line, begun.student, drill):
                found[path] = sound(read_bytes(path))
    gone_on_with = {link for one in found.values() for link in one.links[:-1]}
    for one in found.values():
        first = one.first
        is_last = one.links[-1] not in gone_on_with
        if isinstance(first, DrillBegun) and is_last and not _is_over(one, first, drill, now):
            yield InProgress(begun.title, begun.student, first)


def _is_whose(first: object, student: str, drill: Drill | None) -> bool:
    """Return whether a record begins as one of a student, of a drill where that is known."""
    if not isinstance(first, DrillBegun) or (drill is not None and first.drill != drill.id):
        return False
    return same_student(first.student or "") == same_student(student)


def _is_over(found: Contents, first: DrillBegun, drill: Drill | None, now: datetime) -> bool:
    """Return whether nothing more is taken in a sitting; its time is that of the file it names."""
    if is_handed_in(found):
        return True
    if drill is None or drill.digest != first.digest:
        return False
    own = drill.for_student(first.student or "")
    is_closed = own.closes is not None and own.closes < now
    spent = own.spent(used_in(found), moment_of(first.time), now)
    return is_closed or own.seconds_left(spent) == 0
