"""The ways that a student may turn an arrow: straight, slanting by a given angle, or left open."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import Literal

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.diagram.bearings import bearing_of, bearing_of_segment, bearing_told, toward
from leverstep.diagram.compass import LINES, compass
from leverstep.diagram.described import side_told
from leverstep.statics.acting import Force
from leverstep.statics.points import Direction, Given

UNKNOWN, CLOCKWISE, ANTICLOCKWISE = "unknown", "clockwise", "anticlockwise"

_QUARTERS = {
    ("up", "left"): 135.0,
    ("up", "right"): 45.0,
    ("down", "left"): 225.0,
    ("down", "right"): 315.0,
}
"""The bearing in the middle of each quarter."""

_EXACTLY = 1e-6
"""Degrees within which two directions are one."""


class ReferenceLine(StrEnum):
    """What a slanting direction is told from; the value is its word in a key."""

    HORIZONTAL = "horizontal"
    VERTICAL = "vertical"
    SEGMENT = "segment"
    ROUND = "round"
    MUSCLE = "muscle"
    NONE = ""


@dataclass(frozen=True, slots=True)
class Pointing:
    """One direction: its key, which stands in a record, and what it is called.

    `bearing` is where it points, in degrees, None where it is left open, or turns by `turns`, +1
    counter-clockwise. `angle` is the sign of the angle that it is told by, "" for none; `line` is
    what that is measured from. `words` are those that a student may say it with. A `quarter` says
    only between which two ways it lies.
    """

    key: str
    label: str
    bearing: float | None = None
    turns: int = 0
    line: ReferenceLine = ReferenceLine.NONE
    angle: str = ""
    words: frozenset[str] = frozenset()
    quarter: bool = False

    @property
    def is_straight(self) -> bool:
        """Return whether it is straight up, down, left or right, with nothing else to tell."""
        return self.bearing is not None and not (self.line or self.quarter)

    @property
    def is_open(self) -> bool:
        """Return whether it says that the direction is not known yet."""
        return self.key == UNKNOWN

    def points_as(self, bearing: float) -> bool:
        """Return whether it points just that way."""
        return self.bearing is not None and _turned(self.bearing, bearing) < _EXACTLY

    def is_opposite(self, bearing: float) -> bool:
        """Return whether it points just the other way."""
        return self.points_as(bearing + 180)

    def holds(self, bearing: float) -> bool:
        """Return whether it is the quarter in which a direction lies."""
        return self.quarter and self.bearing is not None and _turned(self.bearing, bearing) < 45


def _turned(one: float, other: float) -> float:
    """Return how far one bearing is turned from another, in degrees up to 180."""
    return abs((one - other + 180) % 360 - 180)


def nearest_way(ways: Sequence[Pointing], run: complex) -> Pointing:
    """Return the one of some directions that points most as a line does, right and up."""
    bearing = math.degrees(cmath.phase(run))
    return min(ways, key=lambda one: _turned(one.bearing or 0.0, bearing))


def pointings(question: Question) -> tuple[Pointing, ...]:
    """Return every direction there is to choose from at a posture, straight ones first."""
    found = [*_straight(question), *_quarters(question)]
    forces = question.problem.posture.forces
    bearings = {one.direction.angle for one in forces if one.direction.reference == "bearing"}
    for angle in _angles(question):
        found += (_round if angle in bearings else _slanting)(question, angle)
    found += [*(_by_segment(question) if _is_line(question) else ()), *_by_muscles(question)]
    found.append(Pointing(UNKNOWN, "unknown yet", words=frozenset({"unknown"})))
    for turns, way in ((1, ANTICLOCKWISE), (-1, CLOCKWISE)):
        found.append(Pointing(way, way, turns=turns, words=frozenset({way})))
    return tuple(found)


def _is_line(question: Question) -> bool:
    """Return whether what is cut free lies along a line to tell a way from; a knot does not."""
    posture = question.problem.posture
    by_segment = any(one.direction.reference == "segment" for one in posture.forces)
    return posture.has_moments or by_segment


def _angles(question: Question) -> tuple[Given, ...]:
    """Return the angles that the posture is told by, each once, also one to be found."""
    posture = question.problem.posture
    found = [] if posture.inclination is None else [posture.inclination]
    found += [
        force.direction.angle
        for force in posture.forces
        if force.direction.angle is not None and force.direction.attachment is None
    ]
    return tuple(dict.fromkeys(found))


def _ways(bearing: float) -> frozenset[str]:
    """Return the ways that a bearing has: `up` and `left`."""
    way = toward(bearing)
    ways = {"up": way.imag, "down": -way.imag, "right": way.real, "left": -way.real}
    return frozenset(name for name, part in ways.items() if part > _EXACTLY)


def _told(question: Question, bearing: float) -> str:
    return compass(toward(bearing), question.problem.seen_from)


def _straight(question: Question) -> Iterator[Pointing]:
    for key, bearing in (("up", 90.0), ("down", -90.0), ("left", 180.0), ("right", 0.0)):
        yield Pointing(key, _told(question, bearing), bearing, words=frozenset({key}))


def _quarters(question: Question) -> Iterator[Pointing]:
    """Yield the quarters, told by no angle."""
    for ways, bearing in _QUARTERS.items():
        label = f"{_told(question, bearing)}, no angle told"
        yield Pointing(" ".join(ways), label, bearing, words=frozenset(ways), quarter=True)


def _slanting(question: Question, angle: Given) -> Iterator[Pointing]:
    """Yield what a given angle may be measured from, and to which side."""
    degrees, sign = question.numbers[angle.key], sign_of(angle.sign)
    told = f"at {sign} {question.written(angle)}"
    sides: tuple[Literal["above", "below"], ...] = ("above", "below")
    lines: tuple[Literal["horizontal", "vertical"], ...] = ("horizontal", "vertical")
    ways: tuple[Literal["left", "right"], ...] = ("left", "right")
    for reference, way, side in product(lines, ways, sides):
        direction = Direction(reference, angle, way, side)
        bearing = bearing_told(question, direction, degrees)
        line = LINES[question.problem.seen_from][reference]
        upright = "up" if side == "above" else "down"
        leans = bearing if degrees > 90 else _QUARTERS[upright, way]  # back past the line
        yield Pointing(
            f"{reference} {angle.sign} {upright} {way}",
            f"{told} to the {line}, {_told(question, leans)}",
            bearing, line=ReferenceLine(reference), angle=angle.sign,
            words=frozenset({reference, angle.sign}) | _ways(leans),
        )  # fmt: skip
    ends: tuple[Literal["axis", "end"], ...] = ("axis", "end")
    for end, side in product(ends, sides) if _is_line(question) else ():
        direction = Direction("segment", angle, end, side)
        yield _to_segment(question, direction, f"{told} to the {question.problem.segment}")


def _round(question: Question, angle: Given) -> Iterator[Pointing]:
    """Yield what a given bearing may be counted as: from the right up and on round, or down."""
    degrees, sign = question.numbers[angle.key], sign_of(angle.sign)
    for way, turning, bearing in (("up", ANTICLOCKWISE, degrees), ("down", CLOCKWISE, -degrees)):
        up = _told(question, 90.0 if way == "up" else -90.0).removeprefix("straight ")
        yield Pointing(
            f"round {angle.sign} {way}",
            f"at {sign} {question.written(angle)}, counted from the right {up} and on round",
            bearing, line=ReferenceLine.ROUND, angle=angle.sign,
            words=frozenset({angle.sign, "counted", "right", way, "round", turning})
            | _ways(bearing),
        )  # fmt: skip


def _to_segment(question: Question, direction: Direction, told: str) -> Pointing:
    """Return a direction that is told from the segment."""
    problem, angle = question.problem, direction.angle
    degrees = 0.0 if angle is None else question.numbers[angle.key]
    bearing = bearing_told(question, direction, degrees)
    parts, words = [told], {"segment"} | _ways(bearing)
    if direction.toward is not None:
        parts.append(
            f"towards {f'the {problem.axis}' if direction.toward == 'axis' else 'its end'}"
        )
        words.add(direction.toward)
    if direction.side != "along":
        side = side_told(question, bearing_of_segment(question), toward(bearing))
        beside = f"to {side.replace(f' of the {problem.segment}', '')}"
        parts.append(_told(question, bearing) if angle is None else beside)
        words.add(direction.side)
    sign = "" if angle is None else angle.sign
    words |= {sign} if sign else {"along" if direction.side == "along" else "perpendicular"}
    key = " ".join(filter(None, ("segment", sign, direction.toward, direction.side)))
    return Pointing(
        key,
        ", ".join(parts),
        bearing,
        line=ReferenceLine.SEGMENT,
        angle=sign,
        words=frozenset(words),
    )


def _by_segment(question: Question) -> Iterator[Pointing]:
    """Yield what needs no angle at a segment: square to it, and along it."""
    name = question.problem.segment
    yield _to_segment(question, Direction("segment", side="above"), f"perpendicular to the {name}")
    yield _to_segment(question, Direction("segment", side="below"), f"perpendicular to the {name}")
    ends: tuple[Literal["axis", "end"], ...] = ("axis", "end")
    for end in ends:
        direction = Direction("segment", None, end, "along")
        yield _to_segment(question, direction, f"along the {name}")


def _by_muscles(question: Question) -> Iterator[Pointing]:
    """Yield the two ways along a muscle whose both ends are given."""
    for force in question.problem.posture.forces:
        if force.direction.attachment is not None:
            yield _along_muscle(question, force, to_end=True)
            yield _along_muscle(question, force, to_end=False)


def _along_muscle(question: Question, force: Force, to_end: bool) -> Pointing:
    bearing = bearing_of(question, force) + (0 if to_end else 180)
    name = question.problem.names[force.symbol]
    way, told = ("towards", "toward") if to_end else ("away from", "away")
    return Pointing(
        f"muscle {force.symbol} {told}", f"{way} the other end of the {name}", bearing,
        line=ReferenceLine.MUSCLE, words=frozenset({"other end", told, *_ways(bearing)}),
    )  # fmt: skip
