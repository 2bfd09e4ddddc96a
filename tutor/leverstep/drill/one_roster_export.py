"""A class as an export in OneRoster CSV has it: its students, their classes, and what names them.

The standard is OneRoster of 1EdTech, its binding to CSV in the versions 1.1 and 1.2: `manifest.csv`
names the version and the files, `users.csv` has people, `classes.csv` classes, `enrollments.csv`
who is in which; all refer to each other by `sourcedId`. Files lie at the top of a folder or of a
zip. What else an export has, such as passwords and demographics, is never looked at.
"""

from __future__ import annotations

import csv
import io
import zipfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import TEXT, TooLarge, open_plain, read_plain
from leverstep.course.plain_text import shown
from leverstep.drill.drill import same_student
from leverstep.drill.roster_columns import SECTION, RosterColumns
from leverstep.drill.spreadsheet import cell, cell_read, table_writer

VERSIONS = ("1.1", "1.2")

LARGEST_PART = 100_000_000
"""Bytes of one file of an export; one of a large district has some ten million."""

MOST_ROWS = 500_000

MANIFEST, USERS, CLASSES, ENROLLMENTS = "manifest", "users", "classes", "enrollments"

_NEEDED: Mapping[str, tuple[str, ...]] = {
    MANIFEST: ("propertyName", "value"),
    USERS: ("sourcedId", "username", "givenName", "familyName"),
    CLASSES: ("sourcedId", "title", "schoolSourcedId", "termSourcedIds"),
    ENROLLMENTS: ("classSourcedId", "userSourcedId", "role"),
}
"""The columns that are read of each file and have to be there."""

_MORE: Mapping[str, tuple[str, ...]] = {
    USERS: ("status", "identifier", "email"),
    CLASSES: ("status", "classCode"),
    ENROLLMENTS: ("status",),
}
"""Those that are read where they are there."""

GONE = "tobedeleted"
"""The status of what is no longer so."""

ID_COLUMNS = ("identifier", "username", "email", "sourcedId")
"""The columns of people by which a drill may know them, the plainest first."""

_EXPORT = "an export in OneRoster CSV, as a folder or a zip"

_PACKED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""How a file in a zip may be packed: as everywhere, with what each Python can unpack."""


@dataclass(frozen=True, slots=True)
class ExportedClass:
    """A class of an export: how it is referred to, and its school and terms likewise."""

    sourced_id: str
    title: str
    code: str
    school: str
    terms: tuple[str, ...]

    @property
    def called(self) -> str:
        """Return what tells it from others: its code, or its title where it has none."""
        return self.code or self.title


@dataclass(frozen=True, slots=True)
class ExportedStudent:
    """A student of an export, with the `sourcedId` of each class that the student is in.

    `ids` has what each column of `ID_COLUMNS` has, "" where it has nothing.
    """

    ids: Mapping[str, str]
    name: str
    classes: tuple[str, ...]

    @property
    def sourced_id(self) -> str:
        """Return how the student is referred to."""
        return self.ids["sourcedId"]


@dataclass(frozen=True)
class Export:
    """What is read of an export; `classes` are by how they are referred to, those with students."""

    path: Path
    version: str
    classes: Mapping[str, ExportedClass]
    students: tuple[ExportedStudent, ...]

    @property
    def id_columns(self) -> tuple[str, ...]:
        """Return the columns that tell all students from each other, the plainest first."""
        found = []
        for column in ID_COLUMNS:
            there = [one.ids[column] for one in self.students]
            if all(there) and len(set(map(same_student, there))) == len(there):
                found.append(column)
        return tuple(found)


def is_export(path: Path) -> bool:
    """Return whether a path may be that of an export rather than of one table."""
    return path.is_dir() or path.suffix.lower() == ".zip"


def read_export(path: Path) -> Export:
    """Return what an export says of classes and their students.

    Raises:
        FileError: where it is none, is incomplete, or contradicts itself.
    """
    parts = {MANIFEST: _rows(path, MANIFEST)}
    version = _version(path, parts[MANIFEST])
    parts |= {name: _rows(path, name) for name in (USERS, CLASSES, ENROLLMENTS)}
    people = {row["sourcedId"]: row for row in parts[USERS]}
    classes = {
        row["sourcedId"]: ExportedClass(
            row["sourcedId"], row["title"], row["classCode"], row["schoolSourcedId"],
            tuple(filter(None, map(str.strip, row["termSourcedIds"].split(",")))),
        )
        for row in parts[CLASSES]
    }  # fmt: skip
    within: dict[str, list[str]] = {}
    faults: list[Fault] = []
    for row in parts[ENROLLMENTS]:
        if row["role"] != "student":
            continue
        user, of = row["userSourcedId"], row["classSourcedId"]
        missing = user if user not in people else of if of not in classes else ""
        if missing:
            found = f"it refers to {shown(missing)}, which is not there"
            faults.append(Fault(f"{path}", f"{ENROLLMENTS}.csv", found, "a whole export"))
        elif of not in within.setdefault(user, []):
            within[user].append(of)
    if faults:
        raise FileError(faults[:5])
    if not within:
        found = "nobody is enrolled as a student"
        raise FileError([Fault(str(path), f"{ENROLLMENTS}.csv", found, "a class with students")])
    taken = {of for those in within.values() for of in those}
    students = (_student(people[user], those) for user, those in within.items())
    return Export(
        path, version, {key: one for key, one in classes.items() if key in taken}, tuple(students)
    )


def _student(row: Mapping[str, str], classes: Sequence[str]) -> ExportedStudent:
    name = " ".join(filter(None, (row["givenName"], row["familyName"])))
    return ExportedStudent({one: row[one] for one in ID_COLUMNS}, name, tuple(classes))


def _version(path: Path, manifest: Sequence[Mapping[str, str]]) -> str:
    """Return the version of the standard that a manifest names.

    Raises:
        FileError: where that is none that is read, or a file that is needed is not there whole.
    """
    said = {row["propertyName"]: row["value"] for row in manifest}
    version = said.get("oneroster.version", "")
    faults = []
    if version not in VERSIONS:
        found = f"oneroster.version is {shown(version)}"
        faults.append(Fault(str(path), f"{MANIFEST}.csv", found, " or ".join(VERSIONS)))
    for name in (USERS, CLASSES, ENROLLMENTS):
        how = said.get(f"file.{name}", "absent")
        if how != "bulk":
            found = f"file.{name} is {shown(how)}"
            faults.append(Fault(str(path), f"{MANIFEST}.csv", found, "bulk: a whole export"))
    if faults:
        raise FileError(faults)
    return version


def _rows(path: Path, name: str) -> list[dict[str, str]]:
    """Return the rows of one file of an export, without those that are no longer so.

    Each has the columns that are read, and "" for those that may be absent and are.

    Raises:
        FileError: where it can't be read, or lacks a column.
    """
    called = f"{name}.csv"
    try:
        text = _part(path, called).decode(TEXT)
        header, *rows = _table(text)
    except (KeyError, FileNotFoundError) as error:
        raise _fault(path, called, "it is not there") from error
    except TooLarge as error:
        raise _fault(path, called, "it is too large") from error
    except UnicodeDecodeError as error:
        raise _fault(path, called, "it is not in UTF-8") from error
    except (csv.Error, zipfile.BadZipFile, zlib.error, EOFError, RuntimeError) as error:
        raise _fault(path, called, f"it can't be read: {error}") from error
    except ValueError as error:
        raise _fault(path, called, str(error)) from error
    except OSError as error:
        raise _fault(path, called, error.strerror or "it can't be read") from error
    places = {heading.strip(): place for place, heading in enumerate(header)}
    if missing := [one for one in _NEEDED[name] if one not in places]:
        raise _fault(path, called, f"it has no column {missing[0]}")
    wanted = (*_NEEDED[name], *_MORE.get(name, ()))
    found = [{one: _cell(row, places.get(one)) for one in wanted} for row in rows if any(row)]
    return [row for row in found if row.get("status") != GONE]


def _cell(row: Sequence[str], place: int | None) -> str:
    """Return what stands in a cell, "" where there is none or it can't be shown."""
    return cell_read(row[place]) if place is not None and place < len(row) else ""


