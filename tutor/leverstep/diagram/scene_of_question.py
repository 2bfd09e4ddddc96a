"""The scene of a question: where its forces act and point, and what is given of them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace

from leverstep.course.phrases import way_round
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.diagram.bearings import bearing_of, bearing_of_segment, toward
from leverstep.diagram.body import body_drawn, centre_found, distances_told
from leverstep.diagram.compass import side_of
from leverstep.diagram.scene import (
    Arrow,
    Corner,
    FarEnd,
    GivenArm,
    Measure,
    Role,
    Scene,
    Turning,
)
from leverstep.diagram.surroundings import Surrounding, surroundings
from leverstep.statics.acting import Force
from leverstep.statics.body_points import coordinate_of_part, place_of_offset, place_of_part
from leverstep.statics.centre_of_mass import axes_sought
from leverstep.statics.geometry import lengths, segment_bearing
from leverstep.statics.points import Direction, Distance
from leverstep.statics.posture import Posture
from leverstep.statics.reaction import found_reaction
from leverstep.statics.sources import newtons
from leverstep.statics.step import NOTHING


def scene_of(question: Question, values: Mapping[str, float]) -> Scene:
    """Return the scene of a question; `values` holds the steps found so far, by key."""
    angle = question.problem.posture.sought_angle
    if angle is not None and angle.key not in values:
        question = question.with_angle_hidden()
    posture, problem = question.problem.posture, question.problem
    distances = metres(question, values)
    bearing = bearing_of_segment(question)
    arrows = [
        _sized(_arrow(question, force, distances, bearing), question, force, values)
        for force in posture.forces
    ]
    body, reaction = tuple(body_drawn(question)), _reaction(question, values)
    stations = [0.0, *_stations(posture, distances, arrows, body)]
    return Scene(
        problem.segment,
        problem.axis,
        bearing,
        max(stations),
        -min(stations),
        tuple(arrows if reaction is None else [*arrows, reaction]),
        _measures(question, distances, arrows),
        tuple(_corners(question, bearing)),
        posture.positive if posture.has_moments else 0,
        posture.points == "left",
        tuple(_given_arms(question)),
        tuple(_asides(question, values)),
        tuple(_far_ends(question, arrows)),
        surroundings(question, distances, {arrow.symbol: arrow.at for arrow in arrows}),
        couples=tuple(_couples(posture, arrows, values)),
        body=body,
        positive_ways="".join(axes_sought(posture)) if posture.seeks_centre else "",
        centre=centre_found(posture, values),
        centre_called=posture.find.value,
    )


def _stations(
    posture: Posture,
    metres_of: Mapping[str, float],
    arrows: list[Arrow],
    body: tuple[Surrounding, ...],
) -> Iterator[float]:
    """Yield how far from the axis all lies that is drawn: along the segment, or across to parts."""
    yield from (arrow.station for arrow in arrows if arrow.station is not None)
    if posture.length is not None:
        yield metres_of[posture.length.symbol]
    if posture.seeks_centre:
        yield from (arrow.at.real for arrow in arrows)
    for one in body:
        half = one.half or 0.0
        yield from (at.real + way for at in (one.start, one.end) for way in (-half, half))


def _couples(
    posture: Posture, arrows: list[Arrow], values: Mapping[str, float]
) -> Iterator[Turning]:
    """Yield each couple; one that is handed on turns the segment where it is joined."""
    handed_on = (arrow.station for arrow in arrows if posture.force(arrow.symbol).is_handed_on)
    joint = next(handed_on, None)
    for couple in posture.couples:
        if not couple.before:
            yield Turning(couple.symbol, couple.turns)
            continue
        value = values.get(couple.symbol, 0.0)
        sign = (value > NOTHING) - (value < -NOTHING)
        yield Turning(couple.symbol, couple.turns * sign, joint)


def scenes_compared(question: Question, values: Mapping[str, float]) -> tuple[Scene, ...]:
    """Return the scene of the posture looked at, then those of others of the same body.

    In a chain the postures are those of different segments: there is none to compare with.
    """
    views = question.views
    if any(force.is_handed_on for force in question.problem.forces):
        views = (question,)
    others = (view for view in views if view is not question)
    scenes = [scene_of(view, values) for view in (question, *others)]
    if len(scenes) == 1:
        return tuple(scenes)
    arrows = tuple(arrow for scene in scenes for arrow in scene.arrows)
    return tuple(replace(scene, compared=arrows) for scene in scenes)


def metres(question: Question, values: Mapping[str, float]) -> dict[str, float]:
    """Return every distance of a question in metres, by symbol.

    One that is still to be found is given a place of no meaning, so that it can't be read off.
    """
    posture = question.problem.posture
    found = lengths(posture, question.numbers)
    somewhere = 0.7 * max(found.values(), default=1.0)
    sought = [distance.symbol for distance in posture.distances if distance.sought]
    return found | {symbol: values.get(symbol, somewhere) for symbol in sought}


def _asides(question: Question, values: Mapping[str, float]) -> Iterator[str]:
    """Yield in words the distances that do not run along the segment, or are not known yet."""
    for distance in question.problem.posture.distances:
        if distance.sought and distance.symbol not in values:
            yield f"{distance.symbol} is to be found: drawn at a guess"
    angle = question.problem.posture.sought_angle
    if angle is not None and angle.key not in values:
        yield f"{sign_of(angle.sign)} is to be found: drawn at a guess"
    for couple in question.problem.posture.given_couples:
        name, way = question.problem.names[couple.symbol], way_round(couple.turns)
        yield f"{couple.symbol} {question.written(couple.magnitude)}: {name}, a couple, {way}"
    for piece in question.problem.posture.pieces:
        yield f"{piece.symbol} {value_of(question, piece)}: {question.problem.pieces[piece.symbol]}"
    for force in question.problem.posture.forces:
        offset = force.offset
        if offset is not None:
            for part in offset.distances:
                way = side_of(offset, part, question.problem.seen_from)
                yield f"{part.symbol} {value_of(question, part)}: {force.symbol}, {way} the axis"
    yield from distances_told(question)


def _far_ends(question: Question, arrows: list[Arrow]) -> Iterator[FarEnd]:
    """Yield the far end of each muscle that has one."""
    posture = question.problem.posture
    for force, arrow in zip(posture.forces, arrows, strict=True):
        ends = force.direction.attachment
        if ends is not None:
            across = abs(toward(arrow.bearing - bearing_of_segment(question)).imag)
            run = lengths(posture, question.numbers)[ends.off.symbol] / across
            off = f"{ends.off.symbol} {value_of(question, ends.off)}"
            aside = f"{off}: far end of {force.symbol}, off the line"
            yield FarEnd(force.symbol, run, ends.off.symbol, off, aside)


def off_the_line(posture: Posture) -> set[str]:
    """Return the symbols of distances that do not run along the segment from the axis."""
    found = {piece.symbol for piece in posture.pieces}
    for force in posture.forces:
        if force.offset is not None:
            found |= {part.symbol for part in force.offset.distances}
        if force.at.perpendicular:
            found.add(force.at.symbol)
        if force.direction.attachment is not None:
            found.add(force.direction.attachment.off.symbol)
    for point in posture.body_points:
        found |= {part.symbol for part in point.distances}
    return found


def value_of(question: Question, distance: Distance) -> str:
    """Return what the problem gives for a distance: `36.0 cm`, `0.43 of L`, `L + d_g`, or `?`."""
    if distance.sought:
        return "?"
    if distance.derived is not None:
        return re.sub(r"{(.*?)}", lambda match: sign_of(match[1]), distance.derived.written)
    written = question.written(distance.given)
    return written if distance.of is None else f"{written} of {distance.of}"


def _arrow(question: Question, force: Force, metres_of: Mapping[str, float], line: float) -> Arrow:
    posture = question.problem.posture
    role: Role = "effort" if force is posture.effort else "force"
    bearing = bearing_of(question, force)
    if posture.seeks_centre:
        place = place_of_part(posture, force, question.numbers)
        level = all(coordinate_of_part(posture, load, "y") is None for load in posture.loads)
        return Arrow(force.symbol, role, place, place.real if level else None, bearing)
    if force.offset is not None:
        return Arrow(force.symbol, role, place_of_offset(force.offset, metres_of), None, bearing)
    if force.at_axis:
        return Arrow(force.symbol, role, 0j, 0.0, bearing)
    distance = metres_of[force.at.symbol]
    station: float | None = -distance if force.at.beyond else distance
    if force.at.perpendicular:
        station = _station(distance, force.turns or 1, bearing - line, max(metres_of.values()))
        if station is None:
            foot = distance * toward(bearing - 90 * (force.turns or 1))
            return Arrow(force.symbol, role, foot, None, bearing)
    assert station is not None
    return Arrow(force.symbol, role, station * toward(line), station, bearing)


def _sized(arrow: Arrow, question: Question, force: Force, values: Mapping[str, float]) -> Arrow:
    """Return an arrow with its size, where that is given or found."""
    given = force.magnitude
    is_given = given is not None and given.key in question.numbers
    if not (force.is_handed_on or force.is_shared) and (is_given or force.share or force.source):
        return replace(arrow, size=newtons(question.problem.posture, force, question.numbers))
    found = values.get(force.symbol, 0.0)
    if found < 0:  # what is handed on from another segment may point the other way
        return replace(arrow, bearing=arrow.bearing + 180, size=-found, found=True)
    if found > 0:
        return replace(arrow, size=found, found=True)
    return replace(arrow, headless=force.is_handed_on)


def _station(arm: float, turns: int, angle: float, longest: float) -> float | None:
    """Return where a line of action crosses the segment; None where that lies far off."""
    sine = toward(angle).imag
    return turns * arm / sine if arm <= 1.5 * longest * abs(sine) else None


def _reaction(question: Question, values: Mapping[str, float]) -> Arrow | None:
    """Return the reaction, or the one component of it that is known."""
    found = found_reaction(question.problem.posture, question.numbers, values)
    if found is None or not abs(found[1]) > NOTHING:
        return None
    symbol, force = found
    bearing = math.degrees(math.atan2(force.imag, force.real))
    return Arrow(symbol, "reaction", 0j, 0.0, bearing, abs(force), found=True)


def _given_arms(question: Question) -> Iterator[GivenArm]:
    """Yield the moment arms that are given, which lie along no segment."""
    for force in question.problem.posture.forces:
        if force.at.perpendicular:
            yield GivenArm(force.at.symbol, force.symbol, value_of(question, force.at))


def _measures(
    question: Question, metres_of: Mapping[str, float], arrows: list[Arrow]
) -> tuple[Measure, ...]:
    """Return the distances along the segment, the shortest first."""
    posture = question.problem.posture
    backward: dict[str, bool] = {}
    for force, arrow in zip(posture.forces, arrows, strict=True):
        backward[force.at.symbol] = arrow.station is not None and arrow.station < 0
        if force.direction.attachment is not None:
            along = force.direction.attachment.along
            backward[along.symbol] = along.beyond
    found, aside = [], off_the_line(posture)
    for distance in posture.distances:
        name = distance.symbol
        if posture.support is not None and distance in posture.support.distances:
            backward[name] = distance.beyond
        if name in aside:
            continue
        station = metres_of[name] * (-1 if backward.get(name) else 1)
        found.append(Measure(name, station, value_of(question, distance)))
    return tuple(sorted(found, key=lambda measure: abs(measure.station)))


def _measured_from(direction: Direction, segment: str) -> str:
    """Return from where the angle of a force is measured, in short."""
    if direction.reference == "bearing":
        return "from the right"
    return f"to {segment if direction.reference == 'segment' else direction.reference}"


def _corners(question: Question, line: float) -> list[Corner]:
    posture, segment = question.problem.posture, question.problem.segment
    found = []
    if posture.inclination is not None:
        between = f"{segment} to {posture.inclined_to}"
        sign, value = sign_of(posture.inclination.sign), question.written(posture.inclination)
        reference = float(segment_bearing(posture).constant)
        found.append(Corner(sign, value, "", between, reference, line))
    for force in posture.forces:
        direction, angle = force.direction, force.direction.angle
        if angle is None or direction.attachment is not None:
            continue
        reference = {
            "segment": line + (180 if direction.toward == "axis" else 0),
            "horizontal": 0.0 if direction.toward == "right" else 180.0,
            "vertical": 90.0 if direction.side == "above" else -90.0,
            "bearing": 0.0,
        }[direction.reference]
        from_segment = direction.reference == "segment"
        between = f"{force.symbol} {_measured_from(direction, segment)}"
        sign, value = sign_of(angle.sign), question.written(angle)
        bearing = bearing_of(question, force)
        all_round = direction.reference == "bearing"
        found.append(
            Corner(sign, value, force.symbol, between, reference, bearing, from_segment, all_round)
        )
    return found
