"""A line that a student writes freely: which line of the derivation it is, and what it says.

It names its quantity (`W_f = 15.6 N`), answers in words (`third`), or is an equation with one
unknown, whose value follows from it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from leverstep.comparing.balance_numbers import in_symbols
from leverstep.comparing.equation import balance_line, balance_lines, how_unlike
from leverstep.comparing.samples import imbalance
from leverstep.course.problem import Question
from leverstep.course.symbols import spelt
from leverstep.entry.amount import Amount, in_base_units
from leverstep.entry.answers_in_words import LONGEST_ANSWER, named_in_words
from leverstep.entry.axis_labels import after_axis_label
from leverstep.entry.bearing_typed import bearing_typed
from leverstep.entry.grammar import read_line
from leverstep.entry.reading import PERCENT, Reading, in_percent, read_entry
from leverstep.entry.tokens import check_length
from leverstep.entry.tree import (
    Call,
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
    compared_in,
    names_in,
    number_in,
)
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.body_weights import multiple_said

COARSEST = 0.005
"""What the numbers of an equation leave open is taken as no more than this share."""

_ALONG = {"x": kinds.EQUATION_X, "y": kinds.EQUATION_Y}
"""The equation of forces along an axis."""

_SAID = re.compile(r"\s*(?P<name>[^\W\d]\w*)\s*(?::|\bis\b|\s)\s*(?=[-+−]?\s*[0-9.(])")
"""A value said of a symbol without an equals sign: `W_f: 15.6 N`, `W_f is 15.6 N`."""

_NUMBERED = re.compile(r"(?<!\w)F_?(?P<number>[1-9])(?!\w)")
_HUNDRED = re.compile(r" × 100 %$")
_FEWEST_WORKED_OUT = 2
"""Lines that stand in an equation that works one of them out of others."""


@dataclass(frozen=True, slots=True)
class FreeLine:
    """Which step a line is about. `text` is what it says there, as an entry.

    `is_named` says that its symbol, or the word for it, stands beside it; `is_equation` that it is
    one of the problem by its form.
    An equation has its `sides`; with numbers in it also `implied`, what its one unknown, the step
    `of`, comes to.
    """

    key: str
    text: str
    sides: tuple[Tree, ...] = ()
    implied: Reading | None = None
    of: str = ""
    is_named: bool = False
    is_equation: bool = False

    @property
    def is_sure(self) -> bool:
        """Return whether it says by its form which line it is, whether it is right or not."""
        return self.is_named or self.is_equation


def read_free_line(
    text: str,
    question: Question,
    known: Mapping[str, Amount],
    here: str = "",
    answered: Collection[str] = (),
) -> FreeLine:
    """Return which line of the derivation a text is.

    Args:
        text: what was typed.
        question: whose derivation counts.
        known: every symbol of the problem, nan where it has no value yet.
        here: the step that a bare value is for, "" where it must be named.
        answered: the steps that stand, which an answer in words is not taken for where there is
            another that it may be.

    Raises:
        Unreadable: where the text is no line of this problem.
    """
    check_length(text)
    steps = {step.key: step for step in question.derivation.asked}
    said = _in_words(text, steps, here, answered) or _along_axis(text, question, steps, known)
    if said is not None:
        return said
    if (multiple := multiple_said(text, steps)) is not None:
        return FreeLine(multiple.key, multiple.text, is_named=True)
    text = _with_equals(_with_efforts(text, question, known), known)
    sides = read_line(text, known)
    if (ratio := _ratio_of(sides, steps)) is not None:
        return FreeLine(ratio.key, _value_of_ratio(text, ratio), is_named=True)
    named = _named(sides)
    couples = {one.symbol for posture in question.problem.postures for one in posture.couples}
    is_couple = named is not None and named.symbol in couples - steps.keys() and len(sides) == 2
    if named is not None and not (is_couple or _balances(named, sides, steps)):
        key = _line_of(named, question, steps)
        value = text if key == named.symbol else text.partition("=")[2]
        return FreeLine(key, value, sides, is_named=True)
    if len(sides) == 1:
        if _adds_pair(sides[0], steps):
            raise Unreadable("forces_need_equals_sign")
        if not here or not steps[here].kind.is_number:
            raise Unreadable("begin_with_symbol")
        return FreeLine(here, text, sides)
    if len(sides) > 2:
        raise Unreadable("too_many_equals_signs")
    return _equation(text, sides, question, steps, known)


def _along_axis(
    text: str, question: Question, steps: Mapping[str, Step], known: Mapping[str, Amount]
) -> FreeLine | None:
    """Return the equation of forces along the axis that a label before it names: `x: …`."""
    label = after_axis_label(text)
    step = next((one for one in steps.values() if one.kind is _ALONG.get(label.axis)), None)
    if step is None:
        return None
    sides = read_line(label.text, known)
    if len(sides) != 2:
        raise Unreadable("forces_need_equals_sign")
    if _is_along_other_axis(question, step, sides, known):
        raise Unreadable("along_other_axis")
    return FreeLine(step.key, text, sides, is_named=True, is_equation=True)


def _value_of_ratio(text: str, ratio: Step) -> str:
    """Return what is said behind one symbol over another, in per cent where that is asked for."""
    said = text.partition("=")[2]
    is_part = ratio.unit == PERCENT and PERCENT not in said
    return in_percent(said.rpartition("=")[2]) if is_part else said


def is_open(
    text: str, step: Step, question: Question, known: Mapping[str, Amount], own_words: bool
) -> bool:
    """Return whether an entry at a step that is asked for may be more than its value by its form:
    another line, or one of the step in the student's own words.

    It can't be read as one of that step. A bare value, or one word alone, always answers what is
    asked; a value without its unit does so too.

    Args:
        text: what was typed.
        step: the step that is asked for.
        question: whose derivation counts.
        known: every symbol of the problem, nan where it has no value yet.
        own_words: whether it may say so without a symbol of the problem.
    """
    try:
        free = read_free_line(text, question, known)
    except Unreadable:
        refusal = _refusal(text, step, known)
        is_bare = refusal == "unknown_unit" and len(text.split()) < 3  # `48.9 furlongs`
        is_value = any(map(str.isdigit, text)) and not is_bare
        says_more = is_value or _claims_of_itself(text, step, known)
        return own_words and says_more and refusal not in ("", "no_unit")
    if free.is_equation and step.kind.is_number and _is_of_nothing(free.sides):
        return bool(question.right.get(step.key))  # `W_f - 16.68 N = 0` is no value of 0
    if step.key in (free.key, free.of):  # `class: third` is no word for the class as it stands
        return free.is_named and not free.sides and bool(_refusal(text, step, known))
    if step.kind.part is question.derivation.step(free.key).kind.part is kinds.Part.BALANCE:
        return free.is_equation  # of forces, along the other axis
    if step.kind.is_equation and len(free.sides) == 2:  # `F_m = W_f*d_f/d_m` is one, turned
        names = [name for side in free.sides for name in names_in(side)]
        return free.is_named and len(names) == 1
    return bool(_refusal(text, step, known))


def _is_along_other_axis(
    question: Question, step: Step, sides: tuple[Tree, ...], known: Mapping[str, Amount]
) -> bool:
    """Return whether an equation of forces is the one along the other axis than that of a step."""
    named = _forces_named(question, step, sides, known)
    others = (one for one in balance_lines(question) if one is not step)
    return any(how_unlike(question.at(step), one, named) == 0 for one in others)


def _forces_named(
    question: Question, step: Step, sides: tuple[Tree, ...], known: Mapping[str, Amount]
) -> tuple[Tree, ...]:
    """Return the sides of an equation of forces with symbols in place of sizes and parts."""
    asked = question.derivation.asked
    own = {one.key: known[one.key].value for one in asked if one.key in known}
    return in_symbols(question.at(step), sides, own)


def _is_of_nothing(sides: tuple[Tree, ...]) -> bool:
    """Return whether one side of an equation is nothing."""
    numbers = map(number_in, sides)
    return any(number is not None and number.value == 0 for number in numbers)


def _refusal(text: str, step: Step, known: Mapping[str, Amount]) -> str:
    """Return the code of why a text can't be read as an entry at a step, "" where it can."""
    try:
        read_entry(text, step, known)
    except Unreadable as error:
        return error.reason.code
    return ""


