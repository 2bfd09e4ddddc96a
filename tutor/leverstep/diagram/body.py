"""A body whose centre of mass is to be found: its parts, its base of support, and what was found.

These are drawn by themselves, like what a problem shows besides; in words they are told here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from leverstep.course.forces import AXIS
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.diagram.bearings import toward
from leverstep.diagram.compass import compass, measured_from, side_of
from leverstep.diagram.surroundings import Surrounding
from leverstep.statics import kinds
from leverstep.statics.body_points import bearing_to_point, place_of_point
from leverstep.statics.centre_of_mass import axes_sought, edges
from leverstep.statics.points import BodyPoint, Distance
from leverstep.statics.posture import Posture

BASE = "base of support"


def body_drawn(question: Question) -> Iterator[Surrounding]:
    """Yield the parts between the points of a body, and its base of support."""
    posture = question.problem.posture
    told: set[str] = set()
    for start, end, name in _parts(question):
        first, last = (place_of_point(posture, one, question.numbers) for one in (start, end))
        if abs(last - first) > 0:
            way = (last - first) / abs(last - first)
            end_name = "" if end in told else end
            told.add(end)
            yield Surrounding("outline", name, AXIS, first, last, end_name, way)
    if posture.support is not None:
        left, right = edges(posture.support, posture, question.numbers)
        middle = complex((left + right) / 2)
        yield Surrounding(
            "surface", BASE, AXIS, middle, middle, "", toward(-90.0), (right - left) / 2
        )


def _parts(question: Question) -> Iterator[tuple[str, str, str]]:
    """Yield the two ends and the name of each part that has ends, then of each bare way."""
    posture, joined = question.problem.posture, set()
    for load in posture.loads:
        if load.between is not None:
            joined.add(load.between.end)
            yield load.between.start, load.between.end, question.problem.names[load.symbol]
    for point in posture.body_points:
        if point.name not in joined and point.length is not None:
            yield point.start, point.name, point.name


def centre_found(posture: Posture, values: Mapping[str, float]) -> complex | None:
    """Return where the centre of mass was found to lie, None before all of it is."""
    keys = {"x": kinds.CENTRE_X.key, "y": kinds.CENTRE_Y.key}
    sought = [keys[axis] for axis in axes_sought(posture)]
    if not sought or any(key not in values for key in sought):
        return None
    return complex(values.get(keys["x"], 0.0), values.get(keys["y"], 0.0))


def body_told(question: Question, values: Mapping[str, float]) -> Iterator[str]:
    """Yield in sentences where the points of a body lie, and its base of support."""
    problem = question.problem
    posture = problem.posture
    for point in posture.body_points:
        yield f"Point shown: the {point.name}, {_way_to(question, point)}."
    if posture.support is not None:
        left, right = posture.support.left, posture.support.right
        yield (f"The {BASE} runs from {_across(question, left)} to {_across(question, right)}.")
    centre = centre_found(posture, values)
    if centre is not None:
        places = _sides(centre.real, ("to the right of", "to the left of"))
        places += _sides(centre.imag, ("above", "below"))
        yield f"The {posture.find.value}, as found, lies {' and '.join(places)} the {problem.axis}."


def _sides(coordinate: float, ways: tuple[str, str]) -> list[str]:
    """Return a coordinate in words, to the millimetre: `0.210 m to the right of`; [] for none."""
    return [f"{abs(coordinate):.3f} m {ways[coordinate < 0]}"] if coordinate else []


def _way_to(question: Question, point: BodyPoint) -> str:
    """Return where a point lies: so far from another one, or across and up from the axis."""
    axis = question.problem.axis
    if point.offset is not None:
        parts = []
        for distance, ways in (
            (point.offset.across, ("to the right of", "to the left of")),
            (point.offset.up, ("above", "below")),
        ):
            if distance is not None:
                parts.append(f"{_length(question, distance)}, {ways[distance.beyond]}")
        return f"{' and '.join(parts)} the {axis}"
    assert point.length is not None
    assert point.direction is not None
    angle, posture = point.direction.angle, question.problem.posture
    way = compass(toward(bearing_to_point(posture, point.direction, question.numbers)))
    if angle is not None:
        written = question.written(angle).replace("°", " degrees")
        way += f", at {angle.sign}, {written}, {measured_from(point.direction.reference)}"
    return f"{_length(question, point.length)}, from the {point.start or axis}, {way}"


def distances_told(question: Question) -> Iterator[str]:
    """Yield each distance and angle of the points of a body in a few words, for a legend."""
    axis = question.problem.axis
    for point in question.problem.posture.body_points:
        if point.offset is not None:
            for distance in point.offset.distances:
                way = side_of(point.offset, distance, question.problem.seen_from)
                written = question.written(distance.given)
                yield f"{distance.symbol} {written}: {point.name}, {way} the {axis}"
        elif point.length is not None and point.direction is not None:
            written = question.written(point.length.given)
            yield f"{point.length.symbol} {written}: {point.start or axis} to {point.name}"
            angle = point.direction.angle
            if angle is not None:
                told = f"{sign_of(angle.sign)} {question.written(angle)}"
                is_bearing = point.direction.reference == "bearing"
                line = "from the right" if is_bearing else f"to the {point.direction.reference}"
                yield f"{told}: {point.name}, {line}"


def _length(question: Question, distance: Distance) -> str:
    return f"{distance.symbol}, {question.written(distance.given)}"


def _across(question: Question, edge: Distance | None) -> str:
    axis = question.problem.axis
    if edge is None:
        return f"the {axis}"
    side = "left" if edge.beyond else "right"
    return f"{_length(question, edge)}, to the {side} of the {axis}"
