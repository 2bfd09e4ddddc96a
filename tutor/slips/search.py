"""The search for the slips behind a wrong value: one, then two at once.

A hypothesis is the derivation with some choices made otherwise. It fits when it gives the number
that was typed, to the precision that it was typed with, under some accepted constants and with the
student's own earlier values or their exact ones.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from tutor.slips.catalogue import Catalogue, Slip
from tutor.statics.balance import EQUATION
from tutor.statics.choices import CONVENTIONS, Choice
from tutor.statics.graph import Placed
from tutor.statics.posture import Posture
from tutor.statics.reaction import ACROSS, UP
from tutor.statics.step import SIZES, WORDS, Derivation, Step
from tutor.working.judge import COARSE, Band, spread
from tutor.working.structure import Structure
from tutor.working.verdict import Explanation, Finding
from tutor.working.wording import abouts
from tutor.working.working import Attempt

MOST_KEPT = 3
"""Explanations that fit equally well are kept up to this many."""

NEAR = 0.02
"""A first look lets through what is this close; accepted constants differ by far less."""

FINEST = 4e-4
"""Arithmetic has no last digit; its numbers are still rounded to about this share."""

EXACT = 1e-6
"""Arithmetic whose numbers are all recognised comes to what its slip gives, as near as this."""

CHANCE_TOLD, CHANCE_ASKED = 0.02, 0.15
"""How often chance may fit as well: up to the first a slip is told, up to the second asked."""

RARE = 3.0
"""A rare slip must fit this much more closely than chance to be told."""

_SPREAD = 2 * math.log(400)
"""Random wrong numbers are taken as spread evenly in size over a factor of 20 up and down, with
either sign; this is the width of that on a scale of logarithms."""


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """A slip at a place: the step it is made at, and the choices it changes."""

    slip: Slip
    step: str
    changes: tuple[tuple[Choice, float], ...]

    @property
    def about(self) -> str:
        """Return the force or distance that it is about, "" for the whole line."""
        abouts = {choice.about for choice, _ in self.changes}
        return abouts.pop() if len(abouts) == 1 else ""

    def finding(self) -> Finding:
        """Return the hypothesis as something found."""
        return Finding(self.slip.id, self.step, self.changes, (self.about,) if self.about else ())


Candidate = tuple[Hypothesis, ...]


@dataclass(frozen=True, slots=True)
class _Fit:
    """A candidate that gives the number typed, how far from it, and how often chance would."""

    candidate: Candidate
    distance: float
    chance: float

    @property
    def often(self) -> int:
        return min(hypothesis.slip.often for hypothesis in self.candidate)

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(sorted(hypothesis.slip.name for hypothesis in self.candidate))


def explain(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return the explanations of a wrong entry, the likeliest first; none where nothing fits.

    One slip at this line comes first, then one at a line not yet written, the nearest first, the
    value of another line, early rounding, and two slips at once.
    """
    if attempt.terms is not None:
        return _explain_terms(attempt, catalogue)
    shown = attempt.structure
    if shown is not None:
        told = _of_slips(_pinned(attempt, shown), catalogue, most=len(shown.differences) or 2)
        if told or shown.differences:
            return told
    told = _of_slips(attempt, catalogue)
    # A choice of words has few answers, so several slips come to each: the plainest is enough.
    return told[:1] if attempt.step.kind in WORDS else told


def _of_slips(attempt: Attempt, catalogue: Catalogue, most: int = 2) -> tuple[Explanation, ...]:
    """Return the slips that give the number typed, the simplest and nearest first.

    Up to `most` of them may have been made at once, one or two.
    """
    derivation, key = attempt.question.derivation, attempt.step.key
    far = _distances(derivation, key, frozenset(attempt.own))
    usable = [h for h in hypotheses(derivation, catalogue) if h.step in far]
    usable.sort(key=lambda h: (far[h.step], -h.slip.often))
    here = [h for h in usable if h.step == key]
    search = _Search(attempt, far)
    told = (
        search.told((h,) for h in here)
        or search.told((h,) for h in usable if h.step != key)
        or _another_line(attempt, catalogue)
        or _rounded_early(attempt, catalogue)
    )
    if told or most < 2:
        return told
    return search.told(_pairs([h for h in usable if far[h.step] <= 1], key))


def _pinned(attempt: Attempt, shown: Structure) -> Attempt:
    """Return an attempt with the values that its arithmetic takes, and no rounding of its own."""
    taken = {key: value for key, value in shown.pins.items() if key in CONVENTIONS}
    own = {key: value for key, value in attempt.own.items() if key not in shown.opened}
    own |= {key: value for key, value in shown.pins.items() if key not in taken}
    value = attempt.reading.worked
    reading = replace(attempt.reading, value=value, half_digit=EXACT * abs(value), figures=None)
    return replace(attempt, own=own, wrong=own, reading=reading, taken=taken)


