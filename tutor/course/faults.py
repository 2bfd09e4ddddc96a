"""Reading a TOML file key by key, with every fault kept instead of the first one raised."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any

Table = dict[str, Any]
"""A TOML table as `tomllib` gives it, with decimals as exact fractions."""

TEXT = "utf-8-sig"
"""How files of a course are read: UTF-8, also with the mark that some editors put before it."""

_LINE = re.compile(r"\(at line (\d+), column \d+\)$")
_VALUES = (
    'a key of one word, =, and one value such as 45, 0.02, true, "a text" or '
    "2027-03-01T09:00:00+01:00"
)

LARGEST = 10**9
"""The largest number that a file may hold; none of a course comes near it."""


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


def plain(text: str) -> str:
    """Return a text on one line and free of control signs."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else "?" for c in text)


def shown(value: object) -> str:
    """Return a value of a file for a message: short, on one line, and free of control signs."""
    try:
        text = plain(str(float(value)) if isinstance(value, Fraction) else repr(value))
    except ValueError:  # an integer of some thousand digits
        return "a number too long to show"
    return _cut(text)


def _cut(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


def near(word: str, names: Iterable[str]) -> str:
    """Return ` (did you mean "x"?)` for the name nearest to a word, or nothing."""
    close = difflib.get_close_matches(word, list(names), n=1, cutoff=0.6)
    return f' (did you mean "{close[0]}"?)' if close else ""


def unreadable(error: Exception) -> str:
    """Return why a file can't be read; a file of nearly that name beside it is named."""
    if isinstance(error, FileNotFoundError):
        return f"there is no such file{_beside(Path(error.filename))}"
    if isinstance(error, IsADirectoryError):
        return "it is a folder"
    if isinstance(error, UnicodeError):
        return "it is not written in UTF-8"
    return getattr(error, "strerror", None) or str(error)


def parsed(text: str, called: str, decimal: Callable[[str], Any]) -> Table:
    """Return the table that a text in TOML holds.

    Args:
        text: the text.
        called: what its file is called in a fault.
        decimal: what reads a decimal.

    Raises:
        FileError: where it is no TOML, with the line that can't be read.
    """
    try:
        return tomllib.loads(text, parse_float=decimal)
    except (ValueError, OverflowError, RecursionError) as error:
        raise FileError([Fault(called, "", *_no_toml(str(error), text))]) from error


def _no_toml(reason: str, text: str) -> tuple[str, str]:
    """Return what can't be read as TOML, and what was expected, from the reason of `tomllib`."""
    at = _LINE.search(reason)
    if at is None:
        if reason.endswith("(at end of document)"):
            last = text.rstrip().rpartition("\n")[2]
            return (
                f"it ends too early, after: {_cut(plain(last))}",
                'a value, or a closing ", """ or ]',
            )
        return reason, "a TOML file"
    number = int(at[1])
    line = plain(" ".join(text.split("\n")[number - 1].split()))
    if reason.startswith("Cannot"):
        expected = f"[{line}] for one more" if line.startswith("[") else "each key once"
        return f"line {number} names again what stands above: {_cut(line)}", expected
    found = f"line {number} can't be read: {_cut(line)}"
    if set(line) & set("“”„‘’"):
        return found, """straight quotes: " or '"""
    return found, _VALUES


def _beside(path: Path) -> str:
    """Return a question for the file of nearly that name in the same folder, "" for none."""
    try:
        others = [other for other in path.parent.iterdir() if other.suffix == path.suffix]
    except OSError:
        return ""
    return near(path.name, [other.name for other in others if near(path.stem, [other.stem])])


@dataclass
class Reader:
    """One table of a file: gives each key once, and knows which were never asked for."""

    file: str
    table: Table
    faults: list[Fault] = field(default_factory=list)
    path: str = ""
    asked: set[str] = field(default_factory=set)

    def fault(self, key: str, found: str, expected: str) -> None:
        """Note a fault at a key of this table ("" for the table itself)."""
        self.faults.append(Fault(self.file, self.at(key), found, expected))

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
        if not (value.replace("\n", "") if long else value).isprintable():
            self.fault(key, "found a control character", "plain text")
            return default or ""
        return value.strip()

    def choice(self, key: str, names: Collection[str], default: str | None = None) -> str:
        """Return one of `names`."""
        value = self.text(key, default, _one_of(names))
        if value and value not in names:
            self.fault(key, f"found {shown(value)}{near(value, names)}", _one_of(names))
            return default or next(iter(names))
        return value or default or next(iter(names))

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        value = self._get(key, "true or false", False)
        if value is not None and not isinstance(value, bool):
            self.fault(key, f"found {shown(value)}", "true or false")
            return default
        return default if value is None else value

    def number(self, key: str, default: Fraction | None = None) -> Fraction:
        """Return a number, exactly as written; 1 where there is none that could be used."""
        value = self._get(key, "a number", default is None)
        usable = Fraction(1) if default is None else default
        if value is None:
            return usable
        if isinstance(value, bool) or not isinstance(value, int | Fraction):
            self.fault(key, f"found {shown(value)}", "a number")
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
        if any(not item.isprintable() for item in value):
            self.fault(key, "found a control character", "plain text")
            return ()
        return tuple(item.strip() for item in value)

    def child(self, key: str, needed: bool = True) -> Reader | None:
        """Return the reader of a table within this one."""
        value = self._get(key, "a table", needed)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.fault(key, f"found {shown(value)}", "a table")
            return None
        return Reader(self.file, value, self.faults, self.at(key))

    def children(self, key: str, expected: str) -> list[Reader]:
        """Return the readers of a list of tables; a fault where there is none."""
        value = self._get(key, expected, True)
        tables = isinstance(value, list) and all(isinstance(item, dict) for item in value)
        if not (tables and value):
            if value is not None:
                self.fault(key, f"found {shown(value)}", expected)
            return []
        return [
            Reader(self.file, item, self.faults, f"{self.at(key)}[{place}]")
            for place, item in enumerate(value, 1)
        ]

    def finish(self) -> None:
        """Note every key that was never asked for."""
        for key in self.table:
            if key not in self.asked:
                found = f"unknown key{near(key, self.asked)}"
                self.fault(key, found, _one_of(sorted(self.asked)))


def _one_of(names: Collection[str]) -> str:
    return "one of " + ", ".join(f'"{name}"' for name in names)
