"""Collecting records from folders and marking them, with any executor and always in one order."""

from __future__ import annotations

import functools
import hashlib
import importlib
import itertools
import logging
import os
from collections import deque
from collections.abc import Collection, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

from leverstep.bench.record import Head, RecordError, head_of, read_bytes
from leverstep.bench.record_lines import DrillBegun, PracticeBegun, RecordLine, Statement
from leverstep.bench.seal_check import missing_at_end
from leverstep.course.phrases import counted
from leverstep.drill.codes import Noted
from leverstep.drill.drill import Counts, Drill, same_student
from leverstep.drill.seal_key import PrivateKey
from leverstep.marking.copies import Strand, distinct, strand_of
from leverstep.marking.counting import chosen, of_several_accounts
from leverstep.marking.excepted import by_hand, notes_on, numbers_changed
from leverstep.marking.marking import (
    Marked,
    RecordFile,
    code_reckoned,
    mark_record,
    owner,
    unmarked,
)
from leverstep.marking.odd_records import OTHER_VERSION
from leverstep.marking.practised import PractisedNumbers, practised_remarks
from leverstep.marking.seals import cut_told
from leverstep.slips.catalogue import Catalogue

_log = logging.getLogger(__name__)

CHUNK = 16
"""Records that are marked by one job."""

AHEAD, MOST_AHEAD = 64, 50_000_000
"""Jobs handed out before the first is waited for, and bytes of the records in them: enough for the
cores of a small cluster, and so few that memory does not grow with the number of records."""

NOT_HANDED_IN, NO_RECORD = "not handed in", "no record"
ATTENDANCE = frozenset([NOT_HANDED_IN, NO_RECORD])
"""Remarks on who sat the drill; all others are about what is odd."""


@dataclass(frozen=True, slots=True)
class Found:
    """A record found: where it lies, what it is called, whose it is, and what is wrong with it.

    `drill` is the id of the drill it is of, `digest` that of the drill's file. `account` is the one
    that its file belongs to, "" where the system does not tell; `before` are the records that it
    goes on from.
    """

    path: Path
    name: str
    student: str
    begun: str
    trouble: str = ""
    drill: str = ""
    digest: str = ""
    account: str = ""
    before: tuple[Found, ...] = ()

    @property
    def files(self) -> tuple[RecordFile, ...]:
        """Return its file, and those of the records that it goes on from."""
        return tuple(RecordFile(one.name, one.account) for one in (self, *self.before))


@dataclass(frozen=True, slots=True)
class Gathered:
    """What lies in some folders: the records, by student and time, and how much there is besides.

    `copies` are those of a record that is there, or only its beginning; `others` are no records.
    `practised` are those of practice among them all.
    """

    records: tuple[Found, ...]
    copies: int
    others: int
    practised: tuple[PractisedNumbers, ...] = ()

    def __str__(self) -> str:
        files = len(self.records) + self.copies + self.others
        told = [counted(files, "file"), counted(len(self.records), "record")]
        told += [counted(self.copies, "copy", "copies")] if self.copies else []
        told += [counted(self.others, "other")] if self.others else []
        return f"{told[0]}: {', '.join(told[1:])}."


@dataclass(frozen=True)
class Student:
    """What one student did: the sitting that counts, all sittings, and remarks on them.

    `notes` are what is otherwise than usual, and meant so: lateness and exceptions, with their
    reason. Who is `excused` has no sitting that counts, and is not missed.
    """

    id: str
    name: str
    counted: Marked | None
    sittings: tuple[Marked, ...]
    remarks: tuple[str, ...]
    notes: tuple[str, ...] = ()
    excused: bool = False

    @property
    def first(self) -> Marked | None:
        """Return the first sitting with entries, the one that counts where none has any."""
        return next((one for one in self.sittings if one.entries), self.counted)

    @property
    def codes(self) -> tuple[str, ...]:
        """Return the codes of the sittings that were handed in."""
        return tuple(one.code for one in self.sittings if one.code)