def is_read(text: str, step: Step, known: Mapping[str, Amount]) -> bool:
    """Return whether a text can be read as an entry at a step.

    Args:
        text: what was typed, or a part of it.
        step: the step.
        known: every symbol of the problem, nan where it has no value yet.
    """
    return not _refusal(text, step, known)


def _claims_of_itself(text: str, step: Step, known: Mapping[str, Amount]) -> bool:
    """Return whether a text that is no line of the derivation says what it is about."""
    try:
        sides = read_line(text, known)
    except Unreadable:
        is_more_than_a_word = len(text.split()) > 1 and text.lstrip()[:1].isalpha()
        return is_more_than_a_word or ("=" in text and any(map(str.isalpha, text)))
    names = {name.symbol for side in sides for name in names_in(side)}
    return len(sides) > 1 and bool(names) and step.key not in names


def _with_equals(text: str, known: Mapping[str, Amount]) -> str:
    """Return a line with an equals sign where its value only follows its symbol."""
    said = _SAID.match(text)
    if "=" in text or said is None or spelt(said["name"]) not in known:
        return text
    return f"{said['name']} = {text[said.end() :]}"


def _in_words(
    text: str, steps: Mapping[str, Step], here: str, answered: Collection[str]
) -> FreeLine | None:
    """Return an answer in words, such as `class: third` or `down and left`.

    Where it is asked for it may be a bare sign or a letter too: `3`, `-`, `d`.
    """
    said = named_in_words(text)
    if len(said.answer) > LONGEST_ANSWER:
        return None
    in_letters = re.search(r"[A-Za-z]{2}|[↑↓←→↗↖↘↙]", said.answer) is not None
    bare = not said.about and not (in_letters and bearing_typed(said.answer) is None)
    for step in sorted(steps.values(), key=lambda one: (one.key != here, one.key in answered)):
        if said.may_be(step) and (step.key == here or not bare):
            try:
                read_entry(said.answer, step, {})
            except Unreadable:
                continue
            return FreeLine(step.key, said.answer, is_named=bool(said.about))
    return None