def _table(text: str) -> Iterator[list[str]]:
    """Yield the header and the rows of a table.

    Raises:
        ValueError: where it is empty, or has too many rows.
    """
    count = 0
    for count, row in enumerate(csv.reader(io.StringIO(text, newline="")), 1):
        if count > MOST_ROWS:
            raise ValueError(f"it has more than {MOST_ROWS} rows")
        yield row
    if not count:
        raise ValueError("it is empty")


def _part(path: Path, called: str) -> bytes:
    """Return the bytes of a file of an export.

    Raises:
        KeyError: where a zip has no such file.
        TooLarge, OSError, BadZipFile: where it can't be read.
    """
    if path.is_dir():
        return read_plain(path / called, LARGEST_PART, linked=True)
    with open_plain(path, linked=True) as file, _zip(path, file) as packed:
        if packed.getinfo(called).compress_type not in _PACKED:
            raise zipfile.BadZipFile("it is packed in an unusual way")
        with packed.open(called) as part:
            data = part.read(LARGEST_PART + 1)  # whatever size the zip says that it has
    if len(data) > LARGEST_PART:
        raise TooLarge
    return data


def _zip(path: Path, file: BinaryIO) -> zipfile.ZipFile:
    """Return what an open file has packed.

    Raises:
        FileError: where it is no zip, or not a whole one.
    """
    try:
        return zipfile.ZipFile(file)
    except zipfile.BadZipFile as error:
        raise _fault(path, "", "it is no zip, or not a whole one") from error


def _fault(path: Path, called: str, found: str) -> FileError:
    return FileError([Fault(str(path), called, found, _EXPORT)])


def students_twice(export: Export, classes: Sequence[ExportedClass]) -> tuple[str, ...]:
    """Return the names of the students who are in several of some classes."""
    chosen = {one.sourced_id for one in classes}
    return tuple(one.name for one in export.students if len(chosen & {*one.classes}) > 1)


def roster_text(export: Export, classes: Sequence[ExportedClass], column: str) -> str:
    """Return the students of some classes as the table of a roster: ids, names and sections.

    Args:
        export: what the students are in.
        classes: those that are to be on the roster, of which no student is in two.
        column: the column of people that has the ids.
    """
    sections = {one.sourced_id: one.called for one in classes}
    written = io.StringIO()
    table = table_writer(written)
    table.writerow((RosterColumns.id, *RosterColumns.name, SECTION))
    for one in sorted(export.students, key=lambda one: same_student(one.ids[column])):
        for key in one.classes:
            if key in sections:
                table.writerow(map(cell, (one.ids[column], one.name, sections[key])))
    return written.getvalue()
