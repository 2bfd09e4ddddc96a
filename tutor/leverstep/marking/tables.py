"""Marks and entries as tables that a spreadsheet opens and a learning platform imports.

CSV as in RFC 4180, in UTF-8. What was typed is data: a cell that a spreadsheet would take for a
formula gets an apostrophe before it, and control characters are shown as such.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from leverstep.course.decimals import number
from leverstep.course.phrases import counted
from leverstep.drill.drill import Drill
from leverstep.drill.spreadsheet import cell, table_writer
from leverstep.marking.against import Total, totals_of, write_changes
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Entry, Marked
from leverstep.marking.outputs import Outputs

MARKS, STEPS = "marks.csv", "steps.csv"

STEP_COLUMNS = (
    "id", "record", "task", "line", "kind", "typed", "outcome", "slips", "told", "first try",
    "hints", "seconds",
)  # fmt: skip


def marks_columns(drill: Drill) -> tuple[str, ...]:
    """Return the columns of the table of marks."""
    count = sum(item.count for item in drill.items)
    tasks = tuple(f"task {number}" for number in range(1, count + 1))
    return (
        "id", "name", *tasks, "total", "out of", "percentage", "hints", "entries", "minutes",
        "sittings", "remarks", "code",
    )  # fmt: skip


def marks_row(drill: Drill, student: Student) -> tuple[str, ...]:
    """Return the row of a student; one without a sitting has no marks.

    That of a record which can't be marked has no id; what it is called begins its remarks.
    """
    counted, out_of = student.counted, drill.marks
    remarks = "; ".join(student.remarks)
    if counted is None:
        blank = [""] * sum(item.count for item in drill.items)
        if not student.id:
            remarks = f"{student.sittings[0].record}: {remarks}"
        return (
            cell(student.id), cell(student.name), *blank, "", number(out_of), "", "", "", "",
            str(len(student.sittings)), cell(remarks), "",
        )  # fmt: skip
    total = counted.total
    return (
        cell(student.id), cell(student.name), *(number(mark) for mark in counted.marks),
        number(total), number(out_of), number(100 * total / out_of, 1), str(counted.hints),
        str(len(counted.entries)), number(Fraction(round(counted.seconds)) / 60, 1),
        str(len(student.sittings)), cell(remarks), " ".join(student.codes),
    )  # fmt: skip


def step_rows(marked: Marked) -> Iterator[tuple[str, ...]]:
    """Yield a row for each entry of a sitting."""
    whose = cell(marked.student), cell(marked.record)
    for entry in marked.entries:
        yield (*whose, *_step_cells(entry))


def _step_cells(entry: Entry) -> tuple[str, ...]:
    told = "" if not entry.slips else "told" if entry.sure else "asked"
    return (
        str(entry.task), cell(entry.step), entry.kind,
        cell(entry.text), str(entry.outcome), " ".join(entry.slips), told,
        "yes" if entry.first else "", str(entry.hints), f"{entry.used:.1f}",
    )  # fmt: skip


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
        self._drill = drill
        self._out = out
        self._old = None if before is None else totals_of(before / MARKS)
        self._new: dict[str, Total] = {}
        self._count = 0
        self._by_student = table_writer(out.open(MARKS))
        self._by_entry = table_writer(out.open(STEPS))
        self._by_student.writerow(marks_columns(drill))
        self._by_entry.writerow(STEP_COLUMNS)

    def add(self, student: Student) -> None:
        """Write the rows of a student.

        Raises:
            OSError: where they can't be written.
        """
        self._count += student.counted is not None
        self._by_student.writerow(marks_row(self._drill, student))
        for sitting in student.sittings:
            self._by_entry.writerows(step_rows(sitting))
        if self._old is not None and student.id:
            self._new[cell(student.id)] = _total(self._drill, student)

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


def _total(drill: Drill, student: Student) -> Total:
    total = "" if student.counted is None else number(student.counted.total)
    return Total(cell(student.name), total, number(drill.marks))
