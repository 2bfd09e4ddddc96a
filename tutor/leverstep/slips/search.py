"""The search for the slips behind a wrong value: one, then two at once."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from leverstep.comparing.differences import Difference
from leverstep.comparing.structure import Structure
from leverstep.course.problem import FIGURES
from leverstep.entry.reading import Reading
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.copying import (
    EXACT,
    another_given,
    found_in_arithmetic,
    found_in_value,
    may_be_in_value,
    miscopied,
    value_of_another_line,
)
from leverstep.slips.early_rounding import between, cut_once, rounded_early
from leverstep.slips.finding import Explanation
from leverstep.slips.hypotheses import Hypothesis, hypotheses, pairs
from leverstep.slips.slip_search import SlipSearch
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.attempt import Attempt
from leverstep.working.judge import band_of

OTHER_BOOKS = 0.004
"""A value worked with constants that are none of those accepted is off by no more than this."""


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
        pinned = SlipSearch(_pinned(attempt, shown), catalogue)
        told = _one_slip(pinned) or _two_slips(pinned)
        if told and told[0].sure:
            return told
        by_result = _one_slip(SlipSearch(_as_bare_number(attempt), catalogue))
        if told and not (by_result and by_result[0].sure):
            return told
    search = SlipSearch(attempt, catalogue)
    told = (
        _one_slip(search)
        or (_one_slip(SlipSearch(_with_right_lines(attempt), catalogue)) if attempt.wrong else ())
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
        as_size = reading._replace(value=abs(reading.value), worked=abs(reading.worked))
        attempt = replace(attempt, reading=as_size)
    several = len(shown.differences) > 1
    pinned = SlipSearch(_pinned(attempt, shown), catalogue)
    exact = SlipSearch(_pinned(attempt, replace(shown, pins=_constants(shown.pins))), catalogue)
    if told := _one_slip(pinned) or _one_slip(exact):
        return told
    copied = None if several else found_in_arithmetic(attempt.question, shown.differences)
    if copied is not None:
        return miscopied(attempt, catalogue, copied)
    strange = [one for one in shown.differences if one.what == "instead"]
    as_typed = [replace(attempt, structure=None)] if strange else []
    tries = [*as_typed, _as_bare_number(attempt), *_lines_put_in(attempt, strange)]
    for one in tries if len(strange) < 2 else ():
        told = _one_slip(SlipSearch(one, catalogue))
        if told and told[0].sure:
            return told
    if not several:
        return ()
    if len(strange) == len(shown.differences):
        # All of another line, worked out here, is one slip and not one for each of its numbers.
        slack = SlipSearch(replace(attempt, structure=None), catalogue).slack
        if told := value_of_another_line(attempt, catalogue, slack):
            return told
    return _two_slips(pinned)


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
    reading = attempt.reading._replace(half_digit=half_digit, figures=figures)
    return replace(attempt, reading=reading, structure=None)


def _with_right_lines(attempt: Attempt) -> Attempt:
    """Return an attempt as if the earlier lines that are wrong were right: so it may be meant."""
    values = attempt.question.right
    right = {key: values[key] for key in attempt.wrong if key in values}
    return replace(attempt, own={**attempt.own, **right}, wrong={})


def _one_slip(search: SlipSearch) -> tuple[Explanation, ...]:
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
        or rounded_early(search, cut_once)
        or miscopied(attempt, search.catalogue, found_in_value(attempt))
    )


def _two_slips(search: SlipSearch) -> tuple[Explanation, ...]:
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
    return rounded_early(search, between) or both


def _pinned(attempt: Attempt, shown: Structure) -> Attempt:
    """Return an attempt with the values that its arithmetic takes, and no rounding of its own."""
    taken = _constants(shown.pins)
    own = {key: value for key, value in attempt.own.items() if key not in shown.opened}
    own |= {key: value for key, value in shown.pins.items() if key not in taken}
    value = attempt.reading.worked
    reading = attempt.reading._replace(value=value, half_digit=EXACT * abs(value), figures=None)
    return replace(attempt, own=own, wrong=own, reading=reading, taken=taken)


def _constants(pins: Mapping[str, float]) -> dict[str, float]:
    """Return those of some values that are of constants."""
    return {key: value for key, value in pins.items() if key in CONVENTIONS}


def _turned_round(search: SlipSearch, found: Iterable[Hypothesis]) -> tuple[Explanation, ...]:
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
