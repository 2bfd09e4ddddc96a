"""What each term of an equation of forces through one point may be, by the slip behind it."""

from __future__ import annotations

import random
from collections.abc import Mapping
from functools import cached_property, lru_cache

from leverstep.comparing.terms import (
    CLOSE,
    SAMPLES,
    Changes,
    ForceTerm,
    cleared,
    difference,
    imbalance,
    names_among,
    values_named,
    weight_of_one,
)
from leverstep.course.problem import Question
from leverstep.entry.amount import Amount
from leverstep.entry.tree import Tree
from leverstep.statics.acting import Force
from leverstep.statics.choices import Choice
from leverstep.statics.force_axes import ForceAxis
from leverstep.statics.point_balance import EQUATIONS, function_values, written_term
from leverstep.statics.step import Draft, Step
from leverstep.statics.turn import part


class BalanceSample:
    """One set of values for all forces through a point, made up but the same each time."""

    def __init__(self, question: Question, number: int) -> None:
        self.question = question
        chance = random.Random(number)
        forces = question.problem.posture.forces
        self.own = {force.symbol: chance.uniform(0.5, 1.5) for force in forces}
        self.values = self._evaluate(self.own)

    def _evaluate(self, own: Mapping[str, float]) -> Mapping[str, float]:
        return self.question.graph.on_demand(self.question.numbers, own)

    def known(self, named: set[str], values: Mapping[str, float]) -> Mapping[str, Amount]:
        """Return the symbols named with some values; a mass goes with its weight."""
        known = values_named(self.question, values, named, in_kilograms=False)
        for force in self.question.problem.posture.forces:
            given = force.magnitude
            if given is not None and given.is_mass and given.sign in named:
                known[given.sign] = Amount(values[force.symbol] / weight_of_one(force))
        return known

    def residual(self, sides: tuple[Tree, ...], values: Mapping[str, float]) -> float:
        """Return left side minus right side, with all that is divided by multiplied out."""
        return imbalance(sides, self.known(names_among(sides), values))[0]

    def has_values(self, sides: tuple[Tree, ...]) -> bool:
        """Return whether both sides have a value."""
        known = self.known(names_among(sides), self.values)
        return not any(cleared(side, known).divides_by_nothing for side in sides)

    def holds(self, sides: tuple[Tree, ...]) -> bool | None:
        """Return whether an equation holds in balance, and not with one of the two forces alone
        half as large again.

        None is for an equation that has no value in balance.
        """
        named = names_among(sides)
        balanced, *turned = (
            [cleared(side, self.known(named, values)) for side in sides] for values in self._ways
        )
        if any(side.divides_by_nothing for side in balanced):
            return None
        in_balance, size = difference(*balanced)
        moved = [difference(*one) for one in turned]
        return abs(in_balance) <= CLOSE * size and any(abs(m) > 1e-4 * s for m, s in moved)

    @cached_property
    def _ways(self) -> list[Mapping[str, float]]:
        """Return the values in balance, and those with each of the two forces larger."""
        posture = self.question.problem.posture
        given = {f.symbol: self.own[f.symbol] for f in posture.forces if f.magnitude is not None}
        balanced = self._evaluate(given)
        found = given | {force.symbol: balanced[force.symbol] for force in posture.unknown}
        larger = [{**found, f.symbol: 1.5 * found[f.symbol]} for f in posture.unknown]
        return [balanced, *map(self._evaluate, larger)]

    def share(self, force: str, sides: tuple[Tree, ...]) -> float:
        """Return what doubling one force adds to the residual."""
        doubled = self._evaluate({**self.own, force: 2 * self.own[force]})
        return self.residual(sides, doubled) - self.residual(sides, self.values)


@lru_cache(maxsize=256)
def balance_samples(question: Question) -> tuple[BalanceSample, ...]:
    """Return the samples of a question."""
    return tuple(BalanceSample(question, number) for number in range(SAMPLES))


@lru_cache(maxsize=256)
def balance_terms(question: Question, step: Step) -> tuple[ForceTerm, ...]:
    """Return the terms of the sum along an axis, those that it has not among them."""
    draft = Draft(question.problem.posture, question.numbers)
    axis = next(one for one, kind in EQUATIONS.items() if kind is step.kind)
    terms = []
    for force in draft.posture.forces:
        own = [choice for choice in step.choices if choice.about == force.symbol]
        term = written_term(draft, force, axis)
        if term is None:
            terms.append(ForceTerm(force.symbol, 1, None, None, ()))
            continue
        wholes = [
            _products(draft, sample, force, axis, own) for sample in balance_samples(question)
        ]
        products = tuple((made, tuple(whole[made] for whole in wholes)) for made in wholes[0])
        flip = next(choice for choice in own if choice.kind == "flip")
        included = next(choice for choice in own if choice.kind == "included")
        terms.append(ForceTerm(force.symbol, term.sign, flip, included, products))
    return tuple(terms)


def _products(
    draft: Draft, sample: BalanceSample, force: Force, axis: ForceAxis, choices: list[Choice]
) -> dict[Changes, float]:
    """Return what the term of a force comes to, by the choice made otherwise (none: right)."""
    size = sample.values[force.symbol]
    if force.magnitude is None:
        right, other = function_values(draft, force, axis)
        found: dict[Changes, float] = {(): size * right}
    else:
        right = other = 1.0
        found = {(): sample.values[part(draft, force, axis)[1]]}
    for choice in choices:
        match choice.kind:
            case "other_function":
                product = size * other
            case "angle_ignored":
                product = size
            case "whole_force":
                product = size if found[()] > 0 else -size
            case "given_used":
                product = size / weight_of_one(force)
            case _:
                continue
        found[((choice, 1.0),)] = product
    return found


def say_the_same(question: Question, one: tuple[Tree, ...], other: tuple[Tree, ...]) -> bool:
    """Return whether two equations of forces are one, up to a factor."""
    (sample, *_) = balance_samples(question)
    forces = [force.symbol for force in question.problem.posture.forces]
    first, second = ([sample.share(f, sides) for f in forces] for sides in (one, other))
    size = max(map(abs, first)) * max(map(abs, second))
    return all(
        abs(a * d - b * c) <= CLOSE * size
        for a, c in zip(first, second, strict=True)
        for b, d in zip(first, second, strict=True)
    )


def balance_holds_in_numbers(question: Question, sides: tuple[Tree, ...]) -> bool:
    """Return whether an equation holds for the numbers of a question, within its tolerance."""
    named = names_among(sides)
    known = values_named(question, question.right, named, in_kilograms=True)
    residual, size = imbalance(sides, known)
    return abs(residual) <= float(question.problem.tolerance) * size
