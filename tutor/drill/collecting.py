"""Collecting records from folders and marking them, with any executor and always in one order."""

from __future__ import annotations

import hashlib
import itertools
import os
from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from pathlib import Path

from tutor.drill.drill import Counts, Drill, same_student
from tutor.drill.marking import Marked, mark_record, unmarked
from tutor.drill.record import RecordError, first_of, read_bytes

CHUNK = 16
"""Records that are marked by one job."""

AHEAD = 2 * (os.cpu_count() or 1) + 2
"""Jobs that wait for each other, so that memory does not grow with the number of records."""


@dataclass(frozen=True, slots=True)
class Found:
    """A record found: where it lies, what it is called, whose it is, and what is wrong with it."""

    path: Path
    name: str
    student: str
    begun: str
    trouble: str = ""


@dataclass(frozen=True)
class Student:
    """What one student did: the sitting that counts, all sittings, and remarks on them."""

    id: str
    name: str
    counted: Marked | None
    sittings: tuple[Marked, ...]
    remarks: tuple[str, ...]


def find_records(paths: Iterable[Path]) -> list[Found]:
    """Return the records of some folders and files, by student and time; copies are left out."""
    alike: dict[bytes, list[Found]] = {}
    for name, path in sorted(_files(paths)):
        one, head = _look_into(path, name)
        alike.setdefault(head, []).append(one)
    found = alike.pop(b"", []) + [one for head in sorted(alike) for one in _distinct(alike[head])]
    return sorted(found, key=lambda one: (same_student(one.student), one.begun))


def _files(paths: Iterable[Path]) -> Iterator[tuple[str, Path]]:
    """Yield the files named and those of the folders named, each with what it is called."""
    for path in paths:
        if path.is_dir():
            inside = (file for file in path.rglob("*.jsonl") if os.path.isfile(file))
            yield from ((file.relative_to(path).as_posix(), file) for file in inside)
        else:
            yield path.name, path


def _look_into(path: Path, name: str) -> tuple[Found, bytes]:
    """Return a record with its owner, and a digest of its first line, which a copy has too."""
    try:
        data = read_bytes(path)
    except RecordError as error:
        return Found(path, name, "", "", str(error).replace(str(path), name)), b""
    first = first_of(data)
    student, begun = str(first.get("student", "")), str(first.get("time", ""))
    head = data.partition(b"\n")[0]
    return Found(path, name, student, begun), head and hashlib.sha256(head).digest()


def _distinct(alike: list[Found]) -> list[Found]:
    """Return records that begin alike, without copies and those that another one goes on from."""
    if len(alike) == 1:
        return alike
    kept: dict[bytes, Found] = {}
    for one in alike:
        data = _read(one)[1]
        lines = data[: data.rfind(b"\n") + 1]
        if not any(other.startswith(lines) for other in kept):
            kept = {other: found for other, found in kept.items() if not lines.startswith(other)}
            kept[lines] = one
    return [kept[lines] for lines in sorted(kept)]


def mark_all(drill: Drill, records: Iterable[Found], executor: Executor) -> Iterator[Marked]:
    """Yield each record marked, in the order given, by jobs of an executor.

    Args:
        drill: what they are marked against.
        records: where they lie; each is read when its turn comes, so that few are held at once.
        executor: any executor of `concurrent.futures`.
    """
    remaining = iter(records)
    waiting: deque[Future[list[Marked]]] = deque()
    while True:
        chunk = list(itertools.islice(remaining, CHUNK))
        if chunk:
            waiting.append(executor.submit(mark_some, drill, [_read(found) for found in chunk]))
        if not waiting:
            return
        if not chunk or len(waiting) >= AHEAD:
            yield from waiting.popleft().result()


def _read(found: Found) -> tuple[str, bytes, str]:
    """Return the name of a record, its bytes, and why there are none."""
    if found.trouble:
        return found.name, b"", found.trouble
    try:
        return found.name, read_bytes(found.path), ""
    except RecordError as error:
        return found.name, b"", str(error).replace(str(found.path), found.name)


def mark_some(drill: Drill, records: list[tuple[str, bytes, str]]) -> list[Marked]:
    """Return some records marked: each its name, its bytes, and why there are none."""
    return [_mark(drill, *record) for record in records]


def _mark(drill: Drill, name: str, data: bytes, trouble: str) -> Marked:
    if trouble:
        return unmarked(drill, name, trouble)
    try:
        return mark_record(drill, name, data)
    except Exception as error:  # noqa: BLE001  (one record must not stop all the others)
        return unmarked(drill, name, f"it can't be marked: {type(error).__name__}: {error}")


def by_student(drill: Drill, marked: Iterable[Marked]) -> Iterator[Student]:
    """Yield each student with the sitting that counts; then those of the roster without any.

    Records come in the order of `find_records`. One that can't be marked has a student of its own,
    without an id.
    """
    met: set[str] = set()
    sittings: list[Marked] = []
    for one in marked:
        if not one.student:
            yield Student("", "", None, (one,), one.remarks)
            continue
        if sittings and same_student(sittings[0].student) != same_student(one.student):
            yield _student(drill, tuple(sittings))
            sittings = []
        met.add(same_student(one.student))
        sittings.append(one)
    if sittings:
        yield _student(drill, tuple(sittings))
    for student in sorted(drill.students, key=same_student):
        if same_student(student) not in met:
            yield Student(student, drill.students[student], None, (), ("no record",))


def _student(drill: Drill, sittings: tuple[Marked, ...]) -> Student:
    """Return a student with all sittings, and what is odd about them."""
    best = max(reversed(sittings), key=lambda one: one.total)  # the latest of those as good
    counted = best if drill.scheme.counts is Counts.BEST else sittings[-1]
    remarks = list(counted.remarks)
    for one in sittings:
        if one is not counted and one.remarks:
            remarks.append(f"another sitting: {'; '.join(one.remarks)}")
    if any(one.overlaps(other) for one, other in itertools.combinations(sittings, 2)):
        remarks.append("two sittings at the same time")
    if not counted.ended:
        remarks.append("not handed in")
    return Student(counted.student, counted.name, counted, sittings, tuple(remarks))
