"""The code of a sitting: what a student notes at its end, and marking compares.

It follows from what stands in every line of the record, not from the links that the lines bear.
Whoever changes, cuts or replaces a record after its code was noted gets another one.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from leverstep.course.plain_text import plain
from leverstep.drill.drill import same_student
from leverstep.drill.spreadsheet import rows_with

LETTERS = "34679ACFHJKMPRTWXY"
"""No two look alike in handwriting, and no E is among them, which spreadsheets read as a power."""

LENGTH = 8


def code_of(link: str) -> str:
    """Return the code of a record: `K7WM-3RXA`.

    Args:
        link: that of its last line, reckoned from all that stands there.
    """
    number = int(hashlib.sha256(f"code {link}".encode()).hexdigest(), 16)
    letters = ""
    for _ in range(LENGTH):
        number, place = divmod(number, len(LETTERS))
        letters += LETTERS[place]
    return _shown(letters)


def as_noted(typed: str) -> str:
    """Return a code that somebody wrote down as it is shown, in capitals and in two halves."""
    return _shown("".join(sign for sign in plain(typed).upper() if sign.isalnum()))


def _shown(letters: str) -> str:
    half = LENGTH // 2
    return "-".join(part for part in (letters[:half], letters[half:]) if part)


@dataclass
class Noted:
    """The codes that were noted, by id; knows whose were never asked for."""

    name: str
    _ids: Mapping[str, str]
    _codes: Mapping[str, Collection[str]]
    _met: set[str] = field(default_factory=set)

    def remarks(self, student: str, codes: Collection[str]) -> Iterator[str]:
        """Yield what is odd about the codes of a student's records that were handed in."""
        key = same_student(student)
        self._met.add(key)
        noted = self._codes.get(key, ())
        if codes and not noted:
            yield "no code was noted"
        if strange := [code for code in noted if code not in codes]:
            other = [code for code in codes if code not in noted]
            yield _match_none(strange) + (f"; {_of_records(other)}" if other else "")

    def of(self, student: str) -> Collection[str]:
        """Return the codes that were noted of a student."""
        return self._codes.get(same_student(student), ())

    @property
    def left(self) -> tuple[str, ...]:
        """Return the ids that have a code and that nobody asked for, as they were written."""
        return tuple(self._ids[key] for key in self._codes if key not in self._met)


def _match_none(codes: Collection[str]) -> str:
    """Return which codes match no record."""
    if len(codes) == 1:
        return f"the noted code {', '.join(codes)} matches no record"
    return f"the noted codes {', '.join(codes)} match no record"


def _of_records(codes: Collection[str]) -> str:
    """Return which codes the records of a student have."""
    if len(codes) == 1:
        return f"this record's code is {', '.join(codes)}"
    return f"these records' codes are {', '.join(codes)}"


def read_codes(path: Path) -> Noted:
    """Return the codes of a CSV file with the columns `id` and `code`.

    A student may stand there several times, once for each sitting; a row without a code is none.

    Raises:
        FileError: where there is no such table.
    """
    rows = rows_with(("id", "code"), path, "a CSV file with the columns id and code")
    ids: dict[str, str] = {}
    codes: dict[str, list[str]] = {}
    for row in rows:
        if code := as_noted(row["code"]):
            key = same_student(row["id"])
            ids.setdefault(key, plain(row["id"].strip()))
            codes.setdefault(key, []).append(code)
    return Noted(path.name, ids, codes)
