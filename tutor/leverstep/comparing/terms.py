"""What each term of a moment equation may be: its value in some samples, by the slip behind it."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

from leverstep.course.problem import Question
from leverstep.entry.amount import Amount, evaluate
from leverstep.entry.tree import Measured, Negative, Operation, Tree, names_in
from leverstep.statics import kinds
from leverstep.statics.acting import Couple, Force
from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.convert import book_size
from leverstep.statics.couples import couple_sign
from leverstep.statics.step import Derivation, Draft
from leverstep.statics.turn import arm_key, component_key, moment_sign, to_segment
from leverstep.statics.units import known_unit

Changes = tuple[tuple[Choice, float], ...]

SAMPLES = 3
CLOSE = 1e-9


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
    products: tuple[tuple[Changes, tuple[float, ...]], ...]


@lru_cache(maxsize=256)
def samples_of(question: Question) -> tuple[Sample, ...]:
    """Return the samples of a question."""
    return tuple(Sample(question, number) for number in range(SAMPLES))


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
    free = [part.free for part in parts]
    free += [d.symbol for d in derivation.posture(mark).distances if not d.rests_on]
    # An arm that is to be found would follow the forces, where they are doubled.
    posture = derivation.posture(mark)
    found = posture.sought_angle is None
    free += [part.arm for part in parts if found and posture.finds_place(part.force)]
    free += [couple.symbol for couple in derivation.posture(mark).couples]
    chance = random.Random(number)
    return {key: chance.uniform(0.5, 1.5) for key in free}


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
        flip = next(choice for choice in own if choice.kind == "flip")
        included = next(choice for choice in own if choice.kind == "included")
        terms.append(ForceTerm(force.symbol, moment_sign(draft, force), flip, included, products))
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
    flip = next(choice for choice in own if choice.kind == "flip")
    included = next(choice for choice in own if choice.kind == "included")
    return ForceTerm(couple.symbol, couple_sign(draft, couple), flip, included, tuple(products))


class Sample:
    """One set of values for all symbols, made up but the same each time."""

    def __init__(self, question: Question, number: int) -> None:
        self.question = question
        mark = question.problem.posture.mark
        parts = _parts_of(question.derivation, mark)
        self.sources = {p.force.symbol: p.free for p in parts}
        # Angles stay as they are, since one may write their numbers in place of their symbols.
        angles = [step.key for step in question.derivation.steps if step.unit == "deg"]
        self.own = {**_made_up(question.derivation, mark, number)}
        self.own |= {key: question.right[key] for key in angles}
        self._tie_sought_arm(parts)
        self.values = self._evaluate(self.own)
        self.moments = {
            p.force.symbol: p.sign * self.values[p.source] * self.values[p.arm] for p in parts
        }
        draft = Draft(question.problem.posture, question.numbers)
        for couple in draft.posture.couples:
            self.sources[couple.symbol] = couple.symbol
            size = self.values[couple.symbol]
            self.moments[couple.symbol] = couple_sign(draft, couple) * size
        # A mass goes with its weight, so that `m g` is as good as `W`.
        self.masses = [
            (f.magnitude.sign, f.symbol, weight_of_one(f))
            for f in question.problem.posture.loads
            if f.magnitude is not None and f.magnitude.is_mass
        ]

    def _tie_sought_arm(self, parts: Iterable[_Part]) -> None:
        """Let the arm of a force whose angle is to be found go with that angle and its distance."""
        posture = self.question.problem.posture
        for part in parts:
            if posture.sought_angle is not None and posture.finds_place(part.force):
                right = self.question.right
                turned = right[part.arm] / right[part.force.at.symbol]
                self.own[part.arm] = turned * self._evaluate(self.own)[part.force.at.symbol]

    def _evaluate(self, own: Mapping[str, float]) -> Mapping[str, float]:
        return self.question.graph.on_demand(self.question.numbers, own)

    def residual(self, sides: tuple[Tree, ...], values: Mapping[str, float]) -> float:
        """Return left side minus right side, with all that is divided by multiplied out."""
        return imbalance(sides, self.known(names_among(sides), values))[0]

    def known(self, named: set[str], values: Mapping[str, float]) -> Mapping[str, Amount]:
        """Return the symbols named with some values; a mass goes with its weight."""
        known = values_named(self.question, values, named, in_kilograms=False)
        known |= {
            mass: Amount(values[weight] / size)
            for mass, weight, size in self.masses
            if mass in named
        }
        couples = {couple.symbol for couple in self.question.problem.posture.couples} & named
        return known | {couple: Amount(values[couple]) for couple in couples}

    def holds(self, sides: tuple[Tree, ...]) -> bool | None:
        """Return whether an equation holds in equilibrium, and does not hold out of it.

        None is for an equation that has no value in one of the two.
        """
        named = names_among(sides)
        ways = [self.known(named, values) for values in self._in_and_out]
        balanced, turned = ([cleared(side, known) for side in sides] for known in ways)
        if any(side.divides_by_nothing for side in (*balanced, *turned)):
            return None
        in_balance, size = difference(*balanced)
        moved, larger = difference(*turned)
        return abs(in_balance) <= CLOSE * size and abs(moved) > 1e-4 * larger

    def has_values(self, sides: tuple[Tree, ...]) -> bool:
        """Return whether both sides have a value with the values that the samples begin with."""
        known = self.known(names_among(sides), self.values)
        return not any(cleared(side, known).divides_by_nothing for side in sides)

    @cached_property
    def _in_and_out(self) -> tuple[Mapping[str, float], Mapping[str, float]]:
        """Return the values in equilibrium, and those with what balances half as large again."""
        balancing = self.question.problem.posture.balancing
        assert balancing is not None, "an equation has something to find"
        source, own = self.sources[balancing.symbol], self.moments[balancing.symbol]
        others = sum(self.moments.values()) - own
        balanced = {**self.own, source: -self.own[source] * others / own}
        turned = {**balanced, source: 1.5 * balanced[source]}
        return self._evaluate(balanced), self._evaluate(turned)

    def share(self, force: str, sides: tuple[Tree, ...]) -> float:
        """Return what doubling one force adds to the residual."""
        source = self.sources[force]
        doubled = self._evaluate({**self.own, source: 2 * self.own[source]})
        return self.residual(sides, doubled) - self.residual(sides, self.values)

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


def _products(
    draft: Draft, sample: Sample, force: Force, choices: list[Choice]
) -> dict[Changes, float]:
    """Return what the term of a force comes to, by the choice made otherwise (none: right)."""
    values = sample.values
    size, arm = values[component_key(draft, force)], values[arm_key(draft, force)]
    arms = {other.symbol: values[arm_key(draft, other)] for other in draft.posture.turning}
    length = draft.posture.length
    whole = 0.0 if length is None else values[length.symbol]
    found: dict[Changes, float] = {(): size * arm}
    for choice in choices:
        turned = arm / values[force.at.symbol] if choice.other else 1.0
        match choice.kind:
            case "other_arm":
                product = size * arms[choice.other]
            case "whole_length":
                product = size * whole * turned
            case "from_far_end":
                product = size * (whole - values[force.at.symbol]) * turned
            case "other_function":
                product = size * arm * sample.other_function(draft, force)
            case "trig_again":
                product = size * arm * sample.function(draft, force)
            case "given_used":
                force_used = size if choice.other else values[force.symbol]
                product = force_used / weight_of_one(force) * arm
            case "angle_ignored" if draft.posture.by_components:
                product = values[force.symbol] * arm
            case "angle_ignored":
                product = size * values[force.at.symbol]
            case "arm_power":
                found[((choice, 0.0),)] = size
                continue
            case _:
                continue
        found[((choice, 1.0),)] = product
    return found


def has_value(question: Question, tree: Tree) -> bool:
    """Return whether a formula has a value, whatever values the quantities in it may have.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    sample = samples_of(question)[0]
    return sample.has_values((tree,))