@lru_cache(maxsize=1024)
def _distances(derivation: Derivation, key: str, written: frozenset[str]) -> Mapping[str, int]:
    """Return how far back each step lies that is not written: 0 for the step itself."""
    found = {key: 0}
    waiting = [key]
    known = {step.key for step in derivation.steps}
    while waiting:
        step = waiting.pop(0)
        for use in derivation.step(step).uses:
            if use in known and use not in written and use not in found:
                found[use] = found[step] + 1
                waiting.append(use)
    return found


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
    if not slip.given or step.kind == "mass":
        return True
    if step.kind == "distance":
        given = next(d.given for d in posture.distances if d.symbol == step.about)
        return given.unit in slip.given
    if step.kind in ("body_weight", "segment_mass"):
        return posture.body is not None and posture.body.unit in slip.given
    force = next((f for f in posture.forces if about in abouts(f)), None)
    magnitude = force.magnitude if force is not None else None
    return magnitude is not None and magnitude.unit in slip.given


def role_of(posture: Posture, about: str) -> str:
    """Return the role of the force with this symbol or distance: one of `ROLES`, "" for none."""
    if not about:
        return "line"
    for force in posture.forces:
        if about in abouts(force):
            own = "own weight" if force.own_weight else "load"
            return "effort" if force is posture.effort else own
    return "part" if about in (ACROSS, UP) else ""


def _consistent(slip: Slip, at_steps: Mapping[str, list[Hypothesis]]) -> Iterator[Hypothesis]:
    """Yield the same slip made at every step where it can be: one slip, not several."""
    places = {k: found for k, found in at_steps.items() if len(found) == 1 and k != EQUATION}
    if len(places) > 1:
        changes = [change for found in places.values() for change in found[0].changes]
        yield Hypothesis(slip, next(iter(places)), tuple(changes))


def _pairs(usable: list[Hypothesis], key: str) -> Iterator[Candidate]:
    """Yield two slips at once, of which at least one is at the step itself."""
    changed = [(one, frozenset(choice.name for choice, _ in one.changes)) for one in usable]
    for (one, choices), (other, others) in itertools.combinations(changed, 2):
        if one.step != key and other.step != key:
            continue
        if one.slip.id != other.slip.id and choices.isdisjoint(others):
            yield (one, other)


class _Search:
    """The search behind one entry; it counts what it tried, since chance grows with that."""

    def __init__(self, attempt: Attempt, far: Mapping[str, int]) -> None:
        question, reading = attempt.question, attempt.reading
        self.attempt = attempt
        self.far = far
        self.tried = 0
        self.value = reading.value
        self.slack = _slack(attempt)
        self.probe = question.graph.probe(
            attempt.step.key, question.numbers, attempt.own, attempt.taken
        )
        self.placed: dict[int, Placed] = {}

    def told(self, candidates: Iterable[Candidate]) -> tuple[Explanation, ...]:
        """Return the candidates that give the number typed, as explanations worth telling."""
        near: list[tuple[Candidate, float]] = []
        reach = NEAR * abs(self.value) + self.slack
        for candidate in candidates:
            self.tried += 1
            try:
                distance = abs(self._result(candidate) - self.value)
                if distance <= reach and self._gives(candidate):
                    near.append((candidate, distance))
            except ArithmeticError:
                continue
        fits = [_Fit(c, distance, self._chance(c, distance)) for c, distance in near]
        exact = [f for f in fits if f.distance <= self.attempt.reading.half_digit * 1.0001]
        return _worth_telling(exact or fits)

    def _result(self, candidate: Candidate) -> float:
        """Return what slips give; a size that comes out negative is written without its sign."""
        placed: Placed = ()
        for hypothesis in candidate:
            if id(hypothesis) not in self.placed:
                self.placed[id(hypothesis)] = self.probe.placed(hypothesis.changes)
            placed += self.placed[id(hypothesis)]
        result = self.probe.at(placed)
        if result < 0 < self.value and self.attempt.step.kind in SIZES:
            minus = any(c.kind == "minus" for h in candidate for c, _ in h.changes)
            return result if minus else -result
        return result

    def _chance(self, candidate: Candidate, distance: float) -> float:
        """Return how often a random number would fit as well, more for what is rare or far."""
        size = max(abs(self.value), 1e-12)
        chance = self.tried * 2 * max(distance, _finest(self.attempt)) / size / _SPREAD
        for hypothesis in candidate:
            chance *= 1 + self.far[hypothesis.step]
            if hypothesis.slip.often == 1 and len(candidate) > 1:
                chance *= RARE
        return chance

    def _gives(self, candidate: Candidate) -> bool:
        """Return whether slips give the number typed, over all ways to have come to it."""
        changes = [change for hypothesis in candidate for change in hypothesis.changes]
        question, key = self.attempt.question, self.attempt.step.key
        own, wrong = self.attempt.own, self.attempt.wrong
        taken = self.attempt.taken
        one = spread(question, key, own, changes, taken)
        other = spread(question, key, wrong, changes, taken) if own != wrong else one
        whole = Band(min(one.low, other.low), max(one.high, other.high))
        if whole.holds(self.value, self.slack):
            return True
        dropped = self.value > 0 and self.attempt.step.kind in SIZES
        return dropped and whole.holds(-self.value, self.slack)


