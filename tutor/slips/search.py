"""The search for the slips behind a wrong value: one, then two at once.

A hypothesis is the derivation with some choices made otherwise. It fits when it gives the number
that was typed, to the precision that it was typed with, under some accepted constants and with the
student's own earlier values or their exact ones.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from tutor.slips.catalogue import Catalogue, Slip
from tutor.statics.choices import Choice
from tutor.statics.posture import Posture
from tutor.statics.step import Derivation, Step
from tutor.working.judge import Band, spread
from tutor.working.verdict import Explanation, Finding
from tutor.working.working import Attempt

MOST_TOLD = 3
"""Explanations that fit equally well are told up to this many."""

NEAR = 0.02
"""A first look lets through what is this close; accepted constants differ by far less."""

FINEST = 4e-4
"""Arithmetic has no last digit; its numbers are still rounded to about this share."""

CHANCE_TOLD, CHANCE_ASKED = 0.02, 0.15
"""How often chance may fit as well: up to the first a slip is told, up to the second asked."""

_SPREAD = 2 * math.log(400)
"""Random wrong numbers are taken as spread evenly in size over a factor of 20 up and down, with
either sign; this is the width of that on a scale of logarithms."""


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """A slip at a place: the step it is made at, and the choices it changes."""

    slip: Slip
    step: str
    changes: tuple[tuple[Choice, float], ...]

    def finding(self) -> Finding:
        """Return the hypothesis as something found."""
        return Finding(self.slip.id, self.step, self.changes)


def explain(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return the explanations of a wrong entry, the likeliest first; none where nothing fits."""
    if attempt.terms is not None:
        return _explain_terms(attempt, catalogue)
    if attempt.step.kind in ("class", "reaction_direction"):
        return ()
    found = hypotheses(attempt.question.derivation, catalogue)
    open_steps = attempt.question.derivation.ancestors(attempt.step.key) - set(attempt.own)
    usable = [h for h in found if h.step == attempt.step.key or h.step in open_steps]
    usable.sort(key=lambda h: (h.step != attempt.step.key, -h.slip.often))
    for candidates in (_singles(usable), _pairs(usable, attempt.step.key)):
        told = _fitting(attempt, list(candidates))
        if told:
            return told
    return _rounded_early(attempt, catalogue)


@lru_cache(maxsize=256)
def hypotheses(derivation: Derivation, catalogue: Catalogue) -> tuple[Hypothesis, ...]:
    """Return every slip of the catalogue at every place of a derivation where it can be made."""
    found: list[Hypothesis] = []
    for slip in catalogue.slips.values():
        at_steps: dict[str, list[Hypothesis]] = {}
        for step in derivation.asked:
            if step.kind in slip.kinds:
                at_steps[step.key] = list(_at_step(derivation.posture, slip, step))
        found += itertools.chain.from_iterable(at_steps.values())
        found += _consistent(slip, at_steps)
    return tuple(found)


def _at_step(posture: Posture, slip: Slip, step: Step) -> Iterator[Hypothesis]:
    for alternative in slip.changes:
        places = [[c for c in step.choices if c.kind == kind] for kind, _ in alternative]
        for choices in itertools.product(*places):
            if len({choice.about for choice in choices}) > 1:
                continue
            changes = tuple(
                (choice, value) for choice, (_, value) in zip(choices, alternative, strict=True)
            )
            if all(abs(choice.right - value) < 1e-12 for choice, value in changes):
                continue
            if _applies(posture, slip, step, choices[0].about):
                yield Hypothesis(slip, step.key, changes)


def _applies(posture: Posture, slip: Slip, step: Step, about: str) -> bool:
    """Return whether a slip's conditions hold for the force or distance that it is about."""
    if slip.roles and role_of(posture, about) not in slip.roles:
        return False
    if not slip.given:
        return True
    if step.kind == "distance":
        given = next(d.given for d in posture.distances if d.symbol == step.about)
        return given.unit in slip.given
    force = next((f for f in posture.forces if about in (f.symbol, f.at.symbol)), None)
    magnitude = force.magnitude if force is not None else None
    return magnitude is not None and magnitude.unit in slip.given


def role_of(posture: Posture, about: str) -> str:
    """Return the role of the force with this symbol or distance: one of `ROLES`, "" for none."""
    if not about:
        return "line"
    if about in (posture.effort.symbol, posture.effort.at.symbol):
        return "effort"
    for load in posture.loads:
        if about in (load.symbol, load.at.symbol):
            return "own weight" if load.own_weight else "load"
    return ""


def _consistent(slip: Slip, at_steps: Mapping[str, list[Hypothesis]]) -> Iterator[Hypothesis]:
    """Yield the same slip made at every step where it can be: one slip, not several."""
    places = {key: found for key, found in at_steps.items() if len(found) == 1}
    if len(places) > 1:
        changes = [change for found in places.values() for change in found[0].changes]
        yield Hypothesis(slip, next(iter(places)), tuple(changes))


