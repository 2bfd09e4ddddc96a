"""The record of a sitting: a file of JSON lines that only ever grows.

Each line is written with one call, its length checked, and flushed to the disk before anything is
made of it. A last line that was cut short is no line.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

LONGEST_LINE = 10_000
"""Bytes of one line; an entry has at most some hundreds."""

LARGEST_RECORD = 5_000_000
"""Bytes of one record that will be read."""


class RecordError(Exception):
    """A record that cannot be written or read, with a sentence that says why."""


@dataclass(frozen=True, slots=True)
class Contents:
    """What a record holds: its whole lines with the link of each, and what is wrong with it.

    `size` is the bytes up to the end of the last whole line.
    """

    lines: tuple[dict[str, object], ...]
    links: tuple[str, ...]
    remarks: tuple[str, ...]
    size: int


class Record:
    """One record, open for appending. Each line carries a link: a hash of it and all before it.

    All that is on the disk is held here too, so that it can go on elsewhere when the disk is gone.
    """

    def __init__(self, path: Path, link: str = "", data: bytes = b"") -> None:
        self.path = path
        self._link = link
        self._data = bytearray(data)

    @classmethod
    def create(cls, path: Path, first: Mapping[str, object]) -> Record:
        """Create a record that must not exist yet, with its first line.

        Raises:
            RecordError: where the folder cannot be written.
        """
        record = cls(path)
        record._begin(lambda: record.append(first))
        return record

    def copied(self, path: Path) -> Record:
        """Create a record at another path that goes on from this one.

        Raises:
            RecordError: where it cannot be written whole.
        """
        record = Record(path, self._link)
        record._begin(lambda: record._add(bytes(self._data)))
        return record

    def _begin(self, write: Callable[[], None]) -> None:
        """Make the file and have its first bytes written; leave none that is not whole."""
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            os.close(os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except OSError as error:
            raise RecordError(_reason(self.path, error)) from error
        try:
            write()
        except RecordError:
            with suppress(OSError):
                self.path.unlink()
            raise

    @classmethod
    def reopen(cls, path: Path) -> Record:
        """Open a record to go on with; a last line that was cut short is taken off.

        Raises:
            RecordError: where the file cannot be read or changed.
        """
        data = read_bytes(path)
        found = contents(data)
        try:
            if path.stat().st_size != found.size:
                os.truncate(path, found.size)
        except OSError as error:
            raise RecordError(_reason(path, error)) from error
        return cls(path, found.links[-1] if found.links else "", data[: found.size])

    def append(self, line: Mapping[str, object]) -> None:
        """Add one line and wait until it is on the disk.

        Raises:
            RecordError: where it could not be written whole; the record is then as before.
        """
        link = link_of(self._link, line)
        data = (_canonical({**line, "link": link}) + "\n").encode()
        if len(data) > LONGEST_LINE:
            raise RecordError(f"{self.path}: the line is too long to be kept")
        self._add(data)
        self._link = link

    def _add(self, data: bytes) -> None:
        """Put bytes at the end of the file, all or none of them."""
        try:
            descriptor = os.open(self.path, os.O_WRONLY | os.O_APPEND | getattr(os, "O_BINARY", 0))
        except OSError as error:
            raise RecordError(_reason(self.path, error)) from error
        try:
            size = os.fstat(descriptor).st_size
            try:
                if _write(descriptor, data) != len(data):
                    raise RecordError(f"{self.path}: the disk is full")
                os.fsync(descriptor)
            except (OSError, RecordError):
                os.ftruncate(descriptor, size)
                raise
        except OSError as error:
            raise RecordError(_reason(self.path, error)) from error
        finally:
            os.close(descriptor)
        self._data += data


def link_of(before: str, line: Mapping[str, object]) -> str:
    """Return the link of a line: the SHA-256 of the link before it and of what it holds."""
    return hashlib.sha256((before + _canonical(line)).encode()).hexdigest()


def _canonical(line: Mapping[str, object]) -> str:
    return json.dumps(line, ensure_ascii=True, sort_keys=True)


def _write(descriptor: int, data: bytes) -> int:
    return os.write(descriptor, data)


def _reason(path: Path, error: OSError) -> str:
    return f"{path}: {error.strerror or 'cannot be written'}"


def read_record(path: Path) -> list[dict[str, object]]:
    """Return the whole lines of a record; lines that are no JSON object are left out.

    Raises:
        RecordError: where the file cannot be read or is too large.
    """
    return list(contents(read_bytes(path)).lines)


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a record.

    Raises:
        RecordError: where the file cannot be read or is too large.
    """
    try:
        if path.stat().st_size > LARGEST_RECORD:
            raise RecordError(f"{path}: too large for a record")
        return path.read_bytes()
    except OSError as error:
        raise RecordError(_reason(path, error)) from error


def contents(data: bytes) -> Contents:
    """Return what the bytes of a record hold, with a remark on each thing that is wrong."""
    lines: list[dict[str, object]] = []
    links: list[str] = []
    remarks: list[str] = []
    link = ""
    *pieces, rest = data.split(b"\n")
    for number, piece in enumerate(pieces, 1):
        line = _line(piece)
        if line is None:
            remarks.append(f"line {number} can't be read")
            continue
        said = line.pop("link", None)
        if said != link_of(link, line):
            remarks.append(f"line {number} does not follow from those before it")
        link = said if isinstance(said, str) else ""
        lines.append(line)
        links.append(link)
    if rest:
        remarks.append("its last line was cut short")
    return Contents(tuple(lines), tuple(links), tuple(remarks), len(data) - len(rest))


def _line(piece: bytes) -> dict[str, object] | None:
    if len(piece) > LONGEST_LINE:
        return None
    try:
        line = json.loads(piece)
    except (ValueError, RecursionError):
        return None
    return line if isinstance(line, dict) else None
