"""Reading the forces of a problem file: size, point, and direction."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal, cast

from leverstep.course.faults import Reader
from leverstep.course.quantities import Quantities
from leverstep.course.segments import TABLES, SegmentTable, segment_table
from leverstep.statics.posture import (
    AT_AXIS,
    Attachment,
    Couple,
    Direction,
    Distance,
    Force,
    Given,
    Offset,
    Rows,
    Share,
)
from leverstep.statics.units import FORCE, MASS, MOMENT

STRAIGHT: dict[str, Direction] = {
    "up": Direction("vertical", side="above"),
    "down": Direction("vertical", side="below"),
    "left": Direction("horizontal", toward="left"),
    "right": Direction("horizontal", toward="right"),
    "perpendicular above": Direction("segment", side="above"),
    "perpendicular below": Direction("segment", side="below"),
    "with the segment": Direction("segment", toward="end", side="along"),
    "against the segment": Direction("segment", toward="axis", side="along"),
}
"""The directions that have a name, for whatever a file gives one."""


def _sense(reader: Reader) -> int:
    """Return which way something turns: +1 counter-clockwise, -1 clockwise."""
    sense = reader.choice("turns", ("counter-clockwise", "clockwise"))
    return 1 if sense == "counter-clockwise" else -1


_SIZES = ("mass", "force", "segment", "share")


class Forces:
    """The body and the forces of one file; quantities are kept in `quantities`."""

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        self.names: dict[str, str] = {}
        self.couples: list[str] = []
        self.places: dict[str, str] = {}
        self.body: Given | None = None
        self.table: SegmentTable | None = None

    def read_body(self, reader: Reader) -> None:
        """Read the body's mass, and the table that its segments come from."""
        mass = reader.child("mass")
        if mass is not None:
            symbol = self.quantities.new_symbol(mass)
            if not symbol.startswith("m_"):
                mass.fault("symbol", f'found "{symbol}"', 'a symbol such as "m_b"')
            self.body = self.quantities.given(mass, symbol, symbol, MASS)
            self.quantities.placeholders[symbol] = self.body
            self.quantities.symbols["W" + symbol[1:]] = mass.path  # the weight of the whole body
            mass.finish()
        if reader.has("table"):
            self.table = segment_table(reader.choice("table", TABLES))
        reader.finish()

    def force(self, reader: Reader) -> Force:
        """Return a force; one without any size is the one to be found."""
        symbol = self._named(reader)
        magnitude, share = self._size(reader, symbol)
        own_weight = reader.flag("own_weight", False)
        at, offset, turns = self._point(reader, symbol)
        direction = self._direction(reader, symbol)
        reader.finish()
        called_weight = symbol.startswith("W")
        return Force(
            symbol, at, direction, magnitude, turns, own_weight, share, offset, called_weight
        )

    def couple(self, reader: Reader) -> Couple:
        """Return a couple: how large it is, and which way it turns."""
        symbol = self._named(reader)
        self.couples.append(symbol)
        turns = _sense(reader)
        table = reader.child("couple")
        if table is not None:
            given = self.quantities.given(table, symbol, symbol, MOMENT)
            table.finish()
        else:
            given = Given(symbol, symbol, "N·m")
        self.quantities.placeholders[symbol] = given
        reader.finish()
        return Couple(symbol, given, turns)

    def _named(self, reader: Reader) -> str:
        """Return the symbol of a force or a couple, and keep what it is called."""
        symbol = self.quantities.new_symbol(reader)
        if symbol and "_" not in symbol:
            reader.fault("symbol", f'found "{symbol}"', 'a letter, "_" and letters, as in "W_l"')
        self.names[symbol] = reader.text("name")
        return symbol

    def _size(self, reader: Reader, symbol: str) -> tuple[Given | None, Share | None]:
        """Return the size of a force: a mass or a force as given, or a share of the body."""
        reader.asked.update(_SIZES)
        there = [key for key in _SIZES if reader.has(key)]
        # A statement may name what could not be read.
        stand_in = Given("", "", "N")
        for sign in (symbol, "m" + symbol[1:]):
            self.quantities.placeholders.setdefault(sign, stand_in)
        if not there:
            return None, None
        if len(there) > 1:
            expected = "one of mass, force, segment, share"
            reader.fault(" / ".join(there), f"{len(there)} sizes are given", expected)
            return stand_in, None
        if there[0] in ("segment", "share"):
            return self._share(reader, symbol)
        table = reader.child(there[0])
        if table is None:
            return stand_in, None
        if there[0] == "mass":
            sign = "m" + symbol[1:]
            self.quantities.take(Reader(reader.file, {}, reader.faults, table.path), sign)
            given = self.quantities.given(table, sign, sign, MASS)
            self.quantities.placeholders[sign] = given
            table.finish()
        else:
            given = self.quantities.given(table, f"given_{symbol}", symbol, FORCE)
            table.finish()
        self.quantities.placeholders[symbol] = given
        return given, None

    def _share(self, reader: Reader, symbol: str) -> tuple[Given, Share]:
        """Return what follows from a share of the body, and the share."""
        if self.body is None:
            reader.fault("segment / share", "there is no [body]", "a [body] with its mass")
        if reader.has("share"):
            value = reader.number("share")
            if not 0 < value < 20:
                reader.fault("share", f"found {float(value):g}", "above 0, below 20")
            of: Literal["mass", "weight"] = "weight"
            body = "m_b" if self.body is None else self.body.key
            magnitude = Given("W" + body[1:], "W" + body[1:], "N")
            rows: Rows = ()
        else:
            value, of = self._segment_mass(reader), "mass"
            rows = self._rows(reader.text("segment", ""))
            sign = "m" + symbol[1:]
            self.quantities.take(Reader(reader.file, {}, reader.faults, reader.path), sign)
            magnitude = Given(sign, sign, "kg")
        given = self.quantities.constant(f"share_{symbol}", value)
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

    def _point(self, reader: Reader, symbol: str) -> tuple[Distance, Offset | None, int | None]:
        """Return where a force acts: on the segment, through the axis, or beside it."""
        if reader.table.get("at") == "axis":
            reader.asked.add("at")
            return AT_AXIS, None, None
        table = reader.child("at")
        if table is None:
            return Distance("", Given("", "")), None, None
        if table.has("place"):
            self.places[symbol] = table.text("place")
        if table.has("across") or table.has("up"):
            return AT_AXIS, self._offset(table), None
        at = self.quantities.along_segment(table, self.table)
        turns = None
        if at.perpendicular:
            turns = _sense(table)
        table.finish()
        return at, None, turns

    def _offset(self, table: Reader) -> Offset:
        """Return a point across from the axis, or above or below it, or both."""
        parts: list[Distance | None] = []
        for key, other in (("across", "left"), ("up", "below")):
            part = table.child(key, needed=False)
            if part is None:
                parts.append(None)
                continue
            beyond = part.flag(other, False)
            parts.append(replace(self.quantities.distance(part), beyond=beyond))
            part.finish()
        table.finish()
        return Offset(*parts)

    def _direction(self, reader: Reader, symbol: str) -> Direction:
        value = reader.table.get("direction")
        if not isinstance(value, dict):
            name = reader.choice("direction", tuple(STRAIGHT))
            return STRAIGHT.get(name, STRAIGHT["down"])
        table = reader.child("direction")
        assert table is not None, "a table, as just seen"
        line = table.choice("line", ("segment", "horizontal", "vertical"))
        ends = ("axis", "end") if line == "segment" else ("left", "right")
        toward = table.choice("toward", ends)
        side = table.choice("side", ("above", "below"))
        attachment = self._attachment(table, line) if table.has("far_end") else None
        if attachment is not None:
            angle: Given | None = Given(f"gamma{symbol[1:]}", f"gamma{symbol[1:]}", "deg")
        else:
            angle_table = table.child("angle")
            angle = None if angle_table is None else self.quantities.angle(angle_table)
        table.finish()
        return Direction(
            cast(Literal["segment", "horizontal", "vertical"], line), angle,
            cast(Literal["axis", "end", "left", "right"], toward),
            cast(Literal["above", "below"], side), attachment,
        )  # fmt: skip

    def _attachment(self, table: Reader, line: str) -> Attachment | None:
        """Return the far end of a muscle, along the segment and off its line."""
        if line != "segment":
            table.fault("line", f'found "{line}"', '"segment", where the far end is given')
        ends = table.child("far_end")
        if ends is None:
            return None
        along, off = ends.child("along"), ends.child("off")
        ends.finish()
        if along is None or off is None:
            return None
        made = Attachment(self.quantities.distance(along), self.quantities.distance(off))
        along.finish()
        off.finish()
        return made
