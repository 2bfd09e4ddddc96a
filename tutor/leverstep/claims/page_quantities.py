"""Every quantity that a line of a page may be about: the steps of the derivation, and others.

Beside the steps those are masses in kilograms, components and moments that the derivation does not
ask for, sums of some forces or moments, and products of a mass and a distance.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum, auto
from functools import lru_cache, partial

from leverstep.claims.body_runs import body_runs
from leverstep.claims.force_polygon import (
    BETWEEN_KEYS,
    angle_keys,
    forces_at_angle,
    known_and_sought,
    needed_key,
    together_key,
)
from leverstep.claims.quantity_values import (
    BODY_MASS_KEY,
    BODY_WEIGHT_KEY,
    FARTHER_EDGE,
    RATIO_KEYS,
    REACTION_UNASKED,
    REACTIONS,
    QuantityValues,
    edge_step,
    points_on_segment,
    sped_up,
    speeding_key,
    summed_forces,
    unasked_arm_key,
)
from leverstep.course.problem import Question
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.force_axes import PAIRS, level_axis
from leverstep.statics.kinds import Kind, Part
from leverstep.statics.line_keys import resolved_key
from leverstep.statics.posture import Axes
from leverstep.statics.step import Derivation, Step
from leverstep.statics.turn import moment_key
from leverstep.statics.units import (
    ANGLE,
    LENGTH,
    MASS,
    MASS_LENGTH,
    MOMENT,
    NUMBER,
    OF_LINES,
    Dimension,
)
from leverstep.statics.units import FORCE as FORCE_DIMENSION


class Told(Enum):
    """How a quantity is told that no line is for."""

    IN_WORDS = auto()
    """By words alone."""

    BY_SYMBOL = auto()
    """By a symbol, as a line has one: its key."""

    UPSIDE_DOWN = auto()
    """As the reverse of a ratio that is asked for."""

    FROM_ELSEWHERE = auto()
    """From another point than the axis."""

    FROM_HORIZONTAL = auto()
    """From the horizontal."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a line may be about.

    `family` is what sort it is of; `axis` is "x" or "y" for a component; `about` are the symbols of
    its forces; `whole` marks a sum over all forces. `uses` are the keys of what it is worked out
    from. `step` is its line, None where the derivation has none; then `told` says how it is told.
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
    told: Told = Told.IN_WORDS

    @property
    def sort(self) -> str:
        """Return the family, that of its parts for a sum."""
        return _SORT_OF.get(self.family, self.family)

    @property
    def is_sum(self) -> bool:
        """Return whether it is a sum over some forces or all, of whatever they have."""
        return self.family in _SUMS

    @property
    def is_component(self) -> bool:
        """Return whether it is a component of a force; one of the reaction is none here."""
        return bool(self.axis) and self.family == "force"

    @property
    def along(self) -> str:
        """Return the axis of a component or a coordinate, "" for any other."""
        return self.axis or ("" if self.step is None else _AXIS_OF_PLACE.get(self.step.kind, ""))

    @property
    def is_by_segment(self) -> bool:
        """Return whether it is a component along or across the segment that has no line."""
        return self.step is None and self.axis in (ACROSS_AXIS, ALONG_AXIS)

    def is_line_of(self, *of: Kind) -> bool:
        """Return whether it has a line, of one of some kinds."""
        return self.step is not None and self.step.kind in of

    @property
    def is_weighed(self) -> bool:
        """Return whether it is a line on which masses stand for weights, and weights for masses."""
        return self.step is not None and self.step.kind.weighed

    @property
    def has_symbol(self) -> bool:
        """Return whether its key is a symbol: that of its line, or its own without a line."""
        return self.step is not None or self.told is Told.BY_SYMBOL

    @property
    def is_upside_down(self) -> bool:
        """Return whether it is the reverse of a ratio that is asked for."""
        return self.told is Told.UPSIDE_DOWN

    @property
    def is_elsewhere(self) -> bool:
        """Return whether it is taken from another point than the axis."""
        return self.told is Told.FROM_ELSEWHERE

    @property
    def opposite_of(self) -> str:
        """Return the key of what it is as large as, and opposite to; "" for anything else."""
        return self.uses[0] if self.is_line_of(*_TURNED_ROUND) else ""

    @property
    def is_from_horizontal(self) -> bool:
        """Return whether it is an angle that may be told from the horizontal."""
        is_told = self.step is not None or self.told is Told.FROM_HORIZONTAL
        return self.family == "angle" and is_told


_TURNED_ROUND = (kinds.NET_MOMENT, kinds.HANDED_MOMENT, kinds.HANDED_FORCE)
"""Lines that are as large as the one that they rest on, and opposite."""

