"""The roster of a class: a CSV file with the columns id and name, each student once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from leverstep.course.plain_text import shown, spaced
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.drill.drill import is_student, same_student, student_id
from leverstep.drill.spreadsheet import table_of

MOST_STUDENTS = 20_000


def read_roster(
    path: Path,
    fault: Callable[[str, str], None],
    expected: str = "a CSV file beside the drill, with the columns id and name",
) -> dict[str, str]:
    """Return the names of a roster by id.

    Args:
        path: the file.
        fault: what takes note of a fault: what was found, and what was expected.
        expected: what that is where the file is no roster at all.
    """
    try:
        columns, rows = table_of(path, MOST_STUDENTS)
    except ValueError as error:
        fault(f"{path.name}: {error}", expected)
        return {}
    if "id" not in columns:
        are = f"its columns are {shown(', '.join(columns))}" if columns else "it is empty"
        fault(f"{path.name}: it has no column id; {are}", expected)
        return {}
    if not rows:
        fault(f"{path.name}: nobody is on it", "a row for each student")
    names: dict[str, str] = {}
    met: set[str] = set()
    for number, row in enumerate(rows, 2):
        student, name = student_id(row["id"]), spaced(row.get("name", "")).strip()
        if not is_student(student):
            found = f"{path.name}, line {number}: {shown(student)}"
            fault(found, "a student's id in the column id")
        elif is_reserved(student):
            fault(f"{path.name}, line {number}: {shown(student)}", NOT_RESERVED)
        elif same_student(student) in met:
            found = f"{path.name}, line {number}: {shown(student)} is there twice"
            fault(found, "each student once")
        else:
            names[student] = name if name.isprintable() else ""
            met.add(same_student(student))
    return names
