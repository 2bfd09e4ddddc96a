"""Every quantity that a line of a page may be about: the steps of the derivation, and what lies near.

Beside the steps those are masses in kilograms, components and moments that the derivation does not
ask for, sums of some forces or moments, and products of a mass and a distance.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from leverstep.course.problem import Question
from leverstep.statics import kinds
from leverstep.statics.kinds import Kind, Part
from leverstep.statics.posture import Force, force_bearing, segment_bearing, slant
from leverstep.statics.step import Derivation, Draft, Step
from leverstep.statics.turn import arm_key, component_key, moment_sign
from leverstep.statics.units import (
    ANGLE,
    LENGTH,
    MASS,
    MOMENT,
    NUMBER,
    OF_LINES,
    Dimension,
    known_unit,
)
from leverstep.statics.units import FORCE as FORCE_DIMENSION

MASS_LENGTH: Dimension = (1, 1, 0, 0)

FAMILIES = ("weight", "force", "mass", "distance", "arm", "angle", "moment", "ratio", "reaction")


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a line may be about.

    `family` is what sort it is of; `axis` is "x" or "y" for a component; `about` are the symbols of
    its forces; `whole` marks a sum over all forces. `uses` are the keys of what it is worked out
    from. `step` is its line, None where the derivation has none.
    """

    key: str
    dimension: Dimension
    family: str
    about: tuple[str, ...] = ()
    axis: str = ""
    whole: bool = False
    signed: bool = False
    uses: tuple[str, ...] = ()
    step: Step | None = None

    @property
    def sort(self) -> str:
        """Return the family, that of its parts for a sum."""
        return _SORT_OF_SUM.get(self.family, self.family)


_SORT_OF_SUM = {
    "sum of forces": "force",
    "sum of masses": "mass",
    "sum of moments": "moment",
    "sum of mass moments": "moment",
    "mass moment": "moment",
}

_FAMILY_OF_PART = {
    Part.FORCES: "weight",
    Part.DISTANCES: "distance",
    Part.MOMENTS: "moment",
    Part.UNKNOWN: "force",
    Part.RATIOS: "ratio",
    Part.COMPONENTS: "force",
    Part.REACTION: "reaction",
}
_FAMILY_OF_KIND: dict[Kind, str] = {
    kinds.SEGMENT_MASS: "mass",
    kinds.MASS: "mass",
    kinds.ARM: "arm",
    kinds.COMPONENT: "force",
    kinds.ANGLE: "angle",
    kinds.ATTACHMENT_ANGLE: "angle",
    kinds.ARM_FOUND: "arm",
    kinds.DISTANCE_FOUND: "distance",
    kinds.NET_MOMENT: "moment",
    kinds.REACTION_ANGLE: "angle",
}
_AXIS: dict[Kind, str] = {
    kinds.REACTION_X: "x",
    kinds.REACTION_Y: "y",
    kinds.COMPONENT_X: "x",
    kinds.COMPONENT_Y: "y",
}