def _singles(usable: Iterable[Hypothesis]) -> Iterator[tuple[Hypothesis, ...]]:
    return ((hypothesis,) for hypothesis in usable)


def _pairs(usable: list[Hypothesis], key: str) -> Iterator[tuple[Hypothesis, ...]]:
    """Yield two slips at once, of which at least one is at the step itself."""
    for one, other in itertools.combinations(usable, 2):
        if one.step != key and other.step != key:
            continue
        if one.slip.id != other.slip.id and not _overlap(one, other):
            yield (one, other)


def _overlap(one: Hypothesis, other: Hypothesis) -> bool:
    return not {c for c, _ in one.changes}.isdisjoint(c for c, _ in other.changes)


def _fitting(attempt: Attempt, candidates: list[tuple[Hypothesis, ...]]) -> tuple[Explanation, ...]:
    """Return the candidates that give the number typed, those nearest to the step first."""
    value, slack = attempt.reading.value, _slack(attempt)
    question = attempt.question
    probe = question.graph.probe(attempt.step.key, question.numbers, attempt.own)
    fitting: list[tuple[tuple[Hypothesis, ...], float]] = []
    for candidate in candidates:
        changes = [change for hypothesis in candidate for change in hypothesis.changes]
        try:
            distance = abs(probe(changes) - value)
            if distance <= NEAR * abs(value) + slack and _gives(attempt, changes, slack):
                fitting.append((candidate, distance))
        except ArithmeticError:
            continue
    exact = [fit for fit in fitting if fit[1] <= attempt.reading.half_digit * 1.0001]
    return _told(exact or fitting, len(candidates), value)


def _told(
    fitting: list[tuple[tuple[Hypothesis, ...], float]], tried: int, value: float
) -> tuple[Explanation, ...]:
    """Return the explanations worth telling, sure or not by how often chance would fit as well.

    Slips that are rare are told only where no commoner one fits.
    """
    size = max(abs(value), 1e-12)
    explanations: dict[tuple[str, ...], Explanation] = {}
    commonest = max((min(h.slip.often for h in candidate) for candidate, _ in fitting), default=0)
    for candidate, distance in fitting:
        chance = tried * 2 * max(distance, FINEST * size) / size / _SPREAD
        rare = min(h.slip.often for h in candidate) < min(commonest, 2)
        if chance <= CHANCE_ASKED and not rare:
            findings = tuple(hypothesis.finding() for hypothesis in candidate)
            slips = tuple(finding.slip for finding in findings)
            explanations.setdefault(slips, Explanation(findings, chance <= CHANCE_TOLD))
    return tuple(explanations.values())[:MOST_TOLD]


def _slack(attempt: Attempt) -> float:
    """Return how far a hypothesis may lie from the number typed, its last digit perhaps cut off."""
    reading = attempt.reading
    return max(reading.half_digit * 2.0001, FINEST * abs(reading.value))


def _gives(attempt: Attempt, changes: list[tuple[Choice, float]], slack: float) -> bool:
    """Return whether some changes give the number typed, over all ways to have come to it."""
    question, key = attempt.question, attempt.step.key
    one = spread(question, key, attempt.own, changes)
    other = spread(question, key, attempt.wrong, changes) if attempt.own != attempt.wrong else one
    whole = Band(min(one.low, other.low), max(one.high, other.high))
    return whole.holds(attempt.reading.value, slack)


def _rounded_early(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return early rounding, where cutting the values used to few figures gives the number."""
    key = attempt.step.key
    exact = attempt.question.graph.values(attempt.question.numbers, {}, own=attempt.own)
    for slip in catalogue.slips.values():
        if not slip.rounding or attempt.step.kind not in slip.kinds:
            continue
        used = [use for use in attempt.step.uses if use in exact]
        cut = {use: float(f"{exact[use]:.{slip.rounding}g}") for use in used}
        if not cut:
            continue
        for some in (cut, *({use: value} for use, value in cut.items())):
            rounded = spread(attempt.question, key, {**attempt.own, **some})
            if rounded.holds(attempt.reading.value, _slack(attempt)):
                return (Explanation((Finding(slip.id, key, ()),), sure=False),)
    return ()


def _explain_terms(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return the slips behind the terms of an equation that are not as they should be."""
    assert attempt.terms is not None
    found = hypotheses(attempt.question.derivation, catalogue)
    findings = []
    for change in attempt.terms.changes:
        match = next((h for h in found if h.changes == (change,)), None)
        if match is None:
            return ()
        findings.append(match.finding())
    return (Explanation(tuple(findings)),) if findings and not attempt.terms.unknown else ()
