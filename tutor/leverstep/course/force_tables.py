"""What a problem file says of a force: in which table, and whether its turn fits its direction."""

from __future__ import annotations

import math
from collections.abc import Iterator

from leverstep.statics.acting import Force
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Posture
from leverstep.statics.step import Draft
from leverstep.statics.turn import from_segment

_SURE = 0.99
"""The sine of the angle to the segment from where on a force turns it as its direction says."""

_HARDLY = 0.01
"""The sine from where down a force points along the segment, and may turn it either way."""


def table_of(posture: Posture, force: Force) -> str:
    """Return what the table of a force is called in its file: `load[2]`."""
    if force is posture.effort:
        return "effort"
    return f"load[{posture.loads.index(force) + 1}]"


def unlikely_turns(
    posture: Posture, middle: Numbers, *, sure: bool
) -> Iterator[tuple[str, str, str]]:
    """Yield the moment arms said to turn the other way than direction and side of the axis do.

    Each is the place in the file, what was found there, and what was expected.

    Args:
        posture: whose forces they are.
        middle: a number for each given.
        sure: whether to yield those of forces across the segment, which can't turn it so, or those
            of slanting ones, whose line of action may pass the axis on its other side.
    """
    draft = Draft(posture, middle)
    for force in posture.forces:
        if force.turns is None:
            continue
        sine = _sine_about(draft, force)
        if sine * force.turns < -_HARDLY and (abs(sine) > _SURE) is sure:
            said, other = ("counter-clockwise", "clockwise")[:: force.turns]
            side = "far" if force.at.beyond else "near"
            found = f'{force.symbol} is said to turn "{said}", but by its direction, on the {side}'
            found += f' side of the axis, it turns "{other}"'
            if not sure:
                found += ", unless its line of action passes the axis on the other side"
            yield f"{table_of(posture, force)}.at.turns", found, f'"{other}", or another direction'


def _sine_about(draft: Draft, force: Force) -> float:
    """Return the sine of the angle from the segment to a force, turned by its side of the axis."""
    degrees = draft.degrees(from_segment(draft, force), force)
    return math.sin(math.radians(degrees)) * (-1 if force.at.beyond else 1)
