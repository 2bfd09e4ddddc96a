"""Judging a moment equation: which term is right, missing, reversed, or on another arm.

An equation is right when it says the same as the reference for any values of its symbols, up to a
factor. Each force is doubled in turn: what that adds to "left side minus right side" is its term.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tutor.course.problem import Question
from tutor.statics.balance import EQUATION
from tutor.statics.choices import Choice
from tutor.statics.posture import Force
from tutor.statics.step import Draft
from tutor.statics.turn import arm_key, component_key, moment_sign
from tutor.working.amount import Amount, evaluate
from tutor.working.tree import Tree, Unreadable

Changes = tuple[tuple[Choice, float], ...]

_CLOSE = 1e-7
_ARM_KINDS = ("other_arm", "whole_length", "from_far_end", "arm_power")
_SAMPLES = 2
_GOLDEN = 0.6180339887498949


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
    draft = Draft(question.problem.posture, question.numbers)
    samples = [_Sample(draft, question, number) for number in range(_SAMPLES)]
    forces = question.problem.posture.forces
    shares = {f.symbol: [s.share(f.symbol, sides) for s in samples] for f in forces}
    if all(abs(share) < _CLOSE for found in shares.values() for share in found):
        raise Unreadable("no force of this problem stands in this equation")
    wholes = [s.residual(sides, s.values) for s in samples]
    if any(not _same(w, sum(shares[f.symbol][n] for f in forces)) for n, w in enumerate(wholes)):
        return TermFindings((), ("",))
    best: TermFindings | None = None
    for scale in _scales(draft, samples, shares):
        found = _compare(draft, question, samples, shares, scale)
        if best is None or _weight(found) < _weight(best):
            best = found
    return best or TermFindings((), tuple(f.symbol for f in forces))


def _weight(found: TermFindings) -> int:
    """Return how much is wrong: a term that is not understood counts more than a known slip."""
    return len(found.changes) + 3 * len(found.unknown)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= _CLOSE * max(1.0, abs(one), abs(other))


class _Sample:
    """One set of values for all symbols, made up but the same each time."""

    def __init__(self, draft: Draft, question: Question, number: int) -> None:
        self.question = question
        posture = draft.posture
        self.sources = {f.symbol: f.symbol for f in posture.loads}
        self.sources[posture.effort.symbol] = component_key(draft, posture.effort)
        free = [*self.sources.values()]
        free += [d.symbol for d in posture.distances if d.of is None]
        self.own = {
            key: 0.5 + ((place + 1) * _GOLDEN * (number + 1)) % 1 for place, key in enumerate(free)
        }
        self.values = self._evaluate(self.own)

    def _evaluate(self, own: Mapping[str, float]) -> dict[str, float]:
        return self.question.graph.values(self.question.numbers, {}, own=own)

    def residual(self, sides: tuple[Tree, ...], values: Mapping[str, float]) -> float:
        """Return left side minus right side."""
        known = {key: Amount(value) for key, value in values.items()}
        for given in self.question.givens:
            if given.sign and given.sign not in known:
                known[given.sign] = Amount(self.question.numbers[given.key])
        left, right = (evaluate(side, known).value for side in sides)
        return left - right

    def share(self, force: str, sides: tuple[Tree, ...]) -> float:
        """Return what doubling one force adds to the residual."""
        source = self.sources[force]
        doubled = self._evaluate({**self.own, source: 2 * self.own[source]})
        return self.residual(sides, doubled) - self.residual(sides, self.values)


Shares = Mapping[str, list[float]]


def _product(draft: Draft, sample: _Sample, force: Force, arm: str) -> float:
    return sample.values[component_key(draft, force)] * sample.values[arm]


def _scales(draft: Draft, samples: list[_Sample], shares: Shares) -> list[list[float]]:
    """Return what the equation may be multiplied by, in each sample, one from each term.

    A plain factor comes before one that differs from sample to sample, such as 1 over an arm.
    """
    found: list[list[float]] = []
    for force in draft.posture.forces:
        sign, arm = moment_sign(draft, force), arm_key(draft, force)
        scale = [
            sign * shares[force.symbol][n] / _product(draft, sample, force, arm)
            for n, sample in enumerate(samples)
        ]
        if min(abs(one) for one in scale) > _CLOSE:
            found.append(scale)
    return sorted(found, key=lambda scale: not _same(scale[0], scale[-1]))


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
    for force in draft.posture.forces:
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
    arms = {other.symbol: values[arm_key(draft, other)] for other in draft.posture.forces}
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
