"""Arithmetic with one thing in it otherwise: what a slip made of it, turned back."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from leverstep.claims.near_numbers import is_constant, is_near
from leverstep.claims.worth import numbers_in, replaced
from leverstep.comparing.digits import swapped, with_a_digit_changed
from leverstep.entry.tree import Call, Measured, Negative, Number, Operation, Tree
from leverstep.statics.choices import CONVENTIONS

Choices = tuple[tuple[str, float], ...]

_GRAVITY = CONVENTIONS["g"].values
_POWERS_OF_TEN = (-3, -2, -1, 1, 2, 3)
_ROUNDED = 0.03
"""How far a number may lie from another, as a share of it, that may be a rounded one."""
_FEWEST_DIGITS = 3
"""A number of fewer digits of which one is another is another number, and not copied wrongly."""


@dataclass(frozen=True, slots=True)
class Amendment:
    """A tree with one thing amended.

    `choices` are what the slip may have taken otherwise, each by its kind and value as in
    `statics/choices.py`; none where a number was copied wrongly: `meant` as `typed`.
    """

    tree: Tree
    choices: Choices = ()
    typed: str = ""
    meant: str = ""

    @property
    def is_sure(self) -> bool:
        """Return whether more than another digit is amended, which may be another number."""
        return not self.typed or sorted(self.typed) == sorted(self.meant)


def amendments(tree: Tree) -> Iterator[Amendment]:
    """Yield a tree with a sign turned, a factor inverted or taken out, or another function of an
    angle: each once, one at a time.
    """
    if isinstance(tree, Call):
        yield from _other_functions(tree)
    elif isinstance(tree, Operation) and tree.operator != "^":
        yield from _of_operation(tree)
    for part, whole_with in _parts(tree):
        for one in amendments(part):
            yield replace(one, tree=whole_with(one.tree))


def _parts(tree: Tree) -> Iterator[tuple[Tree, Callable[[Tree], Tree]]]:
    """Yield the parts of a tree, each with what makes the tree with another part in its place."""
    match tree:
        case Negative():
            yield tree.term, Negative
        case Measured(units=units):
            yield tree.term, lambda part: Measured(part, units)
        case Call(function=function):
            yield tree.term, lambda part: Call(function, part)
        case Operation(operator=operator, left=left, right=right):
            yield left, lambda part: Operation(operator, part, right)
            if operator != "^":
                yield right, lambda part: Operation(operator, left, part)


def digits_amended(
    tree: Tree,
    is_written: Callable[[Number], bool],
    is_known: Callable[[Number], bool],
    is_given: Callable[[float], bool],
) -> Iterator[Amendment]:
    """Yield a tree with a number that is nowhere written as one that is known: two digits beside
    each other swapped, or another power of ten; as a given, one digit otherwise too.

    Args:
        tree: the arithmetic.
        is_written: whether a number stands in the problem or on the page, figure by figure.
        is_known: whether it is one of theirs, in whatever unit.
        is_given: whether the problem states a number.
    """
    for number in dict.fromkeys(numbers_in(tree)):
        if is_written(number) or not number.half_digit:
            continue
        typed = written(number)
        meant = [one for one in swapped(typed) if is_known(replace(number, value=float(one)))]
        if (number.figures or 0) >= _FEWEST_DIGITS:
            meant += [
                one
                for one in with_a_digit_changed(typed)
                if is_given(float(one)) and not is_near(float(one), number.value, 0.0, _ROUNDED)
            ]
        for one in meant:
            yield Amendment(replaced(tree, {number.value: float(one)}), (), typed, one)
        for power in _POWERS_OF_TEN:
            moved = 10.0**power * number.value
            if is_written(replace(number, value=moved)):
                choices: Choices = (("power_of_ten", -float(power)),)
                yield Amendment(replaced(tree, {number.value: moved}), choices)


def written(number: Number) -> str:
    """Return a number as it was written, with its decimals."""
    decimals = max(0, -round(math.log10(2 * number.half_digit)))
    return f"{abs(number.value):.{decimals}f}"


def _other_functions(tree: Call) -> Iterator[Amendment]:
    kind = "tangent" if tree.function == "tan" else "other_function"
    if tree.function in ("sin", "cos", "tan"):
        for other in {"sin", "cos"} - {tree.function}:
            yield Amendment(Call(other, tree.term), ((kind, 1.0),))


def _of_operation(tree: Operation) -> Iterator[Amendment]:
    """Yield what else may be done with two terms: the other sign, or the other way round."""
    left, right = tree.left, tree.right
    match tree.operator:
        case "+":
            yield Amendment(Operation("-", left, right), (("flip", -1.0), ("added", 1.0)))
        case "-":
            yield Amendment(Operation("+", left, right), (("flip", -1.0), ("subtracted", 1.0)))
        case "*":
            yield from _of_product(left, right)
        case "/":
            yield Amendment(Operation("*", left, right), _upside_down(right, "arm_power"))
            if _is_gravity(right):
                yield Amendment(left, (("gravity", -1.0),))
            if _is_plain(left) and _is_plain(right):
                upside_down: Choices = (("ratio_power", -1.0), ("arm_power", -1.0))
                yield Amendment(Operation("/", right, left), upside_down)


def _of_product(left: Tree, right: Tree) -> Iterator[Amendment]:
    for rest, factor in ((left, right), (right, left)):
        if factor is left and not _is_plain(left):
            continue  # its factors are tried by themselves
        yield Amendment(Operation("/", rest, factor), _upside_down(factor, "arm_power"))
        if _is_gravity(factor):
            yield Amendment(rest, (("gravity", 1.0),))
        elif isinstance(factor, Call):
            yield Amendment(rest, (("trig_again", 1.0),))


def _upside_down(factor: Tree, else_kind: str) -> Choices:
    """Return what was taken otherwise where a factor divides, or the reverse."""
    if _is_gravity(factor):
        return (("gravity", -1.0),)
    if isinstance(factor, Number) and is_constant(factor):
        return (("conversion", -1.0),)
    if isinstance(factor, Call):
        return (("trig_power", -1.0),)
    return ((else_kind, -1.0), ("ratio_power", -1.0), ("length_power", -1.0))


def _is_gravity(tree: Tree) -> bool:
    while isinstance(tree, Measured):
        tree = tree.term
    return isinstance(tree, Number) and tree.value in _GRAVITY


def _is_plain(tree: Tree) -> bool:
    while isinstance(tree, Measured):
        tree = tree.term
    return isinstance(tree, Number | Call)
