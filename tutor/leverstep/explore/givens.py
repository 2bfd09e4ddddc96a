"""The givens of a question as they may be moved: each with its name, its part, and its span."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.explore.ranges import GivenSpan, span_of
from leverstep.statics.acting import Force
from leverstep.statics.line_keys import share_sign
from leverstep.statics.points import BodyPoint, Distance, Given
from leverstep.statics.posture import Posture, Relation
from leverstep.statics.units import (
    ACCELERATION,
    ANGULAR_ACCELERATION,
    AREA,
    LENGTH,
    MOMENT_OF_INERTIA,
    STIFFNESS,
    STRESS,
    units_for,
)
from leverstep.working.wording import effort_name, place_of

Part = Literal[
    "size", "load arm", "own arm", "tilt", "angle", "body", "length", "far end", "share", "further"
]
"""What part a given plays: `own arm` is the distance of the force that is to be found, `further`
what something is worked out further with.
"""


@dataclass(frozen=True)
class Movable:
    """One given: its sign, what it is in words, its part, and over which values it may be moved.

    `of` is what a share is taken of, "" where it has a unit of its own.
    """

    given: Given
    sign: str
    name: str
    part: Part
    span: GivenSpan
    of: str = ""

    @property
    def key(self) -> str:
        """Return the key of the given."""
        return self.given.key

    @property
    def unit(self) -> str:
        """Return its unit as one writes it, or what it is a share of."""
        if self.of:
            return f"of {self.of}"
        return "°" if self.given.unit == "deg" else self.given.unit

    @property
    def titled(self) -> str:
        """Return sign and unit, as they stand at an axis or above a column: `d_l (cm)`."""
        return f"{self.sign} ({self.unit})" if self.unit else self.sign

    def written(self, question: Question) -> str:
        """Return its value in a question: `36.0 cm`, `35°`, `0.43 of L`."""
        written = question.written(self.given)
        return f"{written} {self.unit}" if self.of else written

    def at(self, question: Question, value: Fraction) -> str:
        """Return another value as it would be written."""
        return self.written(question.with_given(self.key, value))


def movables(question: Question) -> tuple[Movable, ...]:
    """Return what may be moved, in the order in which the statement's posture has it."""
    found: dict[str, Movable] = {}
    for view in question.views:
        for given, sign, name, part, of in _described(view, view.problem.posture):
            if given.key not in found:
                drawn, value = question.problem.ranges[given.key], question.exact[given.key]
                span = span_of(drawn, given.unit, value)
                found[given.key] = Movable(given, sign_of(sign), name, part, span, of)
    return tuple(found[given.key] for given in question.givens)


def _described(question: Question, posture: Posture) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield every given with its symbol, its name, its part, and what it is a share of."""
    problem = question.problem
    if posture.inclination is not None and posture.inclination != posture.sought_angle:
        name = f"{problem.segment} to the {posture.inclined_to}"
        yield posture.inclination, posture.inclination.sign, name, "tilt", ""
    if posture.body is not None:
        yield posture.body, posture.body.sign, "mass of the body", "body", ""
    for force in posture.forces:
        yield from _of_force(question, force)
    for couple in posture.given_couples:
        yield couple.magnitude, couple.symbol, problem.names[couple.symbol], "size", ""
    yield from _of_pieces(question)
    yield from _of_body(question)
    if posture.length is not None:
        name = f"length of the {problem.segment}"
        yield posture.length.given, posture.length.symbol, name, "length", ""
    yield from _of_further(question)


def _of_pieces(question: Question) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield the givens of distances that others are made up of or worked out with."""
    problem = question.problem
    for piece in problem.posture.pieces:
        if piece.derived is None:
            part: Part = "length" if piece.of is None else "share"
            yield piece.given, piece.symbol, problem.pieces[piece.symbol], part, piece.of or ""
    for distance in problem.posture.distances:
        if distance.derived is not None and (angle := distance.derived.angle) is not None:
            name = f"angle that {distance.symbol} is worked out with"
            yield angle, angle.sign, name, "angle", ""


_ROUND = "anticlockwise from the right"
"""From where a bearing is counted, and which way."""

_OF_SOURCES = {
    "": "rule",
    **dict.fromkeys(units_for(AREA), "area"),
    **dict.fromkeys(units_for(STRESS), "specific tension"),
    **dict.fromkeys(units_for(STIFFNESS), "stiffness"),
    **dict.fromkeys(units_for(ACCELERATION), "acceleration"),
    **dict.fromkeys(units_for(LENGTH), "length"),
}
"""What is given of where the size of a force comes from, by its unit."""

_OF_TURNING = {
    **dict.fromkeys(units_for(MOMENT_OF_INERTIA), "moment of inertia"),
    **dict.fromkeys(units_for(ANGULAR_ACCELERATION), "angular acceleration"),
}
"""What is given of a segment that is sped up, by its unit."""

_SORTS = {
    Relation.STRESS: "area",
    Relation.FRICTION_ENOUGH: "coefficient",
    Relation.PART_SHARED: "share",
    Relation.FORCE_AT_ARM: "moment arm",
    Relation.POWER: "angular velocity",
    Relation.DISTANCE_MOVED: "distance moved",
    Relation.SPEED: "speed",
}
"""What is given for a relation."""


