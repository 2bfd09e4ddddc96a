"""What every quantity that a line may be about is worth, for some values of the steps."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from leverstep.claims.body_runs import lengths_of_runs
from leverstep.claims.force_polygon import polygon
from leverstep.course.problem import Question
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.couples import couple_moment_key
from leverstep.statics.geometry import force_bearing, run_to_attachment, segment_bearing, slant
from leverstep.statics.line_keys import beside, resolved_key
from leverstep.statics.posture import Further, Posture, Relation
from leverstep.statics.reaction import found_reaction
from leverstep.statics.step import Derivation, Draft, Step
from leverstep.statics.turn import arm_key, component_key, moment_key, moment_sign

RATIO_KEYS = (kinds.ADVANTAGE.key, kinds.ARM_RATIO.key)
REACTIONS = (kinds.REACTION_Y, kinds.REACTION_SIZE)
REACTION_UNASKED = "reaction upward"
"""The vertical component of a reaction that no line is for."""
FARTHER_EDGE = "farther edge"
"""How far the line of gravity lies from the edge of the base that it is farther from."""
MOST_SUMMED_FREELY = 5
"""Of so many known forces every sum is looked for."""
BODY_WEIGHT_KEY, BODY_MASS_KEY = "W_b", "m_b"
"""The whole body, which is weighed where a mass is a share of it."""


def unasked_arm_key(force: Force) -> str:
    """Return the key of the moment arm of a force, which no line may be for: `a_l` of `W_l`."""
    return beside("a", force.symbol)


def sped_up(posture: Posture) -> list[Further]:
    """Return the moments that speed a segment up."""
    return [one for one in posture.further if one.relation is Relation.MOMENT_SPED_UP]


def speeding_key(moment: Further) -> str:
    """Return the key of what a moment that speeds a segment up is more than one that holds it."""
    return f"{moment.symbol} beyond {moment.of}"


def edge_step(derivation: Derivation) -> Step | None:
    """Return the line for how far the nearer edge of the base of support lies."""
    return next((step for step in derivation.steps if step.kind is kinds.EDGE), None)


@lru_cache(maxsize=256)
def _sizes(derivation: Derivation) -> Mapping[str, float]:
    """Return what one of the unit of each line is in SI, of those whose unit is another."""
    numbers = [step for step in derivation.steps if step.kind.is_number]
    return {step.key: step.unit_size for step in numbers if step.unit_size != 1}


def in_si(derivation: Derivation, values: Mapping[str, float]) -> dict[str, float]:
    """Return values of lines in SI, from those in the units of their lines."""
    sizes = _sizes(derivation)
    return {**values, **{key: values[key] * sizes[key] for key in sizes.keys() & values.keys()}}


def in_units_of_lines(derivation: Derivation, values: Mapping[str, float]) -> dict[str, float]:
    """Return values of lines in the units of these, from those in SI."""
    sizes = _sizes(derivation)
    return {**values, **{key: values[key] / sizes[key] for key in sizes.keys() & values.keys()}}


class Parts(NamedTuple):
    """A force in newtons across to the right and upward, and its moment about the axis in N·m."""

    across: float
    upward: float
    moment: float

    @property
    def force(self) -> complex:
        """Return the force to the right and up, in newtons."""
        return complex(self.across, self.upward)

    @property
    def size(self) -> float:
        """Return the size of the force, in newtons."""
        return math.hypot(self.across, self.upward)


def points_on_segment(posture: Posture) -> dict[str, Force]:
    """Return the forces that act on the line of the segment, by symbol; none without moments."""
    if not posture.has_moments:
        return {}
    return {force.symbol: force for force in posture.forces if force.is_placed}


def summed_forces(posture: Posture) -> list[tuple[Force, ...]]:
    """Return the known forces that a line may sum: any of them, where they are few.

    Of many, the sums would be without number: then two of them, and all.
    """
    known = [force for force in posture.forces if force.magnitude is not None]
    counts: Iterable[int] = range(2, len(known) + 1)
    if len(known) > MOST_SUMMED_FREELY:
        counts = (2, len(known))
    return [some for count in counts for some in itertools.combinations(known, count)]


class QuantityValues:
    """Works out the values of quantities from those of the steps."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.posture = question.problem.posture
        self.draft = Draft(self.posture, question.numbers)
        self.gravity = question.accepted["g"][0]
        inclination = self.posture.inclination
        self.inclination = 0.0 if inclination is None else question.numbers[inclination.key]

    def of_steps(self, steps: Mapping[str, float]) -> dict[str, float]:
        """Return the values of quantities by key, in kg, m, s and degrees.

        Args:
            steps: the value of each step by key, those of a student's own among them.
        """
        found = in_si(self.question.derivation, steps)
        forces = {force.symbol: self._parts(force, steps) for force in self.posture.forces}
        for force in self.posture.forces:
            self._put_force(found, force, forces[force.symbol], steps)
        self._put_sums(found, forces)
        key, reaction = found_reaction(self.posture, self.question.numbers, steps) or ("", 0j)
        self._put_about_points(found, forces, steps, reaction)
        if key == self.posture.key(kinds.REACTION_SIZE):
            self._put_reaction(found, reaction)
        found[REACTION_UNASKED] = -sum(parts.upward for parts in forces.values())
        found |= polygon(self.posture, {name: one.force for name, one in forces.items()})
        found |= lengths_of_runs(self.posture, self.question.numbers)
        for one in sped_up(self.posture):
            if {one.symbol, one.of} <= found.keys():
                found[speeding_key(one)] = found[one.symbol] - found[one.of]
        self._put_farther_edge(found)
        for key in RATIO_KEYS:
            if found.get(key):
                found[f"1/{key}"] = 1 / found[key]
        for key in map(self.posture.key, REACTIONS):
            if key in found:
                found[f"{key}/g"] = abs(found[key]) / self.gravity
        if (body := self.posture.body) is not None:
            found.setdefault(BODY_WEIGHT_KEY, self.question.in_si(body) * self.gravity)
            found.setdefault(BODY_MASS_KEY, found[BODY_WEIGHT_KEY] / self.gravity)
        return found

    def _put_farther_edge(self, found: dict[str, float]) -> None:
        """Put in how far the edge of the base lies that is not the nearer one, in metres."""
        step = edge_step(self.question.derivation)
        if step is None or not {step.key, *step.uses} <= found.keys():
            return
        near, (place, *edges) = found[step.key], (abs(found[use]) for use in step.uses)
        nearer = next(abs(found[use]) for use in step.quantities if use != step.uses[0])
        is_outside = math.isclose(near, place - nearer)
        found[FARTHER_EDGE] = sum(edges) + near if is_outside else sum(edges) - near

    def _put_reaction(self, found: dict[str, float], force: complex) -> None:
        """Put in the components of a reaction that is found whole, to the right and up."""
        found.setdefault(self.posture.key(kinds.REACTION_X), force.real)
        found.setdefault(self.posture.key(kinds.REACTION_Y), force.imag)
        found["R across"] = abs(self._turning(force.real, force.imag))
        found["R along"] = abs(self._lying(force.real, force.imag))

    def _put_force(
        self, found: dict[str, float], force: Force, parts: Parts, steps: Mapping[str, float]
    ) -> None:
        """Put in the mass of a force, its components, moment, arm and angles."""
        size = parts.size
        found.setdefault(force.mass_key, size / self.gravity)
        found[f"{force.symbol}/g"] = size / self.gravity
        found.setdefault(resolved_key("x", force.symbol), parts.across)
        found.setdefault(resolved_key("y", force.symbol), parts.upward)
        found.setdefault(moment_key(force), parts.moment)
        found.setdefault(unasked_arm_key(force), abs(parts.moment) / size if size else math.nan)
        found.setdefault(f"{force.mass_key}·d", abs(parts.moment) / self.gravity)
        if force.at.symbol:
            along = steps.get(force.at.symbol, math.nan)
            found.setdefault(f"{force.mass_key}·{force.at.symbol}", size / self.gravity * along)
        found[f"{force.symbol} across"] = abs(self._turning(parts.across, parts.upward))
        found[f"{force.symbol} along"] = abs(self._lying(parts.across, parts.upward))
        if (ends := force.direction.attachment) is not None:
            run = abs(run_to_attachment(self.posture, force, self.question.numbers))
            found[f"run of {force.symbol}"] = run
            off = steps.get(ends.off.symbol, math.nan)
            found[f"length of {force.symbol}"] = math.hypot(run, off)
        slope = math.degrees(math.atan2(abs(parts.upward), abs(parts.across)))
        found[f"angle of {force.symbol} to the horizontal"] = slope
        found[f"angle of {force.symbol} to the vertical"] = 90 - slope

    def _put_sums(self, found: dict[str, float], forces: Mapping[str, Parts]) -> None:
        """Put in the sums of any known forces: their sizes, masses, moments, mass moments."""
        for some in summed_forces(self.posture):
            parts = [forces[force.symbol] for force in some]
            size, moment = sum(one.size for one in parts), sum(one.moment for one in parts)
            key = "+".join(force.symbol for force in some)
            found[key] = size
            found[f"m of {key}"] = size / self.gravity
            found[f"M of {key}"] = moment
            found[f"m·d of {key}"] = abs(moment) / self.gravity

    def _put_about_points(
        self,
        found: dict[str, float],
        forces: Mapping[str, Parts],
        steps: Mapping[str, float],
        reaction: complex,
    ) -> None:
        """Put in the moments about other points than the axis, and the distances between them."""
        points = points_on_segment(self.posture)
        places = {
            symbol: steps.get(force.at.symbol, math.nan) * (-1 if force.at.beyond else 1)
            for symbol, force in points.items()
        }
        turning = self._turning(reaction.real, reaction.imag)
        for one, place in places.items():
            couples = (couple_moment_key(self.posture, one) for one in self.posture.couples)
            total = sum(steps.get(key, math.nan) for key in couples)
            for other, parts in forces.items():
                if other == one:
                    continue
                about = parts.moment - place * self._turning(parts.across, parts.upward)
                if other in points:
                    found[f"M about {one} of {other}"] = about
                    found[f"from {one} to {other}"] = abs(places[other] - place)
                if self.posture.force(other).magnitude is not None:
                    total += about
            found[f"M about {one}"] = total
            for key in map(self.posture.key, REACTIONS):
                found[f"M about {one} of {key}"] = -place * turning

    def _turning(self, across: float, upward: float) -> float:
        """Return the part of a force that turns the segment anticlockwise, in newtons."""
        way = math.radians(segment_bearing(self.posture).degrees(self.inclination, 0.0))
        return math.cos(way) * upward - math.sin(way) * across

    def _lying(self, across: float, upward: float) -> float:
        """Return the part of a force along the segment, in newtons."""
        way = math.radians(segment_bearing(self.posture).degrees(self.inclination, 0.0))
        return math.cos(way) * across + math.sin(way) * upward

    def _parts(self, force: Force, steps: Mapping[str, float]) -> Parts:
        size = steps.get(force.symbol, math.nan)
        bearing = force_bearing(self.posture, force.direction)
        slope = slant(self.posture, force, self.question.numbers)
        way = math.radians(bearing.degrees(self.inclination, slope))
        return Parts(size * math.cos(way), size * math.sin(way), self._moment(force, steps))

    def _moment(self, force: Force, steps: Mapping[str, float]) -> float:
        """Return the moment of a force; of the one that balances, that of all others turned."""
        if force.at_axis or not self.posture.has_moments:
            return 0.0
        if moment_key(force) in steps:
            return steps[moment_key(force)]
        try:
            arm, source = arm_key(self.draft, force), component_key(self.draft, force)
            return moment_sign(self.draft, force) * steps[source] * steps[arm]
        except (KeyError, StopIteration, ValueError):
            return -steps.get(self.posture.key(kinds.SUM), math.nan)
