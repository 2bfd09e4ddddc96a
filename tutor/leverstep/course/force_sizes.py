"""Reading the body of a problem file, and how large its forces are: given, or a share of that."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from leverstep.course.faults import Reader
from leverstep.course.quantities import Quantities
from leverstep.course.segments import TABLES, SegmentTable, segment_table
from leverstep.course.size_sources import SOURCES
from leverstep.course.symbols import names_mass
from leverstep.statics.acting import Share
from leverstep.statics.line_keys import mass_key, stated_key, weight_key
from leverstep.statics.points import Given, Rows
from leverstep.statics.units import FORCE, MASS

SIZES = ("mass", "force", "segment", "share", *SOURCES)
"""The keys of a force that say how large it is."""

_SIZED = {"mass": '{ value = 2, unit = "kg" }', "force": '{ value = 20, unit = "N" }'}
"""Sizes as a file has them."""


class ForceSizes:
    """The body of one file, and what the sizes of its forces are read by.

    `body` is its mass, `table` what its segments come from; None where there is none.
    """

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        self.body: Given | None = None
        self.table: SegmentTable | None = None
        self._body_is_there = False

    def read_body(self, reader: Reader) -> None:
        """Read the body's mass, and the table that its segments come from."""
        self._body_is_there = True
        mass = reader.child("mass", like='{ symbol = "m_b", value = 70, unit = "kg" }')
        if mass is not None:
            symbol = self.quantities.new_symbol(mass)
            if not names_mass(symbol):
                mass.fault("symbol", f'found "{symbol}"', 'a symbol such as "m_b"')
            self.body = self.quantities.given(mass, symbol, symbol, MASS)
            self.quantities.placeholders[symbol] = self.body
            self.quantities.symbols[weight_key(symbol)] = mass.path  # the weight of the whole body
            mass.finish()
        if reader.has("table"):
            self.table = segment_table(reader.choice("table", TABLES))
        reader.finish()

    def size(self, reader: Reader, symbol: str) -> tuple[Given | None, Share | None]:
        """Return the size of a force: a mass or a force as given, or a share of the body."""
        reader.asked.update(SIZES)
        there = [key for key in SIZES if reader.has(key)]
        if len(there) == 1 and there[0] in SOURCES:
            return Given(symbol, symbol, "N"), None
        # A statement may name what could not be read.
        stand_in = Given("", "", "N")
        for sign in (symbol, mass_key(symbol)):
            self.quantities.placeholders.setdefault(sign, stand_in)
        if not there:
            return None, None
        if len(there) > 1:
            reader.fault(" / ".join(there), f"{len(there)} sizes are given", "one of them alone")
            return stand_in, None
        if there[0] in ("segment", "share"):
            return self._share(reader, symbol)
        table = reader.child(there[0], like=_SIZED[there[0]])
        if table is None:
            return stand_in, None
        if there[0] == "mass":
            sign = mass_key(symbol)
            self.quantities.take(Reader(reader.file, {}, reader.faults, table.path), sign)
            given = self.quantities.given(table, sign, sign, MASS)
            self.quantities.placeholders[sign] = given
            table.finish()
        else:
            key, way = stated_key("given", symbol), "its direction says which way it acts"
            given = self.quantities.given(table, key, symbol, FORCE, way)
            table.finish()
        self.quantities.placeholders[symbol] = given
        return given, None

    def _share(self, reader: Reader, symbol: str) -> tuple[Given, Share]:
        """Return what follows from a share of the body, and the share."""
        if self.body is None and not self._body_is_there:
            reader.fault("segment / share", "there is no [body]", "a [body] with its mass")
        if reader.has("share"):
            value = reader.number("share")
            if not 0 < value < 20:
                reader.fault("share", f"found {float(value):g}", "above 0, below 20")
            of: Literal["mass", "weight"] = "weight"
            body = "m_b" if self.body is None else self.body.key
            magnitude = Given(weight_key(body), weight_key(body), "N")
            rows: Rows = ()
        else:
            value, of = self._segment_mass(reader), "mass"
            rows = self._rows(reader.text("segment", ""))
            sign = mass_key(symbol)
            self.quantities.take(Reader(reader.file, {}, reader.faults, reader.path), sign)
            magnitude = Given(sign, sign, "kg")
        given = self.quantities.constant(stated_key("share", symbol), value)
        self.quantities.placeholders[symbol] = given
        return magnitude, Share(given, of, rows)

    def _rows(self, segment: str) -> Rows:
        """Return the masses in the rows beside a segment's."""
        beside = {} if self.table is None else self.table.beside(segment)
        return tuple((name, float(row.mass)) for name, row in beside.items())

    def _segment_mass(self, reader: Reader) -> Fraction:
        if self.table is None:
            reader.fault("segment", "there is no table", "a [body] that names its table")
            return Fraction(1, 2)
        name = reader.choice("segment", tuple(self.table.segments))
        self.quantities.looked_up.append(name)
        return self.table.segments[name].mass