_OVER_ALL = frozenset({
    kinds.SUM, kinds.NET_MOMENT, kinds.WEIGHT_MOMENT_SUM, kinds.MASS_MOMENT_SUM,
    kinds.TOTAL_WEIGHT, kinds.TOTAL_MASS,
})  # fmt: skip
"""Lines that add up all that there is."""

Ranked = list[tuple[float, Quantity]]
"""Quantities with how much speaks for each."""


def likeliest(ranked: Ranked) -> tuple[float, Quantity]:
    """Return the quantity that most speaks for, the first of several, and how much."""
    return max(ranked, key=lambda one: one[0])


ACROSS_AXIS = "n"
"""The axis of what turns a segment: the part of a force across it."""
ALONG_AXIS = "t"
"""The axis of a segment itself, along which no force turns it."""

_SUMS = {
    "sum of forces": "force",
    "sum of masses": "mass",
    "sum of moments": "moment",
    "sum of mass moments": "moment",
}
"""The families of sums, and what their parts are."""
_SORT_OF = {**_SUMS, "mass moment": "moment"}

_FAMILY_OF_PART = {
    Part.FORCES: "weight",
    Part.DISTANCES: "distance",
    Part.MOMENTS: "moment",
    Part.UNKNOWN: "force",
    Part.RATIOS: "ratio",
    Part.COMPONENTS: "force",
    Part.REACTION: "reaction",
    Part.RESULTANT: "reaction",
    Part.CENTRE: "moment",
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
    kinds.RESULTANT_ANGLE: "angle",
    kinds.TOTAL_WEIGHT: "sum of forces",
    kinds.TOTAL_MASS: "sum of masses",
    kinds.MASS_MOMENT: "mass moment",
    kinds.MASS_MOMENT_SUM: "sum of mass moments",
    kinds.CENTRE_X: "distance",
    kinds.CENTRE_Y: "distance",
    kinds.EDGE: "distance",
    kinds.STRETCH: "distance",
    kinds.SHARE_RULE: "ratio",
    kinds.STRESS: "stress",
    kinds.POWER: "power",
    kinds.FORCE_AT_ARM: "force",
    kinds.BODY_WEIGHTS: "ratio",
    kinds.OTHER_UNIT: "force",
    kinds.FRICTION_NEEDED: "ratio",
    kinds.RATIO: "ratio",
    kinds.PART_SHARED: "force",
    kinds.MOMENT_SPED_UP: "moment",
    kinds.DISTANCE_MOVED: "distance",
}
_AXIS_OF_PLACE: dict[Kind, str] = {
    **dict.fromkeys((kinds.POINT_X, kinds.PART_X, kinds.CENTRE_X), "x"),
    **dict.fromkeys((kinds.POINT_Y, kinds.PART_Y, kinds.CENTRE_Y), "y"),
}
_AXIS_BY_SEGMENT: dict[Kind, str] = {
    kinds.COMPONENT_AXIAL: ALONG_AXIS,
    kinds.COMPONENT_TRANSVERSE: ACROSS_AXIS,
    kinds.REACTION_AXIAL: ALONG_AXIS,
    kinds.REACTION_TRANSVERSE: ACROSS_AXIS,
    kinds.COMPONENT: ACROSS_AXIS,
    kinds.EFFORT_COMPONENT: ACROSS_AXIS,
}


_by_symbol = partial(Quantity, told=Told.BY_SYMBOL)


