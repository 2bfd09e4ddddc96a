"""What each term of a moment equation may be: its value in some samples, by the slip behind it."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from functools import cached_property, lru_cache

from leverstep.comparing.samples import (
    SAMPLES,
    EquationSample,
    imbalance,
    names_among,
    values_named,
    weight_of_one,
)
from leverstep.course.problem import Question
from leverstep.entry.amount import Amount
from leverstep.entry.tree import Tree
from leverstep.statics import kinds
from leverstep.statics.acting import Couple, Force
from leverstep.statics.choices import Choice
from leverstep.statics.couples import couple_sign
from leverstep.statics.step import Derivation, Draft
from leverstep.statics.turn import arm_key, component_key, moment_sign, to_segment

Changes = tuple[tuple[Choice, float], ...]
Products = tuple[tuple[Changes, tuple[float, ...]], ...]


@dataclass(frozen=True, slots=True)
class ForceTerm:
    """The term of one force or couple: its sign, and what it may come to in each sample.

    `products` pairs the choices made otherwise (none for the right term) with the product of force
    and arm in each sample; `flip` and `included` are the choices of its sign and of its presence,
    None for a force that has no term.
    """

    force: str
    sign: int
    flip: Choice | None
    included: Choice | None
    products: Products


def force_term(symbol: str, sign: int, choices: Iterable[Choice], products: Products) -> ForceTerm:
    """Return the term of a force or couple, with the choices of its sign and presence among its
    own.
    """
    by_kind = {choice.kind: choice for choice in choices}
    return ForceTerm(symbol, sign, by_kind["flip"], by_kind["included"], products)


@dataclass(frozen=True, slots=True)
class _Part:
    """What stands for a force in the equation: the keys of force and arm, and the sign."""

    force: Force
    source: str
    arm: str
    sign: int

    @property
    def free(self) -> str:
        """Return the key of what may be chosen: the force, or the part of it that is found."""
        return self.source if self.force.magnitude is None else self.force.symbol


@lru_cache(maxsize=256)
def _parts_of(derivation: Derivation, mark: str) -> tuple[_Part, ...]:
    draft = Draft(derivation.posture(mark), derivation.sample)
    return tuple(
        _Part(f, component_key(draft, f), arm_key(draft, f), moment_sign(draft, f))
        for f in draft.posture.turning
        if f.offset is None  # no moment equation has a force beside the segment
    )


@lru_cache(maxsize=256)
def _made_up(derivation: Derivation, mark: str, number: int) -> Mapping[str, float]:
    """Return values of the forces and distances that may be chosen, the same each time."""
    parts = _parts_of(derivation, mark)
    posture = derivation.posture(mark)
    free = [part.free for part in parts]
    free += [d.symbol for d in posture.distances if not d.rests_on]
    # An arm that is to be found would follow the forces, where they are doubled.
    found = posture.sought_angle is None
    free += [part.arm for part in parts if found and posture.finds_place(part.force)]
    free += [couple.symbol for couple in posture.couples]
    chance = random.Random(number)
    return {key: chance.uniform(0.5, 1.5) for key in free}


def made_up_in_moments(question: Question) -> tuple[Set[str], Set[str]]:
    """Return the keys of all that is made up in the samples, and of what the terms are made of."""
    derivation, mark = question.derivation, question.problem.posture.mark
    parts = _parts_of(derivation, mark)
    terms = {key for part in parts for key in (part.source, part.arm)}
    return frozenset(_made_up(derivation, mark, 0)), terms


@lru_cache(maxsize=256)
def samples_of(question: Question) -> tuple[Sample, ...]:
    """Return the samples of a question."""
    return tuple(Sample(question, number) for number in range(SAMPLES))


class Sample(EquationSample):
    """Values of what stands in a moment equation."""

    def __init__(self, question: Question, number: int) -> None:
        posture = question.problem.posture
        parts = _parts_of(question.derivation, posture.mark)
        sources = {part.force.symbol: part.free for part in parts}
        sources |= {couple.symbol: couple.symbol for couple in posture.couples}
        own = {**_made_up(question.derivation, posture.mark, number)}
        # Angles stay as they are, since one may write their numbers in place of their symbols.
        angles = [step.key for step in question.derivation.steps if step.unit == "deg"]
        own |= {key: question.right[key] for key in angles}
        own |= _sought_arm(question, parts, own)
        super().__init__(question, own, sources, posture.loads)
        draft = Draft(posture, question.numbers)
        self.moments = {
            part.force.symbol: part.sign * self.values[part.source] * self.values[part.arm]
            for part in parts
        }
        self.moments |= {
            couple.symbol: couple_sign(draft, couple) * self.values[couple.symbol]
            for couple in posture.couples
        }

    @cached_property
    def _in_and_out(self) -> Sequence[Mapping[str, float]]:
        """Return the values in equilibrium, and those with what balances half as large again."""
        balancing = self.question.problem.posture.balancing
        assert balancing is not None, "an equation has something to find"
        source, own = self.sources[balancing.symbol], self.moments[balancing.symbol]
        others = sum(self.moments.values()) - own
        balanced = {**self.own, source: -self.own[source] * others / own}
        turned = {**balanced, source: 1.5 * balanced[source]}
        return self._evaluate(balanced), self._evaluate(turned)

    def function(self, draft: Draft, force: Force) -> float:
        """Return the sine or cosine that a slanting force is turned by."""
        turn = to_segment(draft, force)
        assert turn is not None, f"{force.symbol} slants"
        radians = math.radians(self._angle(turn.angle))
        return math.sin(radians) if turn.sine == "sin" else math.cos(radians)

    def other_function(self, draft: Draft, force: Force) -> float:
        """Return the wrong function over the right one."""
        right = self.function(draft, force)
        return math.sqrt(1 - right**2) / right

    def _angle(self, key: str) -> float:
        return self.values[key] if key in self.values else self.question.numbers[key]


def _sought_arm(
    question: Question, parts: Iterable[_Part], own: Mapping[str, float]
) -> dict[str, float]:
    """Return the arm of a force whose angle is to be found: it goes with that and its distance."""
    posture, right = question.problem.posture, question.right
    if posture.sought_angle is None:
        return {}
    values = question.graph.on_demand(question.numbers, own)
    sought = [part for part in parts if posture.finds_place(part.force)]
    places = {part.arm: part.force.at.symbol for part in sought}
    return {arm: right[arm] / right[place] * values[place] for arm, place in places.items()}


@lru_cache(maxsize=256)
def terms_of(question: Question) -> tuple[ForceTerm, ...]:
    """Return the terms of the moment equation of a question in its samples."""
    draft = Draft(question.problem.posture, question.numbers)
    samples = samples_of(question)
    choices = question.derivation.step(question.key(kinds.EQUATION)).choices
    terms = []
    for force in draft.posture.turning:
        own = [choice for choice in choices if choice.about == force.symbol]
        wholes = [_products(draft, sample, force, own) for sample in samples]
        products = tuple((made, tuple(whole[made] for whole in wholes)) for made in wholes[0])
        terms.append(force_term(force.symbol, moment_sign(draft, force), own, products))
    terms += [_couple_term(draft, samples, couple, choices) for couple in draft.posture.couples]
    return tuple(terms)


def _couple_term(
    draft: Draft, samples: Iterable[Sample], couple: Couple, choices: Iterable[Choice]
) -> ForceTerm:
    """Return the term of a couple: its size alone, or by mistake times the arm of a force."""
    own = [choice for choice in choices if choice.about == couple.symbol]
    sizes = tuple(sample.values[couple.symbol] for sample in samples)
    products: list[tuple[Changes, tuple[float, ...]]] = [((), sizes)]
    for choice in own:
        if choice.kind == "couple_arm":
            arm = arm_key(draft, draft.posture.force(choice.other))
            arms = (sample.values[arm] for sample in samples)
            times_arm = tuple(size * one for size, one in zip(sizes, arms, strict=True))
            products.append((((choice, 1.0),), times_arm))
    return force_term(couple.symbol, couple_sign(draft, couple), own, tuple(products))


def _products(
    draft: Draft, sample: Sample, force: Force, choices: list[Choice]
) -> dict[Changes, float]:
    """Return what the term of a force comes to, by the choice made otherwise (none: right)."""
    values = sample.values
    size, arm = values[component_key(draft, force)], values[arm_key(draft, force)]
    found: dict[Changes, float] = {(): size * arm}
    for choice in choices:
        if choice.kind == "arm_power":
            found[((choice, 0.0),)] = size
        elif (product := _product_by(choice, draft, sample, force)) is not None:
            found[((choice, 1.0),)] = product
    return found


def _product_by(choice: Choice, draft: Draft, sample: Sample, force: Force) -> float | None:
    """Return the product of a force and an arm that a choice made otherwise leads to, None where it
    leads to no other.
    """
    values = sample.values
    size, arm = values[component_key(draft, force)], values[arm_key(draft, force)]
    length = draft.posture.length
    whole = 0.0 if length is None else values[length.symbol]
    turned = arm / values[force.at.symbol] if choice.other else 1.0
    match choice.kind:
        case "other_arm":
            return size * values[arm_key(draft, draft.posture.force(choice.other))]
        case "whole_length":
            return size * whole * turned
        case "from_far_end":
            return size * (whole - values[force.at.symbol]) * turned
        case "other_function":
            return size * arm * sample.other_function(draft, force)
        case "trig_again":
            return size * arm * sample.function(draft, force)
        case "given_used":
            force_used = size if choice.other else values[force.symbol]
            return force_used / weight_of_one(force) * arm
        case "angle_ignored" if draft.posture.by_components:
            return values[force.symbol] * arm
        case "angle_ignored":
            return size * values[force.at.symbol]
    return None


def has_value(question: Question, tree: Tree) -> bool:
    """Return whether a formula has a value, whatever values the quantities in it may have.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    sample = samples_of(question)[0]
    return sample.has_values((tree,))


def holds_in_numbers(question: Question, sides: tuple[Tree, ...]) -> bool:
    """Return whether an equation holds for the numbers of a question, within its tolerance.

    Masses count in kilograms, or as they are given; lengths in metres.
    """
    draft = Draft(question.problem.posture, question.numbers)
    balancing = draft.posture.balancing
    assert balancing is not None, "an equation has something to find"
    exact = question.right
    source = balancing.symbol if balancing.magnitude else component_key(draft, balancing)
    held = {key: exact[key] for key in (arm_key(draft, balancing), balancing.at.symbol)}
    halved = {**held, source: exact[source] / 2}
    with_half = question.graph.on_demand(question.numbers, halved)
    tolerance = question.problem.share_off
    gravity = {"g": Amount(question.accepted["g"][0])}
    for in_kilograms in (True, False):
        known = (
            values_named(question, values, names_among(sides), in_kilograms) | gravity
            for values in (exact, with_half)
        )
        residual, half = (imbalance(sides, one)[0] for one in known)
        if abs(residual) <= tolerance * 2 * abs(half):
            return True
    return False
