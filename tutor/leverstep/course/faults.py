"""Reading a TOML file key by key, with every fault kept instead of the first one raised."""

from __future__ import annotations

import logging
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from textwrap import dedent
from typing import Any, TypeGuard

from leverstep.course.plain_text import cut, is_one_column, near, plain, shown, spaced

_log = logging.getLogger(__name__)

Table = dict[str, Any]
"""A TOML table as `tomllib` gives it, with decimals as exact fractions."""

LARGEST = 10**9
"""The largest number that a file may hold; none of a course comes near it."""

LONGEST_FOUND, LONGEST_EXPECTED = 200, 1000
"""Characters of what was found and of what was expected, where an author's words are part of it."""

LONGEST_LINE, LONGEST_TEXT = 1000, 10_000
"""Characters of a text on one line, and of one that may run over several."""

OURS = "leverstep fails over this file, which is a fault of leverstep"
"""What is found where a file of an author meets a fault of the program."""

_MEASURED = re.compile(r"\s*(\d+(?:\.\d+)?)\s*([^\W\d_][^\s\"]*)\s*")
"""A number with its unit, where a number alone was expected."""

_A_PICTURE = "a picture of some rows of characters"

MOST_FAULTS = 40
"""Faults of one file that are told, and for which a name is looked for that may be meant."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file: where, what was found, and what was expected."""

    file: str
    key: str
    found: str
    expected: str

    def __str__(self) -> str:
        place = f"{self.file}: {self.key}: " if self.key else f"{self.file}: "
        return plain(f"{place}{self.found}; expected {self.expected}")


class FileError(Exception):
    """A file that cannot be used, with all its faults."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


@contextmanager
def failing_as_fault(called: str, *others: type[Exception]) -> Iterator[None]:
    """Tell whatever is raised over the file of an author as a fault of that file alone.

    The fault is ours, and goes to the log.

    Args:
        called: what the file is called in its faults.
        others: what else may be raised, and means something.

    Raises:
        FileError: in place of whatever has no meaning.
    """
    try:
        yield
    except Exception as error:
        if isinstance(error, (FileError, *others)):
            raise
        _log.exception("%s can't be worked with", called)
        expected = "the same said in a simpler way, until that is mended"
        raise FileError([Fault(called, "", OURS, expected)]) from error


def told(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the first faults of a file, and how many more there are."""
    more = len(faults) - MOST_FAULTS
    if more < 1:
        return tuple(faults)
    last = Fault(faults[0].file, "", f"and {more} more", "those above to be mended first")
    return (*faults[:MOST_FAULTS], last)


def unreadable(error: Exception) -> str:
    """Return why a file can't be read; a file of nearly that name beside it is named."""
    if isinstance(error, FileNotFoundError):
        return f"there is no such file{_beside(Path(error.filename))}"
    if isinstance(error, IsADirectoryError):
        return "it is a folder"
    if isinstance(error, UnicodeError):
        return "it is not written in UTF-8"
    return getattr(error, "strerror", None) or str(error)


def _beside(path: Path) -> str:
    """Return a question for the file of nearly that name in the same folder, "" for none."""
    try:
        others = [other for other in path.parent.iterdir() if other.suffix == path.suffix]
    except OSError:
        return ""
    return near(path.name, [other.name for other in others if near(path.stem, [other.stem])])