def gather(paths: Iterable[Path], keys: Sequence[PrivateKey] = ()) -> Gathered:
    """Return the records of some folders and files, without copies, and how many are none.

    By private `keys` of sealed drills a longer record is told from one that was written on by
    another hand. Of each file only the first line is read; those that begin alike are read to
    compare them.
    """
    named = tuple(path.absolute() for path in paths)  # whoever reads one may be elsewhere
    alike: dict[str, list[Found]] = {}
    looked = others = 0
    practised = []
    for name, path in sorted(_files(named)):
        head = _head_of(path)
        if isinstance(head.line, PracticeBegun):
            practised.append(PractisedNumbers.of(name, head.line))
        if path in named or _is_record(path, head):
            looked += 1
            alike.setdefault("" if head.trouble else head.link, []).append(_found(path, name, head))
        else:
            others += 1
    found = alike.pop("", []) + [
        one for head in sorted(alike) for one in _distinct(alike[head], keys)
    ]
    found.sort(key=lambda one: (same_student(one.student), one.begun))
    return Gathered(tuple(found), looked - len(found), others, tuple(practised))


def _files(paths: Iterable[Path]) -> Iterator[tuple[str, Path]]:
    """Yield the files named and those of the folders named, each with what it is called.

    What is no folder there is yielded too: a link, which is not followed, or a pipe.
    """
    for path in paths:
        if path.is_dir():
            inside = (f for f in path.rglob("*") if os.path.islink(f) or not os.path.isdir(f))
            yield from ((file.relative_to(path).as_posix(), file) for file in inside)
        else:
            yield path.name, path


def _head_of(path: Path) -> Head:
    """Return how a file begins; of one that can't be read, why."""
    try:
        return head_of(path)
    except RecordError as error:
        return Head(RecordLine(), "", _without(path, error))


def _without(path: Path, error: RecordError) -> str:
    """Return why a record can't be read, without its path: remarks call it by its name."""
    return str(error).removeprefix(f"{path}: ")


def _is_record(path: Path, head: Head) -> bool:
    """Return whether a file in a folder may be a record, by its ending or by its first line.

    Statements, which marking writes, end like records and are none.
    """
    is_statement = isinstance(head.line, Statement)
    return isinstance(head.line, DrillBegun) or (path.suffix == ".jsonl" and not is_statement)


def _found(path: Path, name: str, head: Head) -> Found:
    """Return a record with what its first line says of it, and with its owner."""
    if head.trouble:
        return Found(path, name, "", "", head.trouble)
    begun, account = head.line.time or "", _account_of(path)
    if not isinstance(head.line, DrillBegun):
        return Found(path, name, "", begun, account=account)
    drill, digest = head.line.drill or "", head.line.digest or ""
    return Found(path, name, head.line.student or "", begun, "", drill, digest, account)


def _account_of(path: Path) -> str:
    """Return the account that a file belongs to, "" where that is not told."""
    try:
        return _account(os.lstat(path).st_uid)
    except OSError:
        return ""


@functools.cache
def _account(number: int) -> str:
    """Return what an account is called, its number where it has no name; "" on Windows."""
    if os.name == "nt":
        return ""
    try:
        return str(importlib.import_module("pwd").getpwuid(number).pw_name)
    except KeyError:
        return str(number)


def _distinct(alike: Sequence[Found], keys: Sequence[PrivateKey]) -> list[Found]:
    """Return records that begin alike, without copies and those that another one goes on from."""
    if len(alike) == 1:
        return list(alike)
    read: dict[bytes, tuple[Found, Strand]] = {}
    for one in alike:
        data = _read(one)[1]
        lines = data[: data.rfind(b"\n") + 1]
        digest = hashlib.sha256(lines).digest()
        if lines and digest not in read:
            read[digest] = one, strand_of(lines, keys)
    kept = distinct(read.values())
    return [replace(one, before=tuple(before)) for one, before in kept.items()]


def shared_remarks(drill: Drill, records: Collection[Found]) -> tuple[str, ...]:
    """Return what is to be remarked on all records alike, so that it is said once.

    That is that all were taken with one other version of the drill's file.
    """
    digests = [found.digest for found in records if found.drill == drill.id]
    is_one = len(digests) > 1 and len(set(digests)) == 1
    return (OTHER_VERSION,) if is_one and digests[0] != drill.digest else ()


@dataclass(frozen=True, slots=True)
class MarkedBy:
    """What records are marked by: it goes along with each job of marking.

    So whatever process or machine does one needs neither the drill nor a folder of a teacher's own,
    but the records alone.
    """

    drill: Drill
    catalogue: Catalogue

    def __hash__(self) -> int:
        return hash((self.drill.digest, self.catalogue))


