"""Reading the quantities of a problem file: symbols, ranges of numbers, units, distances."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from leverstep.course.faults import Reader
from leverstep.course.numbers import Range
from leverstep.course.segments import SegmentTable
from leverstep.statics import kinds
from leverstep.statics.posture import Distance, Given, Rows
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MASS, NUMBER, Dimension, unit, units_for

MOST_VALUES = 100_000
"""The most values that one given may take."""

_SYMBOL = re.compile(r"[A-Za-z]{1,8}(_[A-Za-z0-9]{1,8})?")
RESERVED = frozenset(
    {
        "g", *(
            f"{kind.key}{mark}"
            for kind in kinds.KINDS.values()
            for mark in ("", "1", "2", "3")
            if kind.key and not kind.of_body
        ),
        "sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "abs",
    }
)  # fmt: skip
"""Symbols with a meaning of their own, which no quantity of a problem may have; those of lines that
only a centre of mass has are free elsewhere."""

_FAR_SIDE = "beyond = true says that it lies on the far side of the axis"

_SAME_DISTANCE = (
    'a new one; where it is the same distance, { symbol = "d_e", fraction = 1, of = "L" } and so on'
)

_OTHERS = {MASS: (FORCE, "force"), FORCE: (MASS, "mass")}
"""For sizes of one kind, the other kind, and what a table of that is called."""

_MADE = ("given_", "fraction_", "share_", "between_")


class Quantities:
    """The quantities met so far in one file: their ranges, symbols, and names for the statement."""

    def __init__(self) -> None:
        self.ranges: dict[str, Range] = {}
        self.placeholders: dict[str, Given] = {}
        self.symbols: dict[str, str] = {}
        self.looked_up: list[str] = []
        self.own: dict[str, tuple[Fraction, Fraction]] = {}
        self.distances: dict[str, Distance] = {}

    def new_symbol(self, reader: Reader, instead: str = "a new one") -> str:
        """Return the symbol of a table, noting one that is not well made or already taken.

        `instead` is what a file has in place of a symbol that is taken.
        """
        symbol = reader.text("symbol")
        if symbol:
            self.take(reader, symbol, instead)
        return symbol

    def take(self, reader: Reader, symbol: str, instead: str = "a new one") -> None:
        """Note a symbol as taken, and a fault where it can't be."""
        if not _SYMBOL.fullmatch(symbol):
            expected = "letters, then perhaps _ and letters or digits, 8 of each at most"
            reader.fault("symbol", f'found "{symbol}"', expected)
        elif symbol in RESERVED or symbol.startswith(_MADE) or unit(symbol) is not None:
            reader.fault("symbol", f'"{symbol}" has a meaning of its own', "another symbol")
        elif symbol in self.symbols:
            reader.fault("symbol", f'"{symbol}" is taken by {self.symbols[symbol]}', instead)
        self.symbols[symbol] = reader.path

    def given(
        self, reader: Reader, key: str, sign: str, dimension: Dimension, for_minus: str = ""
    ) -> Given:
        """Return a given with its unit, and keep its range.

        `for_minus` is what a file says in place of a minus sign, which no given has.
        """
        other, name = _OTHERS.get(dimension, (dimension, ""))
        is_other = bool(name) and reader.table.get("unit") in units_for(other)
        or_else = f'"{name}" in place of this table' if is_other else ""
        sign_of_unit = reader.choice("unit", units_for(dimension), or_else=or_else)
        self.ranges[key] = span = self._range(reader, for_minus)
        if reader.has("own"):
            self._read_own(reader, key, span)
        return Given(key, sign, sign_of_unit)

    def _read_own(self, reader: Reader, key: str, span: Range) -> None:
        """Read the limits within which a student's own measured value is plausible."""
        limits = reader.child("own")
        if limits is None:
            return
        low, high = limits.number("from"), limits.number("to")
        limits.finish()
        if not 0 < low <= span.low <= span.high <= high:
            found = f"found {float(low):g} to {float(high):g}"
            limits.fault(
                "from / to", found, "above 0, around the range that numbers are drawn from"
            )
        self.own[key] = (low, high)

    def constant(self, key: str, value: Fraction) -> Given:
        """Return a bare number as a given that is the same for everyone."""
        self.ranges[key] = Range(value, value, Fraction(0))
        return Given(key, "")

    def angle(self, reader: Reader, for_minus: str, for_obtuse: str) -> Given:
        """Return an angle above 0 and at most 90 degrees.

        `for_minus` and `for_obtuse` are what a file says in place of a minus sign and of an angle
        beyond 90 degrees.
        """
        symbol = self.new_symbol(reader)
        given = self.given(reader, symbol, symbol, ANGLE, for_minus)
        span = self.ranges[given.key]
        if span.high > 90:
            found = f"found {float(span.low):g} to {float(span.high):g}"
            reader.fault("value", found, f"0 to 90; {for_obtuse}")
        self.placeholders[symbol] = given
        reader.finish()
        return given

    def along_segment(self, reader: Reader, table: SegmentTable | None) -> Distance:
        """Return where a force acts along the segment: given, a moment arm, or to be found."""
        if any(reader.has(key) for key in ("value", "from", "unit", "fraction", "segment")):
            distance = self.distance(reader, _FAR_SIDE, table)
        else:
            symbol = self.new_symbol(reader, _SAME_DISTANCE)
            beyond = reader.flag("beyond", False)
            distance = Distance(symbol, Given("", symbol, "m"), None, beyond, sought=True)
        if distance.of is None:
            distance = replace(distance, perpendicular=reader.flag("perpendicular", False))
        self.distances[distance.symbol] = distance
        return distance

    def distance(
        self, reader: Reader, for_minus: str, table: SegmentTable | None = None
    ) -> Distance:
        """Return a distance that is given: measured, or a share of another.

        A share is a `fraction`, or the centre of mass of a `segment` of the table. `for_minus` is
        what a file says in place of a minus sign.
        """
        symbol = self.new_symbol(reader)
        beyond = reader.flag("beyond", False)
        if reader.has("fraction") or reader.has("segment"):
            share, rows = self.share_of_length(reader, table)
            given = self.constant(f"fraction_{symbol}", share)
            distance = Distance(symbol, given, reader.text("of"), beyond, rows=rows)
        else:
            given = self.given(reader, f"given_{symbol}", symbol, LENGTH, for_minus)
            distance = Distance(symbol, given, None, beyond)
        self.placeholders[symbol] = distance.given
        return distance

    def share_of_length(self, reader: Reader, table: SegmentTable | None) -> tuple[Fraction, Rows]:
        """Return a share of a length, and those in the rows beside it where it was looked up."""
        if reader.has("segment"):
            segments = {} if table is None else table.segments
            name = reader.choice("segment", tuple(segments) or ("a segment of a [body] table",))
            self.looked_up.append(name)
            if table is None or name not in segments:
                return Fraction(1, 2), ()
            rows = tuple((n, float(row.centre)) for n, row in table.beside(name).items())
            return segments[name].centre, rows
        share = reader.number("fraction")
        if not 0 < share < 2:
            reader.fault("fraction", f"found {float(share):g}", "between 0 and 2")
        return share, ()

    def length(self, reader: Reader) -> Distance:
        """Return the measured length of the segment."""
        symbol = self.new_symbol(reader)
        given = self.given(reader, f"given_{symbol}", symbol, LENGTH)
        self.placeholders[symbol] = given
        reader.finish()
        return Distance(symbol, given)

    def measured(self, reader: Reader, dimension: Dimension) -> Given:
        """Return a quantity with a symbol of its own, which lines use as it is given."""
        symbol = self.new_symbol(reader)
        if dimension == NUMBER:
            self.ranges[symbol] = self._range(reader, "")
            given = Given(symbol, symbol)
        else:
            given = self.given(reader, symbol, symbol, dimension)
        self.placeholders[symbol] = given
        reader.finish()
        return given

    def _range(self, reader: Reader, for_minus: str) -> Range:
        if not reader.has("from"):
            value = reader.number("value")
            if value > 0:
                return Range(value, value, Fraction(0))
            expected = "a number above 0" + (f"; {for_minus}" if value < 0 and for_minus else "")
            reader.fault("value", f"found {float(value):g}", expected)
            return Range(Fraction(1), Fraction(1), Fraction(0))
        faults_before = len(reader.faults)
        all_three = 'a number: "from", "to" and "step" go together'
        low, high, step = (reader.number(k, expected=all_three) for k in ("from", "to", "step"))
        span = Range(low, high, step)
        if len(reader.faults) > faults_before:
            pass  # what is to be compared could not be read
        elif not (0 < low <= high):
            expected = "0 < from <= to" + (f"; {for_minus}" if low < 0 and for_minus else "")
            reader.fault("from / to", f"found {float(low):g} to {float(high):g}", expected)
        elif step <= 0 or (high - low) % step:
            reader.fault("step", f"found {float(step):g}", "a step that leads from `from` to `to`")
        elif span.count > MOST_VALUES:
            reader.fault("step", f"{span.count} values", f"at most {MOST_VALUES}")
        else:
            return span
        return Range(Fraction(1), Fraction(1), Fraction(0))
