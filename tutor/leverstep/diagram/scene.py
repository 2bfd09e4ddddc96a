"""The free-body diagram of a question in metres and degrees, before any pen draws it.

Points are complex numbers in metres: the axis is 0, x runs right and y up. A station is a place on
the line of the segment: metres from the axis, negative on the far side of it.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of, spelt
from leverstep.diagram.bearings import bearing_of, bearing_of_segment, toward
from leverstep.diagram.body import body_drawn, centre_found, distances_told
from leverstep.diagram.compass import side_of
from leverstep.diagram.surroundings import Surrounding, surroundings
from leverstep.statics.acting import Force
from leverstep.statics.body_points import coordinate_of_part, place_of_offset, place_of_part
from leverstep.statics.centre_of_mass import axes_sought
from leverstep.statics.geometry import lengths
from leverstep.statics.points import Direction, Distance
from leverstep.statics.posture import Posture
from leverstep.statics.reaction import found_reaction
from leverstep.statics.sources import newtons
from leverstep.statics.step import NOTHING

Role = Literal["force", "effort", "reaction"]


@dataclass(frozen=True)
class Arrow:
    """A force: where it acts, and the way it points in degrees.

    `station` is None where the force does not act on the line of the segment; `at` is its point in
    either case. `size` is its size in newtons, None as long as it is not known; `found` says that
    it was found, and not given. `headless` says that which way it points is still to be found:
    only its line is known.
    """

    symbol: str
    role: Role
    at: complex
    station: float | None
    bearing: float
    size: float | None = None
    found: bool = False
    headless: bool = False

    @cached_property
    def direction(self) -> complex:
        """Return the unit vector along the force."""
        return toward(self.bearing)


@dataclass(frozen=True, slots=True)
class Turning:
    """A couple: `turns` is +1 counter-clockwise, -1 clockwise, 0 as long as that is to be found.

    `station` is that of the joint where another segment hands it on, None for one that is given.
    """

    symbol: str
    turns: int
    station: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """A distance from the axis to a station, with what the problem gives for it."""

    symbol: str
    station: float
    value: str

    @property
    def text(self) -> str:
        """Return the symbol and the value: `d_l 36.0 cm`."""
        return f"{self.symbol} {self.value}"


@dataclass(frozen=True, slots=True)
class GivenArm:
    """A moment arm that the problem gives in place of a distance, that of the force `of`."""

    symbol: str
    of: str
    value: str

    @property
    def text(self) -> str:
        """Return the symbol and the value, and whose it is: `d_m 1.3 cm moment arm of F_m`."""
        return f"{self.symbol} {self.value} moment arm of {self.of}"


@dataclass(frozen=True, slots=True)
class Corner:
    """A given angle: its sign and value, the line it is measured from and the line it leads to.

    `of` is the symbol of the force whose angle it is, "" for the inclination of the segment;
    `reference` and `bearing` are the bearings of the two lines, in degrees. `from_segment` says
    that the first is the segment itself, `all_round` that it is measured anticlockwise, however
    far that is.
    """

    sign: str
    value: str
    of: str
    between: str
    reference: float
    bearing: float
    from_segment: bool = False
    all_round: bool = False

    @property
    def turned(self) -> float:
        """Return how far it is from the first line to the second, anticlockwise positive."""
        turned = (self.bearing - self.reference + 180) % 360 - 180
        return turned % 360 if self.all_round else turned

    @property
    def text(self) -> str:
        """Return the angle with what it lies between: `theta 35° forearm to horizontal`."""
        return f"{self.sign} {self.value} {self.between}"


@dataclass(frozen=True, slots=True)
class FarEnd:
    """The far end of a muscle whose force is `of`, `run` metres along its line of action.

    `off` tells its distance from the line of the segment, `aside` the same in words.
    """

    of: str
    run: float
    symbol: str
    off: str
    aside: str


@dataclass(frozen=True, slots=True)
class PlaceMark:
    """A point without an arrow: what stands beside it, "" for nothing, and whether it stands out.

    `station` is None where it does not lie on the line of the segment; `at` is its point in either
    case.
    """

    at: complex
    station: float | None
    text: str = ""
    chosen: bool = False


@dataclass(frozen=True)
class Scene:
    """All that a diagram shows.

    `bearing` is the way of the segment in degrees, `reach` and `behind` are how far it runs from
    the axis and past it, in metres. `arms` are the moment arms that are given, and `asides` tells
    the distances that do not run along the segment.
    `positive` is +1 where counter-clockwise moments are positive, and 0 where there are none;
    `leftward` says that the segment runs to the left. `far_ends` are those of muscles, and
    `surroundings` what is shown besides the forces. `fine` says that a pen draws it that has room
    for more than characters have. `positive_ways` are the ways that count as positive
    where a centre of mass is to be found, "" elsewhere; `centre` is the centre of mass, None before
    it is found, `centre_called` what it is called, and `body` its parts with its base of support.
    `compared` has the arrows of all postures of the same body, where there are several. `marks` are
    points without an arrow, `has_axis` says whether the axis is marked: in a picture that is still
    being made it may not be.
    """

    segment: str
    axis: str
    bearing: float
    reach: float
    behind: float
    arrows: tuple[Arrow, ...]
    measures: tuple[Measure, ...]
    corners: tuple[Corner, ...]
    positive: int
    leftward: bool
    arms: tuple[GivenArm, ...] = ()
    asides: tuple[str, ...] = ()
    far_ends: tuple[FarEnd, ...] = ()
    surroundings: tuple[Surrounding, ...] = ()
    fine: bool = False
    couples: tuple[Turning, ...] = ()
    compared: tuple[Arrow, ...] = ()
    positive_ways: str = ""
    centre: complex | None = None
    centre_called: str = ""
    body: tuple[Surrounding, ...] = ()
    marks: tuple[PlaceMark, ...] = ()
    has_axis: bool = True

    @property
    def is_being_made(self) -> bool:
        """Return whether a student is drawing it, so that its arrows say nothing of sizes."""
        return bool(self.marks)

    @cached_property
    def beneath(self) -> tuple[Surrounding, ...]:
        """Return all that is drawn beneath the forces: a body first, then what is only shown."""
        return (*self.body, *self.surroundings)

    @cached_property
    def on_line(self) -> bool:
        """Return whether the line of the segment is drawn: not for parts that lie beside it."""
        return not self.positive_ways or all(one.station is not None for one in self.arrows)

    @cached_property
    def level(self) -> bool:
        """Return whether the segment is level."""
        return abs(self.way.imag) < 1e-9

    @cached_property
    def at_one_point(self) -> bool:
        """Return whether all forces act at the axis, and there is no distance from it to show."""
        return not (self.reach or self.behind) and all(one.station == 0.0 for one in self.arrows)

    @property
    def barred(self) -> bool:
        """Return whether distances are drawn along the segment, not level and below it."""
        return self.fine and not self.level and bool(self.measures)

    @cached_property
    def way(self) -> complex:
        """Return the unit vector along the segment."""
        return toward(self.bearing)

    @cached_property
    def clear_side(self) -> int:
        """Return the side of the segment with fewer arrows: +1 counter-clockwise from its way."""
        sides = [toward(arrow.bearing - self.bearing).imag for arrow in self.arrows]
        return 1 if sum(1 if side > 0 else -1 for side in sides) <= 0 else -1

    @cached_property
    def by_arm(self) -> set[str]:
        """Return the symbols of the forces whose moment arm is given in place of a distance."""
        return {arm.of for arm in self.arms}

    @property
    def facts(self) -> tuple[str, ...]:
        """Return what is stated beside the distances along the segment: angles and moment arms."""
        return (*(one.text for one in self.corners), *(one.text for one in self.arms))

    def arrow(self, symbol: str) -> Arrow:
        """Return the arrow of a force."""
        return next(arrow for arrow in self.arrows if arrow.symbol == symbol)

    @cached_property
    def across(self) -> dict[str, float]:
        """Return the sine of the angle between each force and the segment, without its sign."""
        along = self.way.conjugate()
        return {arrow.symbol: abs((arrow.direction * along).imag) for arrow in self.arrows}

    def runs_along(self, arrow: Arrow) -> bool:
        """Return whether a force acts along the segment, so that its arrow would cover it."""
        if self.at_one_point:
            return False
        return arrow.station is not None and self.across[arrow.symbol] < 0.05


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
    stations = [*_stations(posture, distances, arrows, body)]
    return Scene(
        problem.segment,
        problem.axis,
        bearing,
        max(0.0, *stations, 0.0),
        -min(0.0, *stations, 0.0),
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
    arrows = tuple(arrow for scene in scenes[1:] and scenes for arrow in scene.arrows)
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
        name, way = question.problem.names[couple.symbol], sense_of(couple.turns)
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


def sense_of(turns: int) -> str:
    """Return in a word which way something turns: counter-clockwise for +1."""
    return "anticlockwise" if turns > 0 else "clockwise"


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


def in_ascii(scene: Scene) -> Scene:
    """Return a scene with every name and angle spelt in ASCII."""
    corners = tuple(
        replace(
            corner,
            sign=spelt(corner.sign),
            value=ascii_text(corner.value),
            between=ascii_text(corner.between),
        )
        for corner in scene.corners
    )
    shown, body = (
        tuple(
            replace(one, name=ascii_text(one.name), end_name=ascii_text(one.end_name))
            for one in ones
        )
        for ones in (scene.surroundings, scene.body)
    )
    segment, axis = ascii_text(scene.segment), ascii_text(scene.axis)
    measures = tuple(replace(one, value=ascii_text(spelt(one.value))) for one in scene.measures)
    arms = tuple(replace(one, value=ascii_text(spelt(one.value))) for one in scene.arms)
    asides = tuple(ascii_text(spelt(aside)) for aside in scene.asides)
    return replace(
        scene, segment=segment, axis=axis, corners=corners, surroundings=shown, body=body,
        measures=measures, arms=arms, asides=asides,
    )  # fmt: skip


_IN_ASCII = str.maketrans({"°": " deg", "×": "*", "−": "-"})


def ascii_text(text: str) -> str:
    """Return a text without accents, its degrees as words, other signs as `?`."""
    letters = unicodedata.normalize("NFKD", text.translate(_IN_ASCII))
    bare = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return bare.encode("ascii", "replace").decode("ascii")


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
    backward: dict[str, bool] = {}
    for force, arrow in zip(question.problem.posture.forces, arrows, strict=True):
        backward[force.at.symbol] = arrow.station is not None and arrow.station < 0
        if force.direction.attachment is not None:
            backward[force.direction.attachment.along.symbol] = (
                force.direction.attachment.along.beyond
            )
    found = []
    posture = question.problem.posture
    for distance in posture.distances:
        name = distance.symbol
        if posture.support is not None and distance in posture.support.distances:
            backward[name] = distance.beyond
        if name in off_the_line(question.problem.posture):
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
        level, between = 0.0 if posture.points == "right" else 180.0, f"{segment} to horizontal"
        value = question.written(posture.inclination)
        found.append(Corner(sign_of(posture.inclination.sign), value, "", between, level, line))
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