def mark_all(
    drill: Drill, catalogue: Catalogue, records: Iterable[Found], executor: Executor
) -> Iterator[Marked]:
    """Yield each record marked, in the order given, by jobs of an executor.

    Args:
        drill: what they are marked against.
        catalogue: the slips that are looked for.
        records: where they lie; each is read where and when its turn comes, and few are held at
            once.
        executor: any executor of `concurrent.futures`.
    """
    remaining, by = iter(records), MarkedBy(drill, catalogue)
    waiting: deque[_Job] = deque()
    ahead = 0
    while True:
        chunk = list(itertools.islice(remaining, CHUNK))
        if chunk:
            size = sum(map(_size_of, chunk))
            marked = executor.submit(mark_some, by, chunk)
            waiting.append(_Job(chunk, size, marked))
            ahead += size
        while waiting and (not chunk or len(waiting) >= AHEAD or ahead > MOST_AHEAD):
            job = waiting.popleft()
            ahead -= job.size
            for found, one in zip(job.records, job.marked.result(), strict=True):
                yield replace(one, files=found.files)
        if not chunk:
            return


@dataclass(frozen=True, slots=True)
class _Job:
    """Some records handed out to be marked, and how many bytes they have."""

    records: list[Found]
    size: int
    marked: Future[list[Marked]]


def _read(found: Found) -> tuple[str, bytes, str]:
    """Return the name of a record, its bytes, and why there are none."""
    if found.trouble:
        return found.name, b"", found.trouble
    try:
        return found.name, read_bytes(found.path), ""
    except RecordError as error:
        return found.name, b"", _without(found.path, error)


def _size_of(found: Found) -> int:
    """Return the bytes of a record, 0 where that can't be told; what is made of it is as large."""
    try:
        return os.lstat(found.path).st_size
    except OSError:
        return 0


def mark_some(by: MarkedBy, records: Iterable[Found]) -> list[Marked]:
    """Return some records marked; each is read here."""
    known = _known(by)
    return [_marked(known.drill, known.catalogue, found) for found in records]


def _marked(drill: Drill, catalogue: Catalogue, found: Found) -> Marked:
    """Return a record marked, with a remark where the key beside it shows that its end is gone."""
    name, data, trouble = _read(found)
    one = _mark(drill, catalogue, name, data, trouble)
    lost = missing_at_end(found.path, data) if drill.all_seals else 0
    return replace(one, remarks=(*one.remarks, cut_told(lost))) if lost else one


@functools.lru_cache(maxsize=2)
def _known(by: MarkedBy) -> MarkedBy:
    """Return the equal one that came with an earlier job: what is worked out for its problems is
    kept for these alone, and copies do not add up.
    """
    return by


def _mark(drill: Drill, catalogue: Catalogue, name: str, data: bytes, trouble: str) -> Marked:
    if trouble:
        return unmarked(drill, name, trouble)
    try:
        return mark_record(drill, catalogue, name, data)
    except Exception as error:  # noqa: BLE001  (one record must not stop all the others)
        _log.exception("The record %s can't be marked", name)
        fault = f"a fault of the program keeps it from being marked ({type(error).__name__})"
        return unmarked(drill, name, fault, owner(drill, data), code_reckoned(data))


def by_student(
    drill: Drill,
    marked: Iterable[Marked],
    shared: Collection[str] = (),
    noted: Noted | None = None,
) -> Iterator[Student]:
    """Yield each student with the sitting that counts; then those of the roster without any.

    Records come in the order of `gather`. One that can't be marked has a student of its own,
    without an id. Remarks that are `shared` by all records are left out. Where codes were `noted`,
    records that have them count alone, and what is odd about them is remarked on.
    """
    met: set[str] = set()
    records: list[Marked] = []
    for one in marked:
        if not one.student:
            yield Student("", "", None, (one,), one.remarks)
            continue
        if records and same_student(records[0].student) != same_student(one.student):
            yield _excepted(drill, _student(drill, tuple(records), shared, noted))
            records = []
        met.add(same_student(one.student))
        records.append(one)
    if records:
        yield _excepted(drill, _student(drill, tuple(records), shared, noted))
    for student in sorted(drill.students, key=same_student):
        if same_student(student) not in met:
            absent = Student(student, drill.students[student], None, (), (NO_RECORD,))
            yield _excepted(drill, _noted(absent, noted))


