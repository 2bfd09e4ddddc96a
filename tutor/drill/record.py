"""The record of a sitting: a file of JSON lines that only ever grows.

Each line is written with one call, its length checked, and flushed to the disk before anything is
made of it. A last line that was cut short is no line.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

LONGEST_LINE = 10_000
"""Bytes of one line; an entry has at most some hundreds."""

LARGEST_RECORD = 5_000_000
"""Bytes of one record that will be read."""


class RecordError(Exception):
    """A record that cannot be written or read, with a sentence that says why."""


class Record:
    """One record, open for appending."""

    def __init__(self, path: Path) -> None:
        self.path = path

    @classmethod
    def create(cls, path: Path, first: Mapping[str, object]) -> Record:
        """Create a record that must not exist yet, with its first line.

        Raises:
            RecordError: where the folder cannot be written.
        """
        record = cls(path)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except OSError as error:
            raise RecordError(_reason(path, error)) from error
        try:
            record.append(first)
        except RecordError:
            with suppress(OSError):
                path.unlink()
            raise
        return record

    def append(self, line: Mapping[str, object]) -> None:
        """Add one line and wait until it is on the disk.

        Raises:
            RecordError: where it could not be written whole; the record is then as before.
        """
        data = (json.dumps(line, ensure_ascii=True, sort_keys=True) + "\n").encode()
        if len(data) > LONGEST_LINE:
            raise RecordError(f"{self.path}: the line is too long to be kept")
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


def _write(descriptor: int, data: bytes) -> int:
    return os.write(descriptor, data)


def _reason(path: Path, error: OSError) -> str:
    return f"{path}: {error.strerror or 'cannot be written'}"


def read_record(path: Path) -> list[dict[str, object]]:
    """Return the whole lines of a record; lines that are no JSON object are left out.

    Raises:
        RecordError: where the file cannot be read or is too large.
    """
    try:
        if path.stat().st_size > LARGEST_RECORD:
            raise RecordError(f"{path}: too large for a record")
        data = path.read_bytes()
    except OSError as error:
        raise RecordError(_reason(path, error)) from error
    lines: list[dict[str, object]] = []
    for piece in data.split(b"\n")[:-1]:
        if len(piece) > LONGEST_LINE:
            continue
        try:
            line = json.loads(piece)
        except (ValueError, RecursionError):
            continue
        if isinstance(line, dict):
            lines.append(line)
    return lines


def mend_tail(path: Path) -> None:
    """Cut off a last line that was never finished, so that the next one starts on its own.

    Raises:
        RecordError: where the file cannot be changed.
    """
    try:
        data = path.read_bytes()
        whole = data.rfind(b"\n") + 1
        if whole != len(data):
            os.truncate(path, whole)
    except OSError as error:
        raise RecordError(_reason(path, error)) from error
