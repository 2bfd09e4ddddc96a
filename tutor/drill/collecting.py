"""Collecting records from folders and marking them, with any executor and always in one order."""

from __future__ import annotations

import hashlib
import itertools
from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Executor, Future
from dataclasses import dataclass, replace
from pathlib import Path

from tutor.drill.drill import Counts, Drill, same_student
from tutor.drill.marking import Marked, mark_record
from tutor.drill.record import RecordError, contents, read_bytes

CHUNK = 16
"""Records that are marked by one job."""

AHEAD = 4
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
    """Return the records of some folders and files, by student and time.

    Copies are left out, and records that another one goes on from, in another folder.
    """
    files: list[tuple[str, Path]] = []
    for path in paths:
        if path.is_dir():
            inside = (file for file in path.rglob("*.jsonl") if file.is_file())
            files += [(file.relative_to(path).as_posix(), file) for file in inside]
        else:
            files.append((path.name, path))
    met: set[str] = set()
    found = []
    for name, path in sorted(files):
        one, digest = _look_into(path, name)
        if digest not in met:
            met.add(digest)
            found.append(one)
    found.sort(key=lambda one: (same_student(one.student), one.begun, one.name))
    groups = itertools.groupby(found, lambda one: (one.student, one.begun))
    return [one for _, same in groups for one in _longest(list(same))]


def _longest(found: list[Found]) -> Iterator[Found]:
    """Yield those of some records of one sitting that are not the beginning of another."""
    data = [_read(one)[1] if len(found) > 1 and not one.trouble else b"" for one in found]
    for one, mine in zip(found, data, strict=True):
        whole = mine[: mine.rfind(b"\n") + 1]
        if not whole or not any(other.startswith(whole) for other in data if other is not mine):
            yield one


def _look_into(path: Path, name: str) -> tuple[Found, str]:
    """Return a record with its owner, and a digest of it that is the same for a copy."""
    try:
        data = read_bytes(path)
    except RecordError as error:
        return Found(path, name, "", "", str(error).replace(str(path), name)), name
    lines = contents(data.split(b"\n", 1)[0] + b"\n").lines
    first = lines[0] if lines else {}
    student, begun = str(first.get("student", "")), str(first.get("time", ""))
    return Found(path, name, student, begun), hashlib.sha256(data).hexdigest()


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
    marked = []
    for name, data, trouble in records:
        one = mark_record(drill, name, data)
        marked.append(replace(one, remarks=(trouble,)) if trouble else one)
    return marked


def by_student(drill: Drill, marked: Iterable[Marked]) -> Iterator[Student]:
    """Yield each student with the sitting that counts; then those of the roster without any.

    Records come in the order of `find_records`. One that can't be marked has a student of its own,
    without an id.
    """
    met: set[str] = set()
    for student, sittings in itertools.groupby(marked, lambda one: same_student(one.student)):
        if not student:
            yield from (Student("", "", None, (one,), one.remarks) for one in sittings)
            continue
        met.add(student)
        yield _student(drill, tuple(sittings))
    for student in sorted(drill.students, key=same_student):
        if same_student(student) not in met:
            yield Student(student, drill.students[student], None, (), ("no record",))


def _student(drill: Drill, sittings: tuple[Marked, ...]) -> Student:
    """Return a student with all sittings, and what is odd about them."""
    last = max(sittings, key=lambda one: (one.begun, one.record))
    best = max(sittings, key=lambda one: (one.total, one.begun, one.record))
    counted = best if drill.scheme.counts is Counts.BEST else last
    remarks = list(counted.remarks)
    for one in sittings:
        if one is not counted and one.remarks:
            remarks.append(f"another sitting: {'; '.join(one.remarks)}")
    if any(one.overlaps(other) for one, other in itertools.combinations(sittings, 2)):
        remarks.append("two sittings at the same time")
    if not counted.ended:
        remarks.append("not handed in")
    return Student(counted.student, counted.name, counted, sittings, tuple(remarks))