class Taker(Protocol):
    """Takes the students of a class one after the other, such as a table."""

    def add(self, student: Student) -> None:
        """Take a student."""


def mark_class(
    drill: Drill,
    catalogue: Catalogue,
    records: Iterable[Found],
    executor: Executor,
    takers: Sequence[Taker],
    shared: Collection[str] = (),
    noted: Noted | None = None,
    practised: Collection[PractisedNumbers] = (),
) -> None:
    """Mark records, and hand each student on to each of the takers, in their order.

    No student is kept, so that memory does not grow with the class. The arguments are those of
    `mark_all` and `by_student`; `practised` are the records of practice beside them.
    """
    marked = mark_all(drill, catalogue, records, executor)
    for found in by_student(drill, marked, shared, noted):
        odd = [told for one in found.sittings for told in practised_remarks(drill, one, practised)]
        student = replace(found, remarks=(*found.remarks, *dict.fromkeys(odd))) if odd else found
        for taker in takers:
            taker.add(student)


def _noted(student: Student, noted: Noted | None) -> Student:
    """Return a student with remarks on the codes that were noted."""
    if noted is None:
        return student
    odd = tuple(noted.remarks(student.id, student.codes))
    return replace(student, remarks=student.remarks + odd)


def _excepted(drill: Drill, student: Student) -> Student:
    """Return a student as exceptions have it, with what is told of them, and of lateness."""
    notes = tuple(notes_on(drill, student.id, student.counted))
    allowance = drill.allowance(student.id)
    if allowance is not None and allowance.excused:
        remarks = tuple(one for one in student.remarks if one not in ATTENDANCE)
        return replace(student, counted=None, notes=notes, remarks=remarks, excused=True)
    odd = tuple(numbers_changed(drill, student.id, student.counted))
    student = replace(student, remarks=student.remarks + odd) if odd else student
    marked = by_hand(drill, student.id, student.counted)
    if marked is student.counted or marked is None:
        return replace(student, notes=notes) if notes else student
    sittings = tuple(marked if one is student.counted else one for one in student.sittings)
    return replace(student, counted=marked, sittings=sittings, notes=notes)


def _student(
    drill: Drill, records: tuple[Marked, ...], shared: Collection[str], noted: Noted | None
) -> Student:
    """Return a student with all sittings, and what is odd about them and about other records."""
    failed = [one for one in records if not one.is_marked]
    told = [f"{one.record}: {remark}" for one in failed for remark in one.remarks]
    told += of_several_accounts(records)
    codes = () if noted is None else noted.of(records[0].student)
    sittings, aside = chosen([one for one in records if one.is_marked], codes)
    told = [*aside, *told]
    if not sittings:
        none = Student(records[0].student, records[0].name, None, records, tuple(told))
        return _noted(none, noted)
    found = _sat(drill.for_student(records[0].student), sittings, shared)
    return _noted(replace(found, remarks=(*found.remarks, *told)), noted)


def _sat(drill: Drill, sittings: tuple[Marked, ...], shared: Collection[str]) -> Student:
    """Return a student by the sittings that may count, and what is odd about these."""
    allowed = sittings[: drill.sittings]
    counted = allowed[-1]
    if drill.scheme.counts is Counts.BEST:  # the latest of those as good, handed in if one is
        counted = max(reversed(allowed), key=lambda one: (one.total, one.ended))
    elif handed_in := [one for one in allowed if one.ended]:
        counted = handed_in[-1]
    remarks = list(_unlike(counted, shared))
    for one in sittings:
        odd = _unlike(one, shared)
        if one is not counted and odd:
            remarks.append(f"another sitting: {'; '.join(odd)}")
    if any(one.overlaps(other) for one, other in itertools.combinations(sittings, 2)):
        remarks.append("two sittings at the same time")
    if len(allowed) < len(sittings):
        remarks.append(f"{len(sittings)} sittings, of which only the first {drill.sittings} count")
    if not counted.ended:
        remarks.append(NOT_HANDED_IN)
    return Student(counted.student, counted.name, counted, sittings, tuple(remarks))


def _unlike(one: Marked, shared: Collection[str]) -> tuple[str, ...]:
    return tuple(remark for remark in one.remarks if remark not in shared)
