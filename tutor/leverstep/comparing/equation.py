"""Judging an equation in symbols: which term is right, missing, reversed, or on another arm.

An equation is right when it says the same as the reference for any values of its symbols, up to a
factor. Each force is doubled in turn: what that adds to "left side minus right side" is its term.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from leverstep.comparing.balance_terms import (
    balance_holds_in_numbers,
    balance_samples,
    balance_terms,
)
from leverstep.comparing.held_equations import held_in_samples, samples_at
from leverstep.comparing.terms import (
    Changes,
    ForceTerm,
    holds_in_numbers,
    terms_of,
)
from leverstep.course.problem import Question
from leverstep.entry.tree import Tree, Unreadable, names_in
from leverstep.statics import kinds
from leverstep.statics.step import Step

_CLOSE = 1e-7
_ARM_KINDS = ("other_arm", "whole_length", "from_far_end", "arm_power")

_OF_FORCES = (kinds.MOMENT, kinds.COUPLE_MOMENT, kinds.SUM, kinds.COMPONENT, kinds.EFFORT_COMPONENT)

Scale = tuple[float, ...]
Shares = Mapping[str, Scale]


@dataclass(frozen=True, slots=True)
class TermFindings:
    """What is wrong with an equation: the choices made otherwise, and the terms not understood.

    Both empty means that the equation is right. `unknown` holds symbols of forces, or "" for terms
    that go with no force.
    """

    changes: Changes
    unknown: tuple[str, ...]


def judge_equation(question: Question, step: Step, sides: tuple[Tree, ...]) -> TermFindings:
    """Return what is wrong with a moment equation, or with one of forces through a point.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    is_of_moments = step.kind is kinds.EQUATION
    if is_of_moments:
        _check_names(question, sides)
    held = held_in_samples(question, step, sides)
    if all(held):
        return TermFindings((), ())
    samples = samples_at(question, step)
    if None in held or not all(sample.has_values(sides) for sample in samples):
        raise Unreadable("divides_by_zero")
    terms = terms_of(question) if is_of_moments else balance_terms(question, step)
    is_true = holds_in_numbers if is_of_moments else balance_holds_in_numbers
    shares = {t.force: tuple(s.share(t.force, sides) for s in samples) for t in terms}
    if all(abs(share) < _CLOSE for found in shares.values() for share in found):
        raise _says_nothing(question, sides)
    in_numbers = Unreadable("forces_hold_in_numbers")
    if is_of_moments:
        in_numbers = Unreadable("holds_in_numbers")
    wholes = [s.residual(sides, s.values) for s in samples]
    if any(not _same(w, sum(found[n] for found in shares.values())) for n, w in enumerate(wholes)):
        if is_true(question, sides):
            raise in_numbers
        return TermFindings((), ("",))
    best = _likeliest(terms, shares)
    if best.unknown and is_true(question, sides):
        raise in_numbers
    return best


def _likeliest(terms: Sequence[ForceTerm], shares: Shares) -> TermFindings:
    """Return what is wrong with an equation, by the factor that leaves the least wrong."""
    found = [_compare(terms, shares, scale) for scale in _scales(terms, shares)]
    nothing = TermFindings((), tuple(term.force for term in terms))
    return min(found, key=_weight, default=nothing)


def balance_lines(question: Question) -> tuple[Step, ...]:
    """Return the lines that are equations of forces through a point, none without one."""
    return tuple(s for s in question.derivation.asked if s.kind.part is kinds.Part.BALANCE)


def balance_line(question: Question, sides: tuple[Tree, ...]) -> str:
    """Return the key of the equation of forces that one is most like, the first of two alike.

    Raises:
        Unreadable: where it cannot be evaluated.
    """
    return min(balance_lines(question), key=lambda step: how_unlike(question, step, sides)).key


