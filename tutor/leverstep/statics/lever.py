"""The class of lever of a posture by plain numbers, for lists that must not wait for algebra."""

from __future__ import annotations

import math

from leverstep.statics.acting import Force
from leverstep.statics.balance import resisting
from leverstep.statics.geometry import lengths
from leverstep.statics.points import Numbers
from leverstep.statics.posture import Posture
from leverstep.statics.sources import newtons
from leverstep.statics.step import Draft
from leverstep.statics.turn import from_segment, moment_sign


def lever_class(posture: Posture, numbers: Numbers) -> int | None:
    """Return 1, 2 or 3 for some numbers; None where the working asks for no class.

    A test holds it against the derivation.
    """
    effort, last = posture.effort, posture.balancing
    if effort is None or last is None or not posture.asks_class:
        return None
    draft = Draft(posture, numbers)
    known = lengths(posture, numbers)
    moments = {
        force.symbol: moment_sign(draft, force) * known[force.at.symbol] * _pull(draft, force)
        for force in posture.turning
        if force is not last
    }
    moments[last.symbol] = -sum(moments.values())
    if last.at.sought:
        known[last.at.symbol] = abs(moments[last.symbol]) / _pull(draft, last)
    places = {f.symbol: known[f.at.symbol] * (-1 if f.at.beyond else 1) for f in posture.turning}
    loads = [load.symbol for load in resisting(draft)]
    pressing = sum(moments[load] / places[load] for load in loads)
    turning = sum(moments[load] for load in loads)
    place = places[effort.symbol]
    if place * turning * pressing < 0:
        return 1
    return 2 if abs(place * pressing) > abs(turning) else 3


def _pull(draft: Draft, force: Force) -> float:
    """Return the part of a known force that is perpendicular to the segment, in newtons."""
    return newtons(draft.posture, force, draft.sample) * _square(draft, force)


def _square(draft: Draft, force: Force) -> float:
    """Return the share of a force that is perpendicular to the segment."""
    if force.at.perpendicular:
        return 1.0
    return abs(math.sin(math.radians(draft.degrees(from_segment(draft, force), force))))
