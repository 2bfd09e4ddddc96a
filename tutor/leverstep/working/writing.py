"""Lines as one writes them on paper: the formula, the numbers put in, the value.

A line with its numbers put in can be read back as an entry; a test does that for every step.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from leverstep.course.decimals import true_minus
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.statics import kinds
from leverstep.statics.centre_of_mass import INSIDE, OUTSIDE
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.further import HOLDS, SLIPS
from leverstep.statics.reaction import ways_of_direction
from leverstep.statics.step import Step
from leverstep.statics.units import OF_LINES

FIGURES = 4
"""Significant figures of the values in a worked line; entries are asked for with three."""

_ANSWERS: Mapping[kinds.WordChoice, Mapping[int, str]] = {
    kinds.WordChoice.CLASS: {1: "first", 2: "second", 3: "third"},
    kinds.WordChoice.EFFECT: {1: "compression", -1: "tension", 0: "neither"},
    kinds.WordChoice.SUPPORT: {INSIDE: "inside", OUTSIDE: "outside"},
    kinds.WordChoice.HOLD: {HOLDS: "holds", SLIPS: "slips"},
}
_QUANTITY = re.compile(r"\{([^{}]+)\}")


def plain_number(value: float, figures: int = FIGURES) -> str:
    """Return a number to some significant figures, without a power of ten and with a true minus."""
    if value == 0:
        return "0"
    text = f"{value:.{figures}g}"
    if "e" in text:
        decimals = max(0, figures - 1 - int(text.partition("e")[2]))
        text = f"{float(text):.{decimals}f}"
    elif "." in text or len(text.lstrip("-")) < figures:
        text = f"{value:#.{figures}g}".rstrip(".")
    return true_minus(text)


def quantity(value: float, unit: str, figures: int = FIGURES) -> str:
    """Return a value with its unit: `55.61 N`, `48.50°`."""
    number = plain_number(value, figures)
    return f"{number}°" if unit == "deg" else f"{number} {unit}".strip()


def direction_words(code: float) -> str:
    """Return the number of a direction in words, "" for none."""
    across, upward = ways_of_direction(code)
    words = [{1: "up", -1: "down"}.get(upward, ""), {1: "right", -1: "left"}.get(across, "")]
    return " and ".join(word for word in words if word)


def value_text(step: Step, value: float) -> str:
    """Return the value of a step as one writes it."""
    words = step.kind.words
    if words is kinds.WordChoice.DIRECTION:
        return direction_words(value) or "none"
    if words is not None:
        return _ANSWERS[words][round(value)]
    return quantity(value, step.unit)


def formula(question: Question, step: Step) -> str:
    """Return a step in symbols: `W_l = m_l ÷ 2.205 lb/kg × g`; "" where it is a choice of words."""
    if not step.written:
        return ""
    givens = {given.key: given for given in question.givens}

    def sign(match: re.Match[str]) -> str:
        key = match.group(1)
        if key in CONVENTIONS:
            return CONVENTIONS[key].sign or constant(question, key)
        given = givens.get(key)
        if given is None:
            return sign_of(key)
        if given.sign == step.key and given.unit == step.unit:
            return question.written(given)
        if given.sign == step.key:
            return f"({sign_of(given.sign)} in {given.unit})"
        return sign_of(given.sign) if given.sign else question.written(given)

    right = _QUANTITY.sub(sign, step.written)
    return right if step.kind.is_equation else f"{sign_of(step.key)} = {right}"


def only_copies_a_given(question: Question, step: Step) -> bool:
    """Return whether a step is a given as a line has it: its formula is the line worked out."""
    if step.kind.is_equation:
        return True
    value = value_text(step, question.right[step.key])
    return bool(step.written) and formula(question, step) == f"{sign_of(step.key)} = {value}"


def substituted(question: Question, step: Step, values: Mapping[str, float]) -> str:
    """Return the right side of a step with numbers put in: `12.5 lb ÷ 2.205 lb/kg × 9.81 m/s²`.

    Args:
        question: whose givens are put in.
        step: the step.
        values: the value of each earlier step, in its unit.
    """
    givens = {given.key: given for given in question.givens}

    def number(match: re.Match[str]) -> str:
        key = match.group(1)
        if key in CONVENTIONS:
            return constant(question, key)
        if key in givens:
            return question.written(givens[key])
        text = quantity(values[key], question.derivation.step(key).unit)
        is_squared = step.kind in (kinds.REACTION_SIZE, kinds.RESULTANT_SIZE)
        return f"({text})" if values[key] < 0 or is_squared else text

    written = _QUANTITY.sub(number, step.written)
    return written.replace("|(", "|").replace(")|", "|")


def constant(question: Question, key: str) -> str:
    """Return a constant as worked lines have it: `2.205 lb/kg`."""
    return f"{question.accepted[key][0]:g} {CONVENTIONS[key].unit}"


_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def worked_line(question: Question, step: Step, values: Mapping[str, float]) -> str:
    """Return a step worked out: numbers and value, or the words where it is a choice.

    Where there is nothing to work out, as in `W_t = 395.0 N`, it has one side.
    """
    if step.kind.is_equation:
        return formula(question, step)
    sign, value = sign_of(step.key), value_text(step, values[step.key])
    if not step.written:
        return value
    put_in = substituted(question, step, values).removeprefix("1 × ")
    number, _, unit = put_in.partition(" ")
    is_same = _PLAIN.fullmatch(number) and value.partition(" ")[2] == unit
    if is_same and float(number) == float(value.partition(" ")[0].replace("−", "-")):
        return f"{sign} = {value}"
    return f"{sign} = {put_in} = {value}"


def unit_words(step: Step) -> str:
    """Return the unit of a step for a prompt: "N", "degrees", or "" for a bare number."""
    assert step.unit in OF_LINES
    return "degrees" if step.unit == "deg" else step.unit