def how_unlike(question: Question, step: Step, sides: tuple[Tree, ...]) -> float:
    """Return how much is wrong with an equation, taken as the one of forces of a step.

    Raises:
        Unreadable: where it cannot be evaluated, or is no equation.
    """
    if len(sides) != 2:
        raise Unreadable("forces_need_equals_sign")
    samples, terms = balance_samples(question), balance_terms(question, step)
    shares = {t.force: tuple(s.share(t.force, sides) for s in samples) for t in terms}
    return _weight(_likeliest(terms, shares))


def _says_nothing(question: Question, sides: tuple[Tree, ...]) -> Unreadable:
    """Return what is the matter with an equation that holds whatever the forces are."""
    of_forces = set(question.problem.posture.turning_symbols)
    of_forces |= {step.key for step in question.derivation.steps if step.kind in _OF_FORCES}
    if of_forces & {name.symbol for side in sides for name in names_in(side)}:
        return Unreadable("holds_for_any_force")
    return Unreadable("no_force")


def _check_names(question: Question, sides: tuple[Tree, ...]) -> None:
    """Refuse a symbol that no moment equation holds, such as that of the reaction at the axis."""
    kind_of = {step.key: step.kind for step in question.derivation.steps}
    turning = question.problem.posture.turning_symbols
    for name in itertools.chain.from_iterable(names_in(side) for side in sides):
        kind = kind_of.get(name.symbol)
        if kind is None or kind.in_moments or name.symbol in turning:
            continue
        if kind.part is kinds.Part.REACTION:
            raise Unreadable("acts_at_axis", name.place, name=name.symbol)
        raise Unreadable("not_in_moments", name.place, name=name.symbol)


def _weight(found: TermFindings) -> float:
    """Return how much is wrong: a term that is not understood counts more than a known slip.

    The same slip in several terms counts little more than once.
    """
    slips = {choice.kind for choice, _ in found.changes}
    return 3 * len(found.unknown) + len(slips) + 0.1 * len(found.changes)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= _CLOSE * max(1.0, abs(one), abs(other))


def _scales(terms: Sequence[ForceTerm], shares: Shares) -> list[Scale]:
    """Return what the equation may be multiplied by, in each sample.

    One comes from each term taken as right, and one from each term taken as each known slip. A
    constant factor comes before one that differs from sample to sample, such as 1 over an arm.
    """
    right: list[Scale] = []
    slipped: list[Scale] = []
    for term in terms:
        for changed, products in term.products:
            if min(abs(product) for product in products) < _CLOSE:
                continue
            pairs = zip(shares[term.force], products, strict=True)
            scale = tuple(term.sign * share / product for share, product in pairs)
            if min(abs(one) for one in scale) > _CLOSE:
                (slipped if changed else right).append(scale)
    constant = [scale for scale in slipped if _is_constant(scale)]
    return sorted(right, key=lambda scale: not _is_constant(scale)) + constant


def _is_constant(scale: Scale) -> bool:
    """Return whether a factor is the same in every sample."""
    return all(_same(scale[0], one) for one in scale)


def _compare(terms: Sequence[ForceTerm], shares: Shares, scale: Scale) -> TermFindings:
    """Return what differs from the reference, the equation taken as multiplied by `scale`."""
    changes: Changes = ()
    unknown: list[str] = []
    for term in terms:
        found = _term_changes(term, shares[term.force], scale)
        moved = any(choice.kind in _ARM_KINDS for choice, _ in found or ())
        # Where all is divided by an arm, another arm beside it is no arm taken for another.
        if found is None or (moved and not _is_constant(scale)):
            unknown.append(term.force)
        else:
            changes += found
    return TermFindings(changes, tuple(unknown))


def _term_changes(term: ForceTerm, share: Scale, scale: Scale) -> Changes | None:
    """Return the choices that turn the right term of a force into the one written, if any do."""
    written = [one / by for one, by in zip(share, scale, strict=True)]
    if all(abs(one) < _CLOSE for one in written):
        return () if term.included is None else ((term.included, 0.0),)
    for changed, products in term.products:
        for sign in (1, -1):
            if all(_same(w, sign * p) for w, p in zip(written, products, strict=True)):
                flip = ((term.flip, -1.0),) if term.flip and sign != term.sign else ()
                return flip + changed
    return None
