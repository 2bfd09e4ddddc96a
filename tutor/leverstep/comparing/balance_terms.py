"""What each term of an equation of forces through one point may be, by the slip behind it."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence, Set
from functools import cached_property, lru_cache

from leverstep.comparing.samples import (
    CLOSE,
    SAMPLES,
    EquationSample,
    imbalance,
    names_among,
    values_named,
    weight_of_one,
)
from leverstep.comparing.terms import Changes, ForceTerm, force_term
from leverstep.course.problem import Question
from leverstep.entry.tree import Tree
from leverstep.statics.acting import Force
from leverstep.statics.choices import Choice
from leverstep.statics.force_axes import ForceAxis
from leverstep.statics.point_balance import EQUATIONS, function_values, written_term
from leverstep.statics.step import Draft, Step
from leverstep.statics.turn import part


class BalanceSample(EquationSample):
    """Values of all forces through a point."""

    def __init__(self, question: Question, number: int) -> None:
        chance = random.Random(number)
        forces = question.problem.posture.forces
        own = {force.symbol: chance.uniform(0.5, 1.5) for force in forces}
        super().__init__(question, own, {symbol: symbol for symbol in own}, forces)

    @cached_property
    def _in_and_out(self) -> Sequence[Mapping[str, float]]:
        """Return the values in balance, and those with either force half as large again."""
        posture = self.question.problem.posture
        given = {f.symbol: self.own[f.symbol] for f in posture.forces if f.magnitude is not None}
        balanced = self._evaluate(given)
        found = given | {force.symbol: balanced[force.symbol] for force in posture.unknown}
        larger = [{**found, f.symbol: 1.5 * found[f.symbol]} for f in posture.unknown]
        return [balanced, *map(self._evaluate, larger)]


def made_up_in_balance(question: Question) -> tuple[Set[str], Set[str]]:
    """Return the keys of all that is made up in every sample, and of the forces that are found."""
    forces = question.problem.posture.forces
    given = frozenset(force.symbol for force in forces if force.magnitude is not None)
    return given, {force.symbol for force in forces} - given


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
        terms.append(force_term(force.symbol, term.sign, own, products))
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
    """Return whether two equations of forces are one, up to a factor; one has to have a force."""
    (sample, *_) = balance_samples(question)
    forces = [force.symbol for force in question.problem.posture.forces]
    first, second = ([sample.share(f, sides) for f in forces] for sides in (one, other))
    size = max(map(abs, first)) * max(map(abs, second))
    return size > 0 and all(
        abs(a * d - b * c) <= CLOSE * size
        for a, c in zip(first, second, strict=True)
        for b, d in zip(first, second, strict=True)
    )


def balance_holds_in_numbers(question: Question, sides: tuple[Tree, ...]) -> bool:
    """Return whether an equation holds for the numbers of a question, within its tolerance."""
    named = names_among(sides)
    known = values_named(question, question.right, named, in_kilograms=True)
    residual, size = imbalance(sides, known)
    return abs(residual) <= question.problem.share_off * size
