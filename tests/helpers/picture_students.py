"""A student who draws free-body diagrams, right or with one slip, by a geometry of its own."""

from __future__ import annotations

import cmath
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.course.problem import Question
from leverstep.free_body.body_picture import AXIS_ITEM, BodyPicture
from leverstep.free_body.placing import Placing
from leverstep.slips.picture_slips import PictureSlip
from leverstep.statics.acting import Force

DECOYS = {
    "decoy other end": PictureSlip.OTHER_END,
    "decoy other body": PictureSlip.OTHER_BODY,
    "decoy reversed": PictureSlip.REVERSED,
    "decoy part": PictureSlip.COMPONENT,
    "decoy motion": PictureSlip.NO_FORCE,
}
UPRIGHT = {"up": 1j, "down": -1j}
LEVEL = {"left": -1.0 + 0j, "right": 1.0 + 0j}
WAYS = UPRIGHT | LEVEL


@dataclass(frozen=True)
class Drawn:
    """What is drawn, and the slips in it as this student knows them."""

    placing: Placing
    slips: tuple[PictureSlip, ...] = ()


class PictureStudent:
    """Knows the right picture of a posture from its file, and draws it or something else."""

    def __init__(self, question: Question, picture: BodyPicture) -> None:
        self.question, self.picture = question, picture
        self.posture = question.problem.posture
        self.forces = {force.symbol: force for force in self.posture.forces}
        inclination = self.posture.inclination
        lies = 0.0 if inclination is None else math.radians(question.numbers[inclination.key])
        if inclination is not None and self.posture.inclined_to == "vertical":
            lies = math.pi / 2 - lies
        lies = lies if self.posture.rises else -lies
        mirrored = self.posture.points == "left"
        self.along = cmath.rect(1, lies)
        self.above = self.along * 1j
        if mirrored:
            self.along = -self.along.conjugate()
            self.above = -self.above.conjugate()

    def way(self, key: str) -> complex | None:
        """Return where a direction points, None where it says that by no key of this student."""
        first, *rest = key.split()
        if first in WAYS:
            return sum((WAYS[one] for one in key.split()), 0j)
        if first == "muscle":
            way = self._to_far_end(self.forces[rest[0]])
            return way if rest[1] == "toward" else -way
        if first == "segment":
            return self._from_segment(rest)
        if first == "round":
            turned = cmath.rect(1, self._radians(rest[0]))
            return turned if rest[1] == "up" else turned.conjugate()
        if first in ("horizontal", "vertical"):
            sign, upright, level = rest
            size = self._radians(sign)
            near, far = UPRIGHT[upright], LEVEL[level]
            if first == "horizontal":
                near, far = far, near
            return near * math.cos(size) + far * math.sin(size)
        return None

    def _from_segment(self, words: list[str]) -> complex:
        side = {"above": self.above, "below": -self.above}
        end = {"axis": -self.along, "end": self.along}
        if words[-1] == "along":
            return end[words[0]]
        if len(words) == 1:
            return side[words[0]]
        size = self._radians(words[0])
        return end[words[1]] * math.cos(size) + side[words[2]] * math.sin(size)

    def _radians(self, sign: str) -> float:
        givens = [force.direction.angle for force in self.posture.forces]
        given = next(g for g in (self.posture.inclination, *givens) if g and g.sign == sign)
        return math.radians(self.question.numbers[given.key])

    def _to_far_end(self, force: Force) -> complex:
        ends, known = force.direction.attachment, self._metres()
        assert ends is not None
        far = known[ends.along.symbol] * (-1 if ends.along.beyond else 1)
        here = known[force.at.symbol] * (-1 if force.at.beyond else 1)
        side = self.above if force.direction.side == "above" else -self.above
        return (far - here) * self.along + known[ends.off.symbol] * side

    def _metres(self) -> dict[str, float]:
        found: dict[str, float] = {}
        for one in self.posture.distances:
            size = self.question.in_si(one.given) if one.given.key in self.question.numbers else 0
            if one.derived is not None:
                found[one.symbol] = one.derived.value(found, self.question.numbers)
            else:
                found[one.symbol] = size * (found[one.of] if one.of else 1.0)
        return found

    def right_way(self, force: Force) -> str:
        """Return the key of the direction of a force as its file says it."""
        direction = force.direction
        if direction.attachment is not None:
            return f"muscle {force.symbol} toward"
        if direction.reference == "bearing":
            return f"round {direction.angle.sign} up" if direction.angle else ""
        upright = "up" if direction.side == "above" else "down"
        if direction.reference == "segment":
            parts = ["segment", direction.angle.sign if direction.angle else ""]
            has_end = direction.angle or direction.side == "along"
            parts += [direction.toward or "" if has_end else "", direction.side]
            return " ".join(filter(None, parts))
        if direction.angle is None:
            return upright if direction.reference == "vertical" else str(direction.toward)
        return f"{direction.reference} {direction.angle.sign} {upright} {direction.toward}"

    def right_point(self, force: Force) -> str:
        """Return the key of the point of a force as its file says it."""
        if force.offset is not None:
            return " ".join(one.symbol for one in force.offset.distances)
        return force.at.symbol or "axis"

    def right(self) -> list[Placing]:
        """Return a right picture."""
        found = []
        for one in self.picture.candidates:
            if one.item in self.forces:
                force = self.forces[one.item]
                found.append(Placing(one.item, self.right_point(force), self.right_way(force)))
            elif one.item in {couple.symbol for couple in self.posture.couples}:
                found.append(Placing(one.item, "", self._turn(one.item)))
            elif one.item in ("the reaction", "net moment"):
                point = "axis" if one.item == "the reaction" else ""
                found.append(Placing(one.item, point, "unknown"))
        if self.posture.has_moments:
            found.append(Placing(AXIS_ITEM, "axis"))
            found += [Placing(symbol) for symbol in sorted(self._counting())]
        return found

    def _turn(self, symbol: str) -> str:
        couple = next(one for one in self.posture.couples if one.symbol == symbol)
        return "unknown" if couple.before else "anticlockwise" if couple.turns > 0 else "clockwise"

    def _counting(self) -> set[str]:
        found = set()
        for force in self.posture.turning:
            if force.offset is None:
                found.add(force.at.symbol)
                continue
            way = self.way(self.right_way(force))
            assert way is not None
            if force.offset.across is not None and abs(way.imag) > 1e-9:
                found.add(force.offset.across.symbol)
            if force.offset.up is not None and abs(way.real) > 1e-9:
                found.add(force.offset.up.symbol)
        return found

    def wrong(self, draw: random.Random) -> Iterator[Drawn]:
        """Yield each thing that is wrong: decoys, wrong points, wrong directions, and the rest."""
        points, ways = [one.key for one in self.picture.places], self._ways()
        for item, slip in DECOYS.items():
            if self.picture.candidate(item) is not None:
                for _ in range(3):
                    yield Drawn(Placing(item, draw.choice(points), draw.choice(ways)), (slip,))
        for force in self.forces.values():
            point, way = self.right_point(force), self.right_way(force)
            wrong_points = [one for one in points if not self._is_same_point(one, point)]
            for other in wrong_points:
                yield Drawn(Placing(force.symbol, other, way), (PictureSlip.POINT,))
            for other_way, slip in self._wrong_ways(force):
                yield Drawn(Placing(force.symbol, point, other_way), (slip,))
                if wrong_points:
                    slips = (PictureSlip.POINT, slip)
                    yield Drawn(Placing(force.symbol, draw.choice(wrong_points), other_way), slips)
        if self.posture.has_moments:
            yield from (
                Drawn(Placing(AXIS_ITEM, one), (PictureSlip.AXIS,))
                for one in points
                if one != "axis"
            )
            by_angle = (f.at.derived for f in self.posture.turning if f.at.derived)
            along = {one for derived in by_angle if derived.angle for one in derived.of}
            others = {one.symbol for one in self.posture.distances} - self._counting() - along
            yield from (Drawn(Placing(one), (PictureSlip.DISTANCE,)) for one in sorted(others))
        if self.picture.candidate("the reaction") is not None:
            for one in points[1:]:
                yield Drawn(Placing("the reaction", one, "unknown"), (PictureSlip.POINT,))
        for couple in self.posture.couples:
            if not couple.before:
                other = "clockwise" if couple.turns > 0 else "anticlockwise"
                yield Drawn(Placing(couple.symbol, "", other), (PictureSlip.TURNED_ROUND,))
                yield Drawn(Placing(couple.symbol, "", "unknown"), (PictureSlip.NOT_UNKNOWN,))

    def _ways(self) -> list[str]:
        return [one.key for one in self.picture.pointings if not one.turns]

    def _wrong_ways(self, force: Force) -> Iterator[tuple[str, PictureSlip]]:
        right = self.way(self.right_way(force))
        assert right is not None
        right /= abs(right)
        slants = min(abs(right.real), abs(right.imag)) > 1e-6
        angle = force.direction.angle
        sought = self.posture.sought_angle
        is_sought = sought is not None and angle == sought
        lies_by_sought = sought is not None and sought == self.posture.inclination
        for key in self._ways():
            way, is_quarter = self.way(key), len(key.split()) == 2 and key.split()[0] in UPRIGHT
            if way is None:
                if not (force.is_handed_on or is_sought):
                    yield key, PictureSlip.NOT_UNKNOWN
                continue
            way /= abs(way)
            if abs(way - right) < 1e-9 and not is_quarter:
                continue
            is_its_quarter = is_quarter and slants and (way * right.conjugate()).real > 0.5**0.5
            is_by_segment = force.direction.reference == "segment" and lies_by_sought
            if is_its_quarter and (is_sought or is_by_segment):
                continue
            is_opposite = abs(way + right) < 1e-9 and not is_quarter
            if force.is_handed_on and is_opposite:
                continue
            if force.is_weight:
                yield key, PictureSlip.NOT_DOWN
            elif is_its_quarter:
                yield key, PictureSlip.NO_ANGLE
            elif is_opposite:
                yield key, PictureSlip.TURNED_ROUND
            elif angle is not None and angle.sign in key.split():
                yield key, PictureSlip.OTHER_LINE
            else:
                yield key, PictureSlip.WAY

    def _is_same_point(self, one: str, other: str) -> bool:
        here, there = self._at(one), self._at(other)
        return one == other or (None not in (here, there) and abs(here - there) < 1e-9)  # type: ignore[operator]

    def _at(self, key: str) -> complex | None:
        """Return where a point lies, None where only its moment arm is known, or it is sought."""
        known = self._metres()
        if key == "axis":
            return 0j
        for force in self.forces.values():
            if self.right_point(force) == key:
                if force.offset is not None:
                    parts = (force.offset.across, force.offset.up)
                    across, up = (
                        0.0 if one is None else known[one.symbol] * (-1 if one.beyond else 1)
                        for one in parts
                    )
                    return complex(across, up)
                if force.at.perpendicular or force.at.sought:
                    return None
                return known[key] * self.along * (-1 if force.at.beyond else 1)
            ends = force.direction.attachment
            if ends is not None and ends.along.symbol == key:
                here = known[force.at.symbol] * (-1 if force.at.beyond else 1)
                return here * self.along + self._to_far_end(force)
        return known[key] * self.along
