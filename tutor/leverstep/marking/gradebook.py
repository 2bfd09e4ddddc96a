"""Marks as another program's import takes them: columns by a map of the teacher's own.

Which columns there are, what they are called, their order, scale and rounding is read from a file
(`gradebook_file`), so that no platform's format is known here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Generic, TypeVar

from leverstep.course.decimals import half_up, number
from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import near, shown
from leverstep.drill.drill import Drill
from leverstep.drill.spreadsheet import cell, table_writer
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked
from leverstep.marking.outputs import Outputs
from leverstep.marking.tables import marks_columns

GRADEBOOK = "gradebook.csv"

_DECIMALS = 2
"""Decimals of a number where its column names none; zeros at the end are left out then."""


class Rounding(StrEnum):
    """How a number that lies between two is rounded; what lies half way is named by two."""

    HALF_UP = "half up"
    HALF_EVEN = "half even"
    UP = "up"
    DOWN = "down"


_ROUNDED: Mapping[Rounding, Callable[[Fraction], int]] = {
    Rounding.HALF_UP: half_up,
    Rounding.HALF_EVEN: round,
    Rounding.UP: math.ceil,
    Rounding.DOWN: math.floor,
}


@dataclass(frozen=True, slots=True)
class GradebookColumn:
    """A column: its heading, and the heading in our own table of what stands in it.

    With `source` None it is `text` that stands in every row. `out_of` is the most that its number
    can be, None for as it is; `decimals` how many it has, None for as many as it needs, up to two.
    `missing` stands where our own table has nothing, `excused` where that is as it should be.
    """

    heading: str
    source: str | None
    text: str = ""
    out_of: Fraction | None = None
    decimals: int | None = None
    rounding: Rounding = Rounding.HALF_UP
    missing: str = ""
    excused: str = ""

    @property
    def rewrites(self) -> bool:
        """Return whether it says how a number is to be written."""
        is_usual = self.rounding is Rounding.HALF_UP
        return self.out_of is not None or self.decimals is not None or not is_usual

    def written(self, value: Fraction, most: Fraction | None = None) -> str:
        """Return a number of up to `most` on the scale of the column, rounded, with a point."""
        if self.out_of is not None and most:
            value = value * self.out_of / most
        decimals = _DECIMALS if self.decimals is None else self.decimals
        scaled = value * 10**decimals
        whole = _ROUNDED[self.rounding](scaled)
        if self.decimals is None:
            return number(Fraction(whole, 10**decimals), decimals)
        digits = f"{whole:0{decimals + 1}d}"
        return f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits


@dataclass(frozen=True)
class GradebookMap:
    """The columns in their order, what stands between two cells, and the mark of decimals.

    `called` is what the file is called that says so.
    """

    called: str
    columns: tuple[GradebookColumn, ...]
    separator: str = ","
    decimal_mark: str = "."


@dataclass(frozen=True, slots=True)
class GradebookCell:
    """What our own table says of a student in a column, as text or as a number.

    `value` is the number, None for none, and `most` the most that it can be. `text` is a cell that
    no spreadsheet takes for a formula; where it is "", `excused` says that this is as it should be.
    """

    text: str
    value: Fraction | None = None
    most: Fraction | None = None
    excused: bool = False


T = TypeVar("T")


@dataclass(frozen=True)
class Sources(Generic[T]):
    """What the columns of a gradebook may be filled from, by heading.

    `numbers` are the headings of those that are marks, and can be put on another scale.
    """

    told: Mapping[str, Callable[[T], GradebookCell]]
    numbers: frozenset[str]


class Gradebook(Generic[T]):
    """Writes `gradebook.csv`, one student after the other."""

    def __init__(self, columns: GradebookMap, sources: Sources[T], out: Outputs) -> None:
        """Begin with the headings.

        Args:
            columns: the teacher's map.
            sources: what they are filled from.
            out: where the file goes.

        Raises:
            FileError: where a column is to be filled from what there is not.
            OSError: where the folder can't be written.
        """
        if faults := list(_faults(columns, sources)):
            raise FileError(faults)
        self._map, self._sources = columns, sources
        self._rows = table_writer(out.open(GRADEBOOK), columns.separator)
        self._rows.writerow(cell(one.heading) for one in columns.columns)
        self.count = 0

    def add(self, student: T) -> None:
        """Write the row of a student; a record that is nobody's has none.

        Raises:
            OSError: where it can't be written.
        """
        if not self._sources.told["id"](student).text:
            return
        self.count += 1
        self._rows.writerow(self._cell(one, student) for one in self._map.columns)

    def _cell(self, column: GradebookColumn, student: T) -> str:
        if column.source is None:
            return cell(column.text)
        told = self._sources.told[column.source](student)
        if not told.text:
            return cell(column.excused if told.excused else column.missing)
        if told.value is None:
            return told.text
        written = column.written(told.value, told.most) if column.rewrites else told.text
        return written.replace(".", self._map.decimal_mark)


def _faults(columns: GradebookMap, sources: Sources[T]) -> Iterator[Fault]:
    """Yield what is wrong with a map beside what there is to fill its columns from."""
    for place, one in enumerate(columns.columns, 1):
        at = f"column[{place}].from"
        if one.source is None:
            continue
        if one.source not in sources.told:
            found = f"found {shown(one.source)}{near(one.source, sources.told)}"
            yield Fault(columns.called, at, found, f"one of {', '.join(map(shown, sources.told))}")
        elif one.rewrites and one.source not in sources.numbers:
            expected = f"none of these, or one of {', '.join(sorted(map(shown, sources.numbers)))}"
            found = f"{shown(one.source)} has no scale, decimals or rounding"
            yield Fault(columns.called, at, found, expected)


def sources_of(drill: Drill) -> Sources[Student]:
    """Return what a gradebook of one drill may be filled from: all that `marks.csv` has."""
    numbers: dict[str, Callable[[Marked], tuple[Fraction, Fraction]]] = {
        f"task {place + 1}": _task(place, item.worth) for place, item in enumerate(drill.task_items)
    }
    numbers["total"] = lambda sitting: (sitting.total, drill.marks)
    numbers["percentage"] = lambda sitting: (100 * sitting.total / drill.marks, Fraction(100))
    told = {
        heading: _told(as_text, numbers.get(heading))
        for heading, as_text in marks_columns(drill).items()
    }
    return Sources(told, frozenset(numbers))


def _task(place: int, worth: Fraction) -> Callable[[Marked], tuple[Fraction, Fraction]]:
    return lambda sitting: (sitting.marks[place], worth)


def _told(
    as_text: Callable[[Student], str],
    in_number: Callable[[Marked], tuple[Fraction, Fraction]] | None,
) -> Callable[[Student], GradebookCell]:
    """Return what says a cell of `marks.csv`, with its number where it is one of marks."""
    if in_number is None:
        return lambda student: GradebookCell(as_text(student), excused=student.excused)

    def told(student: Student) -> GradebookCell:
        if student.counted is None:
            return GradebookCell("", excused=student.excused)
        return GradebookCell(as_text(student), *in_number(student.counted))

    return told