def _with_efforts(text: str, question: Question, known: Mapping[str, Amount]) -> str:
    """Return a line with the effort of each posture by its symbol, where it is called F1 or F2."""
    efforts = [posture.effort for posture in question.problem.postures]

    def effort(match: re.Match[str]) -> str:
        place = int(match["number"]) - 1
        one = efforts[place] if match.group() not in known and place < len(efforts) else None
        return match.group() if one is None else one.symbol

    return _NUMBERED.sub(effort, text) if len(efforts) > 1 else text


def _ratio_of(sides: tuple[Tree, ...], steps: Mapping[str, Step]) -> Step | None:
    """Return the line that is one symbol over another, where that stands before a value."""
    compared = compared_in(sides)
    if compared is None:
        return None
    written = "{{{}}} ÷ {{{}}}".format(*compared)
    found = (one for one in steps.values() if _HUNDRED.sub("", one.written) == written)
    return next(found, None)


def _named(sides: tuple[Tree, ...]) -> Name | None:
    """Return the symbol that stands alone on one side."""
    for side in (sides[0], sides[-1]):
        if len(sides) > 1 and isinstance(side, Name):
            return side
    return None


def _balances(name: Name, sides: tuple[Tree, ...], steps: Mapping[str, Step]) -> bool:
    """Return whether a given force stands alone beside those that balance it: `T*cos(20) = W`."""
    found = _pair(steps)
    there = {one.symbol for side in sides for one in names_in(side)}
    return name.symbol not in found and bool(found & there)


