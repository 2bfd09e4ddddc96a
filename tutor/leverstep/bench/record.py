"""The record of a sitting: a file of JSON lines that only ever grows.

Each line is written with one call, its length checked, and flushed to the disk before anything is
made of it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from leverstep.bench.alone import alone
from leverstep.bench.contents import LONGEST_LINE, Contents, contents, link_of, written
from leverstep.bench.record_lines import (
    AwayLine,
    ClockLine,
    DrillBegun,
    EndLine,
    Fields,
    RecordLine,
    ResumedLine,
    fields_of,
)
from leverstep.bench.sealing import LineKey, forget_key, keep_key, key_kept, of_beginning
from leverstep.course.places import path_typed
from leverstep.course.plain_files import (
    UNFOLLOWED,
    TooLarge,
    open_plain,
    read_plain,
    refuse_unplain,
)
from leverstep.course.sharing import close, flush, flush_folder, make_folder, write_whole

LARGEST_RECORD = 5_000_000
"""Bytes of one record that will be read, and so that will be written."""

TOO_LARGE = "too large for a record"

_KEPT_FREE: Mapping[type[RecordLine], int] = {
    EndLine: 0,
    ResumedLine: LONGEST_LINE,
    AwayLine: LONGEST_LINE,
    ClockLine: 2 * LONGEST_LINE,
}
_FREE_AFTER_WORK = 3 * LONGEST_LINE
"""Bytes that a line of a kind leaves free, and any other line: a full record can be gone on with
and handed in all the same, however long its clock has run."""


class RecordError(Exception):
    """A record that cannot be written or read, with a sentence that says why."""


class NeverKept(RecordError):
    """A line that no try will put into this record: it is too long, or the record is full."""


class ChangedOutside(RecordError):
    """A record that has grown since it was opened, so that nothing may be added here."""


def folder_named(typed: str) -> Path:
    """Return the folder that somebody names for a record.

    Raises:
        RecordError: where there is none.
    """
    folder = path_typed(typed)
    if not os.path.isdir(folder):
        raise RecordError(f"there is no folder {folder}")
    return folder


class Record:
    """One record, open for appending. Each line carries a link: a hash of it and all before it."""

    def __init__(
        self,
        path: Path,
        link: str = "",
        data: bytes = b"",
        reckoned: str | None = None,
        key: LineKey | None = None,
    ) -> None:
        """Take what stands there; `key` is that of the next line, None where it is not sealed."""
        self.path = path
        self.key = key
        self._link = link
        self._reckoned = link if reckoned is None else reckoned
        self._data = bytearray(data)
        self._torn: int | None = None

    @property
    def reckoned(self) -> str:
        """Return the link of the last line as it follows from all that stands there."""
        return self._reckoned

    @property
    def is_there(self) -> bool:
        """Return whether the file holds all that was put into it, still or again."""
        try:
            return read_bytes(self.path).startswith(bytes(self._data))
        except RecordError:
            return False

    @classmethod
    def create(cls, path: Path, first: RecordLine, key: LineKey | None = None) -> Record:
        """Create a record that must not exist yet, with its first line; sealed where it has a key.

        Raises:
            RecordError: where it could not be written whole; no file is left then.
        """
        fields = _fields(first, key)
        link = link_of("", fields)
        data = _bytes_of(path, fields, link)
        _write_new(path, data)
        record = cls(path, link, data, key=key)
        record._hash_on(first)
        return record

    def copied(self, path: Path) -> Record:
        """Create a record at another path that goes on from this one.

        What is kept is held in memory too, so that this works where the old place is gone.

        Raises:
            RecordError: where it could not be written whole; no file is left then.
        """
        _write_new(path, bytes(self._data))
        if self.key is not None:
            keep_key(path, self.key)
            forget_key(self.path)
        return Record(path, self._link, bytes(self._data), self._reckoned, self.key)

    @classmethod
    def reopen(cls, path: Path) -> Record:
        """Open a record to go on with; a last line that was cut short is taken off.

        Raises:
            RecordError: where the file cannot be read or changed.
        """
        data = read_bytes(path)
        found = contents(data)
        link, reckoned = (links[-1] if links else "" for links in (found.links, found.reckoned))
        record = cls(path, link, data[: found.size], reckoned, key_of_next(path, found))
        if found.size < len(data):
            with _opened(path) as descriptor:
                record._refuse_other(descriptor, len(data))
                os.ftruncate(descriptor, found.size)
        return record

    def append(self, line: RecordLine) -> None:
        """Add one line and wait until it is on the disk.

        Raises:
            NeverKept: where it is too long, or the record is full.
            RecordError: where it could not be written whole. The record is then as before, or is
                made so before the next line.
        """
        fields = _fields(line, self.key)
        link = link_of(self._link, fields)
        data = _bytes_of(self.path, fields, link)
        free = _KEPT_FREE.get(type(line), _FREE_AFTER_WORK)
        if len(self._data) + len(data) + free > LARGEST_RECORD:
            raise NeverKept(
                f"the record {self.path} is full: hand in, or end here and begin another"
            )
        reckoned = link if self._reckoned == self._link else link_of(self._reckoned, fields)
        with _opened(self.path) as descriptor:
            self._put(descriptor, data)
            # Before the file is closed: whatever fails there, the line is on the disk.
            self._data += data
            self._link, self._reckoned = link, reckoned
        self._hash_on(line)

    def _hash_on(self, line: RecordLine) -> None:
        """Forget the key of a line that is on the disk; behind the end nothing may be added."""
        if self.key is None:
            return
        self.key = self.key.next
        if isinstance(line, EndLine):
            forget_key(self.path)
        else:
            keep_key(self.path, self.key)

    def _put(self, descriptor: int, data: bytes) -> None:
        """Write a line, and take back what is there of it where it is not whole."""
        if self._torn is not None:
            os.ftruncate(descriptor, self._torn)
        self._refuse_other(descriptor, len(self._data))
        self._torn = len(self._data)
        try:
            flush(descriptor, data)
        except OSError:
            os.ftruncate(descriptor, self._torn)
            self._torn = None
            raise
        self._torn = None

    def _refuse_other(self, descriptor: int, size: int) -> None:
        """Do nothing where the file is as long as this program left or found it."""
        if os.fstat(descriptor).st_size != size:
            raise ChangedOutside(
                f"{self.path}: it was changed outside, perhaps in a second window: use only one"
            )


def _fields(line: RecordLine, key: LineKey | None) -> Fields:
    """Return what stands on a line without its link, sealed where there is a key."""
    return fields_of(line) if key is None else key.with_code(fields_of(line))


def key_of_next(path: Path, found: Contents) -> LineKey | None:
    """Return the key of the line that comes next in a record, by the key that is kept beside it.

    It is further ahead where lines are missing, and None where it is of another beginning.
    """
    begun = [line.sealed for line in found.lines if isinstance(line, DrillBegun | ResumedLine)]
    begun = [sealed for sealed in begun if sealed]
    kept = key_kept(path) if begun else None
    if kept is None or kept.of != of_beginning(begun[-1] or ""):
        return None
    return kept.ahead(len(found.reckoned))


def _bytes_of(path: Path, fields: Fields, link: str) -> bytes:
    """Return a line as it is written, where it is short enough to be kept."""
    data = written(fields, link)
    if len(data) > LONGEST_LINE:
        raise NeverKept(f"the line is too long to be kept in {path}")
    return data


def _write_new(path: Path, data: bytes) -> None:
    """Write a file that must not exist yet; leave none where it can't be written whole."""
    with _told(path):
        make_folder(path.parent)
        write_whole(path, data)
        flush_folder(path.parent)