class PageQuantities:
    """The quantities that a page on a question may speak of, by key in `all`.

    `right` holds what they should be, in kg, m, s and degrees.
    """

    def __init__(self, question: Question) -> None:
        self.question = question
        self.posture = question.problem.posture
        self.all: dict[str, Quantity] = {}
        for step in question.derivation.steps:
            if step.kind.is_number:
                self.all[step.key] = self._of_step(step)
        for quantity in self._beside():
            self.all.setdefault(quantity.key, quantity)
        self._values = QuantityValues(question)
        self.right = self.values(question.right)

    def values(self, steps: Mapping[str, float]) -> dict[str, float]:
        """Return what the quantities are worth, in kg, m, s and degrees.

        Args:
            steps: the value of each step by key.
        """
        found = self._values.of_steps(steps)
        return {key: value for key, value in found.items() if key in self.all}

    def _of_step(self, step: Step) -> Quantity:
        forces = self.question.at(step).problem.posture.forces
        family = _FAMILY_OF_KIND.get(step.kind) or _FAMILY_OF_PART.get(step.kind.part, "")
        force = next((f for f in forces if f.symbol == step.about), None)
        if step.kind.part is Part.ANGLES and not family:
            family = "angle" if step.unit == "deg" else "arm"
        if step.kind is kinds.FORCE and force is not None and not force.is_weight:
            family = "force"
        if force is not None and step.key == force.symbol:
            family = "weight" if force.is_weight else "force"
        about = _forces_about(forces, step)
        whole = step.kind in _OVER_ALL
        return Quantity(
            step.key, OF_LINES[step.unit], family, about, _axis(step, force), whole,
            not step.kind.is_size, step.uses, step,
        )  # fmt: skip

    def _beside(self) -> Iterator[Quantity]:
        """Yield what the derivation may have no line for."""
        for force in self.posture.forces:
            yield from self._of_force(force)
        yield from self._about_other_points()
        yield from self._beside_ratios()
        yield from self._beside_reaction()
        yield from self._put_together()
        yield from self._of_segments()
        yield from self._sums()
        if (edge := edge_step(self.question.derivation)) is not None:
            yield Quantity(FARTHER_EDGE, LENGTH, "distance", uses=edge.uses)
        if self.posture.body is not None:
            yield _by_symbol(BODY_WEIGHT_KEY, FORCE_DIMENSION, "weight", ("body",))
            yield _by_symbol(BODY_MASS_KEY, MASS, "mass", ("body",))

    def _beside_ratios(self) -> Iterator[Quantity]:
        """Yield each ratio upside down."""
        for key in RATIO_KEYS:
            if key in self.all:
                uses = self.all[key].uses
                yield Quantity(f"1/{key}", NUMBER, "ratio", uses=uses, told=Told.UPSIDE_DOWN)

    def _beside_reaction(self) -> Iterator[Quantity]:
        """Yield what else may be said of the reaction, be it asked for or not."""
        if self.posture.key(kinds.REACTION_SIZE) in self.all:
            yield from self._of_reaction()
        is_asked = any(one.family == "reaction" for one in self.all.values())
        if self.posture.has_moments and not is_asked and len(self.question.views) == 1:
            axis = level_axis(kinds.REACTION_Y, None)
            yield Quantity(REACTION_UNASKED, FORCE_DIMENSION, "reaction", axis=axis, signed=True)
        for key in map(self.posture.key, REACTIONS):
            if key in self.all:
                yield Quantity(f"{key}/g", MASS, "reaction", uses=self.all[key].uses)

    def _of_segments(self) -> Iterator[Quantity]:
        """Yield lengths along the segments of a body, and what speeds a segment up."""
        for run in body_runs(self.posture):
            for axis in ("", *run.axes):
                yield Quantity(run.key(axis), LENGTH, "distance", run.about, axis)
        for one in sped_up(self.posture):
            yield Quantity(
                speeding_key(one), MOMENT, "moment", signed=True, uses=(one.symbol, one.of)
            )

    def _put_together(self) -> Iterator[Quantity]:
        """Yield what forces through one point come to together, and the angles between them."""
        both = forces_at_angle(self.posture)
        for key in BETWEEN_KEYS if both else ():
            yield Quantity(key, ANGLE, "angle", both, uses=both)
        known, sought = known_and_sought(self.posture)
        if not known:
            return
        if len(known) > 1:
            key = together_key()
            yield Quantity(key, FORCE_DIMENSION, "sum of forces", known, whole=True, uses=known)
            for line, told in (("horizontal", Told.FROM_HORIZONTAL), ("vertical", Told.IN_WORDS)):
                name = f"angle of {key} to the {line}"
                yield Quantity(name, ANGLE, "angle", known, uses=known, told=told)
        for axis in ("x", "y"):
            for key, forces in ((together_key(axis), known), (needed_key(axis), sought)):
                yield Quantity(
                    key, FORCE_DIMENSION, "sum of forces", forces, axis, signed=True,
                    uses=(*known, *sought),
                )  # fmt: skip
        for key, force in angle_keys(known, sought):
            yield Quantity(key, ANGLE, "angle", (force,), uses=(*known, *sought))

    def _of_reaction(self) -> Iterator[Quantity]:
        """Yield the components of the reaction along the axes that it is not asked for along."""
        if Axes.SEGMENT in self.posture.resolved:
            for kind in (kinds.REACTION_X, kinds.REACTION_Y):
                axis = level_axis(kind, None)
                key = self.posture.key(kind)
                yield _by_symbol(key, FORCE_DIMENSION, "reaction", axis=axis, signed=True)
        elif self.posture.inclination is not None:
            yield Quantity("R across", FORCE_DIMENSION, "reaction", axis=ACROSS_AXIS)
            yield Quantity("R along", FORCE_DIMENSION, "reaction", axis=ALONG_AXIS)

    def _of_force(self, force: Force) -> Iterator[Quantity]:
        """Yield the mass, components, moment, arm and angles of a force."""
        about = (force.symbol,)
        if force.is_weight or force.share is not None:
            yield _by_symbol(force.mass_key, MASS, "mass", about, uses=(force.symbol,))
        else:
            yield Quantity(f"{force.symbol}/g", MASS, "force", about, uses=(force.symbol,))
        for axis in ("x", "y"):
            key = resolved_key(axis, force.symbol)
            yield _by_symbol(key, FORCE_DIMENSION, "force", about, axis, signed=True)
        for line, told in (("horizontal", Told.FROM_HORIZONTAL), ("vertical", Told.IN_WORDS)):
            key = f"angle of {force.symbol} to the {line}"
            yield Quantity(key, ANGLE, "angle", about, told=told)
        if force.direction.attachment is not None:
            yield Quantity(f"length of {force.symbol}", LENGTH, "distance", about)
            yield Quantity(f"run of {force.symbol}", LENGTH, "distance", about)
        key = force.symbol
        is_asked = any(resolved_key(axis.letter, key) in self.all for axis in PAIRS[Axes.SEGMENT])
        if self.posture.has_moments and self.posture.inclination is not None and not is_asked:
            yield Quantity(f"{key} across", FORCE_DIMENSION, "force", about, ACROSS_AXIS)
            yield Quantity(f"{key} along", FORCE_DIMENSION, "force", about, ALONG_AXIS)
        if force.at_axis or not self.posture.has_moments:
            return
        yield _by_symbol(moment_key(force), MOMENT, "moment", about, signed=True)
        angles = (self.posture.inclination, force.direction.angle)
        uses = (force.at.symbol, *(given.key for given in angles if given is not None))
        yield _by_symbol(unasked_arm_key(force), LENGTH, "arm", about, uses=uses)
        if force.magnitude is not None and force.is_weight:
            for distance in ("d", force.at.symbol):
                if distance:
                    key = f"{force.mass_key}·{distance}"
                    yield Quantity(key, MASS_LENGTH, "mass moment", about)

    def _sums(self) -> Iterator[Quantity]:
        """Yield the sums of known forces, of their masses and of their moments."""
        known = sum(force.magnitude is not None for force in self.posture.forces)
        for some in summed_forces(self.posture):
            names, whole = tuple(force.symbol for force in some), len(some) == known
            key = "+".join(names)
            yield Quantity(key, FORCE_DIMENSION, "sum of forces", names, whole=whole)
            if all(force.is_weight for force in some):
                yield Quantity(f"m of {key}", MASS, "sum of masses", names, whole=whole)
                turned = f"m·d of {key}"
                yield Quantity(turned, MASS_LENGTH, "sum of mass moments", names, whole=whole)
            if self.posture.has_moments and all(not force.at_axis for force in some):
                yield Quantity(f"M of {key}", MOMENT, "sum of moments", names, signed=True)

    def _about_other_points(self) -> Iterator[Quantity]:
        """Yield the distances between points, and the moments about another point than the axis."""
        points = points_on_segment(self.posture)
        moment = partial(
            Quantity, dimension=MOMENT, family="moment", signed=True, told=Told.FROM_ELSEWHERE
        )
        for one, other in itertools.permutations(points, 2):
            yield moment(f"M about {one} of {other}", about=(other,))
            if one < other:
                yield Quantity(
                    f"from {one} to {other}", LENGTH, "distance", (one, other),
                    uses=(points[one].at.symbol, points[other].at.symbol),
                    told=Told.FROM_ELSEWHERE,
                )  # fmt: skip
        for one in points:
            for key in map(self.posture.key, REACTIONS):
                if key in self.all:
                    yield moment(f"M about {one} of {key}")
                    break
            if len(points) > 2:
                yield moment(f"M about {one}")

    def rests_on(self, key: str) -> frozenset[str]:
        """Return the keys of the steps and givens that a quantity is worked out from."""
        return _rests_on(self.question.derivation, self.all[key])


@lru_cache(maxsize=4096)
def _rests_on(derivation: Derivation, quantity: Quantity) -> frozenset[str]:
    steps = {step.key: step for step in derivation.steps}
    found: set[str] = {quantity.key, *quantity.about}
    waiting = [*(quantity.uses or quantity.about), quantity.key]
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


def _axis(step: Step, force: Force | None) -> str:
    """Return the axis of the component that a step is, "" for any other."""
    return level_axis(step.kind, force) or _AXIS_BY_SEGMENT.get(step.kind, "")


def _forces_about(forces: tuple[Force, ...], step: Step) -> tuple[str, ...]:
    """Return the symbols of the forces that a step is about."""
    if step.kind is kinds.BODY_WEIGHT:
        return ("body",)
    said = {step.about, step.key, *(step.uses if step.kind is kinds.OTHER_UNIT else ())}
    return tuple(f.symbol for f in forces if said & {f.mass_key, *f.symbols})
