"""Tables in CSV: read as spreadsheets save them, with cells that none takes for a formula."""

from __future__ import annotations

import csv
import io
import itertools
from pathlib import Path

from tutor.course.faults import plain

LARGEST_TABLE = 20_000_000
"""Bytes of a file that will be read; a line for each of 20 000 students takes less."""

SEPARATORS = ",;\t"

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠", "\t", "\r", "\n", "\0")


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
        if path.stat().st_size > LARGEST_TABLE:
            raise ValueError("it is too large")
        text = path.read_text(encoding="utf-8-sig")
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
        raise ValueError(f"it is no table: {error}") from error
    if len(rows) > most:
        raise ValueError(f"it has more than {most} rows")
    names = tuple(column.strip().casefold() for column in columns)
    width = len(names)
    whole = ((*row, *[""] * width)[:width] for row in rows if any(map(str.strip, row)))
    return names, [dict(zip(names, row, strict=True)) for row in whole]


def cell(text: str) -> str:
    """Return a text as a cell that no spreadsheet takes for a formula."""
    shown = plain(text)
    return f"'{shown}" if text.startswith(_FORMULA) or shown.startswith(_FORMULA) else shown