class Cleared(NamedTuple):
    """A term as a numerator over a denominator, with the sizes of all that each is summed up from.

    `top_size` and `bottom_size` are what the parts of the two come to with their signs left out, so
    that what rounding leaves of nothing can be told from a small number.
    """

    top: float
    bottom: float = 1.0
    top_size: float = 0.0
    bottom_size: float = 1.0

    @property
    def divides_by_nothing(self) -> bool:
        """Return whether the denominator comes to nothing, so that there is no value."""
        return abs(self.bottom) <= CLOSE * self.bottom_size


def cleared(tree: Tree, known: Mapping[str, Amount]) -> Cleared:
    """Return a tree as a numerator and a denominator, so that no division stands in either.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    match tree:
        case Operation(operator="^"):
            value = evaluate(tree, known).value
            return Cleared(value, 1.0, abs(value))
        case Operation():
            one, other = cleared(tree.left, known), cleared(tree.right, known)
            match tree.operator:
                case "+":
                    return _added(one, other, 1)
                case "-":
                    return _added(one, other, -1)
                case "/":
                    other = Cleared(other.bottom, other.top, other.bottom_size, other.top_size)
            return Cleared(
                one.top * other.top, one.bottom * other.bottom,
                one.top_size * other.top_size, one.bottom_size * other.bottom_size,
            )  # fmt: skip
        case Negative():
            inner = cleared(tree.term, known)
            return inner._replace(top=-inner.top)
        case Measured():
            return cleared(tree.term, known)
    value = evaluate(tree, known).value
    return Cleared(value, 1.0, abs(value))


def _added(one: Cleared, other: Cleared, sign: int) -> Cleared:
    return Cleared(
        one.top * other.bottom + sign * other.top * one.bottom, one.bottom * other.bottom,
        one.top_size * other.bottom_size + other.top_size * one.bottom_size,
        one.bottom_size * other.bottom_size,
    )  # fmt: skip


def weight_of_one(force: Force) -> float:
    """Return the newtons of a load whose mass is 1 in the unit it is given in, or else 1 kg."""
    unit = "kg" if force.magnitude is None else force.magnitude.unit
    return CONVENTIONS["g"].values[0] * book_size(unit)


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
    tolerance = float(question.problem.tolerance)
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


def names_among(sides: tuple[Tree, ...]) -> set[str]:
    """Return the symbols that stand in an equation."""
    return {name.symbol for side in sides for name in names_in(side)}


def values_named(
    question: Question, values: Mapping[str, float], named: set[str], in_kilograms: bool
) -> dict[str, Amount]:
    """Return the values of the symbols named, givens as they are given or masses in kilograms."""
    known = {key: Amount(values[key]) for key in named if key in values}
    for given in question.givens:
        if given.sign in named and given.sign not in known:
            mass = given.is_mass and in_kilograms
            size = float(known_unit(given.unit).size) if mass else 1.0
            known[given.sign] = Amount(question.numbers[given.key] * size)
    known["g"] = Amount(CONVENTIONS["g"].values[0])
    return known


def imbalance(sides: tuple[Tree, ...], known: Mapping[str, Amount]) -> tuple[float, float]:
    """Return left side minus right side, multiplied out, and how large all its terms are."""
    left, right = (cleared(side, known) for side in sides)
    return difference(left, right)


def difference(left: Cleared, right: Cleared) -> tuple[float, float]:
    """Return one side minus the other, multiplied out, and how large all its terms are."""
    residual = left.top * right.bottom - right.top * left.bottom
    return residual, left.top_size * right.bottom_size + right.top_size * left.bottom_size
