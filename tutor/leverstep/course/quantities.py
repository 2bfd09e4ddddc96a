"""Reading the quantities of a problem file: symbols, ranges of numbers, units, distances."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Literal, cast

from leverstep.course.faults import Reader
from leverstep.course.numbers import Range, middles
from leverstep.course.plain_text import shown
from leverstep.course.segments import SegmentTable
from leverstep.statics import kinds
from leverstep.statics.line_keys import STATED, stated_key, with_index
from leverstep.statics.points import Distance, FromOthers, Given, Rows
from leverstep.statics.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    MOMENT,
    MOMENT_OF_INERTIA,
    NAMED_LENGTH,
    NAMED_UNITS,
    NUMBER,
    STIFFNESS,
    Dimension,
    unit,
    units_for,
)

MOST_VALUES = 100_000
"""The most values that one given may take."""

_SYMBOL = re.compile(r"[A-Za-z]{1,8}(_[A-Za-z0-9]{1,8})?")
RESERVED = frozenset(
    {
        "g", *(
            with_index(kind.key, "", mark)
            for kind in kinds.KINDS.values()
            for mark in ("", "1", "2", "3")
            if kind.key and not kind.of_body
        ),
        "sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "abs",
    }
)  # fmt: skip
"""Symbols with a meaning of their own, which no quantity of a problem may have; those of lines that
only a centre of mass has are free elsewhere."""

_ALSO = {"N m": "N·m", "Nm": "N·m", "N L": "N·L", "NL": "N·L"}
"""Units as they may be typed too, and their signs."""

_BY_METRES = (LENGTH, MOMENT, STIFFNESS, MOMENT_OF_INERTIA)
"""The kinds of given that can't stand in metres where another stands in a length only named."""

_FAR_SIDE = "beyond = true says that it lies on the far side of the axis"

_SAME_DISTANCE = (
    'a new one; where it is the same distance, { symbol = "d_e", fraction = 1, of = "L" } and so on'
)

_OTHERS = {MASS: (FORCE, "force"), FORCE: (MASS, "mass")}
"""For sizes of one kind, the other kind, and what a table of that is called."""

_MADE = tuple(stated_key(how, "") for how in STATED)

_OF_TRIANGLE = "it lies in a right-angled triangle"
"""Said in place of an angle that is none of a triangle."""

_RATIO = re.compile(r"[1-9][0-9]{0,2} ?/ ?[1-9][0-9]{0,2}")
"""A fraction as two whole numbers."""

_SUMS, _BY_ANGLE = ("sum", "difference"), ("sine", "cosine")
"""The ways in which a distance may follow from others, as `FromOthers` has them."""