def _adds_pair(side: Tree, steps: Mapping[str, Step]) -> bool:
    """Return whether both forces that are to be found stand in a side."""
    found = _pair(steps)
    return bool(found) and found <= {one.symbol for one in names_in(side)}


def _pair(steps: Mapping[str, Step]) -> set[str]:
    """Return the keys of both forces through one point that are to be found, none without them."""
    return {key for key, step in steps.items() if step.kind is kinds.PAIR_FORCE}


def _line_of(name: Name, question: Question, steps: Mapping[str, Step]) -> str:
    """Return the line that a symbol stands for."""
    if name.symbol in steps:
        return name.symbol
    of_one = (kinds.MOMENT, kinds.COUPLE_MOMENT)
    moments = [step.key for step in steps.values() if step.kind in of_one]
    if name.symbol == kinds.SUM.key and len(moments) == 1:
        return moments[0]
    if any(given.sign == name.symbol for given in question.givens):
        raise Unreadable("is_given", name.place, name=name.symbol)
    raise Unreadable("needs_no_line", name.place, name=name.symbol)


def _equation(
    text: str,
    sides: tuple[Tree, ...],
    question: Question,
    steps: Mapping[str, Step],
    known: Mapping[str, Amount],
) -> FreeLine:
    """Return an equation as the line of its one unknown, or as the moment equation in symbols."""
    if not any(True for side in sides for _ in names_in(side)):
        raise Unreadable("no_symbol")
    names = {n.symbol for side in sides for n in names_in(side) if n.symbol in steps}
    targets = _targets(steps)
    unknown = {n for n in names if math.isnan(known[n].value)} | (names & targets)
    if not unknown and len(names) == 1:
        unknown = names  # its line is written again
    is_of_balance = not names.isdisjoint(targets | _pair(steps))
    of = None if is_of_balance else _worked_out(sides, names, unknown, question, known)
    of = of or (None if is_of_balance else _turned_to_nothing(sides, unknown))
    if of is not None:
        return FreeLine(of, text, sides, _solved(sides, of, known, set()), of, is_equation=True)
    of_reaction = any(steps[name].kind.part is kinds.Part.REACTION for name in names)
    is_symbolic = not any(number.value for side in sides for number in _numbers(side))
    equation = "" if of_reaction else _moment_equation(steps, names)
    if equation and (len(unknown) > 1 or is_symbolic):
        return FreeLine(equation, text, sides, is_equation=not names.isdisjoint(targets))
    of_forces = next((step for step in steps.values() if step.kind is kinds.EQUATION_X), None)
    is_of_both = bool(of_forces) and _pair(steps) <= names
    if of_forces and (is_of_both or len(unknown) > 1 or is_symbolic):
        named = _forces_named(question, of_forces, sides, known)
        key = balance_line(question.at(of_forces), named)
        return FreeLine(key, text, sides, is_equation=True)
    if len(unknown) > 1:
        raise Unreadable("several_unknown", names=" ".join(sorted(unknown)))
    if not unknown:
        raise Unreadable("begin_with_symbol")
    (of,) = unknown
    exact = {abs(amount.value) for amount in known.values()}
    exact |= {abs(number) for number in question.numbers.values()}
    implied = _solved(sides, of, known, exact)
    is_component = any(_is_component(side, of) for side in sides)
    is_value = any(_adds(side, of) for side in sides)
    is_moments = equation and of in targets and not is_component and not is_value
    return FreeLine(equation if is_moments else of, text, sides, implied, of, is_equation=True)


def _worked_out(
    sides: tuple[Tree, ...],
    names: Collection[str],
    unknown: set[str],
    question: Question,
    known: Mapping[str, Amount],
) -> str | None:
    """Return the line that an equation turns round, as `M_f + W_f*d_f = 0` does: the last of those
    that stand in it, where it holds for what they should be; else None.
    """
    order = [step.key for step in question.derivation.asked if step.key in names]
    if len(order) < _FEWEST_WORKED_OUT or not unknown.isdisjoint(order[:-1]):
        return None
    values = {key: Amount(amount.value) for key, amount in known.items()}
    values |= {key: Amount(question.right[key]) for key in order if key in question.right}
    residual, size = imbalance(tuple(in_base_units(side) for side in sides), values)
    holds = abs(residual) <= question.problem.share_off * size
    is_turned = _is_of_nothing(sides) or order[-1] in unknown
    return order[-1] if holds and is_turned else None