def _worth_telling(fits: list[_Fit]) -> tuple[Explanation, ...]:
    """Return the explanations worth telling, sure or not by how often chance would fit as well.

    Slips that are rare are told only where no commoner one fits. The same slips made about other
    forces are one explanation, which names all of them.
    """
    commonest = max((fit.often for fit in fits), default=0)
    found: dict[tuple[str, ...], Explanation] = {}
    for fit in fits:
        if fit.chance > CHANCE_ASKED or fit.often < min(commonest, 2):
            continue
        findings = tuple(hypothesis.finding() for hypothesis in fit.candidate)
        known = found.get(fit.names)
        if known is not None:
            findings = tuple(map(_merged, known.findings, findings))
        sure = fit.chance <= CHANCE_TOLD or (known is not None and known.sure)
        found[fit.names] = Explanation(findings, sure)
    return tuple(found.values())[:MOST_KEPT]


def _merged(one: Finding, other: Finding) -> Finding:
    """Return a finding that may be about what either of two is about, on the same line."""
    if one.step != other.step or one.slip != other.slip:
        return one
    return replace(one, abouts=tuple(dict.fromkeys(one.abouts + other.abouts)))


def _finest(attempt: Attempt) -> float:
    """Return how close a number can come to a hypothesis at best, by what it was typed from."""
    reading = attempt.reading
    is_pinned = reading.figures is None and reading.half_digit > 0
    return reading.half_digit if is_pinned else FINEST * abs(reading.value)


def _slack(attempt: Attempt) -> float:
    """Return how far a hypothesis may lie from the number typed.

    Three figures or more may have been cut off instead of rounded.
    """
    reading = attempt.reading
    cut = 2.0001 if reading.figures is not None and reading.figures >= COARSE else 1.0001
    return max(reading.half_digit * cut, FINEST * abs(reading.value))


def _values(attempt: Attempt) -> Mapping[str, float]:
    """Return the value of every step with the student's own earlier lines, none without an end."""
    question = attempt.question
    try:
        return question.graph.values(question.numbers, {}, own=attempt.own)
    except ArithmeticError:
        return {}


def _another_line(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return that the value of another line stands here, where it is one of the same kind."""
    question, key = attempt.question, attempt.step.key
    slip = next((s for s in catalogue.slips.values() if s.another_line), None)
    if slip is None or attempt.step.kind not in slip.kinds:
        return ()
    values = _values(attempt)
    for step in question.derivation.asked:
        if step.key == key or step.unit != attempt.step.unit or step.kind not in slip.kinds:
            continue
        if abs(values.get(step.key, math.inf) - attempt.reading.value) <= _slack(attempt):
            return (Explanation((Finding(slip.id, key, (), line=step.key),), sure=False),)
    return ()


def _rounded_early(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return early rounding, where the values used, cut to few figures, can give the number.

    Any of them may have been cut, so what can come out is an interval.
    """
    key = attempt.step.key
    exact = _values(attempt)
    for slip in catalogue.slips.values():
        if not slip.rounding or attempt.step.kind not in slip.kinds:
            continue
        found = Explanation((Finding(slip.id, key, ()),), sure=False)
        # A value half way between may have been rounded up or down.
        for nudge in (1 + 1e-9, 1 - 1e-9):
            cut = {
                use: float(f"{exact[use] * nudge:.{slip.rounding}g}")
                for use in attempt.step.uses
                if use in exact
            }
            if cut and _between(attempt, cut).holds(attempt.reading.value, _slack(attempt)):
                return (found,)
    return ()


def _between(attempt: Attempt, cut: Mapping[str, float]) -> Band:
    """Return what a line can come to where some of the values that it rests on are cut."""
    question, key, own = attempt.question, attempt.step.key, attempt.own
    middle = spread(question, key, own, (), attempt.taken).middle
    higher, lower = dict(own), dict(own)
    for use, value in cut.items():
        moved = spread(question, key, {**own, use: value}, (), attempt.taken).middle
        (higher if moved > middle else lower)[use] = value
    ends = [spread(question, key, some, (), attempt.taken) for some in (lower, higher)]
    return Band(min(end.low for end in ends), max(end.high for end in ends))


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
    if not findings or attempt.terms.unknown:
        return ()
    forces = attempt.question.problem.posture.turning
    if len(findings) == 1 and len(forces) == 2 and attempt.terms.changes[0][0].kind == "flip":
        # Of two terms either may have the wrong sign.
        findings[0] = replace(findings[0], abouts=tuple(force.symbol for force in forces))
    return (Explanation(tuple(findings)),)
