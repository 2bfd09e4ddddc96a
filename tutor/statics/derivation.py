"""The derivation of a posture: every step from the givens to the joint reaction.

`derive` is the only entrance. The steps are written by `convert` (newtons, metres), `turn`
(angles, moment arms, components), `balance` (moments, effort, ratios) and `reaction`.
"""

from __future__ import annotations

import math

from tutor.statics import balance, convert, reaction, turn
from tutor.statics.posture import (
    Numbers,
    Posture,
    force_bearing,
    run_to_attachment,
    segment_bearing,
)
from tutor.statics.step import Derivation, Draft

_made: dict[tuple[Posture, tuple[int, ...]], Derivation | str] = {}
"""What was derived before, or why nothing could be."""


def derive(posture: Posture, sample: Numbers) -> Derivation:
    """Return the derivation of a posture, made once for all numbers that share its signs.

    Args:
        posture: what is described.
        sample: one value for each given. They decide on which side of the axis each line of
            action passes, and so the sign of each moment.

    Raises:
        ValueError: where distances are fractions of each other in a circle, or nothing turns
            against what is to be found.
    """
    draft = Draft(posture, sample)
    key = (posture, _quadrants(draft))
    made = _made.get(key)
    if made is None:
        try:
            made = _written(draft)
        except ValueError as error:
            made = str(error)
        _made[key] = made
    if isinstance(made, str):
        raise ValueError(made)
    return made


def _written(draft: Draft) -> Derivation:
    """Write every step of a draft."""
    posture = draft.posture
    convert.write_forces(draft)
    convert.write_distances(draft)
    turn.write_turns(draft)
    if posture.moments:
        balance.write_moments(draft)
        balance.write_found(draft)
    if posture.ratios and posture.effort is not None:
        balance.write_ratios(draft)
    if posture.reaction:
        reaction.write_reaction(draft)
    return Derivation(posture, draft.sample, tuple(draft.steps))


def _quadrants(draft: Draft) -> tuple[int, ...]:
    """Return the quadrants of all bearings: where these agree, the derivation is the same."""
    segment = segment_bearing(draft.posture)
    quadrants = [math.floor(draft.degrees(segment) / 90)]
    for force in draft.posture.forces:
        bearing = force_bearing(draft.posture, force.direction)
        quadrants.append(math.floor(draft.degrees(bearing, force) / 90))
        quadrants.append(math.floor(draft.degrees(bearing - segment, force) / 90))
        if force.direction.attachment is not None:
            run = run_to_attachment(draft.posture, force, draft.sample)
            quadrants.append(1 if run > 0 else -1)
    return tuple(quadrants)
