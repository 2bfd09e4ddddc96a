"""Marks and entries as tables that a spreadsheet opens and a learning platform imports.

CSV as in RFC 4180, in UTF-8. What was typed is data: a cell that a spreadsheet would take for a
formula gets an apostrophe before it, and control characters are shown as such.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from heapq import merge
from itertools import chain
from operator import attrgetter
from pathlib import Path

from leverstep.course.decimals import in_percent, number
from leverstep.course.phrases import counted
from leverstep.drill.drill import Drill
from leverstep.drill.lines import moment_of
from leverstep.drill.spreadsheet import cell, table_writer
from leverstep.marking.against import Total, totals_of, write_changes
from leverstep.marking.collecting import Student
from leverstep.marking.finding_marks import FOUND
from leverstep.marking.marking import Entry, HintTaken, Marked
from leverstep.marking.outputs import Outputs
from leverstep.questions.choice_question import QuestionSort
from leverstep.working.guidance import Guidance
from leverstep.working.page import called
from leverstep.working.rules import Thinking

MARKS, STEPS = "marks.csv", "steps.csv"

MarksCell = Callable[[Student], str]
"""Returns what stands in a column of the row of a student."""

StepCell = Callable[[Marked, Entry | HintTaken], str]
"""Returns what stands in a column of the row of an entry, or of a hint, of a sitting."""


def marks_columns(drill: Drill) -> dict[str, MarksCell]:
    """Return the columns of the table of marks in their order, each with its cells.

    A student without a sitting has no marks. The row of a record which can't be marked has no id;
    what the record is called begins its remarks.
    """
    return {
        "id": lambda student: cell(student.id),
        "name": lambda student: cell(student.name),
        **{
            heading: _carried(drill, place)
            for place, heading in enumerate(drill.roster_columns.more)
        },
        **{f"task {place + 1}": _mark_of_task(place) for place in range(len(drill.task_items))},
        **{
            f"problem {task}": _problem_of_task(task)
            for task, item in enumerate(drill.task_items, 1)
            if item.others
        },
        "total": _of_counted(lambda sitting: number(sitting.total)),
        "out of": lambda _: number(drill.marks),
        "percentage": _of_counted(lambda sitting: in_percent(sitting.total / drill.marks)),
        "hints": _of_counted(lambda sitting: str(sitting.hints)),
        "entries": _of_counted(lambda sitting: str(len(sitting.entries))),
        **_answer_columns(drill),
        **_finding_columns(drill),
        "began": _of_counted(lambda sitting: _moment(sitting.begun)),
        "handed in": _of_counted(lambda sitting: _moment(sitting.last) if sitting.ended else ""),
        "minutes": _of_counted(lambda sitting: _minutes(sitting.seconds)),
        "away": _of_counted(lambda sitting: _minutes(sitting.away)),
        **({"seal": _of_counted(lambda sitting: str(sitting.seal))} if drill.all_seals else {}),
        "sittings": lambda student: str(len(student.sittings)),
        "remarks": lambda student: cell(_remarks(student)),
        "code": lambda student: " ".join(student.codes) if student.counted else "",
    }


def _carried(drill: Drill, place: int) -> MarksCell:
    """Return a cell with what the roster says besides of a student."""
    return lambda student: cell(drill.carried(student.id)[place])


def _moment(written: str) -> str:
    """Return a time of a record in UTC, to the second; "" where it makes no sense."""
    found = moment_of(written)
    return "" if found is None else found.isoformat(sep=" ", timespec="seconds")


def _minutes(seconds: float | None) -> str:
    return "" if seconds is None else number(Fraction(round(seconds)) / 60, 1)


_ANSWERED: Mapping[Thinking | Guidance, str] = {
    Thinking.PREDICT: "predictions",
    Thinking.SENSE: "sense questions",
    Guidance.FADING: "reasons",
}
"""What the answers to questions beside the lines are called in headings."""


def _answer_columns(drill: Drill) -> dict[str, MarksCell]:
    """Return how many questions were answered, and how many right, of those that are asked."""
    columns: dict[str, MarksCell] = {}
    asked: set[Thinking | Guidance] = {*drill.thinking}
    if any(item.open_lines is not None for item in drill.items):
        asked.add(Guidance.FADING)
    for when, name in _ANSWERED.items():
        if when in asked:
            columns |= {name: _answers(when), f"{name} right": _answers(when, right=True)}
    return columns


def _finding_columns(drill: Drill) -> dict[str, MarksCell]:
    """Return how many lines and slips were found in workings of somebody else, where there are."""
    if not any(item.slips_to_find for item in drill.items):
        return {}
    return {f"{name}s found": _found(sort) for sort, name in FOUND.items()}


def _found(sort: QuestionSort) -> MarksCell:
    """Return a cell that counts what was found of a sort."""
    return _of_counted(
        lambda sitting: str(sum(one.sort is sort and one.is_right for one in sitting.findings))
    )


def _answers(when: Thinking | Guidance, right: bool = False) -> MarksCell:
    """Return a cell that counts the questions that were answered, or those answered right."""
    return _of_counted(
        lambda sitting: str(sum(one.when is when and one.right >= right for one in sitting.answers))
    )


def _of_counted(told: Callable[[Marked], str]) -> MarksCell:
    """Return a cell that is told of the sitting that counts, and blank where there is none."""
    return lambda student: "" if student.counted is None else told(student.counted)


def _mark_of_task(place: int) -> MarksCell:
    return _of_counted(lambda sitting: number(sitting.marks[place]))


def _problem_of_task(task: int) -> MarksCell:
    return _of_counted(lambda sitting: cell(sitting.drawn.get(task, "")))


def _remarks(student: Student) -> str:
    remarks = "; ".join((*student.remarks, *student.notes))
    return remarks if student.id else f"{student.sittings[0].record}: {remarks}"


STEP_COLUMNS: Mapping[str, StepCell] = {
    "id": lambda sitting, _: cell(sitting.student),
    "record": lambda sitting, _: cell(sitting.record),
    "task": lambda _, entry: str(entry.task),
    "line": lambda _, entry: cell(called(entry.kind, entry.step)),
    "kind": lambda _, entry: entry.kind,
    "typed": lambda _, entry: cell(entry.text),
    "outcome": lambda _, entry: str(entry.outcome),
    "slips": lambda _, entry: " ".join(entry.slips),
    "told": lambda _, entry: "" if not entry.slips else "told" if entry.sure else "asked",
    "first try": lambda _, entry: "yes" if entry.first else "",
    "hints": lambda _, entry: str(entry.hints),
    "seconds": lambda _, entry: f"{entry.used:.1f}",
}
"""The columns of the table of entries in their order, each with its cells."""


def steps_columns(drill: Drill) -> Mapping[str, StepCell]:
    """Return the columns of the table of entries, with what only some drills have at their end."""
    columns = {**STEP_COLUMNS}
    if drill.sure:
        columns["how sure"] = lambda _, entry: str(entry.sureness or "")
    if any(item.others for item in drill.items):
        columns["problem"] = lambda sitting, entry: cell(sitting.drawn.get(entry.task, ""))
    return columns


class MarkTables:
    """Writes marks and entries to `marks.csv` and `steps.csv`, one student after the other."""

    def __init__(self, drill: Drill, out: Outputs, before: Path | None = None) -> None:
        """Begin with the headings.

        Args:
            drill: what is marked.
            out: where the tables go.
            before: the folder of tables that totals are compared with, None for none.

        Raises:
            FileError: where there are no such tables.
            OSError: where the folder can't be written.
        """
        self._columns, self._step_columns = marks_columns(drill), steps_columns(drill)
        self._out = out
        self._old = None if before is None else totals_of(before / MARKS)
        self._new: dict[str, Total] = {}
        self._count = 0
        self._by_student = table_writer(out.open(MARKS))
        self._by_entry = table_writer(out.open(STEPS))
        self._by_student.writerow(self._columns)
        self._by_entry.writerow(self._step_columns)

    def add(self, student: Student) -> None:
        """Write the rows of a student.

        Raises:
            OSError: where they can't be written.
        """
        self._count += student.counted is not None
        row = {name: told(student) for name, told in self._columns.items()}
        self._by_student.writerow(row.values())
        columns = tuple(self._step_columns.values())
        for sitting in student.sittings:
            worked: tuple[Iterable[Entry | HintTaken], ...] = sitting.hints_taken, sitting.entries
            for entry in chain(sitting.placings, merge(*worked, key=attrgetter("used"))):
                self._by_entry.writerow([told(sitting, entry) for told in columns])
        if self._old is not None and student.id:
            self._new[row["id"]] = Total(row["name"], row["total"], row["out of"])

    def finish(self) -> list[str]:
        """Write what has changed against the tables from before; return what there is to say.

        Raises:
            OSError: where it can't be written.
        """
        are_marked = counted(self._count, "student is marked", "students are marked")
        told = [f"{are_marked}: {self._out.folder / MARKS}, {self._out.folder / STEPS}"]
        if self._old is not None:
            told += write_changes(self._old, self._new, self._out)
        return told
