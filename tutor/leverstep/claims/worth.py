"""What the sides of a chain come to: a number, the unit behind it, and the numbers in it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from leverstep.claims.segments import Chain
from leverstep.entry.amount import Amount, evaluate, unit_size, without_units, written_units
from leverstep.entry.tree import (
    Call,
    Measured,
    Name,
    Negative,
    Number,
    Operation,
    Tree,
    Unreadable,
    is_arithmetic,
    names_in,
    precision,
)
from leverstep.statics.units import ANGLE, NUMBER, Dimension, known_unit


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a chain. `value` is in the unit of `dimension`, or as written where that is None.

    `plain` is the number as written, `slack` half a unit of its last digit (as `value` is), 0 for
    arithmetic. `plain` and `value` are nan where a symbol in it has no value. `units` are the signs
    of the unit behind it.
    """

    tree: Tree
    plain: float = math.nan
    value: float = math.nan
    dimension: Dimension | None = None
    slack: float = 0.0
    figures: int | None = None
    units: tuple[str, ...] = ()

    @property
    def is_arithmetic(self) -> bool:
        """Return whether something is worked out in it."""
        return is_arithmetic(self.tree)

    def times(self, ratio: float) -> Side:
        """Return it as it is where it comes to so many times as much."""
        plain, value, slack = self.plain * ratio, self.value * ratio, self.slack * abs(ratio)
        return replace(self, plain=plain, value=value, slack=slack)


def sides_of(
    chain: Chain, known: Mapping[str, float], dimensions: Mapping[str, Dimension]
) -> list[Side]:
    """Return the sides of a chain with what they come to.

    Args:
        chain: what was read.
        known: the number of each symbol that has one, as it is to be put in.
        dimensions: their dimensions, where these are known.
    """
    return [_side(tree, chain, known, dimensions) for tree in chain.sides]


def _side(
    tree: Tree, chain: Chain, known: Mapping[str, float], dimensions: Mapping[str, Dimension]
) -> Side:
    amounts = _amounts(tree, chain, known)
    try:
        plain = evaluate(without_units(tree), amounts)
    except Unreadable:
        return Side(tree)
    labels = list(written_units(tree))
    slack, figures = precision(tree)
    if plain.dimension == ANGLE or not labels:
        dimension = ANGLE if plain.dimension == ANGLE else None
        return Side(tree, plain.value, plain.value, dimension, slack, figures)
    size = unit_size(labels[-1].units)
    units = tuple(known_unit(spelling).sign for spelling, _ in labels[-1].units)
    whole = Amount(plain.value * size.value, size.dimension)
    if len(labels) > 1:
        measured = {
            name: amount._replace(dimension=dimensions.get(chain.names[name], NUMBER))
            for name, amount in amounts.items()
        }
        whole = _with_all_units(tree, measured) or whole
    slack *= abs(size.value)
    return Side(tree, plain.value, whole.value, whole.dimension, slack, figures, units)


def _with_all_units(tree: Tree, known: Mapping[str, Amount]) -> Amount | None:
    """Return what a tree comes to by all units in it, None where they don't go together."""
    try:
        amount = evaluate(tree, known)
    except Unreadable:
        return None
    return None if amount.bare else amount


def _amounts(tree: Tree, chain: Chain, known: Mapping[str, float]) -> dict[str, Amount]:
    """Return the numbers of the symbols in a tree, those left out that have none."""
    symbols = {name.symbol: chain.names[name.symbol] for name in names_in(tree)}
    return {name: Amount(known[symbol]) for name, symbol in symbols.items() if symbol in known}


def numbers_in(tree: Tree) -> Iterator[Number]:
    """Yield the numbers of a tree from left to right, those of powers left out."""
    match tree:
        case Number():
            yield tree
        case Negative() | Measured() | Call():
            yield from numbers_in(tree.term)
        case Operation(operator="^"):
            yield from numbers_in(tree.left)
        case Operation():
            yield from numbers_in(tree.left)
            yield from numbers_in(tree.right)


def has_call(tree: Tree) -> bool:
    """Return whether a sine, a root or another function stands in a tree."""
    return any(calls_in(tree))


def calls_in(tree: Tree) -> Iterator[Call]:
    """Yield the sines, roots and other functions of a tree, none within another."""
    match tree:
        case Call() if tree.function != "abs":
            yield tree
        case Negative() | Measured():
            yield from calls_in(tree.term)
        case Operation():
            yield from calls_in(tree.left)
            yield from calls_in(tree.right)


def factors_of(tree: Tree) -> Iterator[Number]:
    """Yield the numbers that a product is multiplied by, none within a sum or function."""
    match tree:
        case Number():
            yield tree
        case Negative() | Measured():
            yield from factors_of(tree.term)
        case Operation(operator="*"):
            yield from factors_of(tree.left)
            yield from factors_of(tree.right)
        case Operation(operator="/"):
            yield from factors_of(tree.left)


def replaced(tree: Tree, by: Mapping[float, float]) -> Tree:
    """Return a tree with some numbers in place of others, by their value."""
    match tree:
        case Number():
            if tree.value not in by:
                return tree
            return Number(by[tree.value], tree.half_digit, tree.figures)
        case Negative():
            return Negative(replaced(tree.term, by))
        case Measured():
            return Measured(replaced(tree.term, by), tree.units)
        case Call():
            return Call(tree.function, replaced(tree.term, by))
        case Operation(operator="^"):
            return Operation("^", replaced(tree.left, by), tree.right)
        case Operation():
            return Operation(tree.operator, replaced(tree.left, by), replaced(tree.right, by))
        case Name():
            return tree


def without_nothing(tree: Tree) -> Tree:
    """Return a tree with 0 for a product with it, whatever its symbols are: `R_y * 0`."""
    match tree:
        case Operation(operator="*", left=left, right=right):
            if any(isinstance(one, Number) and not one.value for one in (left, right)):
                return Number(0.0)
            return Operation("*", without_nothing(left), without_nothing(right))
        case Operation(operator="+" | "-" as sign, left=left, right=right):
            return Operation(sign, without_nothing(left), without_nothing(right))
        case Negative():
            return Negative(without_nothing(tree.term))
    return tree


def plain_value(tree: Tree, chain: Chain, known: Mapping[str, float]) -> float:
    """Return the number that a tree comes to with its units taken off, nan where it has none."""
    try:
        return evaluate(without_units(tree), _amounts(tree, chain, known)).value
    except Unreadable:
        return math.nan
