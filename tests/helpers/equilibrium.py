"""The forces of a posture as vectors at points, read from what its fields are documented to mean.

Nothing of the product's geometry or of its derivation is used, so that what these give can be laid
beside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import cos, hypot, pi, radians, sin
from typing import Self

import numpy as np
from leverstep.course.problem import Question
from leverstep.statics.acting import BandSize, Force, InertiaSize, MuscleSize, SharedSize
from leverstep.statics.points import Distance, FromOthers, Given
from leverstep.statics.posture import Find, Posture
from scipy import constants as nist

WEIGHED = {
    "kg": 1.0,
    "g": 0.001,
    "lb": nist.pound,
    "oz": nist.pound / 16,
    "st": nist.pound * 14,
}
"""How many kilograms one of a unit of mass is (NIST SP 811, 2008, B.8, as scipy has it)."""

FORCES = {"N": 1.0, "kN": 1000.0, "lbf": nist.pound_force}

AREAS = {"cm²": nist.centi**2, "mm²": nist.milli**2}
STRESSES = {"MPa": nist.mega, "N/cm²": nist.centi**-2}
STIFF = {"N/m": 1.0, "N/cm": 1 / nist.centi}
LENGTHS = {"m": 1.0, "cm": 0.01, "mm": 0.001, "in": nist.inch, "ft": nist.foot, "L": 1.0}
Vector = tuple[float, float]


@dataclass(frozen=True)
class Plane:
    """A segment with its forces in the plane; the axis is the origin. Numbers are in own units."""

    posture: Posture
    numbers: Mapping[str, float]
    gravity: float = 9.81
    found: Mapping[str, float] = field(default_factory=dict)
    """Forces that an earlier posture found, in newtons."""

    @classmethod
    def of(cls, question: Question) -> Self:
        """Return the plane of a question."""
        posture, numbers = question.problem.posture, question.numbers
        again = (f for f in posture.forces if f.before == f.symbol and f.magnitude is not None)
        found = {
            f.symbol: question.right[f.symbol] for f in again if f.magnitude.key not in numbers
        }
        return cls(posture, numbers, found=found)

    def along(self) -> Vector:
        """Return the unit vector that runs along the segment, away from the axis."""
        posture, incline = self.posture, self.posture.inclination
        angle = 0.0 if incline is None else radians(self.numbers[incline.key])
        if incline is not None and posture.inclined_to == "vertical":
            angle = pi / 2 - angle
        across = cos(angle) if posture.points == "right" else -cos(angle)
        return across, sin(angle) if posture.rises else -sin(angle)

    def upper(self) -> Vector:
        """Return the unit vector across the segment, to its upper side."""
        x, y = self.along()
        return (-y, x) if x > 0 else (y, -x)

    def distance(self, one: Distance) -> float:
        """Return a distance in metres."""
        if one.derived is not None:
            return self._from_others(one.derived)
        if one.of is None:
            return self.numbers[one.given.key] * LENGTHS[one.given.unit]
        return self.numbers[one.given.key] * self._named(one.of)

    def _named(self, symbol: str) -> float:
        return self.distance(next(d for d in self.posture.distances if d.symbol == symbol))

    def _from_others(self, derived: FromOthers) -> float:
        """Return a distance by what its words say of the others."""
        first, *others = map(self._named, derived.of)
        if derived.angle is not None:
            turned = radians(self.numbers[derived.angle.key])
            return first * {"sine": sin, "cosine": cos}[derived.how](turned)
        return first + {"sum": 1, "difference": -1}[derived.how] * sum(others)

    def point(self, force: Force) -> Vector:
        """Return where a force acts."""
        if force.offset is not None:
            across, up = (
                0.0 if one is None else self.distance(one) * (-1 if one.beyond else 1)
                for one in (force.offset.across, force.offset.up)
            )
            return across, up
        if not force.at.symbol:
            return 0.0, 0.0
        return self.on_segment(force.at)

    def on_segment(self, one: Distance) -> Vector:
        """Return the point of the segment at a distance from the axis."""
        reach = self.distance(one) * (-1 if one.beyond else 1)
        x, y = self.along()
        return reach * x, reach * y

    def unit(self, force: Force) -> Vector:
        """Return the unit vector that a force points along."""
        direction, (x, y) = force.direction, self.along()
        upward = 1 if direction.side == "above" else -1
        sideways = 1 if direction.toward == "right" else -1
        above = self.upper()
        normal = (upward * above[0], upward * above[1])
        if direction.attachment is not None:
            far, off = self.on_segment(direction.attachment.along), direction.attachment.off
            away, (px, py) = self.distance(off), self.point(force)
            dx, dy = far[0] + away * normal[0] - px, far[1] + away * normal[1] - py
            return dx / hypot(dx, dy), dy / hypot(dx, dy)
        toward = -1 if direction.toward == "axis" else 1
        lines: dict[str, tuple[Vector, Vector]] = {
            "segment": ((toward * x, toward * y), normal),
            "horizontal": ((sideways, 0), (0, upward)),
            "vertical": ((0, upward), (sideways, 0)),
            "bearing": ((1, 0), (0, 1)),
        }
        line, leaning = lines[direction.reference]
        if direction.angle is None:
            is_normal = direction.reference == "segment" and direction.side != "along"
            return normal if is_normal else line
        angle = radians(self.numbers[direction.angle.key])
        return (
            cos(angle) * line[0] + sin(angle) * leaning[0],
            cos(angle) * line[1] + sin(angle) * leaning[1],
        )

    def lever(self, force: Force) -> float:
        """Return the moment of one newton of a force, counter-clockwise positive."""
        if force.turns is not None:
            return force.turns * self.distance(force.at)
        (x, y), (across, upward) = self.point(force), self.unit(force)
        return x * upward - y * across

    def size(self, force: Force) -> float:
        """Return the size of a known force in newtons."""
        if force.symbol in self.found:
            return self.found[force.symbol]
        if force.source is not None:
            return self._from_source(force)
        if force.share is not None:
            body = self.posture.body
            assert body is not None
            return self.numbers[force.share.given.key] * self._newtons(body)
        assert force.magnitude is not None
        return self._newtons(force.magnitude)

    def _from_source(self, force: Force) -> float:
        """Return the size of a force from where it comes, in SI throughout."""
        source, numbers = force.source, self.numbers
        match source:
            case MuscleSize():
                area = numbers[source.area.key] * AREAS[source.area.unit]
                return area * numbers[source.tension.key] * STRESSES[source.tension.unit]
            case BandSize():
                lengths = (
                    numbers[one.key] * LENGTHS[one.unit] for one in (source.length, source.rest)
                )
                stretch = float(np.subtract(*lengths))
                return numbers[source.stiffness.key] * STIFF[source.stiffness.unit] * stretch
            case InertiaSize():
                weight = next(one for one in self.posture.forces if one.symbol == source.of)
                mass = self.size(weight) / self.gravity
                return mass * numbers[source.acceleration.key]
        raise AssertionError(source)

    def _share(self, force: Force) -> float:
        """Return how many times the effort a muscle pulls with that shares with it."""
        assert isinstance(force.source, SharedSize)
        own, *other = (self.numbers[one.key] for one in force.source.givens)
        return own / other[0] if other else own

    def turned(self) -> float:
        """Return the moment of all couples in N·m, counter-clockwise positive."""
        couples = self.posture.couples
        return sum(couple.turns * self.numbers[couple.magnitude.key] for couple in couples)

    def _newtons(self, given: Given) -> float:
        one = FORCES.get(given.unit) or WEIGHED[given.unit] * self.gravity
        return self.numbers[given.key] * one

    def solved(self) -> dict[str, tuple[float, float]]:
        """Return the size and the moment of every force, that to be found from equilibrium."""
        posture, unknown = self.posture, self.posture.balancing
        if posture.find is Find.TWO_FORCES:
            return self._pair()
        shared = {force.symbol: self._share(force) for force in posture.forces if force.is_shared}
        found = {
            force.symbol: (self.size(force), self.size(force) * self.lever(force))
            for force in posture.forces
            if force is not unknown and force.symbol not in shared
        }
        if unknown is not None:
            moment = -sum(moment for _, moment in found.values()) - self.turned()
            size = self.size(unknown) if unknown.at.sought else moment / self.lever(unknown)
            if shared:
                # so many newtons of each of them go with one newton of the effort
                with_one = [(posture.force(s), times) for s, times in shared.items()]
                lever = self.lever(unknown) + sum(t * self.lever(f) for f, t in with_one)
                size = moment / lever
                moment = size * self.lever(unknown)
                found |= {f.symbol: (t * size, t * size * self.lever(f)) for f, t in with_one}
            found[unknown.symbol] = size, moment
        return found

    def _pair(self) -> dict[str, tuple[float, float]]:
        """Return the sizes of forces through one point of which two are to be found."""
        one, other = self.posture.unknown
        known = {f.symbol: self.size(f) for f in self.posture.forces if f.magnitude is not None}
        (a, c), (b, d) = self.unit(one), self.unit(other)
        x, y = (
            sum(size * self.unit(self.posture.force(name))[axis] for name, size in known.items())
            for axis in (0, 1)
        )
        area = a * d - b * c
        found = {one.symbol: (b * y - d * x) / area, other.symbol: (c * x - a * y) / area}
        return {f.symbol: ({**known, **found}[f.symbol], 0.0) for f in self.posture.forces}

    def reaction(self) -> float:
        """Return the size of the force at the axis."""
        sizes = {symbol: size for symbol, (size, _) in self.solved().items()}
        pulls = [(sizes[f.symbol], self.unit(f)) for f in self.posture.forces]
        return hypot(*(sum(size * unit[axis] for size, unit in pulls) for axis in (0, 1)))
