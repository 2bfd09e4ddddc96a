"""Judging a moment equation: which term is right, missing, reversed, or on another arm.

An equation is right when it says the same as the reference for any values of its symbols, up to a
factor. Each force is doubled in turn: what that adds to "left side minus right side" is its term.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Mapping
from dataclasses import dataclass

from tutor.course.problem import Question
from tutor.statics.balance import EQUATION
from tutor.statics.choices import CONVENTIONS, Choice
from tutor.statics.convert import factor_for
from tutor.statics.posture import Force
from tutor.statics.step import Draft
from tutor.statics.turn import arm_key, component_key, moment_sign, to_segment
from tutor.statics.units import MASS, known_unit
from tutor.working.amount import Amount, evaluate
from tutor.working.tree import Measured, Negative, Operation, Tree, Unreadable, names_in

Changes = tuple[tuple[Choice, float], ...]

_CLOSE = 1e-7
_ARM_KINDS = ("other_arm", "whole_length", "from_far_end", "arm_power")
_NOT_IN_EQUATION = ("advantage", "arm_ratio", "class", "component_x", "component_y")
_SAMPLES = 3


@dataclass(frozen=True, slots=True)
class TermFindings:
    """What is wrong with an equation: the choices made otherwise, and the terms not understood.

    Both empty means that the equation is right. `unknown` holds symbols of forces, or "" for terms
    that go with no force.
    """

    changes: Changes
    unknown: tuple[str, ...]


def judge_equation(question: Question, sides: tuple[Tree, ...]) -> TermFindings:
    """Return what is wrong with a moment equation.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    _check_names(question, sides)
    draft = Draft(question.problem.posture, question.numbers)
    samples = [_Sample(draft, question, number) for number in range(_SAMPLES)]
    forces = question.problem.posture.turning
    shares = {f.symbol: [s.share(f.symbol, sides) for s in samples] for f in forces}
    if all(abs(share) < _CLOSE for found in shares.values() for share in found):
        raise Unreadable(_why_no_force(question, sides))
    wholes = [s.residual(sides, s.values) for s in samples]
    if any(not _same(w, sum(shares[f.symbol][n] for f in forces)) for n, w in enumerate(wholes)):
        return TermFindings((), ("",))
    best: TermFindings | None = None
    for scale in _scales(draft, question, samples, shares):
        found = _compare(draft, question, samples, shares, scale)
        if best is None or _weight(found) < _weight(best):
            best = found
    return best or TermFindings((), tuple(f.symbol for f in forces))


def _why_no_force(question: Question, sides: tuple[Tree, ...]) -> str:
    """Return why an equation that holds for any forces says nothing."""
    forces = {force.symbol for force in question.problem.posture.turning}
    named = {name.symbol for side in sides for name in names_in(side)}
    if named & (forces | {key for key in named if key.startswith(("M_", "P_"))}):
        return "this holds whatever the forces are; the moments of all forces are to add up to zero"
    return "no force of this problem stands in this equation; write it in symbols"


def _check_names(question: Question, sides: tuple[Tree, ...]) -> None:
    """Refuse a symbol that no moment equation holds, such as that of the reaction at the axis."""
    kinds = {step.key: step.kind for step in question.derivation.steps}
    for name in itertools.chain.from_iterable(names_in(side) for side in sides):
        kind = kinds.get(name.symbol, "")
        if kind.startswith("reaction"):
            reason = f"{name.symbol} acts at the axis, so it has no place in the moment equation"
            raise Unreadable(reason, name.place)
        if kind in _NOT_IN_EQUATION:
            raise Unreadable(f"{name.symbol} has no place in the moment equation", name.place)


def _weight(found: TermFindings) -> int:
    """Return how much is wrong: a term that is not understood counts more than a known slip."""
    return len(found.changes) + 3 * len(found.unknown)


