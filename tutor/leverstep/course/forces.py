"""Reading the forces of a problem file: size, point, and direction."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Literal, cast, get_args

from leverstep.course.faults import Reader, is_number
from leverstep.course.force_sizes import SIZES, ForceSizes
from leverstep.course.plain_text import shown
from leverstep.course.quantities import Quantities
from leverstep.course.size_sources import SourceReader
from leverstep.course.symbols import index_given, names_weight
from leverstep.statics.acting import Couple, Force, InertiaSize
from leverstep.statics.line_keys import (
    attachment_angle_key,
    share_sign,
    stated_key,
)
from leverstep.statics.points import (
    AT_AXIS,
    Attachment,
    Between,
    Direction,
    Distance,
    Given,
    Offset,
)
from leverstep.statics.units import MOMENT

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

_OTHER_NAMES = {"x": "across", "y": "up", "right": "across", "left": "across", "down": "up"}
"""What is at times written for the parts of a point beside the segment."""

ANGLED = '{ symbol = "alpha", value = 15, unit = "deg" }'
LONG = '{ symbol = "d_l", value = 30, unit = "cm" }'
TURNED = f'{{ line = "horizontal", toward = "left", side = "above", angle = {ANGLED} }}'
"""An angle, a distance, and a direction by an angle, as a file has them."""
_LEANS = '"toward" and "side" say which way the force leans'
_ROUND = "it is measured anticlockwise from the right"
_STRAIGHT_BEARINGS: dict[int | Fraction, str] = {
    0: "right", 90: "up", 180: "left", 270: "down", 360: "right",
}  # fmt: skip
"""What is written for bearings that leave no angle to work with."""
_MEANT = {
    **dict.fromkeys(("weight", "size", "magnitude", "value"), '"force" or "mass"'),
    **dict.fromkeys(("distance", "position", "arm", "point", "place", "x"), '"at"'),
    **dict.fromkeys(("angle", "way", "line", "toward", "side"), '"direction"'),
    **dict.fromkeys(("perpendicular", "beyond", "turns"), '"at" with it inside'),
}
"""What is at times written in the table of a force, and what is meant by it."""
AXIS = "axis"
"""What stands for the axis where a place is named."""

SENSES = {"counter-clockwise": 1, "clockwise": -1, "anticlockwise": 1}
"""The senses of rotation, as a file has them."""

ReferenceLine = Literal["segment", "horizontal", "vertical"]
REFERENCE_LINES: tuple[ReferenceLine, ...] = get_args(ReferenceLine)
"""The lines that the angle of a direction is measured from."""


def leaning(table: Reader, lines: tuple[ReferenceLine, ...] = REFERENCE_LINES) -> Direction:
    """Return a direction by one of some lines and the sides it leans to, still without an angle."""
    line = cast(ReferenceLine, table.choice("line", lines))
    toward = table.choice("toward", ("axis", "end") if line == "segment" else ("left", "right"))
    side = table.choice("side", ("above", "below"))
    return Direction(
        line,
        toward=cast(Literal["axis", "end", "left", "right"], toward),
        side=cast(Literal["above", "below"], side),
    )


def sense_of(reader: Reader) -> int:
    """Return which way something turns: +1 counter-clockwise, -1 clockwise."""
    return SENSES[reader.choice("turns", tuple(SENSES))]


def is_couple(table: Reader) -> bool:
    """Return whether a load is a couple: so says its size, or a turn where it acts nowhere."""
    is_force = any(table.has(key) for key in (*SIZES, "at", "direction"))
    return table.has("couple") or (table.has("turns") and not is_force)


class Forces:
    """The forces of one file, with their sizes; quantities are kept in `quantities`."""

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        self._sources = SourceReader(quantities)
        self.names: dict[str, str] = {}
        self.couples: list[str] = []
        self.places: dict[tuple[str, str], str] = {}
        self.sizes = ForceSizes(quantities)
        self.body_points: tuple[str, ...] = ()
        self.mark = ""
        self._read: dict[str, Force] = {}
        self._earlier: dict[str, Force] = {}

    def begin_next(self, mark: str, found: Mapping[str, str]) -> None:
        """Begin the next posture of a working: forces read so far may act there again.

        So may those that were `found` further, each with its name.
        """
        self.mark = mark
        self._earlier = dict(self._read)
        for symbol, name in found.items():
            if index_given(symbol):
                size = Given(symbol, symbol, "N")
                self._earlier[symbol] = Force(symbol, AT_AXIS, STRAIGHT["up"], size)
                self.names[symbol] = name

    @property
    def force_names(self) -> list[str]:
        """Return the symbols of the forces, without those of couples."""
        return [symbol for symbol in self.names if symbol not in self.couples]

    def force(self, reader: Reader) -> Force:
        """Return a force; one without a size is to be found, or acted in an earlier posture."""
        named = reader.table.get("symbol")
        if isinstance(named, str) and named in self._earlier:
            reader.asked.add("symbol")
            return self._again(reader, self._earlier[named])
        symbol = self._named(reader)
        magnitude, share = self.sizes.size(reader, symbol)
        is_known = magnitude is not None or reader.has("inertia_of")
        source = self._sources.source(reader, self._read) if is_known else None
        own_weight = reader.flag("own_weight", False)
        between = self._between(reader, symbol)
        antagonist = reader.flag("antagonist", False)
        if isinstance(source, InertiaSize) and not reader.has("at"):
            reader.asked.add("at")
            mover = self._read[source.of]
            at, offset, turns = mover.at, mover.offset, mover.turns
        else:
            at, offset, turns = (AT_AXIS, None, None) if between else self.point(reader, symbol)
        direction = self._direction(reader, symbol)
        reader.finish(_MEANT)
        called_weight = names_weight(symbol)
        force = Force(
            symbol, at, direction, magnitude, turns, own_weight, share, offset, called_weight,
            self.mark, between=between, source=source, antagonist=antagonist,
        )  # fmt: skip
        self._read[symbol] = force
        return force

    def _again(self, reader: Reader, force: Force) -> Force:
        """Return a force of an earlier posture where it acts now."""
        self.names[force.symbol] = reader.text("name", self.names[force.symbol])
        if (force.symbol, force.mark) in self.places:
            self.places[force.symbol, self.mark] = self.places[force.symbol, force.mark]
        at, offset, turns = self.point(reader, force.symbol)
        direction = self._direction(reader, force.symbol)
        reader.finish(_MEANT)
        size = force.magnitude or Given(force.symbol, force.symbol, "N")
        return replace(
            force, at=at, offset=offset, turns=turns, direction=direction, magnitude=size,
            mark=self.mark, before=force.symbol,
        )  # fmt: skip

    def couple(self, reader: Reader) -> Couple:
        """Return a couple: how large it is, and which way it turns."""
        symbol = self._named(reader)
        self.couples.append(symbol)
        turns = sense_of(reader)
        table = reader.child("couple", like='{ value = 2, unit = "N·m" }')
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
        if symbol and not index_given(symbol):
            reader.fault("symbol", f'found "{symbol}"', 'a letter, "_" and letters, as in "W_l"')
        self.names[symbol] = reader.text("name")
        return symbol

    def _between(self, reader: Reader, symbol: str) -> Between | None:
        """Return the place of a force between two points of the body, None where it is another."""
        at = reader.table.get("at")
        if not isinstance(at, dict) or "between" not in at:
            return None
        table = reader.child("at")
        assert table is not None, "a table, as just seen"
        names = table.texts("between")
        known = (AXIS, *self.body_points)
        for name in names:
            if name not in known:
                expected = "two of " + ", ".join(f'"{one}"' for one in known)
                table.fault("between", f"found {shown(name)}{table.near(name, known)}", expected)
        if len(names) != 2 or names[0] == names[1]:
            table.fault("between", f"found {len(set(names))}", "two points, the nearer end first")
            names = (AXIS, AXIS)
        if table.has("place"):
            self.places[symbol, self.mark] = table.text("place")
        share, rows = self.quantities.share_of_length(table, self.sizes.table)
        table.finish()
        sign = share_sign(symbol)
        fraction = self.quantities.constant(stated_key("between", sign), share)
        self.quantities.placeholders[sign] = fraction
        start, end = ("" if name == AXIS else name for name in names)
        return Between(start, end, fraction, rows)

    def point(self, reader: Reader, symbol: str) -> tuple[Distance, Offset | None, int | None]:
        """Return where a force acts: on the segment, through the axis, or beside it."""
        if reader.table.get("at") == "axis":
            reader.asked.add("at")
            return AT_AXIS, None, None
        named = reader.table.get("at")
        if isinstance(named, str) and named in self.quantities.distances and self._earlier:
            reader.asked.add("at")
            return self.quantities.distances[named], None, None
        table = reader.child("at", like=f'{LONG}, or "axis"')
        if table is None:
            return Distance("", Given("", "")), None, None
        if table.has("place"):
            self.places[symbol, self.mark] = table.text("place")
        if table.has("across") or table.has("up"):
            return AT_AXIS, self.offset(table), None
        if misnamed := [key for key in _OTHER_NAMES if table.has(key)]:
            for key in misnamed:
                table.fault(key, "unknown key", f'"{_OTHER_NAMES[key]}" = {{ symbol = …, … }}')
            return AT_AXIS, None, None
        at = self.quantities.along_segment(table, self.sizes.table)
        turns = None
        if at.perpendicular:
            turns = sense_of(table)
        table.finish()
        return at, None, turns

    def offset(self, table: Reader) -> Offset:
        """Return a point across from the axis, or above or below it, or both."""
        parts: list[Distance | None] = []
        for key, other in (("across", "left"), ("up", "below")):
            part = table.child(key, needed=False, like=LONG)
            if part is None:
                parts.append(None)
                continue
            beyond = part.flag(other, False)
            other_way = f"{other} = true says that it lies on the other side"
            distance = self.quantities.distance(part, other_way)
            parts.append(replace(distance, beyond=beyond))
            part.finish()
        table.finish()
        return Offset(*parts)

    def _direction(self, reader: Reader, symbol: str) -> Direction:
        value = reader.table.get("direction")
        if not isinstance(value, dict):
            name = reader.choice("direction", tuple(STRAIGHT), or_else=f"a table such as {TURNED}")
            return STRAIGHT.get(name, STRAIGHT["down"])
        table = reader.child("direction")
        assert table is not None, "a table, as just seen"
        if table.has("bearing"):
            return self.by_bearing(table)
        direction = leaning(table)
        has_far_end = table.has("far_end")
        attachment = self._attachment(table, direction.reference) if has_far_end else None
        if attachment is not None:
            key = attachment_angle_key(symbol, self.mark)
            angle: Given | None = Given(key, key, "deg")
        else:
            angle = self._angle(table, "angle")
        table.finish()
        return replace(direction, angle=angle, attachment=attachment)

    def by_bearing(self, table: Reader) -> Direction:
        """Return a direction that is told by its bearing."""
        bearing = Direction("bearing", self._angle(table, "bearing"))
        table.finish()
        return bearing

    def _angle(self, table: Reader, key: Literal["angle", "bearing"]) -> Given | None:
        """Return the angle of a force to its line, or from the right; an earlier one is named."""
        if self._earlier and isinstance(table.table.get(key), str):
            return self.quantities.angle_met(table, key)
        angles = table.child(key, like=ANGLED)
        if angles is None:
            return None
        if key == "bearing":
            straight = angles.table.get("value")
            if is_number(straight) and straight in _STRAIGHT_BEARINGS:
                expected = f'direction = "{_STRAIGHT_BEARINGS[straight]}", without a bearing'
                angles.fault("value", f"found {shown(straight)}", expected)
                return None
            return self.quantities.angle(angles, _ROUND, _ROUND, 360)
        return self.quantities.angle(angles, _LEANS, _LEANS, 180)

    def _attachment(self, table: Reader, line: str) -> Attachment | None:
        """Return the far end of a muscle, along the segment and off its line."""
        if line != "segment":
            table.fault("line", f'found "{line}"', '"segment", where the far end is given')
        ends = table.child("far_end")
        if ends is None:
            return None
        along, off = ends.child("along", like=LONG), ends.child("off", like=LONG)
        ends.finish()
        if along is None or off is None:
            return None
        made = Attachment(
            self.quantities.distance(along, "beyond = true says that it lies past the axis"),
            self.quantities.distance(off, "side says on which side of the segment it lies"),
        )
        along.finish()
        off.finish()
        return made
