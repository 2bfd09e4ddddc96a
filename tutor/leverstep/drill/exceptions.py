"""The exceptions for single students, from a file beside the drill, and what is told of them."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from leverstep.course.decimals import number
from leverstep.course.faults import FileError, Reader, told
from leverstep.course.phrases import counted, moment, times
from leverstep.course.plain_text import shown
from leverstep.course.toml import parsed, quoted, text_of
from leverstep.drill.allowance import Allowance
from leverstep.drill.drill import LARGEST_DRILL, Drill, is_student, same_student, student_id
from leverstep.drill.values import moment_in, number_in, whole_in

EXCEPTIONS = "exceptions.toml"
"""What the file is called."""

MOST_EXCEPTIONS = 2000
MOST_MINUTES = 1000

_KINDS = (
    "minutes", "factor", "due", "closes", "attempts", "sittings", "excused", "plain", "marks",
)  # fmt: skip


def exceptions_in(folder: Path, drill: Drill) -> Mapping[str, Allowance]:
    """Return the exceptions of a folder that are for a drill, by id as it is compared.

    Raises:
        FileError: with every fault of the file.
    """
    path = folder / EXCEPTIONS
    if not os.path.lexists(path):
        return {}
    return exceptions_of(text_of(path, path.name, LARGEST_DRILL), drill)


def exceptions_of(text: str, drill: Drill) -> Mapping[str, Allowance]:
    """Return the exceptions of a text that are for a drill, by id as it is compared.

    One for this drill takes the place of one for all, in what it says.

    Raises:
        FileError: with every fault of the text.
    """
    reader = Reader(EXCEPTIONS, parsed(text, EXCEPTIONS))
    found: dict[tuple[str, str], Allowance] = {}
    for one in reader.children("student", "at least one [[student]]", MOST_EXCEPTIONS):
        whose = student_id(one.text("id"))
        if whose and not is_student(whose):
            one.fault("id", f"found {shown(whose)}", "a student's id")
        of_drill = one.text("drill", "")
        key = (same_student(whose), of_drill)
        allowance = _allowance(one, drill if of_drill in ("", drill.id) else None, not of_drill)
        if key in found:
            one.fault("id", f"{shown(whose)} is there twice", "each student once for a drill")
        found[key] = allowance
    reader.finish()
    if reader.faults:
        raise FileError(told(reader.faults))
    general = {whose: one for (whose, of), one in found.items() if not of}
    own = {whose: one for (whose, of), one in found.items() if of == drill.id}
    both = {whose: _over(general[whose], own[whose]) for whose in general.keys() & own.keys()}
    return {**general, **own, **both}


def _over(general: Allowance, own: Allowance) -> Allowance:
    """Return what holds where one exception is for all drills, and one for this."""
    said = {key: value for key in _KINDS if (value := getattr(own, key)) not in (None, False, {})}
    if "minutes" in said:
        said["factor"] = None
    elif "factor" in said:
        said["minutes"] = None
    if "marks" in said:
        said["numbered"] = own.numbered
    said["passed"] = () if "marks" in said else general.passed
    return replace(general, **said, reason="; ".join(dict.fromkeys((general.reason, own.reason))))


def _allowance(reader: Reader, drill: Drill | None, for_all: bool) -> Allowance:
    """Return one exception; its marks are held against the drill that it is for, where known.

    Where it is `for_all` drills, an id of no task of this one is of another, and passed over.
    """
    table = reader.child("marks", needed=False, like="{ 2 = 3.5 }")
    named = () if table is None else tuple(table.table)
    passed = (
        ()
        if drill is None or not for_all
        else tuple(name for name in named if not name.isdecimal() and not _known(drill, name))
    )
    marks, numbered = _marks(table, drill, passed)
    allowance = Allowance(
        reason=reader.text("reason", expected="why it is made, in a few words"),
        minutes=whole_in(reader, "minutes", 1, MOST_MINUTES),
        factor=_factor(reader),
        due=moment_in(reader, "due"),
        closes=moment_in(reader, "closes"),
        attempts=whole_in(reader, "attempts", 1, 100),
        sittings=whole_in(reader, "sittings", 1, 100),
        excused=reader.flag("excused", False),
        plain=reader.flag("plain", False),
        marks=marks,
        numbered=numbered,
        passed=passed,
    )
    if reader.has("minutes") and reader.has("factor"):
        reader.fault("factor", "minutes stand beside it", "one of the two")
    if reader.table.keys() <= {"id", "drill", "reason"}:
        reader.fault("", "it makes no exception", f"one of {', '.join(_KINDS)}")
    reader.finish()
    return allowance


def _factor(reader: Reader) -> Fraction | None:
    """Return the factor of the minutes, None where there is none."""
    reader.asked.add("factor")
    return number_in(reader, "factor", Fraction(1), 1, 10) if reader.has("factor") else None


def _marks(
    table: Reader | None, drill: Drill | None, passed: Collection[str]
) -> tuple[Mapping[int, Fraction], frozenset[int]]:
    """Return the marks set by hand by the number of the task, and which were named by that.

    Without a drill, where the exception is for another one, there are none; nor of names `passed`.
    """
    found: dict[int, Fraction] = {}
    numbered: set[int] = set()
    for name in () if table is None else table.table:
        assert table is not None
        of = None if name in passed else drill
        task = None if of is None else _task_called(of, name)
        marks = _marks_named(table, name, of, task, is_again=task in found)
        if marks is not None and of is not None and task is not None:
            found[task] = marks
            numbered |= set() if _tasks_with(of, name) else {task}
    return found, frozenset(numbered)


def _marks_named(
    table: Reader, name: str, drill: Drill | None, task: int | None, *, is_again: bool
) -> Fraction | None:
    """Return the marks that are set under a name, for a task of a drill where there is one.

    None, and a fault, where they can't be those of the task, or it has some by another name.
    """
    marks = table.number(name, expected="marks")
    most = None if drill is None or task is None else drill.task_items[task - 1].marks
    if drill is not None and task is None:
        table.fault(name, f"found task {shown(name)}", _tasks_of(drill, name))
    elif is_again:
        table.fault(name, f"task {task} is there twice", "each task once")
    elif marks < 0 or (most is not None and marks > most):
        expected = "marks from 0" + ("" if most is None else f" to {number(most)}")
        table.fault(name, f"found {float(marks):g}", expected)
    elif (100 * marks).denominator != 1:
        table.fault(name, f"found {float(marks):g}", "at most two decimals")
    else:
        return marks
    return None


def _tasks_with(drill: Drill, ident: str) -> list[int]:
    """Return the tasks by number whose item has an id, or the one of a copy such as `pail.2`."""
    named = zip(drill.labels, drill.task_items, strict=True)
    return [
        place
        for place, (label, item) in enumerate(named, 1)
        if item.id and ident in (item.id, label)
    ]


def _parts_of(drill: Drill, ident: str) -> list[str]:
    """Return the ids of the items that a mixed set of an id has become."""
    drawn = (item.id for item in drill.items if item.is_drawn)
    return [one for one in drawn if re.fullmatch(rf"{re.escape(ident)}-[0-9]+", one)]


def _known(drill: Drill, name: str) -> bool:
    """Return whether a name is that of a task, or of several: of copies, or of a mixed set."""
    return bool(_tasks_with(drill, name) or _parts_of(drill, name))


def _task_called(drill: Drill, name: str) -> int | None:
    """Return the number of the task of a name: that of an id, or else a number; None for none."""
    if tasks := _tasks_with(drill, name):
        return tasks[0] if len(tasks) == 1 else None
    numbers = range(1, len(drill.task_items) + 1)
    return next((one for one in numbers if str(one) == name), None)


def _tasks_of(drill: Drill, name: str) -> str:
    """Return which names tasks have, to be told where one is that of none."""
    if copies := _tasks_with(drill, name):
        return f"one of its copies, as in {quoted(f'{name}.{len(copies)}')}"
    if parts := _parts_of(drill, name):
        return f"one of its parts, {' to '.join(map(quoted, dict.fromkeys((parts[0], parts[-1]))))}"
    ids = ", or the id of an item" if drill.names_items else ""
    last = len(drill.task_items)
    tasks = "task 1, the only one" if last == 1 else f"a task from 1 to {last}"
    return f'{tasks}{ids}; drill = "..." names the drill that an exception is meant for'


def allowed_told(drill: Drill, student: str) -> tuple[str, ...]:
    """Return what is otherwise for a student than for all, each as a clause; nothing of marks."""
    own = drill.for_student(student)
    told = []
    if own.minutes != drill.minutes and own.minutes is not None:
        told.append(counted(own.minutes, "minute"))
    if own.late != drill.late and own.late is not None:
        told.append(f"due on {moment(own.late.due)}")
    if own.closes != drill.closes and own.closes is not None:
        told.append(f"closes on {moment(own.closes)}")
    allowance = drill.allowance(student)
    if allowance is not None and allowance.attempts and _tries(own) != _tries(drill):
        told.append(f"a line may be tried {times(allowance.attempts)}")
    if own.sittings != drill.sittings and own.sittings is not None:
        told.append(f"may be sat {times(own.sittings)}")
    if allowance is not None and allowance.plain:
        told.append("in plain lines, not on the full screen")
    return tuple(told)


def _tries(drill: Drill) -> list[int | None]:
    """Return how often a line may be tried in each task of a drill."""
    return [drill.at(task).attempts for task in range(1, len(drill.task_items) + 1)]


def by_hand_told(drill: Drill, task: int, marks: Fraction, earned: Fraction | None = None) -> str:
    """Return that a task has marks by hand in place of what was `earned`, where that is known."""
    if task in drill.withdrawn_tasks:
        return f"task {task} by hand: not {number(marks)}, since it has been withdrawn"
    was = "" if earned is None else f", not {number(earned)}"
    return f"task {task} by hand: {number(marks)}{was}"


def all_marks_told(drill: Drill) -> Iterator[str]:
    """Yield for whom marks are set by hand, and for which tasks by their titles."""
    for whose, own in sorted(drill.allowances.items()):
        for task, marks in own.marks.items():
            title = drill.task_items[task - 1].title
            yield f"{shown(whose)}: {by_hand_told(drill, task, marks)} ({title})"
        yield from (f"{shown(whose)}: {passed_told(name)}" for name in own.passed)


def passed_told(name: str) -> str:
    """Return that marks by hand are for no task of this drill."""
    return f"marks for {shown(name)}, which is no task of this drill"


def all_told(drill: Drill, student: str | None = None) -> Iterator[str]:
    """Yield a line on the exception of each student, or of one alone."""
    ids = {same_student(one): one for one in drill.students}
    whose = sorted(drill.allowances) if student is None else [same_student(student)]
    there = [one for one in whose if one in drill.allowances]
    for one in there:
        own = drill.allowances[one]
        told = ["excused"] * own.excused + list(allowed_told(drill, one))
        told += [by_hand_told(drill, task, marks) for task, marks in own.marks.items()]
        told += map(passed_told, own.passed)
        stranger = "" if drill.is_open_to(one) else "; this id is not on the roster"
        changes = ", ".join(told) or "changes no rule that this drill has"
        yield f"{ids.get(one, one)}: {changes} ({own.reason}){stranger}"
    if not there:
        yield "There are no exceptions."


def exception_for(drill: Drill, student: str) -> str | None:
    """Return the text of a file of exceptions for one student alone, None where there is none.

    It has what a sitting needs to know, and neither marks nor the reason, which others may read.
    """
    own = drill.allowance(student)
    if own is None or not allowed_told(drill, student):
        return None
    lines = ["[[student]]", f"id = {quoted(drill.listed(student))}", f"drill = {quoted(drill.id)}"]
    if own.factor is not None:
        lines.append(f"factor = {float(own.factor):g}")
    for key in ("minutes", "due", "closes", "attempts", "sittings"):
        value = getattr(own, key)
        if value is not None:
            lines.append(f"{key} = {value.isoformat() if key in ('due', 'closes') else value}")
    if own.plain:
        lines.append("plain = true")
    return "\n".join([*lines, f"reason = {quoted('as agreed')}", ""])