def cleared(tree: Tree, known: Mapping[str, Amount]) -> tuple[float, float]:
    """Return a tree as a numerator and a denominator, so that no division stands in either.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    match tree:
        case Operation(operator="^"):
            return evaluate(tree, known).value, 1.0
        case Operation():
            (a, b), (c, d) = cleared(tree.left, known), cleared(tree.right, known)
            match tree.operator:
                case "+":
                    return a * d + c * b, b * d
                case "-":
                    return a * d - c * b, b * d
                case "*":
                    return a * c, b * d
            return a * d, b * c
        case Negative() | Measured():
            top, bottom = cleared(tree.term, known)
            return (-top if isinstance(tree, Negative) else top), bottom
    return evaluate(tree, known).value, 1.0


def _weight_of_one(force: Force) -> float:
    """Return the newtons of a load whose mass is 1 in the unit it is given in."""
    assert force.magnitude is not None
    newtons, factor = CONVENTIONS["g"].values[0], factor_for(force.magnitude.unit)
    if factor is None:
        return newtons
    constant = factor.constant
    size = CONVENTIONS[constant].values[0] if isinstance(constant, str) else constant
    return newtons * size if factor.operation == "×" else newtons / size


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= _CLOSE * max(1.0, abs(one), abs(other))


class _Sample:
    """One set of values for all symbols, made up but the same each time."""

    def __init__(self, draft: Draft, question: Question, number: int) -> None:
        self.question = question
        posture = draft.posture
        self.sources = {
            f.symbol: f.symbol if f.magnitude is not None else component_key(draft, f)
            for f in posture.turning
        }
        free = [*self.sources.values()]
        free += [d.symbol for d in posture.distances if d.of is None]
        # An arm that is to be found would follow the forces, where they are doubled.
        free += [arm_key(draft, f) for f in posture.turning if f.at.sought]
        chance = random.Random(number)
        # Angles stay as they are, since one may write their numbers in place of their symbols.
        exact = question.graph.values(question.numbers, {})
        angles = [s.key for s in question.derivation.steps if s.unit == "deg" and s.key in exact]
        self.own = {key: chance.uniform(0.5, 1.5) for key in free}
        self.own |= {key: exact[key] for key in angles}
        self.values = self._evaluate(self.own)
        # A mass goes with its weight, so that `m g` is as good as `W`.
        self.masses = [
            (f.magnitude.sign, f.symbol, _weight_of_one(f))
            for f in posture.loads
            if f.magnitude is not None and known_unit(f.magnitude.unit).dimension == MASS
        ]

    def _evaluate(self, own: Mapping[str, float]) -> dict[str, float]:
        return self.question.graph.values(self.question.numbers, {}, own=own)

    def residual(self, sides: tuple[Tree, ...], values: Mapping[str, float]) -> float:
        """Return left side minus right side, with all that is divided by multiplied out."""
        known = {key: Amount(value) for key, value in values.items()}
        for given in self.question.givens:
            if given.sign and given.sign not in known:
                known[given.sign] = Amount(self.question.numbers[given.key])
        known |= {mass: Amount(values[weight] / size) for mass, weight, size in self.masses}
        known["g"] = Amount(CONVENTIONS["g"].values[0])
        left, right = (cleared(side, known) for side in sides)
        return left[0] * right[1] - right[0] * left[1]

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


Shares = Mapping[str, list[float]]


def _product(draft: Draft, sample: _Sample, force: Force, arm: str) -> float:
    return sample.values[component_key(draft, force)] * sample.values[arm]


def _scales(
    draft: Draft, question: Question, samples: list[_Sample], shares: Shares
) -> list[list[float]]:
    """Return what the equation may be multiplied by, in each sample.

    One comes from each term taken as right, and one from each term taken as each known slip. A
    plain factor comes before one that differs from sample to sample, such as 1 over an arm.
    """
    choices = question.derivation.step(EQUATION).choices
    right: list[list[float]] = []
    slipped: list[list[float]] = []
    for force in draft.posture.turning:
        wholes = [_products(draft, sample, force, choices) for sample in samples]
        sign = moment_sign(draft, force)
        for changed in wholes[0]:
            products = [whole[changed] for whole in wholes]
            if min(abs(product) for product in products) < _CLOSE:
                continue
            scale = [sign * shares[force.symbol][n] / product for n, product in enumerate(products)]
            if min(abs(one) for one in scale) > _CLOSE:
                (slipped if changed else right).append(scale)
    plain = [scale for scale in slipped if _same(scale[0], scale[-1])]
    return sorted(right, key=lambda scale: not _same(scale[0], scale[-1])) + plain


def _compare(
    draft: Draft,
    question: Question,
    samples: list[_Sample],
    shares: Shares,
    scale: list[float],
) -> TermFindings:
    """Return what differs from the reference, the equation taken as multiplied by `scale`."""
    step = question.derivation.step(EQUATION)
    changes: list[tuple[Choice, float]] = []
    unknown: list[str] = []
    for force in draft.posture.turning:
        found = _term_changes(draft, samples, shares, force, scale, step.choices)
        moved = any(choice.kind in _ARM_KINDS for choice, _ in found or ())
        # Where all is divided by an arm, another arm beside it is no arm taken for another.
        if found is None or (moved and not _same(scale[0], scale[-1])):
            unknown.append(force.symbol)
        else:
            changes += found
    return TermFindings(tuple(changes), tuple(unknown))


def _term_changes(
    draft: Draft,
    samples: list[_Sample],
    shares: Shares,
    force: Force,
    scale: list[float],
    choices: tuple[Choice, ...],
) -> Changes | None:
    """Return the choices that turn the right term of a force into the one written, if any do."""
    terms = [share / by for share, by in zip(shares[force.symbol], scale, strict=True)]
    if all(abs(term) < _CLOSE for term in terms):
        return ((_choice(choices, "included", force.symbol), 0.0),)
    wholes = [_products(draft, sample, force, choices) for sample in samples]
    for changed in wholes[0]:
        products = [whole[changed] for whole in wholes]
        for sign in (1, -1):
            if all(_same(t, sign * p) for t, p in zip(terms, products, strict=True)):
                flipped = sign != moment_sign(draft, force)
                flip = ((_choice(choices, "flip", force.symbol), -1.0),) if flipped else ()
                return flip + changed
    return None


def _products(
    draft: Draft, sample: _Sample, force: Force, choices: tuple[Choice, ...]
) -> dict[Changes, float]:
    """Return what the term of a force comes to, by the choice made otherwise (none: right)."""
    values = sample.values
    size, arm = values[component_key(draft, force)], values[arm_key(draft, force)]
    arms = {other.symbol: values[arm_key(draft, other)] for other in draft.posture.turning}
    length = draft.posture.length
    whole = 0.0 if length is None else values[length.symbol]
    found: dict[Changes, float] = {(): size * arm}
    for choice in choices:
        if choice.about != force.symbol:
            continue
        match choice.kind:
            case "other_arm":
                product = size * arms[choice.other]
            case "whole_length":
                product = size * whole
            case "from_far_end":
                product = size * (whole - values[force.at.symbol])
            case "other_function":
                product = size * arm * sample.other_function(draft, force)
            case "trig_again":
                product = size * arm * sample.function(draft, force)
            case "given_used":
                product = values[force.symbol] / _weight_of_one(force) * arm
            case "angle_ignored" if draft.posture.by_components:
                product = values[force.symbol] * arm
            case "angle_ignored":
                product = size * values[force.at.symbol]
            case _:
                continue
        found[((choice, 1.0),)] = product
    found[((_choice(choices, "arm_power", force.symbol), 0.0),)] = size
    return found


def _choice(choices: tuple[Choice, ...], kind: str, about: str) -> Choice:
    return next(c for c in choices if c.kind == kind and c.about == about)
