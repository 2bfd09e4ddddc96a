"""The roster of a class: a table in CSV with columns of ids and names, each student once."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import shown
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.drill.drill import is_student, same_student, student_id
from leverstep.drill.roster_columns import SECTION, RosterColumns, plain_columns, section_column
from leverstep.drill.spreadsheet import cell_read, column_called, table_of

MOST_STUDENTS = 20_000

LONGEST_CELL = 100
"""Characters of what is carried of a student."""

Note = Callable[[str, str], None]
"""Takes note of a fault: what was found, and what was expected."""

TITLE_ABOVE = "The first row looks like a title: delete it, so that the headings are the first row."
"""What is told where a table begins with a title."""

_BESIDE_DRILL = "a CSV file beside the drill, with the columns id and name"


@dataclass(frozen=True)
class Roster:
    """The names of a class by id, and what else is known of each student, by heading."""

    names: Mapping[str, str] = field(default_factory=dict)
    details: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


@dataclass(frozen=True)
class RosterTable:
    """The table of a roster as it was read: its columns in small letters, and its rows by column.

    `path` is where it lies, `trouble` a clause that says why it can't be read, "" where it can.
    """

    path: Path
    columns: tuple[str, ...] = ()
    rows: Sequence[Mapping[str, str]] = ()
    trouble: str = ""


def roster_table(path: Path) -> RosterTable:
    """Return the table of a roster; it is empty where it can't be read."""
    try:
        return RosterTable(path, *table_of(path, MOST_STUDENTS))
    except ValueError as error:
        return RosterTable(path, trouble=str(error))


def roster_of(
    table: RosterTable,
    fault: Note,
    expected: str = _BESIDE_DRILL,
    columns: RosterColumns | None = None,
) -> Roster:
    """Return a roster; the column of sections is read even where it is not named.

    Args:
        table: what stands in the file.
        fault: what takes note of a fault.
        expected: what that is where the file is no roster at all.
        columns: what its columns are called, `id` and `name` unless given.
    """
    columns, there = columns or RosterColumns(), table.columns
    if table.trouble:
        fault(f"{table.path.name}: {table.trouble}", expected)
        return Roster()
    missing = columns.missing_in(there)
    if missing is not None:
        are = f"its columns are {shown(', '.join(there))}" if there else "it is empty"
        asked = ", or to be told which they are by leverstep drill roster" if there else ""
        fault(f"{table.path.name}: it has no column {missing}; {are}", f"{expected}{asked}")
        return Roster()
    if not table.rows:
        fault(f"{table.path.name}: nobody is on it", "a row for each student")
    section = section_column(columns, there)
    kept = {**({} if section is None else {SECTION: section}), **columns.more}
    ident, named = column_called(columns.id), [column_called(one) for one in columns.name]
    names: dict[str, str] = {}
    details: dict[str, Mapping[str, str]] = {}
    met: set[str] = set()
    for number, row in enumerate(table.rows, 2):
        student = student_id(row[ident])
        if not is_student(student):
            found = f"{table.path.name}, line {number}: {shown(student)}"
            fault(found, f"a student's id in the column {columns.id}")
        elif is_reserved(student):
            fault(f"{table.path.name}, line {number}: {shown(student)}", NOT_RESERVED)
        elif same_student(student) in met:
            found = f"{table.path.name}, line {number}: {shown(student)} is there twice"
            fault(found, "each student once")
        else:
            names[student] = cell_read(" ".join(row.get(one, "") for one in named))
            if kept:
                said = {head: row[column_called(column)] for head, column in kept.items()}
                details[student] = {
                    head: cell_read(text)[:LONGEST_CELL] for head, text in said.items()
                }
            met.add(same_student(student))
    return Roster(names, details)


def begins_with_title(table: RosterTable) -> bool:
    """Return whether the first row of a table has a title where headings should be.

    Then most of that row is empty, and not what stands below; False where it can't be read.
    """
    there = table.columns
    is_bare = sum(map(bool, there)) <= max(1, there.count("") - 1) and not plain_columns(there)
    return is_bare and any(row.get("", "").strip() for row in table.rows)


def from_drill(drill: Path, roster: str) -> str:
    """Return the path of a roster as the file of a drill names it: from the folder of the drill.

    It is taken from that folder or, where it is not there, from the folder at work. An absolute
    path would tell the names of a teacher's folders to whoever gets the drill.

    Raises:
        FileError: where no path leads from that folder to the roster.
    """
    folder = Path(os.path.abspath(drill)).parent
    place = Path(roster).expanduser()
    if not place.is_absolute() and (os.path.exists(folder / place) or not os.path.exists(place)):
        return roster
    try:
        return Path(os.path.relpath(os.path.abspath(place), folder)).as_posix()
    except ValueError as error:  # on Windows, another drive
        found, expected = "it is on another drive than the drill", "a file beside the drill"
        raise FileError([Fault(str(place), "", found, expected)]) from error


def roster_beside(drill: Path, roster: str) -> Path:
    """Return where a roster lies that is named for a drill, as `from_drill` has it.

    Raises:
        FileError: where no path leads from the drill's folder to it.
    """
    return drill.parent / from_drill(drill, roster)
