"""Where a posture has its points and which way its lines run: bearings and lengths, by numbers."""

from __future__ import annotations

import math
from typing import NamedTuple

from leverstep.statics.acting import Force
from leverstep.statics.points import Direction, Numbers
from leverstep.statics.posture import Posture
from leverstep.statics.units import metres


class Bearing(NamedTuple):
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
    up, is_right = (1 if posture.rises else -1), posture.points == "right"
    if posture.inclination is None:
        return Bearing(0 if is_right else 180)
    if posture.inclined_to == "vertical":
        return Bearing(90 * up, -up if is_right else up)
    return Bearing(0, up) if is_right else Bearing(180, -up)


def force_bearing(posture: Posture, direction: Direction) -> Bearing:
    """Return the way that a force points."""
    if direction.reference == "segment":
        return _bearing_from_segment(posture, direction)
    up = 1 if direction.side == "above" else -1
    turned = 0 if direction.angle is None else 1
    if direction.reference == "bearing":
        return Bearing(0, 0, turned)
    right = direction.toward == "right"
    if direction.reference == "horizontal":
        return Bearing(0, 0, up * turned) if right else Bearing(180, 0, -up * turned)
    return Bearing(90 * up, 0, turned * (-up if right else up))


def _bearing_from_segment(posture: Posture, direction: Direction) -> Bearing:
    """Return the way that a force points whose direction is told by the segment."""
    segment, back = segment_bearing(posture), direction.toward == "axis"
    along = segment.constant + (180 if back else 0)
    if direction.side == "along":
        return Bearing(along, segment.inclined)
    # Seen along a segment that points left, "above" lies clockwise of it.
    up = 1 if (direction.side == "above") is (posture.points == "right") else -1
    if direction.angle is None:
        return Bearing(segment.constant + 90 * up, segment.inclined)
    return Bearing(along, segment.inclined, -up if back else up)


def lengths(posture: Posture, numbers: Numbers) -> dict[str, float]:
    """Return every distance in metres, by symbol; the one that is sought is left out."""
    found: dict[str, float] = {}
    for distance in posture.distances:
        if distance.derived is not None:
            found[distance.symbol] = distance.derived.value(found, numbers)
        elif distance.of is not None:
            found[distance.symbol] = numbers[distance.given.key] * found[distance.of]
        elif not distance.sought:
            found[distance.symbol] = numbers[distance.given.key] * metres(distance.given.unit)
    return found


def run_to_attachment(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return how far along the segment the far end of a muscle lies from where it pulls, in metres.

    Positive toward the end of the segment, negative toward the axis.
    """
    ends = force.direction.attachment
    assert ends is not None, f"{force.symbol} has a far end"
    known = lengths(posture, numbers)
    far = known[ends.along.symbol] * (-1 if ends.along.beyond else 1)
    return far - known[force.at.symbol] * (-1 if force.at.beyond else 1)


def leans_as_told(posture: Posture, force: Force, numbers: Numbers) -> bool:
    """Return whether the far end of a muscle lies toward the end that its direction says."""
    if force.direction.attachment is None:
        return True
    return (run_to_attachment(posture, force, numbers) > 0) == (force.direction.toward == "end")


def slant(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return the angle of a force to its reference line in degrees, 0 where it has none."""
    direction = force.direction
    if direction.attachment is not None:
        off = lengths(posture, numbers)[direction.attachment.off.symbol]
        return math.degrees(math.atan2(off, abs(run_to_attachment(posture, force, numbers))))
    return 0.0 if direction.angle is None else numbers[direction.angle.key]