class Quantities:
    """The quantities of a question, and their values for some values of the steps."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.draft = Draft(question.problem.posture, question.numbers)
        self.all: dict[str, Quantity] = {}
        self.distances: dict[str, tuple[str, ...]] = {}
        for step in question.derivation.steps:
            if step.kind.is_number:
                self.all[step.key] = self._of_step(step)
        for quantity in self._beside():
            self.all.setdefault(quantity.key, quantity)
        self.right = self.values(question.right)

    def _of_step(self, step: Step) -> Quantity:
        posture = self.question.problem.posture
        family = _FAMILY_OF_KIND.get(step.kind) or _FAMILY_OF_PART.get(step.kind.part, "")
        force = next((f for f in posture.forces if f.symbol == step.about), None)
        if step.kind.part is Part.ANGLES and not family:
            family = "angle" if step.unit == "deg" else "arm"
        if step.kind is kinds.FORCE and force is not None and not force.is_weight:
            family = "force"
        if force is not None and step.key == force.symbol:
            family = "weight" if force.is_weight or force.symbol.startswith("W") else "force"
        about = _forces_about(posture.forces, step)
        whole = step.kind in (kinds.SUM, kinds.NET_MOMENT)
        return Quantity(
            step.key, OF_LINES[step.unit], family, about, _AXIS.get(step.kind, ""), whole,
            not step.kind.is_size, step.uses, step,
        )  # fmt: skip

    def _beside(self) -> Iterator[Quantity]:
        posture = self.question.problem.posture
        for force in posture.forces:
            about = (force.symbol,)
            if force.is_weight or (force.share is not None):
                yield Quantity(force.mass_key, MASS, "mass", about, uses=(force.symbol,))
            yield Quantity(f"{force.symbol}x", FORCE_DIMENSION, "force", about, "x", signed=True)
            yield Quantity(f"{force.symbol}y", FORCE_DIMENSION, "force", about, "y", signed=True)
            if not force.at_axis and posture.moments:
                key = f"M{force.suffix}"
                yield Quantity(key, MOMENT, "moment", about, signed=True)
                if force.magnitude is not None and force.is_weight:
                    yield Quantity(f"{force.mass_key}·d", MASS_LENGTH, "mass moment", about)
                    if force.at.symbol:
                        key = f"{force.mass_key}·{force.at.symbol}"
                        yield Quantity(key, MASS_LENGTH, "mass moment", about)
                yield Quantity(f"a{force.suffix}", LENGTH, "arm", about)
        yield from self._angles()
        yield from self._about_other_points()
        for key in ("MA", "AR"):
            if key in self.all:
                yield Quantity(f"1/{key}", NUMBER, "ratio", uses=self.all[key].uses)
        for key in ("R_y", "R"):
            if key in self.all:
                yield Quantity(f"{key}/g", MASS, "reaction", uses=self.all[key].uses)
        known = [f for f in posture.forces if f.magnitude is not None]
        for count in range(2, len(known) + 1):
            for some in itertools.combinations(known, count):
                names = tuple(force.symbol for force in some)
                whole = len(some) == len(known)
                key = "+".join(names)
                yield Quantity(key, FORCE_DIMENSION, "sum of forces", names, whole=whole)
                if all(force.is_weight for force in some):
                    yield Quantity(f"m of {key}", MASS, "sum of masses", names, whole=whole)
                    yield Quantity(
                        f"m·d of {key}", MASS_LENGTH, "sum of mass moments", names, whole=whole
                    )
                if posture.moments and all(not force.at_axis for force in some):
                    key = f"M of {key}"
                    yield Quantity(key, MOMENT, "sum of moments", names, signed=True)
        if posture.body is not None:
            yield Quantity("W_b", FORCE_DIMENSION, "weight", ("body",))
            yield Quantity("m_b", MASS, "mass", ("body",))

    def _angles(self) -> Iterator[Quantity]:
        for force in self.question.problem.posture.forces:
            for name in ("to the horizontal", "to the vertical"):
                yield Quantity(f"angle of {force.symbol} {name}", ANGLE, "angle", (force.symbol,))

    def _points(self) -> dict[str, Force]:
        """Return the forces that act on the line of the segment, by symbol."""
        posture = self.question.problem.posture
        if not posture.moments:
            return {}
        return {
            f.symbol: f
            for f in posture.forces
            if f.at.symbol and not f.at.perpendicular and f.offset is None
        }

    def _about_other_points(self) -> Iterator[Quantity]:
        """Yield the distances between points, and the moments about another point than the axis."""
        points = self._points()
        for one, other in itertools.permutations(points, 2):
            yield Quantity(f"M about {one} of {other}", MOMENT, "moment", (other,), signed=True)
            if one < other:
                key = f"from {one} to {other}"
                yield Quantity(
                    key,
                    LENGTH,
                    "distance",
                    (one, other),
                    uses=(points[one].at.symbol, points[other].at.symbol),
                )
        for one in points:
            for key in ("R_y", "R"):
                if key in self.all:
                    yield Quantity(f"M about {one} of {key}", MOMENT, "moment", signed=True)
                    break
            if len(points) > 2:
                yield Quantity(f"M about {one}", MOMENT, "moment", signed=True)

    def _values_about_points(
        self,
        found: dict[str, float],
        sizes: Mapping[str, tuple[float, float, float]],
        steps: Mapping[str, float],
    ) -> None:
        points = self._points()
        posture = self.question.problem.posture
        bearing = segment_bearing(posture)
        inclination = (
            0.0 if posture.inclination is None else self.question.numbers[posture.inclination.key]
        )
        way = math.radians(bearing.degrees(inclination, 0.0))
        places = {
            s: steps.get(f.at.symbol, math.nan) * (-1 if f.at.beyond else 1)
            for s, f in points.items()
        }
        for one, place in places.items():
            total = 0.0
            for other, (across, upward, moment) in sizes.items():
                about = moment - place * (math.cos(way) * upward - math.sin(way) * across)
                if other != one and other in points:
                    found.setdefault(f"M about {one} of {other}", about)
                    key = f"from {one} to {other}"
                    found.setdefault(key, abs(places[other] - place))
                if other != one and posture.force(other).magnitude is not None:
                    total += about
            found.setdefault(f"M about {one}", total)
            across, upward = (steps.get(key, 0.0) for key in ("R_x", "R_y"))
            for key in ("R_y", "R"):
                found.setdefault(
                    f"M about {one} of {key}",
                    -place * (math.cos(way) * upward - math.sin(way) * across),
                )

    def values(self, steps: Mapping[str, float]) -> dict[str, float]:
        """Return the value of every quantity in kg, m, s and degrees, for values of the steps."""
        found = {key: steps[key] for key in self.all if key in steps}
        gravity = self.question.accepted["g"][0]
        posture = self.question.problem.posture
        sizes: dict[str, tuple[float, float, float]] = {}
        for force in posture.forces:
            across, upward, moment = self._force(force, steps)
            sizes[force.symbol] = (across, upward, moment)
            size = math.hypot(across, upward)
            found.setdefault(force.mass_key, size / gravity)
            found.setdefault(f"{force.symbol}x", across)
            found.setdefault(f"{force.symbol}y", upward)
            found.setdefault(f"M{force.suffix}", moment)
            found.setdefault(f"a{force.suffix}", abs(moment) / size if size else math.nan)
            found.setdefault(f"{force.mass_key}·d", abs(moment) / gravity)
            if force.at.symbol:
                along = steps.get(force.at.symbol, math.nan)
                found.setdefault(f"{force.mass_key}·{force.at.symbol}", size / gravity * along)
            slope = math.degrees(math.atan2(abs(upward), abs(across)))
            found[f"angle of {force.symbol} to the horizontal"] = slope
            found[f"angle of {force.symbol} to the vertical"] = 90 - slope
        for quantity in self.all.values():
            if quantity.key in found or not set(quantity.about) <= sizes.keys():
                continue
            parts = [sizes[symbol] for symbol in quantity.about]
            match quantity.family:
                case "sum of forces":
                    found[quantity.key] = sum(math.hypot(x, y) for x, y, _ in parts)
                case "sum of masses":
                    found[quantity.key] = sum(math.hypot(x, y) for x, y, _ in parts) / gravity
                case "sum of moments":
                    found[quantity.key] = sum(moment for _, _, moment in parts)
                case "sum of mass moments":
                    found[quantity.key] = abs(sum(moment for _, _, moment in parts)) / gravity
        self._values_about_points(found, sizes, steps)
        for key in ("MA", "AR"):
            if found.get(key):
                found[f"1/{key}"] = 1 / found[key]
        for key in ("R_y", "R"):
            if key in found:
                found[f"{key}/g"] = abs(found[key]) / gravity
        if posture.body is not None:
            body = self.question.numbers[posture.body.key] * float(
                known_unit(posture.body.unit).size
            )
            found.setdefault("W_b", body * gravity)
            found.setdefault("m_b", found["W_b"] / gravity)
        return {key: value for key, value in found.items() if key in self.all}

    def _force(self, force: Force, steps: Mapping[str, float]) -> tuple[float, float, float]:
        """Return the parts of a force across and upward, and its moment about the axis."""
        size = steps.get(force.symbol, math.nan)
        numbers = self.question.numbers
        posture = self.question.problem.posture
        bearing = force_bearing(posture, force.direction)
        inclination = 0.0 if posture.inclination is None else numbers[posture.inclination.key]
        degrees = bearing.degrees(inclination, slant(posture, force, numbers))
        across = size * math.cos(math.radians(degrees))
        upward = size * math.sin(math.radians(degrees))
        if force.at_axis or not posture.moments:
            return across, upward, 0.0
        if f"M{force.suffix}" in steps:
            return across, upward, steps[f"M{force.suffix}"]
        try:
            arm, source = arm_key(self.draft, force), component_key(self.draft, force)
            moment = moment_sign(self.draft, force) * steps[source] * steps[arm]
        except (KeyError, StopIteration, ValueError):
            moment = -steps.get("M_sum", math.nan)
        return across, upward, moment

    def rests_on(self, key: str) -> frozenset[str]:
        """Return the keys of the steps and givens that a quantity is worked out from."""
        return _rests_on(self.question.derivation, self.all[key])


@lru_cache(maxsize=4096)
def _rests_on(derivation: Derivation, quantity: Quantity) -> frozenset[str]:
    steps = {step.key: step for step in derivation.steps}
    found: set[str] = {quantity.key, *quantity.about}
    waiting = list(quantity.uses or quantity.about) + [quantity.key]
    if quantity.dimension in (MOMENT, MASS_LENGTH):
        waiting += [s.key for s in steps.values() if s.unit == "m"]
    while waiting:
        key = waiting.pop()
        if key in steps:
            for use in (*steps[key].uses, *steps[key].quantities):
                if use not in found:
                    found.add(use)
                    waiting.append(use)
        found.add(key)
    return frozenset(found)


def _forces_about(forces: tuple[Force, ...], step: Step) -> tuple[str, ...]:
    """Return the symbols of the forces that a step is about."""
    if step.key == "W_b":
        return ("body",)
    found = []
    for force in forces:
        ends = force.direction.attachment
        symbols = {force.symbol, force.at.symbol, force.mass_key}
        symbols |= set() if ends is None else {ends.along.symbol, ends.off.symbol}
        if force.offset is not None:
            symbols |= {d.symbol for d in force.offset.distances}
        if symbols & {step.about, step.key}:
            found.append(force.symbol)
    return tuple(found)
