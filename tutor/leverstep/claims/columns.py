"""The columns of a table, as its header names them, and rows of two cells."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from itertools import pairwise

from leverstep.claims.labels import AXES, OF_COMPONENTS, WORDS_OF_SORTS
from leverstep.claims.plain_writing import made_plain
from leverstep.statics.units import unit

_BETWEEN = re.compile(r"\s*\|\s*|\t+|\s{2,}|\s*;\s*")
_TELLING = (WORDS_OF_SORTS - {"force"}) | OF_COMPONENTS
"""Words of a header that tell what stands below; that it is a force, a unit tells."""
_FEWEST = 3
"""So many columns a table has at least."""
_WORD = re.compile(r"[^\W\d_]+")
_ENDS_IN_NUMBER = re.compile(r"\d\s*$")
_UNIT_ALONE = re.compile(
    r"(?<=\d)\s*(?:\||\t)\s*\[?((?:k?N|kg|lbf?)(?:[\s·*.]?(?:m|cm|mm|ft|in))?|m|cm|mm|in|ft|g|°|deg)\]?"
    r"\s*(?=\||\t|$)"
)
"""A cell with nothing but the unit of the number before it."""
_SYMBOL = re.compile(r"[A-Za-z]\w{0,5}")


_NUMBER = re.compile(r"[+-]?\s*\d+(?:\.\d+)?")
_AS_ROUNDED = 0.006
"""How far a sum may lie from what is above it, as a share of that."""
_CELL = re.compile(r"[^\s|]+(?:\s{1,2}[^\s|]+)*")
_CUT_OTHERWISE = re.compile(r"[|\t;]")
"""What parts cells beside spaces, so that an empty one is seen."""
_AXIS = re.compile(r"^(?:[A-Z]_?)?([xyXY])(?=\s*(?:$|[\[(/,]))")
"""The letter of an axis at the head of a column, or a force with it; x is no sign for times."""
_CALLED = {"x": "horizontal", "y": "vertical"}
_LEVEL = AXES["x"] | {"across", "sideways", "right", "rightwards"}
_UPRIGHT = AXES["y"] | {"up", "upward", "upwards"}
"""What stands above the two columns of components: `across (N) | up (N)`."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: the words that stand above it, and the unit of what has none.

    `middle` is how far to the right these stand, in characters.
    """

    words: str = ""
    unit: str = ""
    middle: float = 0.0

    def filled(self, cell: str) -> str:
        """Return a cell with the unit of its column, where it ends in a number."""
        return f"{cell} {self.unit}" if self.unit and _ENDS_IN_NUMBER.search(cell) else cell

    @property
    def is_of_axis(self) -> bool:
        """Return whether components or coordinates along one axis stand below."""
        return self.words in _CALLED.values()


class ColumnSums:
    """What the cells of each column of components of a table come to, so far."""

    def __init__(self) -> None:
        self._sums: dict[Column, float] = {}

    def adds_up(self, column: Column, cell: str, *, is_sum: bool) -> bool:
        """Return whether a cell is the sum of those above it; the cell of another row is added.

        Args:
            column: the column.
            cell: the cell, made plain.
            is_sum: whether its row is called a sum.
        """
        number = _NUMBER.fullmatch(cell.strip())
        if not column.is_of_axis or number is None:
            return False
        value = float(number.group().replace(" ", ""))
        before = self._sums.get(column, 0.0)
        if is_sum:
            return math.isclose(value, before, rel_tol=_AS_ROUNDED)
        self._sums[column] = before + value
        return False


def header_of(text: str) -> list[Column]:
    """Return the columns that a line without a number is the header of, none for any other."""
    cells = [cell for cell in _BETWEEN.split(text.strip().strip("|").strip()) if cell]
    is_first_empty = text.startswith("  ")
    if len(cells) + is_first_empty < _FEWEST or re.search(r"\d|=", text):
        return []
    columns = _with_axes([_column(made_plain(_AXIS.sub(_axis_called, cell))) for cell in cells])
    places = _middles(text)
    if len(places) != len(columns):
        return columns
    return [replace(one, middle=place) for one, place in zip(columns, places, strict=True)]


def _with_axes(columns: list[Column]) -> list[Column]:
    """Return columns with `across` as that of the level components where one beside it is `up`."""
    told = [one.words.lower() for one in columns]
    if sum(one in _LEVEL for one in told) != 1 or sum(one in _UPRIGHT for one in told) != 1:
        return columns
    called = dict.fromkeys(_LEVEL, "horizontal") | dict.fromkeys(_UPRIGHT, "vertical")
    return [
        replace(one, words=called.get(words, one.words))
        for one, words in zip(columns, told, strict=True)
    ]


def _axis_called(match: re.Match[str]) -> str:
    return _CALLED[match[1].lower()]


def columns_above(text: str, cells: list[str], columns: list[Column]) -> list[Column]:
    """Return the column that each cell of a row stands in, one without words where that is not
    known: as many as there are columns, or else, of a row parted by spaces, by where they stand.

    Args:
        text: the row, as it was typed.
        cells: its cells.
        columns: those of the table, none where it has no header.
    """
    if len(columns) == len(cells):
        return columns
    unknown = [Column()] * len(cells)
    places = _middles(text)
    if not columns or _CUT_OTHERWISE.search(text) or len(places) != len(cells):
        return unknown
    found = [min(columns, key=lambda one: abs(one.middle - place)) for place in places[1:]]
    is_in_order = all(one.middle < other.middle for one, other in pairwise(found))
    return [Column(), *found] if is_in_order else unknown


def _middles(text: str) -> list[float]:
    """Return where the middle of each cell of a row stands that is parted by spaces or bars."""
    return [(cell.start() + cell.end()) / 2 for cell in _CELL.finditer(text)]


def _column(cell: str) -> Column:
    words = _WORD.findall(cell)
    units: list[str] = []
    while len(words) > len(units) and unit(words[-len(units) - 1]) is not None:
        units.insert(0, words[-len(units) - 1])
    is_unit = bool(units) and (
        len(units) < len(words) or cell.strip()[:1] in "[(" or len(units) > 1
    )
    if is_unit and len(units) > 1:
        return Column("moment", " ".join(units))  # `W x arm [N cm]` names its factors
    told = " ".join(word for word in words if word.lower() in _TELLING)
    return Column(told, units[0]) if is_unit else Column(told)


def as_one_line(text: str) -> str:
    """Return a row of two cells as a line: `F | 965 N` says what F is; its unit may have a cell of
    its own.
    """
    with_units = _UNIT_ALONE.sub(r" \1", text)
    if with_units != text:
        text = with_units.strip().strip("|")
    if text.count("|") != 1:
        return text
    name, said = (cell.strip() for cell in text.split("|"))
    if not name or re.search(r"\d", name) or not re.search(r"\d", said):
        return text
    return f"{name} = {said}" if _SYMBOL.fullmatch(name) else f"{name}: {said}"
