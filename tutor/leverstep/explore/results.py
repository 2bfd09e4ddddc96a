"""What follows from the givens and is worth watching: the unknown, the ratios, the reaction."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.statics import kinds
from leverstep.statics.acting import Force
from leverstep.statics.kinds import Kind
from leverstep.statics.posture import Find
from leverstep.statics.reaction import PARTS, code_of_direction, found_reaction
from leverstep.working.wording import place_of
from leverstep.working.writing import direction_words, quantity

Role = Literal["unknown", "moment", "ratio", "reaction", "part", "further"]

FIGURES = 3
"""Significant figures of what is shown."""

Values = Mapping[str, float]
"""The value of each result, by its key."""


@dataclass(frozen=True)
class Result:
    """One result: the key of its step, its unit, what it is, and the mark of its posture."""

    key: str
    unit: str
    name: str
    role: Role
    mark: str = ""

    @property
    def sign(self) -> str:
        """Return the sign that it is shown with."""
        return sign_of(self.key)

    @property
    def titled(self) -> str:
        """Return sign and unit: `F_m (N)`, `MA`."""
        return f"{self.sign} ({self.unit})" if self.unit else self.sign

    def written(self, value: float) -> str:
        """Return a value as it is shown, with its unit."""
        return quantity(value, self.unit, FIGURES)


def results_of(question: Question) -> tuple[Result, ...]:
    """Return the results that a problem has, what it asks for first, posture by posture."""
    return tuple(
        replace(result, mark=view.problem.posture.mark)
        for view in question.views
        for result in _results_of_one(view)
    )


def _results_of_one(question: Question) -> tuple[Result, ...]:
    mark = question.problem.posture.mark
    steps = (step for step in question.derivation.steps if step.mark == mark)
    keys = {step.kind: step.key for step in steps if step.kind.key}
    found = [*_unknown(question, keys)]
    if not keys.keys().isdisjoint(PARTS):
        size = question.key(kinds.REACTION_SIZE)
        found.append(Result(size, "N", question.problem.reaction, "reaction"))
    for kind, way in _BY_SEGMENT.items():
        if kind in keys:
            name = (
                f"{question.problem.reaction}, its component {way} the {question.problem.segment}"
            )
            found.append(Result(keys[kind], "N", name, "part"))
    for kind in (kinds.ADVANTAGE, kinds.ARM_ADVANTAGE):
        if kind in keys:
            found.append(Result(keys[kind], "", "mechanical advantage", "ratio"))
    if kinds.ARM_RATIO in keys:
        by_distance = question.problem.posture.by_components
        name = "ratio of distances" if by_distance else "ratio of arms"
        found.append(Result(keys[kinds.ARM_RATIO], "", name, "ratio"))
    lines = {step.key: step for step in question.derivation.steps if step.kind.is_number}
    found += [
        Result(one.symbol, lines[one.symbol].unit, question.problem.names[one.symbol], "further")
        for one in question.problem.posture.further
        if one.symbol in lines
    ]
    return tuple(found)


_BY_SEGMENT = {kinds.REACTION_AXIAL: "along", kinds.REACTION_TRANSVERSE: "across"}


def _unknown(question: Question, keys: Mapping[Kind, str]) -> Iterator[Result]:
    problem, posture = question.problem, question.problem.posture
    force = posture.balancing
    if posture.find is Find.TWO_FORCES:
        for one in posture.unknown:
            yield _size(question, one)
    elif force is None:
        yield from _without_unknown(question, keys)
    elif force.at.sought:
        name = f"distance to the {place_of(question, force)}"
        yield Result(force.at.symbol, posture.unit_of_lines("m"), name, "unknown")
    elif posture.sought_angle is not None:
        name = f"angle of the {problem.segment} to the {posture.inclined_to}"
        if posture.sought_angle != posture.inclination:
            name = f"angle of the {problem.names[force.symbol]} to the {problem.segment}"
        yield Result(posture.sought_angle.key, "deg", name, "unknown")
    else:
        if posture.as_mass:
            name = f"mass of the {problem.names[force.symbol]}"
            yield Result(force.mass_key, "kg", name, "unknown")
        yield _size(question, force)


def _size(question: Question, force: Force) -> Result:
    """Return the size of a force that is to be found."""
    kind = "weight" if force.is_weight else "force"
    name = f"{kind} of the {question.problem.names[force.symbol]}"
    return Result(force.symbol, "N", name, "unknown")


def _without_unknown(question: Question, keys: Mapping[Kind, str]) -> Iterator[Result]:
    """Yield what is found where no force balances the others: a moment, or a centre of mass."""
    moment = question.problem.posture.unit_of_lines("N·m")
    if kinds.NET_MOMENT in keys:
        yield Result(keys[kinds.NET_MOMENT], moment, "net moment of the muscles", "moment")
    elif kinds.SUM in keys:
        yield Result(keys[kinds.SUM], moment, "sum of the moments", "moment")
    for found, name in _OF_BODY.items():
        if found in keys:
            axis = question.problem.axis
            yield Result(keys[found], "m", name.format(axis=axis), "unknown")


_OF_BODY = {
    kinds.CENTRE_X: "centre of mass, across from the {axis}",
    kinds.CENTRE_Y: "centre of mass, up from the {axis}",
    kinds.EDGE: "distance to the nearer edge of the base of support",
}
"""What is found of a body, in words."""


def values_of(question: Question) -> Values | None:
    """Return the value of every step, with the size of the reaction; None without equilibrium."""
    if question.trouble:
        return None
    values = dict(question.right)
    for view in question.views:
        size = view.key(kinds.REACTION_SIZE)
        found = found_reaction(view.problem.posture, question.numbers, values)
        if found is not None and size not in values:
            values[size] = abs(found[1])
    return values


def direction_of(question: Question, result: Result, values: Values) -> str:
    """Return in words where a reaction points, by whatever components it is found; "" for none."""
    view = question.view(result.mark)
    found = found_reaction(view.problem.posture, view.numbers, values)
    return "" if found is None else direction_words(code_of_direction(found[1]))
