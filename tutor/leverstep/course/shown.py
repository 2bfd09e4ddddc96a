"""What a problem file shows besides the forces: outlines, surfaces and points around the segment.

They tell the posture to whoever looks at the picture, and take no part in the statics. Where they
lie follows from the distances and angles of the problem, so that it is to scale for all numbers.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from leverstep.course.faults import Reader, is_number
from leverstep.course.forces import AXIS, STRAIGHT, leaning
from leverstep.course.plain_text import shown
from leverstep.course.quantities import Quantities
from leverstep.statics.points import Direction, Given

MOST_SHOWN = 12
"""What a file may show; a picture of 40 columns has no room for more."""

MOST_TIMES, LONGEST_NAME = 50, 40
"""How often a distance may go into a length, and the characters of a name beside a line."""

Kind = Literal["outline", "surface", "point"]
KINDS: tuple[Kind, ...] = ("outline", "surface", "point")

ARROW = "arrow"
"""What stands for the length of the longest arrow, where a problem gives no distance."""

_ON_ITS_LINE = Given("", "", "deg")


@dataclass(frozen=True, slots=True)
class Extent:
    """A length that is so many `times` the distance with the symbol `of`, or `ARROW`.

    `told` says that it is that distance itself, as the problem gives it, and not only drawn by it.
    """

    times: float
    of: str
    told: bool = False

    def metres(self, distances: Mapping[str, float]) -> float:
        """Return the length in metres, by the distances of a question; in arrows for `ARROW`."""
        return self.times * (1.0 if self.of == ARROW else distances[self.of])


@dataclass(frozen=True, slots=True)
class Shown:
    """Something shown: its kind and name, and where it lies as seen from `at`.

    `at` is `AXIS`, the symbol of a force for the point where it acts, or the name of an `end` that
    was shown before. From there, `direction` and `length` lead to the far end of an outline, called
    `end` where that is a name, to a point, or to a surface, which lies across that way and is
    `width` wide: as wide as the picture where that is None. A surface without a length lies at
    `at` itself; an outline has a length, or reaches until the surface that `until` names. Where the
    angle of the direction is none of the problem's own, it is `angle`, in degrees.
    """

    kind: Kind
    name: str
    at: str
    direction: Direction
    angle: float = 0.0
    length: Extent | None = None
    until: str = ""
    end: str = ""
    width: Extent | None = None


def read_shown(reader: Reader, forces: Iterable[str], quantities: Quantities) -> tuple[Shown, ...]:
    """Return what a file shows, noting all that can't be drawn.

    Args:
        reader: the whole file.
        forces: the symbols of its forces.
        quantities: those of the file.
    """
    expected = "[[shown]] for each thing that is shown"
    drafts = reader.children("shown", expected, MOST_SHOWN, needed=False)
    return _Shownings(forces, quantities).read(drafts)


class _Shownings:
    """The entries of one file, read in their order."""

    def __init__(self, forces: Iterable[str], quantities: Quantities) -> None:
        self.angles = quantities.angles
        self.distances = quantities.lengths
        self.points = [AXIS, *forces]
        self.surfaces: list[str] = []

    def read(self, drafts: list[Reader]) -> tuple[Shown, ...]:
        return tuple(entry for draft in drafts if (entry := self._entry(draft)) is not None)

    def _entry(self, reader: Reader) -> Shown | None:
        there = [kind for kind in KINDS if reader.has(kind)]
        reader.asked.update(KINDS)
        if len(there) != 1:
            found = f"{len(there)} of them" if there else "none of them"
            reader.fault(" / ".join(KINDS), found, "the name of one outline, surface or point")
            return None
        (kind,) = there
        name = self._name(reader, kind)
        at = reader.choice("at", self.points)
        direction, angle = self._direction(reader)
        until, length = "", None
        if kind == "outline" and reader.has("until"):
            until = self._until(reader)
        else:
            length = self._extent(reader, "length", needed=kind != "surface")
        width = self._extent(reader, "width", needed=False) if kind == "surface" else None
        end = self._name(reader, "to") if kind == "outline" and reader.has("to") else ""
        end = name if kind == "point" else end
        reader.finish()
        if end:
            self._add(reader, end, "point" if kind == "point" else "to")
        if kind == "surface":
            self.surfaces.append(name)
        return Shown(kind, name, at, direction, angle, length, until, end, width)

    def _name(self, reader: Reader, key: str) -> str:
        name = reader.text(key)
        if len(name) > LONGEST_NAME:
            reader.fault(key, f"found {len(name)} characters", f"at most {LONGEST_NAME}")
        return name

    def _add(self, reader: Reader, end: str, key: str) -> None:
        if end in self.points:
            reader.fault(key, f"{shown(end)} is the name of another point", "a new name")
        self.points.append(end)

    def _until(self, reader: Reader) -> str:
        if not self.surfaces:
            reader.text("until")
            reader.fault("until", "no surface is shown before", "the name of one that is")
            return ""
        return reader.choice("until", self.surfaces)

    def _extent(self, reader: Reader, key: str, needed: bool) -> Extent | None:
        """Return a length: the symbol of a distance, or how often it goes into it."""
        if isinstance(reader.table.get(key), str):
            return Extent(1.0, _distance(reader, key, self.distances), told=True)
        table = reader.child(key, needed)
        if table is None:
            return None
        times = table.number("times")
        if not 0 < times <= MOST_TIMES:
            table.fault("times", f"found {float(times):g}", f"above 0, at most {MOST_TIMES}")
        extent = Extent(float(times), _distance(table, "of", self.distances or (ARROW,)))
        table.finish()
        return extent

    def _direction(self, reader: Reader) -> tuple[Direction, float]:
        """Return a direction, and its angle where that is none of the problem's own."""
        if not isinstance(reader.table.get("direction"), dict):
            return STRAIGHT[reader.choice("direction", tuple(STRAIGHT))], 0.0
        table = reader.child("direction")
        assert table is not None, "a table, as just seen"
        direction = leaning(table)
        angle, degrees = self._angle(table)
        table.finish()
        return replace(direction, angle=angle), degrees

    def _angle(self, reader: Reader) -> tuple[Given, float]:
        if is_number(reader.table.get("angle")):
            degrees = float(reader.number("angle"))
            if not 0 <= degrees <= 90:
                reader.fault("angle", f"found {degrees:g}", "0 to 90")
            return _ON_ITS_LINE, degrees
        names = tuple(self.angles) or ("a number of degrees",)
        return self.angles.get(reader.choice("angle", names), _ON_ITS_LINE), 0.0


def _distance(reader: Reader, key: str, symbols: Collection[str]) -> str:
    """Return the symbol of a distance that is given."""
    return reader.choice(key, symbols or ("a distance of this problem",))
