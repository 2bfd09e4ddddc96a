"""Which of some slips give the number that was typed, and how often chance would do so as well.

A hypothesis is the derivation with some choices made otherwise. It fits when it gives the number
that was typed, to the precision that it was typed with, under some accepted constants and with the
student's own earlier values or their exact ones.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from leverstep.comparing.known import half_digits_off
from leverstep.course.problem import FIGURES
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.copying import is_exactly
from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.hypotheses import Candidate, Hypothesis, usable
from leverstep.statics.choices import Choice
from leverstep.statics.graph import Probe
from leverstep.working.attempt import Attempt
from leverstep.working.judge import Band, band_of

MOST_KEPT = 3
"""Explanations that fit equally well are kept up to this many."""

NEAR = 0.02
"""A first look lets through what is this close; accepted constants differ by far less."""

FINEST = 4e-4
"""Arithmetic has no last digit; its numbers are still rounded to about this share."""

LAST_DIGIT = 1e-5
"""No number is typed more closely than to about this share; the zeros at its end tell little."""

CHANCE_TOLD = 0.02
CHANCE_ASKED = 0.15
CHANCE_ASKED_BEFORE = 0.05
"""How often chance may fit as well: up to the first a slip is told, up to the second asked, or up
to the third where it was made on a line before, of which there may be many."""

CHANCE_ASKED_TO_THE_DIGIT = 0.3
"""The same of a slip that is not rare and gives three figures or more, each as typed: a random
number has hardly ever any slip as near to it, however many are tried."""

CHANCE_PAIR_TOLD = 0.006
CHANCE_PAIR_ASKED = 0.25
"""The same of two slips at once, where nothing simpler fits."""

RARE = 3.0
"""A rare slip must fit this much more closely than chance to be told."""

_SPREAD = 2 * math.log(400)
"""Random wrong numbers are taken as spread evenly in size over a factor of 20 up and down, with
either sign; this is the width of that on a scale of logarithms."""


@dataclass(frozen=True, slots=True)
class _Fit:
    """A candidate that gives the number typed, how closely, and how often chance would.

    `rank` is 0 where it gives every digit, 1 where it does so with other constants, else 2.
    `before` is set where a slip of it was made on a line before, `is_coarse` where fewer figures
    were typed than are asked for.
    """

    candidate: Candidate
    rank: int
    chance: float
    before: bool
    is_coarse: bool

    @property
    def limits(self) -> tuple[float, float]:
        """Return up to which chance it is told, and up to which it is asked."""
        if len(self.candidate) > 1:
            return CHANCE_PAIR_TOLD, CHANCE_PAIR_ASKED
        if self.rank == 0 and self.often > 1 and not self.is_coarse:
            return CHANCE_TOLD, CHANCE_ASKED_TO_THE_DIGIT
        return CHANCE_TOLD, CHANCE_ASKED_BEFORE if self.before else CHANCE_ASKED

    @property
    def often(self) -> int:
        return min(hypothesis.slip.often for hypothesis in self.candidate)

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(sorted(hypothesis.slip.name for hypothesis in self.candidate))


class SlipSearch:
    """The search behind one entry; it counts what it tried, since chance grows with that."""

    def __init__(self, attempt: Attempt, catalogue: Catalogue) -> None:
        derivation, written = attempt.question.derivation, frozenset(attempt.own)
        self.attempt = attempt
        self.catalogue = catalogue
        self.found, self.far = usable(derivation, catalogue, attempt.step.key, written)
        self.tried = 0
        self.value = attempt.reading.value
        self.slack = _slack(attempt)
        self.probe = self._probe(attempt.own)

    @property
    def near(self) -> tuple[str, ...]:
        """Return the line itself, and the next before it that are not written."""
        return tuple(key for key, distance in self.far.items() if distance <= 1)

    @property
    def is_for_nothing(self) -> bool:
        """Return whether a zero was typed: too many slips come to that."""
        return self.value == 0 and self.attempt.step.kind.is_number

    @property
    def shows_differences(self) -> bool:
        """Return whether the arithmetic of the entry is known to differ from its line."""
        return self.attempt.structure is not None and bool(self.attempt.structure.differences)

    @cached_property
    def as_exact(self) -> Probe:
        """Return the step with earlier values as they are exactly, but for those not right."""
        return self._probe(self.attempt.wrong)

    def _probe(self, own: Mapping[str, float]) -> Probe:
        attempt, question = self.attempt, self.attempt.question
        return question.graph.probe(attempt.step.key, question.numbers, own, attempt.taken)

    def gives_exactly(self, hypothesis: Hypothesis) -> bool:
        """Return whether a slip gives the very number typed, by earlier values as they are exactly
        or as they are written.
        """
        try:
            results = [probe.at(hypothesis.changes) for probe in (self.probe, self.as_exact)]
        except ArithmeticError:
            return False
        return any(is_exactly(abs(self.value), abs(result)) for result in results)

    def told(self, *groups: Iterable[Candidate]) -> tuple[Explanation, ...]:
        """Return the candidates that give the number typed, as explanations worth telling.

        Of several groups an earlier one comes first, but what gives the number to its last digit
        comes before what gives it with other constants, and that before what only comes near.
        """
        near: list[list[_Fit]] = []
        for group in groups:
            near.append(list(self._fits(group)))
            if told := _worth_telling([fit for fit in near[-1] if fit.rank == 0]):
                return told
        ranked = ([f for f in fits if f.rank <= rank] for rank in (1, 2) for fits in near)
        return next(filter(None, map(_worth_telling, ranked)), ())

    def _fits(self, candidates: Iterable[Candidate]) -> Iterator[_Fit]:
        """Yield the candidates that come near the number typed."""
        reach = NEAR * abs(self.value) + self.slack
        digit = max(self.attempt.reading.half_digit * 1.0001, LAST_DIGIT * abs(self.value))
        exact = min(digit, self.slack)  # what comes as close as this needs no other constants
        near: list[tuple[Candidate, float, int]] = []
        for candidate in candidates:
            self.tried += 1
            try:
                distance = abs(self._result(candidate) - self.value)
                gap = self._gap(candidate) if exact < distance <= reach else distance
            except ArithmeticError:
                continue
            if gap <= self.slack:
                near.append((candidate, distance, 0 if distance <= digit else 1 + (gap > digit)))
        figures = self.attempt.reading.figures
        is_coarse = figures is not None and figures < FIGURES
        for candidate, distance, rank in near:
            before = any(self.far[hypothesis.step] for hypothesis in candidate)
            yield _Fit(candidate, rank, self._chance(candidate, distance), before, is_coarse)

    def _result(self, candidate: Candidate) -> float:
        """Return what slips give; a size that comes out negative is written without its sign."""
        result = self.probe.at(_changes(candidate))
        if result < 0 < self.value and self.attempt.step.kind.is_size:
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

    def _gap(self, candidate: Candidate) -> float:
        """Return how far off the number typed is from all that slips may give.

        They may have been made with any accepted constants, and with earlier values as they are
        written or as they are exactly.
        """
        changes = _changes(candidate)
        question = self.attempt.question
        bands = [band_of(question, probe, changes) for probe in (self.probe, self.as_exact)]
        there = [band for band in bands if band is not None]
        if len(there) < len(bands):
            return math.inf
        whole = Band(min(band.low for band in there), max(band.high for band in there))
        gap = whole.gap(self.value)
        if self.value > 0 and self.attempt.step.kind.is_size:
            gap = min(gap, whole.gap(-self.value))
        return gap


def _changes(candidate: Candidate) -> Sequence[tuple[Choice, float]]:
    """Return what slips take otherwise, all together."""
    if len(candidate) == 1:
        return candidate[0].changes
    return [change for hypothesis in candidate for change in hypothesis.changes]


def _worth_telling(fits: list[_Fit]) -> tuple[Explanation, ...]:
    """Return the explanations worth telling, sure or not by how often chance would fit as well.

    Slips that are rare are told only where no commoner one fits. The same slips made about other
    forces are one explanation, which names all of them.
    """
    commonest = max((fit.often for fit in fits), default=0)
    found: dict[tuple[str, ...], Explanation] = {}
    for fit in fits:
        told, most = fit.limits
        if fit.chance > most or fit.often < min(commonest, 2):
            continue
        findings = tuple(hypothesis.finding() for hypothesis in fit.candidate)
        known = found.get(fit.names)
        if known is not None:
            findings = tuple(map(_merged, known.findings, findings))
        sure = fit.chance <= told or (known is not None and known.sure)
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
    if attempt.structure is not None and attempt.structure.differences:
        return reading.half_digit
    return max(reading.half_digit * half_digits_off(reading.figures), FINEST * abs(reading.value))