class Quantities:
    """The quantities met so far in one file: their ranges, symbols, and names for the statement.

    `pieces` says what each distance is that others are made up of; `angles_sought` are the angles
    without numbers.
    """

    def __init__(self) -> None:
        self.ranges: dict[str, Range] = {}
        self.placeholders: dict[str, Given] = {}
        self.symbols: dict[str, str] = {}
        self.looked_up: list[str] = []
        self.own: dict[str, tuple[Fraction, Fraction]] = {}
        self.pieces: dict[str, str] = {}
        self.angles_sought: list[Given] = []
        self.distances: dict[str, Distance] = {}
        self._of_others: set[str] = set()
        self._by_metres: dict[str, Reader] = {}

    def middle(self) -> dict[str, float]:
        """Return the number in the middle of each range, with a guess at an angle to be found."""
        return middles(self.ranges, (angle.key for angle in self.angles_sought))

    def new_symbol(self, reader: Reader, instead: str = "a new one") -> str:
        """Return the symbol of a table, noting one that is not well made or already taken.

        `instead` is what a file has in place of a symbol that is taken.
        """
        symbol = reader.text("symbol", expected='a symbol of its own, such as "d_l"')
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
        named = tuple(sign for sign, one in NAMED_UNITS.items() if one.dimension == dimension)
        units = units_for(dimension) + named
        also = (typed for typed, meant in _ALSO.items() if meant in units)
        spelled = reader.choice("unit", (*units, *also), or_else=or_else)
        sign_of_unit = _ALSO.get(spelled, spelled)
        if dimension in _BY_METRES:
            self._by_metres.setdefault(sign_of_unit, reader)
        self.ranges[key] = span = self._range(reader, for_minus)
        if reader.has("own"):
            self._read_own(reader, key, span)
        return Given(key, sign, sign_of_unit)

    def check_lengths(self) -> None:
        """Note metres beside a length that is only named, and a symbol that is called as it is."""
        named = [sign for sign in self._by_metres if sign in NAMED_UNITS]
        if not named:
            return
        for sign, reader in self._by_metres.items():
            if sign not in named:
                found = f'found "{sign}", and "{named[0]}" elsewhere in the file'
                reader.fault("unit", found, f"all lengths as multiples of {NAMED_LENGTH}, or none")
        if NAMED_LENGTH in self.symbols:
            place = Reader(reader.file, {}, reader.faults, self.symbols[NAMED_LENGTH])
            place.fault("symbol", f'"{NAMED_LENGTH}" is a unit in this file', "another symbol")

    def _read_own(self, reader: Reader, key: str, span: Range) -> None:
        """Read the limits within which a student's own measured value is plausible."""
        limits = reader.child("own", like="{ from = 35, to = 150 }")
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

    def constant(self, key: str, value: Fraction, is_ratio: bool = False) -> Given:
        """Return a bare number as a given that is the same for everyone."""
        self.ranges[key] = Range(value, value, Fraction(0), is_ratio)
        return Given(key, "")

    def angle(self, reader: Reader, for_minus: str, for_more: str, most: int = 90) -> Given:
        """Return an angle above 0 and at most 90 degrees; one without numbers is to be found.

        It may be less than `most` where that is more than 90. `for_minus` and `for_more` are what
        a file says in place of a minus sign and of an angle beyond that.
        """
        symbol = self.new_symbol(reader)
        if not any(reader.has(key) for key in ("value", "from", "unit")):
            reader.finish()
            self.angles_sought.append(Given(symbol, symbol, "deg"))
            return self.angles_sought[-1]
        given = self.given(reader, symbol, symbol, ANGLE, for_minus)
        span = self.ranges[given.key]
        found = f"found {float(span.low):g}"
        if span.count > 1:
            found += f" to {float(span.high):g}"
        if span.high > 90 and span.high >= most:
            up_to = "0 to 90" if most == 90 else f"above 0, below {most}"
            reader.fault("value", found, f"{up_to}; {for_more}")
        elif span.high > 90 and (
            span.low <= 90 or span.low // 90 < span.high // 90 or not span.low % 90
        ):
            reader.fault("value", found, "angles between two multiples of 90 degrees")
        self.placeholders[symbol] = given
        reader.finish()
        return given

    @property
    def angles(self) -> dict[str, Given]:
        """Return the angles met so far, by symbol."""
        return {sign: given for sign, given in self.placeholders.items() if given.unit == "deg"}

    @property
    def lengths(self) -> list[str]:
        """Return the symbols of the lengths met so far: those given, and shares of others."""
        units = (*units_for(LENGTH), NAMED_LENGTH)
        given = self.placeholders.items()
        return [symbol for symbol, one in given if one.unit in units or symbol in self._of_others]

    def angle_met(self, reader: Reader, key: str = "angle") -> Given | None:
        """Return an angle that was read before, by its symbol; None where there is none such."""
        angles = self.angles
        named = reader.choice(key, tuple(angles) or ("a table with its symbol and value",))
        return angles.get(named)

    def along_segment(self, reader: Reader, table: SegmentTable | None) -> Distance:
        """Return where a force acts along the segment: given, a moment arm, or to be found."""
        given = ("value", "from", "unit", "fraction", "segment", *_SUMS, *_BY_ANGLE)
        if any(reader.has(key) for key in given):
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
        """Return a distance that is known: measured, a share of another, or from others.

        A share is a `fraction`, or the centre of mass of a `segment` of the table. `for_minus` is
        what a file says in place of a minus sign.
        """
        symbol = self.new_symbol(reader)
        beyond = reader.flag("beyond", False)
        if any(reader.has(key) for key in (*_SUMS, *_BY_ANGLE)):
            derived = self._from_others(reader)
            return Distance(symbol, Given("", symbol, "m"), None, beyond, derived=derived)
        if reader.has("fraction") or reader.has("segment"):
            share, rows = self.share_of_length(reader, table)
            is_ratio = isinstance(reader.table.get("fraction"), str)
            given = self.constant(stated_key("fraction", symbol), share, is_ratio)
            distance = Distance(symbol, given, reader.text("of"), beyond, rows=rows)
            self._of_others.add(symbol)
        else:
            given = self.given(reader, stated_key("given", symbol), symbol, LENGTH, for_minus)
            distance = Distance(symbol, given, None, beyond)
        self.placeholders[symbol] = distance.given
        return distance

    def _from_others(self, reader: Reader) -> FromOthers:
        """Return how a distance follows from others, by the one key that says so."""
        how = next(key for key in (*_SUMS, *_BY_ANGLE) if reader.has(key))
        if how in _BY_ANGLE:
            angle = self._angle_named(reader, how)
            return FromOthers(cast(Literal["sine", "cosine"], how), (reader.text("of"),), angle)
        of = reader.texts(how)
        if len(set(of)) < len(of) or len(of) < 2 or (len(of) > 2 and how == "difference"):
            several = "two symbols" if how == "difference" else "two symbols or more"
            reader.fault(how, f"found {shown(list(of))}", f"{several}, each once")
            of = ("", "")
        return FromOthers(cast(Literal["sum", "difference"], how), of)

    def _angle_named(self, reader: Reader, key: str) -> Given:
        """Return an angle: one of the problem's own by its symbol, or one of its own."""
        if isinstance(reader.table.get(key), str):
            symbol = reader.text(key)
            return Given(symbol, symbol, "deg")
        table = reader.child(key)
        return (
            Given("", "", "deg") if table is None else self.angle(table, _OF_TRIANGLE, _OF_TRIANGLE)
        )

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
        share = _ratio(reader, "fraction") or reader.number("fraction")
        if not 0 < share < 2:
            percent = f"; {float(share):g} % is {float(share / 100):g}" if 2 <= share <= 100 else ""
            reader.fault("fraction", f"found {float(share):g}", f"between 0 and 2{percent}")
        return share, ()

    def piece(self, reader: Reader) -> Distance:
        """Return a distance that no force acts at, and keep what it is called."""
        name = reader.text("name")
        for key in ("beyond", "perpendicular"):
            if reader.has(key):
                reader.fault(key, "it belongs to a point", "this key where a force acts")
        piece = self.distance(reader, "the larger of the two comes first in a difference")
        self.pieces[piece.symbol] = name
        reader.finish()
        return piece

    def length(self, reader: Reader) -> Distance:
        """Return a measured length, as that of the segment."""
        symbol = self.new_symbol(reader)
        given = self.given(reader, stated_key("given", symbol), symbol, LENGTH)
        self.placeholders[symbol] = given
        reader.finish()
        return Distance(symbol, given)

    def measured(self, reader: Reader, dimension: Dimension) -> Given:
        """Return a quantity with a symbol of its own, which lines use as it is given."""
        symbol = self.new_symbol(reader)
        if dimension == NUMBER:
            ratio = _ratio(reader, "value")
            span = Range(ratio, ratio, Fraction(0), True) if ratio else self._range(reader, "")
            self.ranges[symbol] = span
            given = Given(symbol, symbol)
        else:
            given = self.given(reader, symbol, symbol, dimension)
        self.placeholders[symbol] = given
        reader.finish()
        return given

    def measured_in(self, reader: Reader, key: str, dimension: Dimension) -> Given | None:
        """Return such a quantity of a table within this one, None where it can't be read."""
        table = reader.child(key)
        return None if table is None else self.measured(table, dimension)

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
            reader.fault("step", f"found {float(step):g}", _leads(low, high, step))
        elif span.count > MOST_VALUES:
            reader.fault("step", f"{span.count} values", f"at most {MOST_VALUES}")
        else:
            return span
        return Range(Fraction(1), Fraction(1), Fraction(0))


def _leads(low: Fraction, high: Fraction, step: Fraction) -> str:
    """Return which step was expected from one end of a range to the other."""
    expected = f"a step above 0 that leads from {float(low):g} to {float(high):g}"
    if step <= 0:
        return expected
    last = low + (high - low) // step * step
    return f"{expected}; by {float(step):g} it is {float(last):g}, then {float(last + step):g}"


def _ratio(reader: Reader, key: str) -> Fraction | None:
    """Return a number that is written as a ratio of whole numbers, `"2/3"`; None for another."""
    if not isinstance(reader.table.get(key), str):
        return None
    text = reader.text(key)
    if _RATIO.fullmatch(text):
        return Fraction(text.replace(" ", ""))
    reader.fault(key, f"found {shown(text)}", 'a number, or a ratio such as "2/3"')
    return Fraction(1, 2)
