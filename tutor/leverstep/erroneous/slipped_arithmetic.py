"""The arithmetic of a line as somebody writes it who makes a slip: bare numbers put in.

What is written follows from the form of the line and the kind of choice that is made wrongly. It
stands only where, read back, it gives the value that the slip gives.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from leverstep.course.problem import Question
from leverstep.entry.amount import evaluate
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Unreadable
from leverstep.statics.choices import CONVENTIONS, Choice
from leverstep.statics.step import Step
from leverstep.working.writing import plain_number

_CLOSE = 2e-3
"""How far arithmetic with rounded numbers may lie off its value, as a share."""

_QUANTITY = re.compile(r"\{([^{}]+)\}")
_INVERSE = re.compile(r"a(?:sin|cos|tan)\(")
_WITH_UNIT = re.compile(r"(\d+(?:\.\d+)?) [A-Za-z][\w²³/·]*")
_FACTOR = re.compile(
    r" ([×÷]) ((?:sin|cos|tan)\(\{[^{}]+\}\)|\{[^{}]+\}|\d+(?:\.\d+)?(?: [A-Za-z][\w²³/·]*)?)"
)
_FUNCTION = re.compile(r"\b(sin|cos)\(")

Changes = Sequence[tuple[Choice, float]]
"""Choices that are made wrongly, each with its value."""


def right_arithmetic(question: Question, step: Step, values: Mapping[str, float]) -> str:
    """Return the arithmetic of a line as it should be; "" where it is no more than its value."""
    return _fitting(question, values, step.written, values[step.key]) if step.written else ""


def slipped_arithmetic(
    question: Question, step: Step, values: Mapping[str, float], changes: Changes
) -> str:
    """Return the arithmetic of a line as who makes a slip writes it; "" where that is not known.

    Args:
        question: whose numbers are put in.
        step: the line.
        values: the value of each step as that student has it.
        changes: the choices that the slip makes otherwise, all of them at this line.
    """
    forms = [step.written] if step.written else []
    for choice, value in changes:
        if choice.kind == "power_of_ten":  # the arithmetic is right, its decimal point is not
            right = values[step.key] / 10**value
            return _fitting(question, values, step.written, right)
        edit = _EDITS.get(choice.kind)
        forms = [] if edit is None else [other for one in forms for other in edit(one, question)]
    fitting = (_fitting(question, values, one, values[step.key]) for one in forms)
    return next(filter(None, fitting), "")


def _fitting(question: Question, values: Mapping[str, float], form: str, value: float) -> str:
    """Return a form with its numbers put in; "" where it does not come to a value so."""
    text = _numbers_in(question, form, values)
    if not text:
        return ""
    try:
        (tree,) = read_line(text, ())
        found = evaluate(tree, {}).value
    except Unreadable:
        return ""
    return text if _comes_to(form, found, value) else ""


def _comes_to(form: str, found: float, value: float) -> bool:
    """Return whether arithmetic comes to a value.

    An angle near 90° hardly shows what it was worked out from, but by how much it is less.
    """
    ends = (0.0, 90.0) if _INVERSE.search(form) else (0.0,)
    return all(math.isclose(found - end, value - end, rel_tol=_CLOSE) for end in ends)


def _numbers_in(question: Question, form: str, values: Mapping[str, float]) -> str:
    """Return a form with bare numbers in it; degrees keep their sign."""
    givens = {given.key: given for given in question.givens}

    def number(match: re.Match[str]) -> str:
        key = match[1]
        if key in CONVENTIONS:
            return f"{question.accepted[key][0]:g}"
        if key in givens:
            text = question.written(givens[key])
            return text if "°" in text or "%" in text else text.partition(" ")[0]
        text = plain_number(values[key])
        text += "°" if question.derivation.step(key).unit == "deg" else ""
        return f"({text})" if values[key] < 0 else text

    written = _QUANTITY.sub(number, _WITH_UNIT.sub(r"\1", form))
    return written.replace("|(", "|").replace(")|", "|").removeprefix("1 × ")


def _terms(form: str) -> list[tuple[str, str]]:
    """Return the terms of a sum, each behind its sign; brackets and bars hold one together."""
    terms, sign, start, depth, place = list[tuple[str, str]](), "+", 0, 0, 0
    if form.startswith("−"):
        sign, start = "−", 1
    bars = False
    for place, sign_here in enumerate(form):
        depth += {"(": 1, ")": -1}.get(sign_here, 0)
        bars ^= sign_here == "|"
        is_between = form[place - 1 : place] == " " == form[place + 1 : place + 2]
        if sign_here in "+−" and is_between and not depth and not bars:
            terms.append((sign, form[start : place - 1]))
            sign, start = sign_here, place + 2
    return [*terms, (sign, form[start:])]


def _sum_of(terms: Sequence[tuple[str, str]]) -> str:
    """Return a sum in its terms; a product that alone is negative stands in brackets."""
    (first, text), *others = terms
    if not others:
        text = text[1:-1] if re.fullmatch(r"\(\{[^()]*\}\)", text) else text
        text = f"({text})" if first == "−" and re.search("[×÷]", text) else text
    shown = text if first == "+" else f"−{text}"
    return shown + "".join(f" {sign} {other}" for sign, other in others)


def _turned(form: str, _: Question) -> Iterator[str]:
    """Yield a form with one of its signs turned, or all of them."""
    terms, other = _terms(form), {"+": "−", "−": "+"}
    for place, (sign, text) in enumerate(terms):
        yield _sum_of([*terms[:place], (other[sign], text), *terms[place + 1 :]])
    yield _sum_of([(other[sign], text) for sign, text in terms])


def _without_term(form: str, _: Question) -> Iterator[str]:
    """Yield a form with one of its terms left out."""
    terms = _terms(form)
    for place in range(len(terms)) if len(terms) > 1 else ():
        yield _sum_of([*terms[:place], *terms[place + 1 :]])


def _without_factor(form: str, _: Question) -> Iterator[str]:
    """Yield a form with one of its factors left out."""
    for match in _FACTOR.finditer(form):
        yield form[: match.start()] + form[match.end() :]


def _inverted(form: str, _: Question) -> Iterator[str]:
    """Yield a form with one of its factors divided by, or multiplied with, in place of that."""
    for match in _FACTOR.finditer(form):
        other = "÷" if match[1] == "×" else "×"
        yield f"{form[: match.start()]} {other} {match[2]}{form[match.end() :]}"


def _without_or_inverted(form: str, question: Question) -> Iterator[str]:
    yield from _without_factor(form, question)
    yield from _inverted(form, question)


def _other_function(form: str, _: Question) -> Iterator[str]:
    """Yield a form with one function in place of another."""
    for match in _FUNCTION.finditer(form):
        for name in {"sin", "cos", "tan"} - {match[1]}:
            yield f"{form[: match.start()]}{name}({form[match.end() :]}"


def _other_quantity(form: str, question: Question) -> Iterator[str]:
    """Yield a form with another quantity of the problem in the place of one."""
    keys = [given.key for given in question.givens]
    keys += [step.key for step in question.derivation.steps if not step.kind.is_equation]
    for match in _QUANTITY.finditer(form):
        for other in keys:
            if other != match[1]:
                yield f"{form[: match.start()]}{{{other}}}{form[match.end() :]}"


def _weighed(form: str, question: Question) -> Iterator[str]:
    """Yield a form with g left out, dividing, or there once more."""
    yield from _without_or_inverted(form, question)
    yield f"{form} × {{g}}"


def _upside_down(form: str, _question: Question) -> Iterator[str]:
    """Yield a ratio of two things upside down."""
    one, divided, other = form.partition(" ÷ ")
    if divided:
        yield f"{other} ÷ {one}"


def _ten_for_g(form: str, _: Question) -> Iterator[str]:
    yield form.replace("{g}", "10")


_EDITS: Mapping[str, Callable[[str, Question], Iterator[str]]] = {
    "flip": _turned,
    "included": _without_term,
    "conversion": _without_or_inverted,
    "mass_conversion": _without_or_inverted,
    "gravity": _weighed,
    "gravity_ten": _ten_for_g,
    "mass_used": _other_quantity,
    "given_used": _other_quantity,
    "unit_left": _other_quantity,
    "other_arm": _other_quantity,
    "other_force": _other_quantity,
    "other_angle": _other_quantity,
    "other_length": _other_quantity,
    "whole_length": _other_quantity,
    "whole_force": _other_quantity,
    "other_coordinate": _other_quantity,
    "arm_power": _without_or_inverted,
    "force_power": _without_or_inverted,
    "length_power": _without_factor,
    "angle_ignored": _without_factor,
    "other_function": _other_function,
    "tangent": _other_function,
    "trig_power": _inverted,
    "ratio_power": _upside_down,
}
"""How a line may be written otherwise where a choice of a kind is made wrongly."""
