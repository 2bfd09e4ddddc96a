"""The search for the slips behind a wrong value: one, then two at once.

A hypothesis is the derivation with some choices made otherwise. It fits when it gives the number
that was typed, to the precision that it was typed with, under some accepted constants and with the
student's own earlier values or their exact ones.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from leverstep.comparing.differences import Difference
from leverstep.comparing.structure import Structure
from leverstep.course.problem import FIGURES
from leverstep.entry.reading import Reading
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.copying import (
    EXACT,
    Copied,
    another_given,
    found_in_arithmetic,
    found_in_value,
    is_exactly,
    may_be_in_value,
    value_of_another_line,
)
from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.hypotheses import Candidate, Hypothesis, hypotheses, pairs, usable
from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.graph import Probe
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.judge import Band, band_of, spread

MOST_KEPT = 3
"""Explanations that fit equally well are kept up to this many."""

NEAR = 0.02
"""A first look lets through what is this close; accepted constants differ by far less."""

FINEST = 4e-4
"""Arithmetic has no last digit; its numbers are still rounded to about this share."""

LAST_DIGIT = 1e-5
"""No number is typed more closely than to about this share; the zeros at its end tell little."""

OTHER_BOOKS = 0.004
"""A value worked with constants that are none of those accepted is off by no more than this."""

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


def explain(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
    """Return the explanations of a wrong entry, the likeliest first; none where nothing fits.

    One slip at this line comes first, then one at a line not yet written, the nearest first, the
    value of another line, early rounding, and two slips at once.
    """
    if attempt.terms is not None:
        return _explain_terms(attempt, catalogue)
    shown = attempt.structure
    if shown is not None and shown.differences:
        return _of_differences(attempt, shown, catalogue)
    if shown is not None:
        pinned = _Search(_pinned(attempt, shown), catalogue)
        told = _one_slip(pinned) or _two_slips(pinned)
        if told and told[0].sure:
            return told
        by_result = _one_slip(_Search(_as_bare_number(attempt), catalogue))
        if told and not (by_result and by_result[0].sure):
            return told
    search = _Search(attempt, catalogue)
    told = (
        _one_slip(search)
        or (_one_slip(_Search(_with_right_lines(attempt), catalogue)) if attempt.wrong else ())
        or _two_slips(search)
    )
    # A choice of words has few answers, so several slips come to each: the plainest is enough.
    return told[:1] if not attempt.step.kind.is_number else told


def _of_differences(
    attempt: Attempt, shown: Structure, catalogue: Catalogue
) -> tuple[Explanation, ...]:
    """Return the slips behind arithmetic that differs from its line: no more than it shows.

    A number recognised as a line that is not written may hold a slip itself. Else the result alone
    may make one sure, unless several numbers are not those of the line.
    """
    if attempt.step.kind.is_size:  # it is laid beside its line whatever its sign
        reading = attempt.reading
        as_size = replace(reading, value=abs(reading.value), worked=abs(reading.worked))
        attempt = replace(attempt, reading=as_size)
    several = len(shown.differences) > 1
    pinned = _Search(_pinned(attempt, shown), catalogue)
    exact = _Search(_pinned(attempt, replace(shown, pins=_constants(shown.pins))), catalogue)
    if told := _one_slip(pinned) or _one_slip(exact):
        return told
    copied = None if several else found_in_arithmetic(attempt.question, shown.differences)
    if copied is not None:
        return _miscopied(attempt, catalogue, copied)
    strange = [one for one in shown.differences if one.what == "instead"]
    as_typed = [replace(attempt, structure=None)] if strange else []
    tries = [*as_typed, _as_bare_number(attempt), *_lines_put_in(attempt, strange)]
    for one in tries if len(strange) < 2 else ():
        told = _one_slip(_Search(one, catalogue))
        if told and told[0].sure:
            return told
    return _two_slips(pinned) if several else ()


def _lines_put_in(attempt: Attempt, strange: Iterable[Difference]) -> Iterator[Attempt]:
    """Yield the line in whose place another number stands, as if that had been typed on it."""
    question = attempt.question
    for one in strange:
        number = re.fullmatch(r"\d+(?:\.(\d+))?", one.typed)
        if number is None or one.about not in question.right or one.about in attempt.own:
            continue
        half_digit = 0.5 * 10.0 ** -len(number[1] or "")
        value = math.copysign(float(one.typed), question.right[one.about])
        step, before = question.derivation.step(one.about), question.derivation.ancestors(one.about)
        yield replace(
            attempt,
            step=step,
            reading=Reading(value, half_digit, FIGURES, worked=value),
            own={key: own for key, own in attempt.own.items() if key in before},
            wrong={key: own for key, own in attempt.wrong.items() if key in before},
            structure=None,
        )


def _as_bare_number(attempt: Attempt) -> Attempt:
    """Return an attempt as if its result had been typed, with a figure more than are asked for."""
    value, figures = attempt.reading.value, FIGURES + 1
    place = math.floor(math.log10(abs(value))) if value else 0
    half_digit = 0.5 * 10.0 ** (place + 1 - figures)
    reading = replace(attempt.reading, half_digit=half_digit, figures=figures)
    return replace(attempt, reading=reading, structure=None)


def _with_right_lines(attempt: Attempt) -> Attempt:
    """Return an attempt as if the earlier lines that are wrong were right: so it may be meant."""
    values = attempt.question.right
    right = {key: values[key] for key in attempt.wrong if key in values}
    return replace(attempt, own={**attempt.own, **right}, wrong={})


def _one_slip(search: _Search) -> tuple[Explanation, ...]:
    """Return the single slips that give the number typed, the simplest and nearest first."""
    attempt = search.attempt
    if search.is_for_nothing:
        return ()
    here = [h for h in search.found if h.step == attempt.step.key]
    before = [h for h in search.found if h.step != attempt.step.key]
    given = another_given(attempt, search.catalogue)
    if given and not any(map(search.gives_exactly, search.found)):
        return given
    told = search.told([(h,) for h in here], [(h,) for h in before])
    if told or search.shows_differences:
        return told
    return (
        _turned_round(search, here)
        or value_of_another_line(attempt, search.catalogue, search.slack)
        or _rounded_early(search, _cut_once)
        or _miscopied(attempt, search.catalogue, found_in_value(attempt))
    )


def _two_slips(search: _Search) -> tuple[Explanation, ...]:
    """Return the pairs of slips that give the number typed, where no single one does."""
    attempt = search.attempt
    if search.is_for_nothing:
        return ()
    near = [h for h in search.found if h.step in search.near]
    both = search.told(list(pairs(near, attempt.step.key)))
    if both and both[0].sure:
        # One digit copied wrongly is likelier than two slips.
        sure = not may_be_in_value(attempt)
        return tuple(replace(one, sure=one.sure and sure) for one in both)
    return _rounded_early(search, _between) or both


def _pinned(attempt: Attempt, shown: Structure) -> Attempt:
    """Return an attempt with the values that its arithmetic takes, and no rounding of its own."""
    taken = _constants(shown.pins)
    own = {key: value for key, value in attempt.own.items() if key not in shown.opened}
    own |= {key: value for key, value in shown.pins.items() if key not in taken}
    value = attempt.reading.worked
    reading = replace(attempt.reading, value=value, half_digit=EXACT * abs(value), figures=None)
    return replace(attempt, own=own, wrong=own, reading=reading, taken=taken)


def _constants(pins: Mapping[str, float]) -> dict[str, float]:
    """Return those of some values that are of constants."""
    return {key: value for key, value in pins.items() if key in CONVENTIONS}


class _Search:
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


def _changes(candidate: Candidate) -> list[tuple[Choice, float]]:
    """Return what slips take otherwise, all together."""
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
    cut = 2.0001 if reading.figures is not None and reading.figures >= FIGURES else 1.0001
    return max(reading.half_digit * cut, FINEST * abs(reading.value))


def _turned_round(search: _Search, found: Iterable[Hypothesis]) -> tuple[Explanation, ...]:
    """Return the slip of a sign in a value that was worked with constants of other books.

    The value is then right but for a sign, to the few figures that such constants agree in.
    """
    question, reading = search.attempt.question, search.attempt.reading
    for hypothesis in found:
        if all(choice.kind in ("flip", "minus") for choice, _ in hypothesis.changes):
            turned = band_of(question, search.probe, hypothesis.changes)
            if turned and turned.widened(OTHER_BOOKS).holds(reading.value, reading.half_digit):
                return (Explanation((hypothesis.finding(),), sure=False),)
    return ()


def _miscopied(
    attempt: Attempt, catalogue: Catalogue, copied: Copied | None
) -> tuple[Explanation, ...]:
    """Return that a number was copied wrongly, as a question."""
    slip = next((s for s in catalogue.slips.values() if s.miscopied), None)
    if copied is None or slip is None or attempt.step.kind.name not in slip.kinds:
        return ()
    found = Finding(slip.id, attempt.step.key, (), miscopied=copied.given, copied=copied.number)
    return (Explanation((found,), sure=False),)


def _rounded_early(
    search: _Search,
    reachable: Callable[[_Search, int], Iterable[Band | None]],
) -> tuple[Explanation, ...]:
    """Return early rounding, where the values used, cut to few figures, can give the number.

    Args:
        search: that behind the wrong entry; the slips say to how many figures values may be cut.
        reachable: what the line can come to where values are cut to some figures.
    """
    attempt, key = search.attempt, search.attempt.step.key
    for slip in search.catalogue.slips.values():
        if not slip.rounding or attempt.step.kind.name not in slip.kinds:
            continue
        found = Explanation((Finding(slip.id, key, ()),), sure=False)
        bands = filter(None, reachable(search, slip.rounding))
        if any(band.holds(search.value, search.slack) for band in bands):
            return (found,)
    return ()


def _cuts(attempt: Attempt, step: Step, figures: int) -> Iterator[Mapping[str, float]]:
    """Yield the values that a line is worked from, each cut to some figures.

    There are two where a value half way between may have been rounded up or down.
    """
    exact = attempt.values
    up, down = (
        {use: float(f"{exact[use] * nudge:.{figures}g}") for use in step.uses if use in exact}
        for nudge in (1 + 1e-9, 1 - 1e-9)
    )
    yield up
    if up != down:
        yield down


def _cut_once(search: _Search, figures: int) -> Iterator[Band | None]:
    """Yield what the line comes to where all values that a line is worked from are cut, or one.

    That is the line itself, or the next before it that are not written.
    """
    attempt = search.attempt
    for key in search.near:
        step = attempt.question.derivation.step(key)
        for cut in _cuts(attempt, step, figures):
            for some in (cut, *({use: value} for use, value in cut.items())):
                own = {**attempt.own, **some}
                yield spread(attempt.question, attempt.step.key, own, attempt.taken)


def _between(search: _Search, figures: int) -> Iterator[Band | None]:
    """Yield all that a line can come to where any of the values that it rests on may be cut.

    These may in turn have come from cut values, so each lies anywhere within its last figure.
    """
    for cut in _cuts(search.attempt, search.attempt.step, figures):
        yield from _all_between(search.attempt, cut, figures)


def _all_between(attempt: Attempt, cut: Mapping[str, float], figures: int) -> Iterator[Band | None]:
    question, key, own = attempt.question, attempt.step.key, attempt.own
    exact = attempt.values
    right = spread(question, key, own, attempt.taken)
    if right is None:
        return
    low, high = right.low, right.high
    for use, value in cut.items():
        off = abs(value - exact[use])
        if use not in own and value:
            off = max(off, 0.5 * 10 ** (math.floor(math.log10(abs(value))) + 1 - figures))
        for end in (exact[use] - off, exact[use] + off):
            moved = spread(question, key, {**own, use: end}, attempt.taken)
            if moved is None:
                return
            low += min(0.0, moved.low - right.low)
            high += max(0.0, moved.high - right.high)
    yield Band(low, high)


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
    forces = attempt.question.problem.posture.turning_symbols
    if len(findings) == 1 and len(forces) == 2 and attempt.terms.changes[0][0].kind == "flip":
        # Of two terms either may have the wrong sign.
        findings[0] = replace(findings[0], abouts=forces)
    return (Explanation(tuple(findings)),)
