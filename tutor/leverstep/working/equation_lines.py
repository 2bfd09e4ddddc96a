"""Equations: in symbols, with numbers in them, or a formula whose symbols have no value yet."""

from __future__ import annotations

import math
from collections.abc import Mapping

from leverstep.comparing.equation import TermFindings, judge_equation
from leverstep.comparing.structure import (
    Structure,
    are_known,
    structure,
    structure_of_equation,
)
from leverstep.comparing.terms import has_value
from leverstep.course.problem import Question
from leverstep.entry.reading import Reading
from leverstep.entry.tree import Name, Reason, Unreadable, names_in
from leverstep.statics import kinds
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.attempt import Attempt
from leverstep.working.free import FreeLine
from leverstep.working.judge import judge_value
from leverstep.working.standing_lines import Line, StandingLines
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.writing import quantity


def judge_symbols(question: Question, step: Step, text: str, reading: Reading) -> Line:
    """Return the line of an equation in symbols, judged term by term."""
    terms = judge_equation(question, step, reading.sides)
    if not terms.changes and not terms.unknown:
        return Line(text, reading, Verdict(step.key, text, Outcome.RIGHT))
    of_moments = step.kind is kinds.EQUATION
    shown = structure_of_equation(question, step, reading.sides, {}) if of_moments else None
    if shown and 0 < len(shown.differences) < len(terms.changes) + 3 * len(terms.unknown):
        # What stands in the equation says it more plainly than a slip in each of its terms.
        attempt = Attempt(question, step, reading, {}, {}, structure=shown, only_structure=True)
        return Line(text, reading, Verdict(step.key, text, Outcome.WRONG, attempt=attempt))
    reason = _unknown_terms(terms, of_moments) if terms.unknown else None
    attempt = Attempt(question, step, reading, {}, {}, terms)
    return Line(text, reading, Verdict(step.key, text, Outcome.WRONG, reason, attempt=attempt))


def _unknown_terms(terms: TermFindings, of_moments: bool) -> Reason:
    """Return which terms of an equation are not understood."""
    names = [name for name in terms.unknown if name]
    if not names:
        return Reason("term_without_force") if of_moments else Reason("number_without_force")
    if of_moments:
        return Reason.of("term", names=" ".join(names))
    return Reason.of("term_of_balance", names=" ".join(names))


def judge_numbers(
    lines: StandingLines, free: FreeLine, implied: Reading, text: str, tells: bool
) -> Line:
    """Return the line of an equation with numbers, judged by what its one unknown comes to.

    Args:
        lines: those that stand.
        free: the equation.
        implied: what its unknown comes to.
        text: the equation as it was typed.
        tells: whether the student sees what comes of it.

    Raises:
        Unreadable: where its numbers are not seen to be those of an equation of this problem.
    """
    step = lines.question.derivation.step(free.of)
    question = lines.question.at(step)
    beside = lines.beside(step.key)
    is_eliminated = step.kind is kinds.PAIR_FORCE  # two equations made one, in any way there is
    shown = None if is_eliminated else structure_of_equation(question, step, free.sides, beside)
    known = is_eliminated or are_known(question, step, free.sides, beside)
    own, wrong = (_with_typed(values, shown) for values in lines.carried(step))
    judged = judge_value(question, step, implied, (own, wrong))
    holds = judged.right or judged.follows
    if shown is None and not (tells and holds and known):
        raise _not_understood(tells, holds)
    kept = implied._replace(sides=free.sides) if free.key != free.of else implied
    if holds and (known or not _differs(shown)):
        followed = not judged.right and bool(lines.carried(step)[1])
        outcome = Outcome.FOLLOWED if followed else Outcome.RIGHT
        reason = Reason.of("implied", name=free.of, value=quantity(implied.value, step.unit))
        return Line(text, kept, Verdict(free.key, text, outcome, reason), implies=free.of)
    size = abs(implied.value) if step.kind.is_size else implied.value
    slipped = implied._replace(value=size, worked=size)
    only_sign = judge_value(question, step, slipped, (own, wrong)).right
    attempt = Attempt(
        question, step, slipped, own, wrong, structure=shown, only_structure=only_sign
    )
    return Line(text, kept, Verdict(free.key, text, Outcome.WRONG, attempt=attempt))


def _with_typed(values: Mapping[str, float], shown: Structure | None) -> dict[str, float]:
    """Return values with the numbers typed for lines that may not be written."""
    pins = {} if shown is None else shown.pins
    return {key: value for key, value in pins.items() if key not in CONVENTIONS} | dict(values)


def _not_understood(tells: bool, holds: bool) -> Unreadable:
    """Return why an equation is not judged that is not seen to be one of this problem.

    Nothing says whether it is wrong then, or true and not known here.
    """
    if not tells:
        return Unreadable("numbers_not_seen")
    return Unreadable("numbers_from_where") if holds else Unreadable("not_matched")


def _differs(shown: Structure | None) -> bool:
    """Return whether an equation differs from what it should be by more than rounding."""
    return shown is not None and any(one.what != "rounded" for one in shown.differences)


def judge_formula(lines: StandingLines, free: FreeLine, text: str, tells: bool) -> Verdict | None:
    """Return the verdict on a line in symbols without a value yet; None where it is no such line.

    Raises:
        Unreadable: where it says nothing that can be judged without those values.
    """
    step = lines.question.derivation.step(free.key)
    question = lines.question.at(step)
    if not step.kind.is_number or len(free.sides) != 2 or not step.written:
        return None
    side = free.sides[1] if isinstance(free.sides[0], Name) else free.sides[0]
    known = lines.known(step.key)
    if any(name.symbol == step.key for name in names_in(side)):
        raise Unreadable("on_both_sides", name=step.key)
    if not any(math.isnan(known[name.symbol].value) for name in names_in(side)):
        return None
    if not has_value(question, side):
        raise Unreadable("not_finite")
    shown = structure(question, step, side, lines.beside(step.key))
    if shown is None or not tells:
        raise Unreadable("symbols_without_value")
    if not shown.differences:
        return Verdict(step.key, text, Outcome.RIGHT, Reason("in_symbols"), in_symbols=True)
    reading = Reading(sides=free.sides)
    attempt = Attempt(question, step, reading, {}, {}, structure=shown, only_structure=True)
    return Verdict(step.key, text, Outcome.WRONG, attempt=attempt, in_symbols=True)
