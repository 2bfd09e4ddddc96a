"""The derivation of a posture: every step from the givens to the joint reaction.

`derive` is the only entrance. The steps are written by `convert` (newtons, metres), `sources`
(forces by where they come from), `derived_distances` (distances from others), `turn_steps` (angles,
moment arms, components), `balance` (moments, effort), `ratios`, `reaction` and `further` (what is
worked out from what was found); a centre of mass by `centre_of_mass`, and what one segment does to
the next by `handed_on`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from leverstep.statics import (
    balance,
    centre_of_mass,
    convert,
    derived_distances,
    further,
    handed_on,
    point_balance,
    ratios,
    reaction,
    sources,
    turn,
    turn_steps,
)
from leverstep.statics.geometry import force_bearing, run_to_attachment, segment_bearing, slant
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Axes, Find, Posture
from leverstep.statics.step import Derivation, Draft, Step


@dataclass(frozen=True, slots=True)
class _Case:
    """A posture with the signs that some numbers give it; these numbers are one sample of many."""

    postures: tuple[Posture, ...]
    quadrants: tuple[tuple[int, ...], ...]
    sample: Numbers = field(compare=False)


def derive(posture: Posture, sample: Numbers, later: tuple[Posture, ...] = ()) -> Derivation:
    """Return the derivation of a posture, made once for all numbers that share its signs.

    Args:
        posture: what is described.
        later: postures that follow in the same working, and may take what was found before.
        sample: one value for each given. They decide on which side of the axis each line of
            action passes, and so the sign of each moment.

    Raises:
        ValueError: where distances are fractions of each other in a circle, or nothing turns
            against what is to be found.
    """
    postures = (posture, *later)
    quadrants = tuple(_quadrants(Draft(one, sample)) for one in postures)
    made = _made(_Case(postures, quadrants, sample))
    if isinstance(made, str):
        raise ValueError(made)
    return made


@lru_cache(maxsize=1024)
def _made(case: _Case) -> Derivation | str:
    """Return the derivation of a case, or why there is none."""
    from sympy import evaluate

    try:
        steps: list[Step] = []
        for posture in case.postures:
            beside = tuple(one for one in case.postures if one is not posture)
            # Nobody reads them, so they stay as they are put together: two thirds of the time is
            # else what sympy asks about each term, such as whether it is finite.
            with evaluate(False):
                _write(Draft(posture, case.sample, steps, beside))
        return Derivation(case.postures, case.sample, tuple(steps))
    except ValueError as error:
        return str(error)


def _write(draft: Draft) -> None:
    """Write every step of a posture behind those that are there."""
    posture = draft.posture
    handed_on.write_handed_on(draft)
    convert.write_forces(draft)
    sources.write_sources(draft)
    derived_distances.write_distances(draft)
    if posture.seeks_centre:
        centre_of_mass.write_centre(draft)
        return
    turn_steps.write_turns(draft)
    if posture.has_moments:
        balance.write_moments(draft)
        balance.write_found(draft)
    if posture.ratios and posture.effort is not None:
        ratios.write_ratios(draft)
    if posture.find is Find.RESULTANT:
        reaction.write_resultant(draft)
    elif posture.find is Find.TWO_FORCES:
        point_balance.write_balance(draft)
    elif posture.reaction:
        reaction.write_reaction(draft)
    elif posture.effort is not None and Axes.SEGMENT in posture.resolved:
        reaction.write_resolved(draft, posture.effort)
    further.write_further(draft)


def _quadrants(draft: Draft) -> tuple[int, ...]:
    """Return all that signs are read from: where these agree, the derivation is the same.

    Those are the quadrants of all bearings, and whether the angles of forces are obtuse.
    """
    posture = draft.posture
    segment = segment_bearing(posture)
    found = [turn.quadrant(draft.degrees(segment))]
    for force in posture.forces:
        bearing = force_bearing(posture, force.direction)
        found.append(turn.quadrant(draft.degrees(bearing, force)))
        found.append(turn.quadrant(draft.degrees(bearing - segment, force)))
        found.append(turn.is_obtuse(slant(posture, force, draft.sample)))
        if force.direction.attachment is not None:
            run = run_to_attachment(posture, force, draft.sample)
            found.append(1 if run > 0 else -1)
    if posture.seeks_centre and posture.support is not None:
        nearer = centre_of_mass.nearer_edge(posture.support, posture, draft.sample)
        found.append(0 if nearer is posture.support.left else 1)
    return tuple(found)
