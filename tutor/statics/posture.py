"""A described posture: one segment, its axis, the forces on it, and what is given of each.

A posture holds no numbers, only which quantities are given and in which unit; the numbers of one
student are a mapping from each given's key to its value. Angles are in degrees.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

Numbers = Mapping[str, float]
"""The value of each given, by `Given.key`, in the given's own unit."""


@dataclass(frozen=True, slots=True)
class Given:
    """One number that the problem states: its key, the sign it is written with, and its unit."""

    key: str
    sign: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance along the segment from the axis, measured or as a fraction of another distance.

    `of` names the other distance where `given` is a fraction. `beyond` says that the point lies on
    the far side of the axis, where the segment is prolonged past the joint. `perpendicular` says
    that the distance is already the moment arm.
    """

    symbol: str
    given: Given
    of: str | None = None
    beyond: bool = False
    perpendicular: bool = False


@dataclass(frozen=True, slots=True)
class Direction:
    """Where a force points: along a reference line, or turned from it by a given angle.

    `reference` is the line that `angle` is measured from. `toward` is the end of that line that the
    force leans to ("axis" or "end" of a segment, "left" or "right", and for the vertical the side
    it leans to); `side` says whether the force points above or below. Without an angle, `reference`
    "vertical" with a side is straight up or down, "horizontal" with `toward` is straight left or
    right, and "segment" with a side is perpendicular to the segment.
    """

    reference: Literal["segment", "horizontal", "vertical"]
    angle: Given | None = None
    toward: Literal["axis", "end", "left", "right"] | None = None
    side: Literal["above", "below"] = "above"


@dataclass(frozen=True, slots=True)
class Force:
    """A force on the segment; `magnitude` is None for the effort that is to be found.

    `turns` is +1 (counter-clockwise) or -1 where only the perpendicular moment arm is given, so
    that the sense of the moment cannot be seen from the point and the direction. `own_weight`
    marks the weight of the segment itself.
    """

    symbol: str
    at: Distance
    direction: Direction
    magnitude: Given | None = None
    turns: int | None = None
    own_weight: bool = False

    @property
    def suffix(self) -> str:
        """Return what follows the first letter of the symbol: `_l` of `W_l`."""
        return self.symbol[1:]


@dataclass(frozen=True, slots=True)
class Posture:
    """A rigid segment held still about a joint axis by one effort against known forces.

    `points` is the way the segment runs from the axis; `inclination` its given angle to the
    horizontal, `rises` False where the segment falls from the axis. `positive` is +1 where
    counter-clockwise moments count as positive. `by_components` says that a force that is not
    perpendicular to the segment is resolved, instead of finding its moment arm. `arm_ratio_of`
    names the force whose arm the effort's arm is compared with, where that ratio is asked for.
    `reaction` False leaves the joint reaction out.
    """

    effort: Force
    loads: tuple[Force, ...]
    length: Distance | None = None
    inclination: Given | None = None
    points: Literal["left", "right"] = "right"
    rises: bool = True
    positive: int = 1
    by_components: bool = False
    arm_ratio_of: str | None = None
    reaction: bool = True

    @property
    def forces(self) -> tuple[Force, ...]:
        """Return the loads, then the effort."""
        return (*self.loads, self.effort)

    @property
    def distances(self) -> tuple[Distance, ...]:
        """Return every distance, each after the one that it is a fraction of."""
        waiting = [] if self.length is None else [self.length]
        waiting += [force.at for force in self.forces]
        placed: dict[str, Distance] = {}
        while waiting:
            ready = [d for d in waiting if d.of is None or d.of in placed]
            if not ready:
                names = ", ".join(d.symbol for d in waiting)
                raise ValueError(f"distances that are fractions of each other: {names}")
            placed.update((d.symbol, d) for d in ready)
            waiting = [d for d in waiting if d.symbol not in placed]
        return tuple(placed.values())

    def givens(self) -> Iterator[Given]:
        """Yield every given of the posture, in the order in which a reader meets them."""
        if self.inclination is not None:
            yield self.inclination
        yield from (distance.given for distance in self.distances)
        for force in self.forces:
            if force.magnitude is not None:
                yield force.magnitude
            if force.direction.angle is not None:
                yield force.direction.angle


@dataclass(frozen=True, slots=True)
class Bearing:
    """An angle in degrees, counter-clockwise from the horizontal that points right.

    Written as `constant + inclined * inclination + turned * angle`, with the posture's inclination
    and the force's own angle; `inclined` and `turned` are -1, 0 or +1.
    """

    constant: int
    inclined: int = 0
    turned: int = 0

    def degrees(self, inclination: float, angle: float) -> float:
        """Return the angle for the given values, in degrees."""
        return self.constant + self.inclined * inclination + self.turned * angle

    def __sub__(self, other: Bearing) -> Bearing:
        """Return the angle from `other` round to this one."""
        return Bearing(
            self.constant - other.constant,
            self.inclined - other.inclined,
            self.turned - other.turned,
        )


def segment_bearing(posture: Posture) -> Bearing:
    """Return the way that the segment runs from the axis to its end."""
    inclined = 0 if posture.inclination is None else (1 if posture.rises else -1)
    return Bearing(0, inclined) if posture.points == "right" else Bearing(180, -inclined)


def force_bearing(posture: Posture, direction: Direction) -> Bearing:
    """Return the way that a force points."""
    up = 1 if direction.side == "above" else -1
    turned = 0 if direction.angle is None else 1
    if direction.reference == "segment":
        segment = segment_bearing(posture)
        # Seen along a segment that points left, "above" lies clockwise of it.
        up *= 1 if posture.points == "right" else -1
        if not turned:
            return Bearing(segment.constant + 90 * up, segment.inclined)
        back = direction.toward == "axis"
        return Bearing(
            segment.constant + (180 if back else 0), segment.inclined, -up if back else up
        )
    right = direction.toward == "right"
    if direction.reference == "horizontal":
        return Bearing(0, 0, up * turned) if right else Bearing(180, 0, -up * turned)
    return Bearing(90 * up, 0, turned * (-up if right else up))