def _turned_to_nothing(sides: tuple[Tree, ...], unknown: Collection[str]) -> str | None:
    """Return the one unknown of a line that stands by itself beside what it is equal to, where all
    is said to be nothing: `M_f - W_f*d_f = 0`; else None.
    """
    alone = [name for name in unknown if any(_adds(side, name) for side in sides)]
    return alone[0] if _is_of_nothing(sides) and len(alone) == len(unknown) == 1 else None


def _adds(tree: Tree, symbol: str) -> bool:
    """Return whether a symbol is a term of a sum by itself: `F_m - 558 N`."""
    match tree:
        case Name():
            return tree.symbol == symbol
        case Negative() | Measured():
            return _adds(tree.term, symbol)
        case Operation(operator="+" | "-"):
            return _adds(tree.left, symbol) or _adds(tree.right, symbol)
    return False


def _is_component(tree: Tree, symbol: str) -> bool:
    """Return whether a tree is a symbol times a sine or cosine alone: `F_m*sin 61`."""
    match tree:
        case Operation(operator="*", left=Name(symbol=one), right=Call()):
            return one == symbol
        case Operation(operator="*", left=Call(), right=Name(symbol=one)):
            return one == symbol
        case Negative() | Measured():
            return _is_component(tree.term, symbol)
    return False


def _moment_equation(steps: Mapping[str, Step], names: Collection[str]) -> str:
    """Return the key of the moment equation that most of some names stand in, "" without one."""
    equations = [step for step in steps.values() if step.kind is kinds.EQUATION]
    shared = (len(set(names).intersection(step.quantities)) for step in equations)
    found = max(zip(shared, equations, strict=True), key=lambda one: one[0], default=None)
    return "" if found is None else found[1].key


def _targets(steps: Mapping[str, Step]) -> frozenset[str]:
    """Return the keys of what the moment equation gives: a force, its part, or a distance."""
    return frozenset(step.key for step in steps.values() if step.kind.from_moments)


def _solved(
    sides: tuple[Tree, ...], unknown: str, known: Mapping[str, Amount], exact: set[float]
) -> Reading:
    """Return what the one unknown of an equation comes to, with the precision of its numbers.

    Those among the `exact` ones are not rounded.
    """
    trees = tuple(in_base_units(side) for side in sides)

    def residual(value: float) -> float:
        plain = {key: Amount(amount.value) for key, amount in known.items()}
        return imbalance(trees, plain | {unknown: Amount(value)})[0]

    at_0, at_1, at_2 = residual(0.0), residual(1.0), residual(2.0)
    size = max(abs(at_0), abs(at_1), abs(at_2), 1e-300)
    if abs(at_2 - 2 * at_1 + at_0) > 1e-9 * size or abs(at_1 - at_0) <= 1e-12 * size:
        raise Unreadable("not_solved", name=unknown)
    value = at_0 / (at_0 - at_1)
    numbers = [n for side in sides for n in _numbers(side) if n.value and abs(n.value) not in exact]
    share = max((number.half_digit / abs(number.value) for number in numbers), default=0.0)
    return Reading(value, min(share, COARSEST) * abs(value))


def _numbers(tree: Tree) -> Iterator[Number]:
    """Yield the numbers of a tree, those of powers and within functions left out."""
    match tree:
        case Number():
            yield tree
        case Negative() | Measured() | Call(function="abs" | "sqrt"):
            yield from _numbers(tree.term)
        case Operation(operator="^"):
            yield from _numbers(tree.left)
        case Operation():
            yield from _numbers(tree.left)
            yield from _numbers(tree.right)