@contextmanager
def _opened(path: Path) -> Iterator[int]:
    """Open a record to be added to, for this program alone."""
    with _told(path):
        descriptor = os.open(path, os.O_WRONLY | os.O_APPEND | UNFOLLOWED)
        try:
            refuse_unplain(path, os.fstat(descriptor).st_mode)
            with alone(descriptor):
                yield descriptor
        finally:
            close(descriptor)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Tell of a failure of the disk as one of the record."""
    try:
        yield
    except OSError as error:
        raise RecordError(f"{path}: {error.strerror or 'cannot be used'}") from error


def read_record(path: Path) -> tuple[RecordLine, ...]:
    """Return the whole lines of a record; lines that are no JSON object are left out.

    Raises:
        RecordError: where the file cannot be read or is too large.
    """
    return contents(read_bytes(path)).lines


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a record.

    Raises:
        RecordError: where the file cannot be read or is too large.
    """
    with _told(path):
        try:
            return read_plain(path, LARGEST_RECORD)
        except TooLarge as error:
            raise RecordError(f"{path}: {TOO_LARGE}") from error


@dataclass(frozen=True, slots=True)
class Head:
    """How a file begins: its first line, and the link that is reckoned for that.

    A file that begins with no whole line has a line of no kind, and "" for its link. `trouble` is a
    clause that says why the file as a whole is no record, "" where it may be one.
    """

    line: RecordLine
    link: str
    trouble: str


def head_of(path: Path) -> Head:
    """Return how a file begins, however long it is.

    Raises:
        RecordError: where the file cannot be read.
    """
    with _told(path), open_plain(path) as file:
        size = os.fstat(file.fileno()).st_size
        begins = contents(file.readline(LONGEST_LINE + 1))
    trouble = TOO_LARGE if size > LARGEST_RECORD else ""
    return Head(begins.first, begins.reckoned[0] if begins.reckoned else "", trouble)
