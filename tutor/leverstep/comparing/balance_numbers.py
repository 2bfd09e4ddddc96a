"""The numbers in an equation of forces through a point, read as the symbols they stand for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from leverstep.comparing.known import CUT_OFF, ROUGH
from leverstep.comparing.samples import names_among, values_named
from leverstep.course.problem import Question
from leverstep.entry.amount import evaluate, without_units
from leverstep.entry.tree import (
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
    number_in,
)
from leverstep.statics.point_balance import AXES, function_values
from leverstep.statics.step import Draft
from leverstep.statics.turn import part


def in_symbols(
    question: Question, sides: tuple[Tree, ...], own: Mapping[str, float]
) -> tuple[Tree, ...]:
    """Return the sides of an equation of forces with symbols in place of numbers.

    A term without an unknown force that comes to a known force, or to a part of it, is that; beside
    an unknown force the sine and cosine of its angle may be rounded.

    Args:
        question: whose numbers count.
        sides: the equation.
        own: the values that the student wrote, by key.
    """
    numbers = _Numbers(question, own)
    return tuple(map(numbers.read, sides))


class _Numbers:
    """What the numbers of a question may stand for in an equation of forces."""

    def __init__(self, question: Question, own: Mapping[str, float]) -> None:
        self.question = question
        draft = Draft(question.problem.posture, question.numbers)
        known = [force for force in draft.posture.forces if force.magnitude is not None]
        keys = {key: None for force in known for key in self._keys(draft, force.symbol)}
        self.sizes = [
            (value, key)
            for key in keys
            for value in (own.get(key, math.nan), question.right.get(key, math.nan))
            if not math.isnan(value)
        ]
        self.sizes += [
            (question.numbers[force.magnitude.key], force.magnitude.sign)
            for force in known
            if force.magnitude is not None and force.magnitude.sign
        ]
        self.shares = {
            force.symbol: {
                share for axis in AXES for share in function_values(draft, force, axis) if share
            }
            for force in draft.posture.unknown
        }

    @staticmethod
    def _keys(draft: Draft, symbol: str) -> Iterator[str]:
        """Yield the keys of a known force and of its parts along the axes."""
        force = draft.posture.force(symbol)
        yield symbol
        for axis in AXES:
            _, key = part(draft, force, axis)
            if key:
                yield key

    def read(self, tree: Tree) -> Tree:
        """Return a sum with symbols in place of the numbers in its terms."""
        match tree:
            case Negative():
                return Negative(self.read(tree.term))
            case Measured() if number_in(tree) is None:
                return self.read(tree.term)
            case Operation(operator="+" | "-"):
                return Operation(tree.operator, self.read(tree.left), self.read(tree.right))
        unknown = [force for force in self.shares if force in names_among((tree,))]
        if not unknown:
            return self._as_known(tree)
        return self._with_shares(tree, self.shares[unknown[0]]) if len(unknown) == 1 else tree

    def _as_known(self, tree: Tree) -> Tree:
        """Return a term as the known force or part that it comes to, or with its size named."""
        if isinstance(tree, Name):
            return tree
        known = values_named(
            self.question, self.question.right, names_among((tree,)), in_kilograms=True
        )
        try:
            value = evaluate(without_units(tree), known).value
        except Unreadable:
            return tree
        number = number_in(tree)
        named = self._named(value, 0.0 if number is None else number.half_digit)
        return named or self._with_size(tree)

    def _named(self, value: float, half_digit: float) -> Tree | None:
        """Return what has a value, with its sign: the nearest of all, None where nothing has."""
        gaps = [(abs(abs(size) - abs(value)), size, key) for size, key in self.sizes]
        gap, size, key = min(gaps, default=(math.inf, 0.0, ""))
        allowed = min(CUT_OFF * half_digit, 0.05 * abs(size))
        if not value or gap > max(allowed, ROUGH * abs(size)):
            return None
        return Name(key, 0) if value * size > 0 else Negative(Name(key, 0))

    def _with_size(self, tree: Tree) -> Tree:
        """Return a product with a factor that is the size of a known force named: `340*cos(20)`."""
        match tree:
            case Number():
                return self._named(tree.value, tree.half_digit) or tree
            case Measured():
                return self._with_size(tree.term)
            case Negative():
                return Negative(self._with_size(tree.term))
            case Operation(operator="*"):
                return Operation("*", self._with_size(tree.left), self._with_size(tree.right))
        return tree

    def _with_shares(self, tree: Tree, shares: set[float]) -> Tree:
        """Return a product with exact sines and cosines in place of rounded ones."""
        match tree:
            case Number():
                slack = max(CUT_OFF * tree.half_digit, 1e-9)
                near = [share for share in shares if abs(share - tree.value) <= slack]
                return Number(min(near, key=lambda one: abs(one - tree.value))) if near else tree
            case Operation(operator="*" | "/"):
                left, right = (self._with_shares(one, shares) for one in (tree.left, tree.right))
                return Operation(tree.operator, left, right)
        return tree
