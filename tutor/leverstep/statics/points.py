"""What a problem gives, and what lies where with it: distances, points, places and directions.

Nothing here holds numbers, only which quantities are given and in which unit; the numbers of one
student are a mapping from each given's key to its value. Angles are in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from leverstep.statics.units import MASS, TABLE

Numbers = Mapping[str, float]
"""The value of each given, by `Given.key`, in the given's own unit."""


Rows = tuple[tuple[str, float], ...]
"""Rows of a table beside the right one: each its name and its share."""


@dataclass(frozen=True, slots=True)
class Given:
    """One number that the problem states: its key, the sign it is written with, and its unit."""

    key: str
    sign: str
    unit: str = ""

    @property
    def is_mass(self) -> bool:
        """Return whether it is given in a unit of mass."""
        return self.unit in TABLE and TABLE[self.unit].dimension == MASS


@dataclass(frozen=True, slots=True)
class FromOthers:
    """How a distance follows from others that are known.

    It is the sum of those in `of`, the difference of the first and the second, or the one there is
    times the sine or cosine of `angle`.
    """

    how: Literal["sum", "difference", "sine", "cosine"]
    of: tuple[str, ...]
    angle: Given | None = None

    @property
    def written(self) -> str:
        """Return it as one writes it, with `{symbol}` for each quantity: `{L} + {d_g}`."""
        if self.angle is not None:
            function = "sin" if self.how == "sine" else "cos"
            return f"{{{self.of[0]}}} × {function}({{{self.angle.key}}})"
        mark = " + " if self.how == "sum" else " − "
        return mark.join(f"{{{symbol}}}" for symbol in self.of)

    def value(self, known: Mapping[str, float], numbers: Numbers) -> float:
        """Return it in metres, by the distances known so far and the angle in degrees."""
        first, *others = (known[symbol] for symbol in self.of)
        if self.angle is not None:
            function = math.sin if self.how == "sine" else math.cos
            return first * function(math.radians(numbers[self.angle.key]))
        return first + sum(others) * (1 if self.how == "sum" else -1)


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance along the segment from the axis: measured, or worked out from other distances.

    `of` names the other distance where `given` is a fraction, `derived` says how it follows from
    others in another way. `beyond` says that the point lies on
    the far side of the axis, where the segment is prolonged past the joint. `perpendicular` says
    that the distance is already the moment arm. `sought` says that it is to be found. `rows` are
    the other rows of the table that a fraction was looked up in.
    """

    symbol: str
    given: Given
    of: str | None = None
    beyond: bool = False
    perpendicular: bool = False
    sought: bool = False
    rows: Rows = ()
    derived: FromOthers | None = None

    @property
    def rests_on(self) -> tuple[str, ...]:
        """Return the distances that it is worked out from, none where it is measured or sought."""
        if self.derived is not None:
            return self.derived.of
        return () if self.of is None else (self.of,)

    @property
    def is_measured(self) -> bool:
        """Return whether it is given as a length."""
        return not (self.rests_on or self.sought)


AT_AXIS = Distance("", Given("", "", "m"))
"""Where a force acts through the axis itself, at no distance from it."""


@dataclass(frozen=True, slots=True)
class Offset:
    """A point beside the axis: `across` to the right of it (`beyond`: left), `up` above (below).

    Either may be None, where the point lies straight above or straight beside the axis.
    """

    across: Distance | None
    up: Distance | None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that there are."""
        return tuple(part for part in (self.across, self.up) if part is not None)


@dataclass(frozen=True, slots=True)
class Between:
    """A place between two points of the body: so large a share of the way from one to the other.

    `start` and `end` name points of the body, "" the axis; `rows` are the other rows of the table
    that the share was looked up in.
    """

    start: str
    end: str
    fraction: Given
    rows: Rows = ()


@dataclass(frozen=True, slots=True)
class Attachment:
    """Where the far end of a muscle is attached, seen along the segment that it moves.

    `along` is its distance from the axis along the segment (`beyond`: past the axis), `off` how far
    it lies from the line of the segment.
    """

    along: Distance
    off: Distance


@dataclass(frozen=True, slots=True)
class Direction:
    """Where a force points: along a reference line, or turned from it by a given angle.

    The `reference` "bearing" says that the angle is measured anticlockwise from the right, up to
    360 degrees. To the other lines it is less than 180.

    `reference` is the line that `angle` is measured from. `toward` is the end of that line that the
    force leans to ("axis" or "end" of a segment, "left" or "right", and for the vertical the side
    it leans to); `side` says whether the force points above or below. Without an angle, `reference`
    "vertical" with a side is straight up or down, "horizontal" with `toward` is straight left or
    right, and "segment" with a side is perpendicular to the segment; with the side "along" it lies
    along the segment, to the end that `toward` names. With an `attachment` the angle
    to the segment is not given, but follows from the two ends of the muscle.
    """

    reference: Literal["segment", "horizontal", "vertical", "bearing"]
    angle: Given | None = None
    toward: Literal["axis", "end", "left", "right"] | None = None
    side: Literal["above", "below", "along"] = "above"
    attachment: Attachment | None = None


@dataclass(frozen=True, slots=True)
class BodyPoint:
    """A joint, or another end of a body part: told from the axis, or by the way that leads to it.

    An `offset` tells it from the axis. Else it lies `length` away in `direction` from the point
    called `start`, the axis where that is ""; its coordinates are then x and y with the `suffix`.
    """

    name: str
    suffix: str = ""
    offset: Offset | None = None
    start: str = ""
    length: Distance | None = None
    direction: Direction | None = None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that tell where it lies."""
        if self.offset is not None:
            return self.offset.distances
        return () if self.length is None else (self.length,)


@dataclass(frozen=True, slots=True)
class Support:
    """The base of support on the floor: how far its two edges lie across from the axis.

    An edge is None where it lies at the axis; `beyond` puts one on the left.
    """

    left: Distance | None
    right: Distance | None

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return the distances that there are."""
        return tuple(edge for edge in (self.left, self.right) if edge is not None)
