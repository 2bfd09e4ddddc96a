"""The roster of a class: a CSV file with the columns id and name, each student once."""

from __future__ import annotations

import csv
import io
import itertools
from pathlib import Path

from tutor.course.faults import Fault, FileError, shown
from tutor.drill.drill import is_student, same_student

LARGEST_ROSTER = 2_000_000
"""Bytes; a course of a thousand students is some tens of kilobytes."""

MOST_STUDENTS = 20_000


def read_roster(path: Path) -> dict[str, str]:
    """Return the names of a roster by id; a name that can't be printed is left out.

    Raises:
        FileError: with every fault of it.
    """
    try:
        rows = _rows(path)
    except (OSError, ValueError, csv.Error) as error:
        reason = getattr(error, "strerror", None) or str(error)
        expected = "a CSV file with the columns id and name"
        raise FileError([Fault(path.name, "", reason, expected)]) from error
    faults: list[Fault] = []
    names: dict[str, str] = {}
    met: set[str] = set()
    for number, row in enumerate(rows, 2):
        student, name = (row.get("id") or "").strip(), (row.get("name") or "").strip()
        place = f"line {number}"
        if not is_student(student):
            faults.append(
                Fault(path.name, place, shown(student), "a student's id in the column id")
            )
        elif same_student(student) in met:
            found = f"{shown(student)} stands there twice"
            faults.append(Fault(path.name, place, found, "each student once"))
        else:
            names[student] = name if name.isprintable() else ""
            met.add(same_student(student))
    if faults:
        raise FileError(faults)
    return names


def _rows(path: Path) -> list[dict[str, str]]:
    """Return the rows of a roster.

    Raises:
        OSError, ValueError, csv.Error: where it can't be read, or is no roster.
    """
    if path.stat().st_size > LARGEST_ROSTER:
        raise ValueError("it is too large")
    table = csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    if "id" not in (table.fieldnames or ()):
        raise ValueError("it has no column id")
    rows = list(itertools.islice(table, MOST_STUDENTS + 1))
    if len(rows) > MOST_STUDENTS:
        raise ValueError(f"it has more than {MOST_STUDENTS} students")
    return rows
