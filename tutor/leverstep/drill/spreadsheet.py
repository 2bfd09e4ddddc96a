"""Tables in CSV: read as spreadsheets save them, with cells that none takes for a formula."""

from __future__ import annotations

import csv
import io
import itertools
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Protocol, TextIO

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import TooLarge, read_text
from leverstep.course.plain_text import plain

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

    It may have commas, semicolons or tabs, and a mark of the byte order; empty rows are left out,
    and a row that ends early is empty from there on.

    Args:
        path: the file.
        most: how many rows there may be.

    Raises:
        ValueError: where it can't be read, with a clause that says why.
    """
    try:
        text = read_text(path, LARGEST_TABLE, linked=True)
    except TooLarge as error:
        raise ValueError("it is too large") from error
    except FileNotFoundError as error:
        raise ValueError("there is no such file") from error
    except OSError as error:
        raise ValueError(error.strerror or "it can't be read") from error
    except UnicodeDecodeError as error:
        raise ValueError("it is not in UTF-8: save it as CSV in UTF-8") from error
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
    names = tuple(column.strip().casefold() for column in columns)
    width = len(names)
    whole = ((*row, *[""] * width)[:width] for row in rows if any(map(str.strip, row)))
    return names, [dict(zip(names, row, strict=True)) for row in whole]


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


def table_writer(file: TextIO) -> Rows:
    """Return what writes rows of cells to a file, each cell in quotes."""
    return csv.writer(file, quoting=csv.QUOTE_ALL, lineterminator="\r\n")


def cell(text: str) -> str:
    """Return a text as a cell that no spreadsheet takes for a formula, nor a part of it."""
    return _FORMULA.sub("'", plain(text))