@dataclass
class Reader:
    """One table of a file: gives each key once, and knows which were never asked for.

    Of those asked for, `lists` are the ones that hold several tables.
    """

    file: str
    table: Table
    faults: list[Fault] = field(default_factory=list)
    path: str = ""
    asked: set[str] = field(default_factory=set)
    lists: set[str] = field(default_factory=set)

    def fault(self, key: str, found: str, expected: str) -> None:
        """Note a fault at a key of this table ("" for the table itself)."""
        place, found = cut(self.at(key), LONGEST_FOUND), cut(found, LONGEST_FOUND)
        self.faults.append(Fault(self.file, place, found, cut(expected, LONGEST_EXPECTED)))

    def near(self, word: str, names: Iterable[str]) -> str:
        """Return what `near` does, but nothing after so many faults that none is told any more."""
        return near(word, names) if len(self.faults) < MOST_FAULTS else ""

    def at(self, key: str) -> str:
        """Return the full place of a key of this table."""
        return f"{self.path}.{key}" if self.path and key else (self.path or key)

    def has(self, key: str) -> bool:
        """Return whether the table has a key, without counting it as asked for."""
        return key in self.table

    def _get(self, key: str, expected: str, needed: bool) -> Any:
        self.asked.add(key)
        if key not in self.table and needed:
            self.fault(key, "missing", expected)
        return self.table.get(key)

    def text(
        self, key: str, default: str | None = None, expected: str = "a text", long: bool = False
    ) -> str:
        """Return a text; a fault and "" where it is missing without a default, or is no text.

        Only a `long` one may run over several lines.
        """
        value = self._get(key, expected, default is None)
        if value is None:
            return default or ""
        if not isinstance(value, str) or not value.strip():
            self.fault(key, f"found {shown(value)}", expected)
            return default or ""
        return self._checked(key, value, long) or default or ""

    def _checked(self, key: str, text: str, long: bool = False) -> str:
        """Return a text with ordinary spaces; a fault and "" where it is not plain or too long."""
        text, most = spaced(text).strip(), LONGEST_TEXT if long else LONGEST_LINE
        if not (text.replace("\n", "") if long else text).isprintable():
            self.fault(key, "found a control character", "plain text")
        elif len(text) > most:
            self.fault(key, f"found {len(text)} characters", f"at most {most}")
        else:
            return text
        return ""

    def choice(
        self, key: str, names: Collection[str], default: str | None = None, or_else: str = ""
    ) -> str:
        """Return one of `names`; `or_else` is what else the file may have there."""
        expected = _one_of(names) + (f", or {or_else}" if or_else else "")
        value = self.text(key, default, expected)
        if value and value not in names:
            self.fault(key, f"found {shown(value)}{self.near(value, names)}", expected)
            return default or next(iter(names))
        return value or default or next(iter(names))

    def flag(self, key: str, default: bool, expected: str = "true or false") -> bool:
        """Return true or false."""
        value = self._get(key, expected, False)
        if value is not None and not isinstance(value, bool):
            self.fault(key, f"found {shown(value)}", expected)
            return default
        return default if value is None else value

    def number(
        self, key: str, default: Fraction | None = None, expected: str = "a number"
    ) -> Fraction:
        """Return a number, exactly as written; 1 where there is none that could be used."""
        value = self._get(key, expected, default is None)
        usable = Fraction(1) if default is None else default
        if value is None:
            return usable
        if not is_number(value):
            measured = _MEASURED.fullmatch(value) if isinstance(value, str) else None
            apart = f', {key} = {measured[1]}, with unit = "{measured[2]}"' if measured else ""
            self.fault(key, f"found {shown(value)}", expected + apart)
            return usable
        if abs(value.numerator) > LARGEST * value.denominator:
            self.fault(key, f"found {shown(value)}", f"a number up to {LARGEST:g}")
            return usable
        return value if isinstance(value, Fraction) else Fraction(value)

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts; an empty one where the key is missing."""
        value = self._get(key, "a list of texts", False)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
            self.fault(key, f"found {shown(value)}", "a list of texts")
            return ()
        return tuple(self._checked(key, item) for item in value)

    def drawing(self, key: str, most: int, wide: int) -> tuple[str, ...]:
        """Return the rows of a small picture in characters, without a margin on its left.

        Args:
            key: where it stands.
            most: the most rows that it may have.
            wide: the most columns.
        """
        value = self._get(key, _A_PICTURE, True)
        if value is None:
            return ()
        rows = dedent(spaced(value)).strip("\n").split("\n") if isinstance(value, str) else []
        rows = [row.rstrip() for row in rows]
        size = max(map(len, rows), default=0)
        if not size:
            self.fault(key, f"found {shown(value)}", _A_PICTURE)
        elif not all(is_one_column(character) for row in rows for character in row):
            self.fault(key, "found a character that takes no column, or two", "plain characters")
        elif len(rows) > most or size > wide:
            found = f"found {len(rows)} rows of up to {size} characters"
            self.fault(key, found, f"at most {most} rows of {wide}")
        else:
            return tuple(rows)
        return ()

    def child(self, key: str, needed: bool = True, like: str = "") -> Reader | None:
        """Return the reader of a table within this one; `like` shows how it may be written."""
        expected = f"a table such as {like}" if like else "a table"
        value = self._get(key, expected, needed)
        if value is None:
            return None
        if isinstance(value, list) and any(isinstance(item, dict) for item in value):
            self.fault(key, f"found {len(value)} in a list", f"one, as [{self.at(key)}]")
            return None
        if not isinstance(value, dict):
            self.fault(key, f"found {shown(value)}", expected)
            return None
        return Reader(self.file, value, self.faults, self.at(key))

    def children(self, key: str, expected: str, most: int, needed: bool = True) -> list[Reader]:
        """Return the readers of a list of tables; a fault where one is `needed`, or too many."""
        self.lists.add(key)
        value = self._get(key, expected, needed)
        tables = _is_list_of_tables(value)
        if not (tables and value):
            if value is not None:
                self.fault(key, f"found {shown(value)}", expected)
            return []
        if len(value) > most:
            self.fault(key, f"found {len(value)}", f"at most {most}")
        return [
            Reader(self.file, item, self.faults, f"{self.at(key)}[{place}]")
            for place, item in enumerate(value[:most], 1)
        ]

    def finish(self, meant: Mapping[str, str] | None = None) -> None:
        """Note every key that was never asked for; `meant` says what is often meant by some."""
        for key in self.table:
            if key not in self.asked:
                known = f" (did you mean {meant[key]}?)" if meant and key in meant else ""
                found = f"unknown key{known or self._near_key(key)}"
                self.fault(key, found, _one_of(sorted(self.asked)))

    def _near_key(self, key: str) -> str:
        """Return which key may be meant by one, if possible one that holds the same form."""
        is_list = _is_list_of_tables(self.table[key])
        alike = self.lists if is_list else self.asked - self.lists
        return self.near(key, alike) or self.near(key, self.asked)


def _is_list_of_tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) for item in value)


def is_number(value: object) -> TypeGuard[int | Fraction]:
    """Return whether a value of a file is a number: true and false are none."""
    return isinstance(value, int | Fraction) and not isinstance(value, bool)


def _one_of(names: Collection[str]) -> str:
    return "one of " + ", ".join(f'"{name}"' for name in names)
