"""One thing that a student puts into a free-body diagram, and what is wrong with it."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.course.problem import Question
from leverstep.diagram.bearings import bearing_of, toward
from leverstep.free_body.candidates import NET_MOMENT, Candidate
from leverstep.free_body.force_places import AXIS_POINT, ForcePlace, place_key
from leverstep.free_body.pointings import Pointing
from leverstep.slips.picture_slips import PictureSlip
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.posture import Posture, Relation
from leverstep.statics.reaction import found_reaction

_NONE = 1e-9


@dataclass(frozen=True, slots=True)
class Placing:
    """What is put where: the item, the key of its point, and that of its direction.

    The axis has a point alone, a distance neither, and what turns the segment a direction alone.
    """

    item: str
    point: str = ""
    pointing: str = ""


@dataclass(frozen=True, slots=True)
class PlacingVerdict:
    """What came of a placing: the slips in it, none where it is right."""

    placing: Placing
    slips: tuple[PictureSlip, ...] = ()

    @property
    def is_right(self) -> bool:
        """Return whether it is right."""
        return not self.slips


def slips_of_force(
    question: Question, candidate: Candidate, point: ForcePlace | None, pointing: Pointing
) -> tuple[PictureSlip, ...]:
    """Return what is wrong with a force that is drawn at a point in a direction.

    Args:
        question: as its posture is looked at.
        candidate: the force or moment.
        point: where it is drawn, None for what turns the segment without a point.
        pointing: its direction.
    """
    if candidate.decoy is not None:
        return (candidate.decoy,)
    found = _direction_slip(question, candidate, pointing)
    is_placed = point is None or candidate.is_turning or point.key == right_point(candidate)
    slips = () if is_placed else (PictureSlip.POINT,)
    return (*slips, *(() if found is None else (found,)))


def slips_possible(question: Question, candidate: Candidate) -> Iterator[PictureSlip]:
    """Yield the slips that `slips_of_force` may find in how a force is drawn."""
    force = candidate.force
    if candidate.decoy is not None:
        yield candidate.decoy
        return
    if not candidate.is_turning:
        yield PictureSlip.POINT
    if force is not None and force.is_weight:
        yield PictureSlip.NOT_DOWN
    elif _has_way(question, candidate):
        yield PictureSlip.TURNED_ROUND
        if not candidate.is_turning:
            yield PictureSlip.REACTION_WAY if force is None else PictureSlip.WAY
    if force is not None and _needs_angle(question, candidate, force):
        yield PictureSlip.NO_ANGLE
    if force is not None and force.direction.angle and not force.direction.attachment:
        yield PictureSlip.OTHER_LINE
    if not (candidate.is_found_later or _has_sought_angle(question, force)):
        yield PictureSlip.NOT_UNKNOWN


def _needs_angle(question: Question, candidate: Candidate, force: Force) -> bool:
    """Return whether a force slants by an angle that is to be said."""
    may_be_open = force.is_weight or may_stay_open(question, candidate)
    return not (may_be_open or _is_straight(bearing_of(question, force)))


def _has_way(question: Question, candidate: Candidate) -> bool:
    """Return whether it is known which way something acts, and not only that it does."""
    if candidate.is_turning:
        return len(tuple(_senses(question, candidate))) == 1
    return candidate.force is not None or abs(_reaction(question)) >= _NONE


def right_point(candidate: Candidate) -> str:
    """Return the key of the point at which a force acts; "" for what has none."""
    if candidate.is_turning:
        return ""
    return AXIS_POINT if candidate.force is None else place_key(candidate.force)


def _direction_slip(
    question: Question, candidate: Candidate, pointing: Pointing
) -> PictureSlip | None:
    """Return what is wrong with a direction, None where it is right."""
    if pointing.is_open:
        is_found_later = candidate.is_found_later or _has_sought_angle(question, candidate.force)
        return None if is_found_later else PictureSlip.NOT_UNKNOWN
    if candidate.is_turning:
        senses = tuple(_senses(question, candidate))
        if pointing.turns in senses:
            return None
        return PictureSlip.TURNED_ROUND if pointing.turns else PictureSlip.WAY
    if candidate.force is None:
        return _reaction_slip(question, pointing)
    return _force_slip(question, candidate.force, pointing)


def _force_slip(question: Question, force: Force, pointing: Pointing) -> PictureSlip | None:
    """Return what is wrong with the direction of a force, None where it is right."""
    bearing = bearing_of(question, force)
    if _may_point_so(question, force, pointing, bearing):
        return None
    if force.is_weight:
        return PictureSlip.NOT_DOWN
    if pointing.holds(bearing) and not _is_straight(bearing):
        return PictureSlip.NO_ANGLE
    if pointing.is_opposite(bearing) and not pointing.quarter:
        return PictureSlip.TURNED_ROUND
    angle = force.direction.angle
    is_its = angle is not None and pointing.angle == angle.sign
    return PictureSlip.OTHER_LINE if is_its and pointing.line else PictureSlip.WAY


def _may_point_so(question: Question, force: Force, pointing: Pointing, bearing: float) -> bool:
    """Return whether a force may be drawn so, as far as is known before it is worked out."""
    if pointing.points_as(bearing) and not pointing.quarter:
        return True
    if pointing.holds(bearing) and _hangs_on_sought(question, force):
        return True  # its angle is not known yet
    # Its sign, found before, says which way it is.
    return force.is_handed_on and pointing.is_opposite(bearing) and not pointing.quarter


def may_stay_open(question: Question, candidate: Candidate) -> bool:
    """Return whether how far a force slants is found later, and need not be said."""
    force = candidate.force
    return candidate.is_found_later or (force is not None and _hangs_on_sought(question, force))


def _has_sought_angle(question: Question, force: Force | None) -> bool:
    """Return whether the angle that a force slants by is to be found."""
    sought = question.problem.posture.sought_angle
    return force is not None and sought is not None and force.direction.angle == sought


def _hangs_on_sought(question: Question, force: Force) -> bool:
    """Return whether a force points where an angle that is to be found will say."""
    posture = question.problem.posture
    turns_along = posture.sought_angle is not None and posture.sought_angle == posture.inclination
    is_beside = turns_along and force.direction.reference == "segment"
    return is_beside or _has_sought_angle(question, force)


def _is_straight(bearing: float) -> bool:
    way = toward(bearing)
    return min(abs(way.real), abs(way.imag)) < 1e-6


def _senses(question: Question, candidate: Candidate) -> Iterator[int]:
    """Yield how something may turn the segment: both ways where that is not known."""
    couple, posture = candidate.couple, question.problem.posture
    if couple is not None and not couple.before:
        yield couple.turns
        return
    key = question.key(kinds.NET_MOMENT) if candidate.item == NET_MOMENT else candidate.item
    found = question.right.get(key, 0.0) * (1 if couple is None else couple.turns)
    if candidate.item == NET_MOMENT:
        found *= posture.positive
    yield from (way for way in (1, -1) if _is_sped_up(posture) or found * way >= -_NONE)


def _reaction_slip(question: Question, pointing: Pointing) -> PictureSlip | None:
    """Return what is wrong with the direction of the reaction, where one is told."""
    if pointing.bearing is None:
        return PictureSlip.REACTION_WAY
    reaction = _reaction(question)
    if abs(reaction) < _NONE:
        return None
    bearing = math.degrees(cmath.phase(reaction))
    if pointing.quarter:
        is_its = pointing.holds(bearing) and not _is_straight(bearing)
        return None if is_its else PictureSlip.REACTION_WAY
    if pointing.points_as(bearing):
        return None
    return PictureSlip.TURNED_ROUND if pointing.is_opposite(bearing) else PictureSlip.REACTION_WAY


def _reaction(question: Question) -> complex:
    """Return the reaction, to the right and up in newtons: as it is found, or what balances all.

    It is 0 where that can't be told, since the segment is sped up.
    """
    posture, values = question.problem.posture, question.right
    found = found_reaction(posture, question.numbers, values)
    if found is not None:
        return found[1]
    if _is_sped_up(posture) or any(one.symbol not in values for one in posture.forces):
        return 0j
    forces = (values[one.symbol] * toward(bearing_of(question, one)) for one in posture.forces)
    return -sum(forces, 0j)


def _is_sped_up(posture: Posture) -> bool:
    return any(one.relation is Relation.MOMENT_SPED_UP for one in posture.further)
