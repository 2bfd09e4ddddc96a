"""The derivation of a posture: every step from the givens to the joint reaction.

`derive` is the only entrance. The steps are written by `convert` (newtons, metres), `turn`
(angles, moment arms, components), `balance` (moments, effort, ratios) and `reaction`.
"""

from __future__ import annotations

import math

from tutor.statics import balance, convert, reaction, turn
from tutor.statics.posture import Numbers, Posture, force_bearing, segment_bearing
from tutor.statics.step import Derivation, Draft

_made: dict[tuple[Posture, tuple[int, ...]], Derivation] = {}


def derive(posture: Posture, sample: Numbers) -> Derivation:
    """Return the derivation of a posture, made once for all numbers that share its signs.

    Args:
        posture: what is described.
        sample: one value for each given. They decide on which side of the axis each line of
            action passes, and so the sign of each moment.

    Raises:
        ValueError: where distances are fractions of each other in a circle.
    """
    draft = Draft(posture, sample)
    key = (posture, _quadrants(draft))
    if key not in _made:
        convert.write_forces(draft)
        convert.write_distances(draft)
        turn.write_turns(draft)
        balance.write_moments(draft)
        balance.write_effort(draft)
        balance.write_ratios(draft)
        if posture.reaction:
            reaction.write_reaction(draft)
        _made[key] = Derivation(posture, tuple(draft.steps))
    return _made[key]


def _quadrants(draft: Draft) -> tuple[int, ...]:
    """Return the quadrants of all bearings: where these agree, the derivation is the same."""
    segment = segment_bearing(draft.posture)
    quadrants = [math.floor(draft.degrees(segment, None) / 90)]
    for force in draft.posture.forces:
        bearing, angle = force_bearing(draft.posture, force.direction), force.direction.angle
        quadrants.append(math.floor(draft.degrees(bearing, angle) / 90))
        quadrants.append(math.floor(draft.degrees(bearing - segment, angle) / 90))
    return tuple(quadrants)
