"""Why some numbers of a problem have no equilibrium, though every line has a value."""

from __future__ import annotations

from collections.abc import Mapping

from leverstep.statics.geometry import leans_as_told
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Find, Posture


def out_of_balance(
    posture: Posture, axis: str, numbers: Numbers, values: Mapping[str, float]
) -> str:
    """Return why what is found of a posture holds nothing, "" where it does.

    Args:
        posture: what is described.
        axis: what its axis is called.
        numbers: a value for each given.
        values: the value of every line, by key.
    """
    from leverstep.statics.balance import opposes, out_of_measure

    for distance in posture.distances:
        if distance.derived is not None and not values[distance.symbol] > 0:
            return f"{distance.symbol} is not above 0"
    for one in posture.forces:
        if not leans_as_told(posture, one, numbers):
            return f"the far end of {one.symbol} lies toward the other end of the segment"
    force = posture.balancing
    if force is None:
        return along_one_line(posture, numbers) or _pushing(posture, values)
    match out_of_measure(posture, values):
        case 1:
            return f"the line of action of {force.symbol} passes through the {axis}"
        case -1:
            return f"the other forces have no moment about the {axis}"
    if not opposes(posture, numbers, values):
        return f"{force.symbol} would have to turn the other way"
    return ""


def along_one_line(posture: Posture, numbers: Numbers) -> str:
    """Return which two forces can't both be found, since they pull along one line, "" for none."""
    from leverstep.statics.point_balance import pull_along_one_line

    if posture.find is not Find.TWO_FORCES or not pull_along_one_line(posture, numbers):
        return ""
    one, other = (force.symbol for force in posture.unknown)
    return f"{one} and {other} pull along one line"


def _pushing(posture: Posture, values: Mapping[str, float]) -> str:
    """Return which force through one point is found to push, "" where none is."""
    for force in posture.unknown:
        if values[force.symbol] <= 0:
            return f"{force.symbol} would have to push"
    return ""
