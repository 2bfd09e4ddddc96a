"""The file of a teacher's own that says which columns a gradebook has, and what stands in them."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from pathlib import Path

from leverstep.course.faults import FileError, Reader, told
from leverstep.course.plain_text import shown, spaced
from leverstep.course.toml import parsed, text_of
from leverstep.drill.values import number_in, whole_in
from leverstep.marking.gradebook import GradebookColumn, GradebookMap, Rounding

LARGEST_MAP = 100_000
"""Bytes of such a file; one of a hundred columns has some ten thousand."""

MOST_COLUMNS = 100
LONGEST_CELL = 200
MOST_DECIMALS = 6

_SEPARATORS = {",": ",", ";": ";", "tab": "\t"}


def is_gradebook_file(keys: Collection[str]) -> bool:
    """Return whether a file with these keys at its top says which columns a gradebook has."""
    return "column" in keys


def read_gradebook(path: Path, called: str = "") -> GradebookMap:
    """Return the map of columns that a file has.

    Args:
        path: the file.
        called: what it is called in its faults, its name unless given.

    Raises:
        FileError: with every fault of it.
    """
    called = called or path.name
    return gradebook_of(text_of(path, called, LARGEST_MAP), called)


def gradebook_of(text: str, called: str) -> GradebookMap:
    """Return the map of columns that a text has.

    Raises:
        FileError: with every fault of it.
    """
    reader = Reader(called, parsed(text, called))
    separator = reader.choice("separator", _SEPARATORS, ",")
    mark = reader.choice("decimal_mark", (".", ","), ".")
    columns = [_column(one) for one in reader.children("column", "[[column]]", MOST_COLUMNS)]
    reader.finish()
    if reader.faults:
        raise FileError(told(reader.faults))
    return GradebookMap(called, tuple(columns), _SEPARATORS[separator], mark)


def _column(reader: Reader) -> GradebookColumn:
    """Return one column."""
    heading = reader.text("heading", expected="what the column is called")
    source = reader.text("from", "") or None
    text = _cell(reader, "text")
    if reader.has("from") == reader.has("text"):
        found = "both are there" if reader.has("from") else "missing"
        reader.fault("from", found, "a column of the table of marks; or text, for every row")
    has_scale = reader.has("out_of")
    out_of = number_in(reader, "out_of", Fraction(100), Fraction(1, 100), 100_000)
    decimals = whole_in(reader, "decimals", 0, MOST_DECIMALS)
    rounding = Rounding(reader.choice("rounding", [*Rounding], Rounding.HALF_UP))
    missing, excused = _cell(reader, "missing"), _cell(reader, "excused")
    for key in ("out_of", "decimals", "rounding", "missing", "excused"):
        if source is None and reader.has(key):
            reader.fault(key, "the column has a text of its own", "this beside from alone")
    reader.finish()
    return GradebookColumn(
        heading, source, text, out_of if has_scale else None, decimals, rounding, missing, excused
    )


def _cell(reader: Reader, key: str) -> str:
    """Return what is to stand in a cell, which may be nothing."""
    reader.asked.add(key)
    value = reader.table.get(key, "")
    text = spaced(value).strip() if isinstance(value, str) else None
    if text is None or not text.isprintable() or len(text) > LONGEST_CELL:
        expected = f"a text on one line of up to {LONGEST_CELL} characters"
        reader.fault(key, f"found {shown(value)}", expected)
        return ""
    return text
