"""A record that is followed while it grows: only what was added to it is read."""

from __future__ import annotations

import os
from pathlib import Path

from leverstep.bench.contents import LONGEST_LINE, contents
from leverstep.bench.record import LARGEST_RECORD, TOO_LARGE
from leverstep.bench.record_lines import DrillBegun, RecordLine, Statement
from leverstep.course.plain_files import open_plain

NO_RECORD, NOT_BEGUN = "it holds no record of a drill", "its first line is not whole yet"


class GrowingRecord:
    """A file that is looked at again and again, and what it holds as far as that is a record.

    `lines` are its whole lines so far: one that is cut in the middle is waited for. `beginnings` is
    how often it was begun, anew where other lines stand there than before. `odd` is a clause that
    says what is wrong with its lines, `trouble` why it can't be read at all; "" where all is well.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.lines: list[RecordLine] = []
        self.beginnings = 0
        self.odd = ""
        self.trouble = ""
        self._begin()
        self._sign: tuple[int, int] | None = None

    def _begin(self) -> None:
        """Hold nothing of it any more."""
        self.lines.clear()
        self.beginnings += 1
        self.odd = self._link = ""
        self._size = 0
        self._end = b""

    @property
    def is_record(self) -> bool:
        """Return whether it is a record of a drill."""
        return bool(self.lines) and isinstance(self.lines[0], DrillBegun)

    @property
    def _is_statement(self) -> bool:
        """Return whether it is what marking wrote, which ends like a record and is none."""
        return bool(self.lines) and isinstance(self.lines[0], Statement)

    def look(self) -> None:
        """Read what was added since it was looked at last."""
        try:
            found = os.stat(self.path, follow_symlinks=False)
            sign = found.st_size, found.st_mtime_ns
            if sign != self._sign:
                self._read(found.st_size)
            self._sign = sign
        except OSError as error:
            self.trouble, self._sign = error.strerror or "it can't be read", None

    def _read(self, size: int) -> None:
        """Take the whole lines behind those that are known, or all where these are there no more.

        Of a file that does not begin as a record only the first line is read.
        """
        self.trouble = TOO_LARGE if size > LARGEST_RECORD else ""
        if self.trouble:
            return
        with open_plain(self.path) as file:
            file.seek(self._size - len(self._end))
            if file.read(len(self._end)) != self._end:
                self._begin()
                file.seek(0)
            if not self.lines:
                self._take(file.readline(LONGEST_LINE + 1))
            if self.is_record:
                self._take(file.read(LARGEST_RECORD - self._size))
        if not self.is_record and not self._is_statement:
            self.trouble = NO_RECORD if self._size else NOT_BEGUN

    def _take(self, data: bytes) -> None:
        """Take the whole lines of what stands behind those that are known."""
        found = contents(data, after=self._link)
        if not found.size:
            return
        self.lines += found.lines
        self.odd = self.odd or (found.remarks[0] if found.breaks else "")
        self._link = found.links[-1] if found.links else self._link
        self._size += found.size
        self._end = data[data.rfind(b"\n", 0, found.size - 1) + 1 : found.size]
