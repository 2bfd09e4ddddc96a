"""Forces through one point put together: the known ones as one force, and the angles between them.

So a triangle of forces is worked: the known force closes those that are sought.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Mapping

from leverstep.statics.posture import Posture

_SEVERAL = 2
"""So many forces are put together at least, and so many sought where known ones close a polygon."""
BETWEEN_KEYS = ("angle between two", "angle between two, outside")
"""The keys of the angle between two forces, and of that beside it."""
_NO_FORCE = 1e-9


def known_and_sought(posture: Posture) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the symbols of the known forces through one point and of those that are sought, none
    where moments are taken, or only one of them is sought.
    """
    if posture.has_moments or len(posture.unknown) < _SEVERAL:
        return (), ()
    sought = tuple(force.symbol for force in posture.unknown)
    return _known(posture), sought


def forces_at_angle(posture: Posture) -> tuple[str, ...]:
    """Return the symbols of the two forces through one point that an angle lies between: those that
    are sought, or else the known ones; none where there are not two, or moments are taken.
    """
    if posture.has_moments:
        return ()
    some = known_and_sought(posture)[1] or _known(posture)
    return some[:_SEVERAL] if len(some) >= _SEVERAL else ()


def _known(posture: Posture) -> tuple[str, ...]:
    return tuple(force.symbol for force in posture.forces if force.magnitude is not None)


def together_key(axis: str = "") -> str:
    """Return the key of the known forces put together, or of what they come to along an axis."""
    return f"known together{_along(axis)}"


def needed_key(axis: str) -> str:
    """Return the key of what the sought forces have to come to along an axis."""
    return f"needed{_along(axis)}"


def _along(axis: str) -> str:
    return f" along {axis}" if axis else ""


def angle_keys(known: tuple[str, ...], sought: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Yield the keys of angles of the sought forces to the known ones put together, with the force
    that each is of.
    """
    if len(known) >= _SEVERAL:
        yield from ((f"angle of {one} to {together_key()}", one) for one in sought)


def polygon(posture: Posture, forces: Mapping[str, complex]) -> dict[str, float]:
    """Return the sizes in newtons and angles in degrees of forces put together, by key.

    Args:
        posture: where the forces act.
        forces: each to the right and up, by its symbol.
    """
    known, sought = known_and_sought(posture)
    found: dict[str, float] = {}
    if both := forces_at_angle(posture):
        between = _between(*(forces[one] for one in both))
        found = dict(zip(BETWEEN_KEYS, (between, 180 - between), strict=True))
    if not known:
        return found
    whole = sum((forces[one] for one in known), 0j)
    if not abs(whole) > _NO_FORCE:
        return found
    found[together_key()] = abs(whole)
    for axis, part in (("x", whole.real), ("y", whole.imag)):
        found |= {together_key(axis): part, needed_key(axis): -part}
    slope = math.degrees(math.atan2(abs(whole.imag), abs(whole.real)))
    found |= {
        f"angle of {together_key()} to the horizontal": slope,
        f"angle of {together_key()} to the vertical": 90 - slope,
    }
    for key, one in angle_keys(known, sought):
        found[key] = _between(forces[one], -whole)
    return found


def _between(one: complex, other: complex) -> float:
    """Return the angle between two forces, in degrees; nan where one is none."""
    if not (abs(one) > _NO_FORCE and abs(other) > _NO_FORCE):
        return math.nan
    return abs(math.degrees(cmath.phase(one / other)))