def _of_further(question: Question) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield the givens of what goes on from what was found."""
    problem = question.problem
    for further in problem.posture.further:
        for given in further.givens:
            part: Part = "further" if given.unit else "share"
            sort = _OF_TURNING.get(given.unit) or _SORTS[further.relation]
            told = f"{sort} for the {problem.names[further.symbol]}"
            yield given, given.sign, told, part, ""


def _of_body(question: Question) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield the givens of the points of a body and of its base of support."""
    problem = question.problem
    for point in problem.posture.body_points:
        yield from _of_point(point, problem.axis)
    if problem.posture.support is not None:
        for edge in problem.posture.support.distances:
            side = "left" if edge is problem.posture.support.left else "right"
            name = f"{side} edge of the base of support"
            yield edge.given, edge.symbol, name, "far end", ""


def _of_point(point: BodyPoint, axis: str) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield the givens of a point of a body: its distances, and the way to it."""
    for distance in point.distances:
        name = f"{point.start or axis} to {point.name}"
        if point.offset is not None:
            way = "across" if distance is point.offset.across else "up"
            name = f"{point.name}, {way} from the {axis}"
        yield distance.given, distance.symbol, name, "far end", ""
    angle = None if point.direction is None else point.direction.angle
    if point.direction is not None and angle is not None:
        is_bearing = point.direction.reference == "bearing"
        line = _ROUND if is_bearing else f"to the {point.direction.reference}"
        yield angle, angle.sign, f"way to the {point.name}, {line}", "angle", ""


def _of_force(question: Question, force: Force) -> Iterator[tuple[Given, str, str, Part, str]]:
    """Yield the givens of a force: its size, where it acts, and which way."""
    yield from _of_size(question, force)
    yield from _of_place(question, force)
    yield from _of_direction(question, force)


def _of_size(question: Question, force: Force) -> Iterator[tuple[Given, str, str, Part, str]]:
    problem = question.problem
    name = problem.names[force.symbol]
    if force.source is not None:
        for given in force.source.givens:
            part: Part = "size" if given.unit else "share"
            is_effort = force.is_shared and given is not force.source.givens[0]
            of = effort_name(question) if is_effort else name
            yield given, given.sign, f"{_OF_SOURCES[given.unit]} of the {of}", part, ""
    elif force.share is not None:
        assert problem.posture.body is not None
        whole = problem.posture.body.sign if force.share.of == "mass" else "weight"
        told = f"{name}, as a share of the body's {force.share.of}"
        yield force.share.given, force.symbol, told, "share", whole
    elif force.magnitude is not None and not force.before:  # else it has its given there, if any
        yield force.magnitude, force.magnitude.sign, _size_name(force, name), "size", ""


def _of_place(question: Question, force: Force) -> Iterator[tuple[Given, str, str, Part, str]]:
    name, place = question.problem.names[force.symbol], place_of(question, force)
    if force.between is not None:
        axis = question.problem.axis
        start, end = force.between.start or axis, force.between.end or axis
        told, way = f"{place}, as a share of the way", f"{start} to {end}"
        yield force.between.fraction, share_sign(force.symbol), told, "share", way
    if force.at.symbol and not force.at.sought and force.at.derived is None:
        arm = f"moment arm of the {name}" if force.at.perpendicular else f"distance to the {place}"
        if force.at.of:
            yield force.at.given, force.at.symbol, arm, "share", force.at.of
        else:
            part: Part = "own arm" if force is question.problem.posture.balancing else "load arm"
            yield force.at.given, force.at.symbol, arm, part, ""
    for distance, told in _apart(force):
        if distance.derived is not None:
            continue
        yield distance.given, distance.symbol, told.format(name=name, place=place), "far end", ""


def _of_direction(question: Question, force: Force) -> Iterator[tuple[Given, str, str, Part, str]]:
    problem, direction = question.problem, force.direction
    angle = direction.angle if direction.attachment is None else None
    if angle is not None and angle != problem.posture.sought_angle:
        line = problem.segment if direction.reference == "segment" else direction.reference
        told = f"{problem.names[force.symbol]} to the {line}"
        if direction.reference == "bearing":
            told = f"{problem.names[force.symbol]}, {_ROUND}"
        yield angle, angle.sign, told, "angle", ""


def _size_name(force: Force, name: str) -> str:
    assert force.magnitude is not None
    if force.magnitude.is_mass:
        return f"mass of the {name}"
    return f"{'weight' if force.is_weight else 'force'} of the {name}"


def _apart(force: Force) -> Iterator[tuple[Distance, str]]:
    """Yield the distances of points off the segment, each with what it is."""
    if force.offset is not None:
        for distance in force.offset.distances:
            way = "across" if distance is force.offset.across else "up"
            yield distance, f"{{place}}, {way} from the axis"
    if force.direction.attachment is not None:
        yield force.direction.attachment.along, "far end of the {name}, along"
        yield force.direction.attachment.off, "far end of the {name}, off the line"
