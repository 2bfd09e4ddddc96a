"""Tables in CSV: read as spreadsheets save them, with cells that none takes for a formula."""

from __future__ import annotations

import csv
import io
import itertools
import re
from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Protocol, TextIO

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import TEXT, TooLarge, read_plain
from leverstep.course.plain_text import plain, spaced

LARGEST_TABLE = 20_000_000
"""Bytes of a file that will be read; a line for each of 20 000 students takes less."""

_MOST_ROWS = 100_000
"""Rows that are read of a table of a class."""

SEPARATORS = ",;\t"

_FORMULA = re.compile(r'(?:^|(?<=;))(?! *-[0-9]+(?:\.[0-9]+)? *(?:$|;))(?=[ "]*[=+\-@＝＋－＠])')
"""Where a formula would begin: also behind a semicolon, since many spreadsheets part cells there,
and a quotation mark too. A negative number is none."""


def table_of(path: Path, most: int) -> tuple[tuple[str, ...], list[dict[str, str]]]:
    """Return the columns of a CSV file, in small letters, and its rows by column.

    It may have commas, semicolons or tabs, and is in UTF-8, in UTF-16 with a mark of the byte
    order, or in Latin-1; empty rows are left out, and a row that ends early is empty from there on.

    Args:
        path: the file.
        most: how many rows there may be.

    Raises:
        ValueError: where it can't be read, with a clause that says why.
    """
    try:
        text = _decoded(read_plain(path, LARGEST_TABLE, linked=True))
    except TooLarge as error:
        raise ValueError("it is too large") from error
    except FileNotFoundError as error:
        raise ValueError("there is no such file") from error
    except OSError as error:
        raise ValueError(error.strerror or "it can't be read") from error
    header = text.partition("\n")[0]
    separator = max(SEPARATORS, key=header.count)
    try:
        columns, *rows = itertools.islice(
            csv.reader(io.StringIO(text), delimiter=separator), most + 2
        )
    except ValueError:
        return (), []
    except csv.Error as error:
        raise ValueError(f"it is not a table: {error}") from error
    if len(rows) > most:
        raise ValueError(f"it has more than {most} rows")
    names = tuple(map(column_called, columns))
    width = len(names)
    whole = ((*row, *[""] * width)[:width] for row in rows if any(map(str.strip, row)))
    return names, [dict(zip(names, row, strict=True)) for row in whole]


def column_called(text: str) -> str:
    """Return the name of a column as it is compared: without regard to case and spaces around."""
    return spaced(text).strip().casefold()


def cell_read(text: str) -> str:
    """Return what stands in a cell without spaces around it, "" where it can't be shown."""
    told = spaced(text).strip()
    return told if told.isprintable() else ""


def _decoded(data: bytes) -> str:
    """Return the text of a table as spreadsheets save it, its lines ended by a line feed.

    What is not in UTF-8 is in the Western code page of Windows, which has all that Latin-1 shows.

    Raises:
        ValueError: where it is no text.
    """
    no_table = "it is not a table in text: save it as CSV in UTF-8"
    is_utf_16 = data.startswith((BOM_UTF16_LE, BOM_UTF16_BE))
    try:
        text = data.decode("utf-16" if is_utf_16 else TEXT)
    except UnicodeDecodeError as error:
        if is_utf_16:
            raise ValueError(no_table) from error
        text = data.decode("cp1252", errors="replace")
    if "\0" in text:
        raise ValueError(no_table)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def rows_with(needed: Iterable[str], path: Path, expected: str) -> list[dict[str, str]]:
    """Return the rows of a CSV file that has the columns needed, and perhaps more.

    Args:
        needed: the names of the columns.
        path: the file.
        expected: what it should be, to be told where it is not.

    Raises:
        FileError: where it can't be read, or has no such column.
    """
    try:
        columns, rows = table_of(path, _MOST_ROWS)
    except ValueError as error:
        raise FileError([Fault(str(path), "", str(error), expected)]) from error
    if missing := [name for name in needed if name not in columns]:
        raise FileError([Fault(str(path), "", f"it has no column {missing[0]}", expected)])
    return rows


class Rows(Protocol):
    """What takes the rows of a table."""

    def writerow(self, row: Iterable[str], /) -> object:
        """Write one row."""


def table_writer(file: TextIO, separator: str = ",") -> Rows:
    """Return what writes rows of cells to a file, each cell in quotes."""
    return csv.writer(file, delimiter=separator, quoting=csv.QUOTE_ALL, lineterminator="\r\n")


@lru_cache(maxsize=1024)
def cell(text: str) -> str:
    """Return a text as a cell that no spreadsheet takes for a formula, nor a part of it."""
    return _FORMULA.sub("'", plain(text))
