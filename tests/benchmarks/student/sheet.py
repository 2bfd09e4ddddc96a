"""One problem with numbers, as the student sees it: vectors at points, and what each line rests on.

Where a working has several postures, a sheet looks at one of them. Nothing of the tutor's own
algebra is used. A force is a vector at a point, read from what the fields of a posture are
documented to mean.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Mapping
from dataclasses import replace

from leverstep.course.problem import Question
from leverstep.statics.acting import Couple, Force
from leverstep.statics.points import Distance
from leverstep.statics.posture import Posture
from leverstep.statics.step import Step

from student.lines import Factor, Formula, Term, rounded
from student.right import CONSTANTS, LINES, METRES, NOTHING, line_factor

COMPONENTS = {
    "x": "component_x",
    "y": "component_y",
    "a": "component_axial",
    "t": "component_transverse",
}
"""The kind of line of a component, by its axis."""

Vector = tuple[float, float]
Values = dict[str, float]


class Sheet:
    """The questions of one problem with numbers, and how each is worked rightly.

    `formula` gives the line of a key for the values that stand on the lines before it. Forces are
    in newtons, distances in metres, angles in degrees; right and up are positive. `steps` are the
    lines of the whole working; what a posture has is that of the one looked at, and `at` is the
    same sheet as the posture of a line is looked at.
    """

    def __init__(self, question: Question, constants: Mapping[str, float] | None = None) -> None:
        self.question = question
        self.numbers = question.numbers
        told = {name: values[0] for name, values in question.accepted.items()}
        self.constants = {**CONSTANTS, **told, **(constants or {})}
        self.steps: dict[str, Step] = {step.key: step for step in question.derivation.asked}
        self.reference: Values = {}
        self._views: dict[str, Sheet] = {}
        self._look_at(question.problem.posture)
        self._views.update((one.mark, self._view(one)) for one in question.problem.postures)
        self.reference.update(self.worked())

    def _look_at(self, posture: Posture) -> None:
        self.posture = posture
        self.keys = {
            (step.kind.name, step.about): step.key
            for step in self.steps.values()
            if step.mark == posture.mark
        }
        self.distances = {distance.symbol: distance for distance in posture.distances}
        self.forces = {force.symbol: force for force in posture.forces}
        self.couples = {couple.symbol: couple for couple in posture.couples}

    def _view(self, posture: Posture) -> Sheet:
        view = copy.copy(self)
        view._look_at(posture)
        return view

    def at(self, step: Step) -> Sheet:
        """Return the sheet as the posture of a line is looked at."""
        return self._views[step.mark]

    def key(self, name: str) -> str:
        """Return the key of the one line of its sort in this posture: `M_sum`, or `M_sum2`."""
        return name + self.posture.mark

    # Geometry

    def metres(self, distance: Distance) -> float:
        """Return a given distance in metres."""
        if distance.of is not None:
            return self.numbers[distance.given.key] * self.metres(self.distances[distance.of])
        return self.numbers[distance.given.key] * METRES[distance.given.unit]

    def along(self, nudges: Mapping[str, float] | None = None) -> Vector:
        """Return the unit vector that runs along the segment, away from the axis."""
        incline = self.posture.inclination
        angle = 0.0 if incline is None else math.radians(self.slant(incline.key, nudges))
        if incline is not None and not self.inclined_to_level:
            angle = math.pi / 2 - angle
        across = math.cos(angle) if self.posture.points == "right" else -math.cos(angle)
        return across, math.sin(angle) if self.posture.rises else -math.sin(angle)

    def unit(self, force: Force, nudges: Mapping[str, float] | None = None) -> Vector:
        """Return the unit vector that a force points along."""
        direction = force.direction
        upward = 1 if direction.side == "above" else -1
        sideways = 1 if direction.toward == "right" else -1
        toward = -1 if direction.toward == "axis" else 1
        if direction.attachment is not None:
            toward = 1 if self.run(force) > 0 else -1
        x, y = self.along(nudges)
        # Of the two normals, (-y, x) lies above a segment that points right.
        above = (-y, x) if x > 0 else (y, -x)
        normal = (upward * above[0], upward * above[1])
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
        angle = math.radians(self.slant(direction.angle.key, nudges))
        one, other = math.cos(angle), math.sin(angle)
        return one * line[0] + other * leaning[0], one * line[1] + other * leaning[1]

    def slant(self, key: str, nudges: Mapping[str, float] | None = None) -> float:
        """Return an angle in degrees: a given, or that of a muscle from its two ends."""
        nudge = (nudges or {}).get(key, 0.0)
        if key in self.numbers:
            return self.numbers[key] + nudge
        force = next(
            f for f in self.posture.forces if f.direction.angle and f.direction.angle.key == key
        )
        assert force.direction.attachment is not None
        off = self.metres(force.direction.attachment.off)
        return math.degrees(math.atan2(off, abs(self.run(force)))) + nudge

    def run(self, force: Force) -> float:
        """Return how far along the segment the far end of a muscle lies from the near one, in m."""
        ends = force.direction.attachment
        assert ends is not None, f"{force.symbol} has no far end"
        far = self.metres(ends.along) * (-1 if ends.along.beyond else 1)
        return far - self.metres(force.at) * (-1 if force.at.beyond else 1)

    def sense(self, force: Force) -> int:
        """Return the sign of a force's moment, with the sense that counts as positive."""
        if force.turns is not None:
            return force.turns * self.posture.positive
        (x, y), (across, upward) = self.along(), self.unit(force)
        side = -1 if force.at.beyond else 1
        return (1 if side * (x * upward - y * across) > 0 else -1) * self.posture.positive

    def sense_of_couple(self, couple: Couple) -> int:
        """Return the sign of a couple, with the sense that counts as positive."""
        return couple.turns * self.posture.positive

    def couple_size(self, couple: Couple, values: Mapping[str, float]) -> Factor:
        """Return a couple as a factor: a given, or a line where it is handed on."""
        if couple.before:
            return line_factor(values, couple.symbol, "size")
        return Factor(couple.symbol, self.numbers[couple.magnitude.key], "size")

    # What stands where

    def size_key(self, force: Force) -> str:
        """Return the key of what a force's arm is multiplied by: the force, or a part of it."""
        part = ("component", force.symbol), ("effort_component", force.symbol)
        return next((self.keys[p] for p in part if p in self.keys), force.symbol)

    def arm_key(self, force: Force) -> str:
        """Return the key of a force's arm: its distance, or a line of its own."""
        found = self.keys.get(("arm_found", force.symbol), force.at.symbol)
        return self.keys.get(("arm", force.symbol), found)

    def known(self) -> tuple[Force, ...]:
        """Return the forces whose moments are known before the last one is found."""
        last = self.posture.balancing
        shared = self.posture.sharing
        return tuple(f for f in self.posture.turning if f is not last and f not in shared)

    def moments(self, values: Mapping[str, float]) -> tuple[Term, ...]:
        """Return the known moments as the terms of a sum."""
        keys = [(self.keys["moment", force.symbol], force.symbol) for force in self.known()]
        terms = [Term((line_factor(values, key, "moment"),), about) for key, about in keys]
        for symbol, couple in self.couples.items():
            # One that is handed on has its sign already, and is no line of its own then.
            key = self.keys.get(("couple_moment", symbol), symbol)
            sign = self.sense_of_couple(couple) if key == symbol else 1
            terms.append(Term((line_factor(values, key, "moment"),), symbol, sign))
        return tuple(terms)

    def total(self, values: Mapping[str, float]) -> Factor:
        """Return the sum of the known moments, which has no line of its own where it is one."""
        moments = self.moments(values)
        one = moments[0].factors[0]
        return (
            replace(one, role="total")
            if len(moments) == 1
            else line_factor(values, self.key("M_sum"), "total")
        )

    def place(self, force: Force, values: Mapping[str, float]) -> float:
        """Return where a force acts along the segment, negative past the axis, in metres."""
        return values[force.at.symbol] * (-1 if force.at.beyond else 1)

    def resisting(self) -> tuple[Force, ...]:
        """Return the loads that turn against the effort."""
        effort = self.posture.effort
        assert effort is not None, "only an effort is resisted"
        against = (f for f in self.posture.loads if self.sense(f) != self.sense(effort))
        return tuple(force for force in against if not force.antagonist)

    def unit_of(self, symbol: str) -> str:
        """Return the unit that a distance is given in, or those that it is worked out from."""
        distance = self.distances[symbol]
        units = {self.unit_of(other) for other in distance.rests_on} or {distance.given.unit}
        return units.pop() if len(units) == 1 else "m"

    def turned(self, force: Force) -> tuple[str, str] | None:
        """Return function and key of the angle that give a force's part across the segment."""
        direction, incline = force.direction, self.posture.inclination
        gamma = force.line_key("gamma")
        if force.at.perpendicular or force.at_axis:
            return None
        if gamma in self.steps:
            return "sin", gamma
        if direction.reference == "segment":
            return None if direction.angle is None else ("sin", direction.angle.key)
        upright = direction.reference == "vertical"
        if incline is None:
            function = "cos" if upright else "sin"
            return None if direction.angle is None else (function, direction.angle.key)
        return ("cos" if upright == self.inclined_to_level else "sin"), incline.key

    @property
    def inclined_to_level(self) -> bool:
        """Return whether the inclination is measured from the horizontal."""
        return self.posture.inclined_to == "horizontal"

    def share(self, force: Force, axis: str, nudges: Mapping[str, float] | None = None) -> float:
        """Return the part of one newton of a force along x, y, the segment (a) or across it (t)."""
        (across, upward), (x, y) = self.unit(force, nudges), self.along(nudges)
        above = (-y, x) if x > 0 else (y, -x)
        one, other = {"x": (1.0, 0.0), "y": (0.0, 1.0), "a": (x, y), "t": above}[axis]
        return across * one + upward * other

    def lying(self, force: Force, axis: str) -> tuple[str, str]:
        """Return function and key of the angle that give a force's part along an axis."""
        if axis in ("a", "t"):
            return self._lying_by_segment(force, axis)
        direction, incline = force.direction, self.posture.inclination
        for key in (force.line_key("beta"), force.line_key("gamma")):
            if key in self.steps and (key.startswith("beta") or incline is None):
                return ("cos" if axis == "x" else "sin"), key
        given = direction.angle or incline
        assert given is not None, f"{force.symbol} does not slant"
        upright = direction.reference == "vertical" or direction.angle is None
        if direction.angle is None:
            upright = upright == self.inclined_to_level
        return ("cos" if (axis == "x") != upright else "sin"), given.key

    def _lying_by_segment(self, force: Force, axis: str) -> tuple[str, str]:
        direction, incline = force.direction, self.posture.inclination
        gamma = force.line_key("gamma")
        if gamma in self.steps:
            return ("cos" if axis == "a" else "sin"), gamma
        given = incline if direction.angle is None else direction.angle
        assert given is not None, f"{force.symbol} slants"
        upright = direction.reference == "vertical"
        if direction.angle is None:
            upright = upright == self.inclined_to_level
        return ("cos" if (axis == "a") != upright else "sin"), given.key

    def part(self, force: Force, axis: str) -> tuple[str, int]:
        """Return the key of a force's part along an axis, "" for none, and its sign."""
        key = self.keys.get((COMPONENTS[axis], force.symbol))
        if key is not None:
            return key, 1
        part = self.share(force, axis)
        whole = self.size_key(force) if axis == "t" else force.symbol
        return ("", 0) if abs(part) < NOTHING else (whole, 1 if part > 0 else -1)

    def parts_of_reaction(self) -> tuple[str, str]:
        """Return the keys of the two components that the size of the reaction comes from."""
        across, upward, along, square = map(self.key, ("R_x", "R_y", "R_a", "R_t"))
        return (across, upward) if {across, upward} <= self.steps.keys() else (along, square)

    def angle(self, key: str, values: Mapping[str, float]) -> float:
        """Return an angle in degrees, given or of an earlier line."""
        return values[key] if key in self.steps else self.numbers[key]

    def start(self) -> Values:
        """Return the values that no line is asked for: distances that are given in metres."""
        return {
            distance.symbol: view.metres(distance)
            for view in self._views.values()
            for distance in view.distances.values()
            if distance.symbol not in self.steps and not distance.sought
        }

    def right(self, key: str, values: Mapping[str, float]) -> float:
        """Return the right value of a line, resting on the values that stand before it."""
        return self.formula(key, values).value

    def worked(self, figures: int | None = None, own: Mapping[str, float] | None = None) -> Values:
        """Return the values of all lines, each to some figures, with `own` in place of some."""
        values = self.start()
        for key, step in self.steps.items():
            if not step.kind.is_equation:
                value = (own or {}).get(key)
                value = self.right(key, values) if value is None else value
                values[key] = value if figures is None else rounded(value, figures, step.kind.name)
        return values

    def formula(self, key: str, values: Mapping[str, float]) -> Formula:
        """Return the right line of a key; a choice of words is a number, as in `_class`."""
        step = self.steps[key]
        return LINES[step.kind.name](self.at(step), step, values)

    def uses(self, key: str, values: Mapping[str, float]) -> tuple[str, ...]:
        """Return the asked lines that the line of a key is worked from."""
        step = self.steps[key]
        found = self.at(step)._used(step, values)
        return tuple(dict.fromkeys(k for k in found if k in self.steps and k != key))

    def _used(self, step: Step, values: Mapping[str, float]) -> list[str]:
        """Return the keys of what a line of the posture looked at is worked from."""
        match step.kind.name:
            case "equation":
                return []
            case "reaction_direction" | "resultant_direction":
                return [self.key("R_x"), self.key("R_y")]
            case "axial_effect":
                return [self.key("R_a")]
            case "supported":
                edges = self.posture.support.distances if self.posture.support else ()
                return ["x_c", *(edge.symbol for edge in edges)]
            case "class":
                placed = [self.posture.effort, *self.resisting()]
                return [
                    k for f in placed if f for k in (self.size_key(f), self.arm_key(f), f.at.symbol)
                ]
        return [factor.key for factor in self.formula(step.key, values).all_factors]
