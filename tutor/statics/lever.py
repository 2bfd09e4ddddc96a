"""The class of lever of a posture by plain numbers, for lists that must not wait for algebra."""

from __future__ import annotations

import math

from tutor.statics.balance import resisting
from tutor.statics.choices import CONVENTIONS
from tutor.statics.convert import factor_for
from tutor.statics.posture import Force, Numbers, Posture, lengths
from tutor.statics.step import Draft
from tutor.statics.turn import from_segment, moment_sign

_FORCES = ("N", "kN", "lbf")


def lever_class(posture: Posture, numbers: Numbers) -> int | None:
    """Return 1, 2 or 3 for some numbers; None where the working asks for no class, or can't say.

    A test holds it against the derivation.
    """
    effort = posture.effort
    if effort is None or not posture.ratios or not posture.moments:
        return None
    draft = Draft(posture, numbers)
    loads = resisting(draft)
    known = lengths(posture, numbers)
    if not loads or any(force.at.symbol not in known for force in (effort, *loads)):
        return None
    places = {f.symbol: known[f.at.symbol] * (-1 if f.at.beyond else 1) for f in (effort, *loads)}
    resistance = places[loads[0].symbol]
    if len(loads) > 1:
        if any(load.magnitude is None for load in loads):
            return None
        sizes = [_newtons(posture, load, numbers) for load in loads]
        moments = [
            moment_sign(draft, load)
            * abs(places[load.symbol])
            * (size or 0.0)
            * _square(draft, load)
            for load, size in zip(loads, sizes, strict=True)
        ]
        parts = [moment / places[load.symbol] for moment, load in zip(moments, loads, strict=True)]
        resistance = sum(moments) / sum(parts)
    place = places[effort.symbol]
    if place * resistance < 0:
        return 1
    return 2 if abs(place) > abs(resistance) else 3


def _square(draft: Draft, force: Force) -> float:
    """Return the share of a force that is perpendicular to the segment."""
    if force.at.perpendicular:
        return 1.0
    return abs(math.sin(math.radians(draft.degrees(from_segment(draft, force), force))))


def _newtons(posture: Posture, force: Force, numbers: Numbers) -> float:
    """Return the size of a known force in newtons."""
    given, share = force.magnitude, 1.0
    if force.share is not None:
        share, given = numbers[force.share.given.key], posture.body
    assert given is not None, f"{force.symbol} is known"
    size = numbers[given.key] * share
    factor = factor_for(given.unit)
    if factor is not None:
        constant = factor.constant
        by = CONVENTIONS[constant].values[0] if isinstance(constant, str) else constant
        size *= by if factor.operation == "×" else 1 / by
    return size if given.unit in _FORCES else size * CONVENTIONS["g"].values[0]
