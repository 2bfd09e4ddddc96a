"""Arithmetic as sums of products, so that two ways of writing a line can be laid side by side."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import reduce

from leverstep.entry.amount import written_units
from leverstep.entry.tree import Call, Measured, Name, Negative, Number, Operation, Tree, names_in


@dataclass(frozen=True, slots=True)
class Leaf:
    """A number or a symbol. `key` is the quantity that it names, "" for a number.

    `values` are the numbers that it may count as; `slack` is how far off they may be, for a number
    that was rounded when it was typed.
    """

    text: str
    key: str
    values: tuple[float, ...]
    slack: float = 0.0


@dataclass(frozen=True, slots=True)
class Function:
    """A function of a sum of products, such as the sine of an angle."""

    name: str
    inside: Group


@dataclass(frozen=True, slots=True)
class Factor:
    """What a product holds: a leaf, a function or a sum in brackets, to some power."""

    base: Leaf | Function | Group
    power: float = 1.0


@dataclass(frozen=True, slots=True)
class Term:
    """A product with its sign."""

    sign: int
    factors: tuple[Factor, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """A sum of products."""

    terms: tuple[Term, ...]


Base = Leaf | Function | Group
"""What a factor may be, before its power."""

_FUNCTIONS: dict[str, Callable[[float], float]] = {
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "tan": lambda degrees: math.tan(math.radians(degrees)),
    "asin": lambda ratio: math.degrees(math.asin(ratio)),
    "acos": lambda ratio: math.degrees(math.acos(ratio)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
}


def shape(tree: Tree, leaf: Callable[[Number | Name | Measured], Leaf]) -> Group:
    """Return a tree as a sum of products; bars for a size are left out.

    Args:
        tree: what was read.
        leaf: what a number, a symbol, or a number with its unit is taken as.
    """
    match tree:
        case Number() | Name():
            return _single(leaf(tree))
        case Negative():
            return negative(shape(tree.term, leaf))
        case Measured():
            whole = isinstance(tree.term, Number)
            return _single(leaf(tree)) if whole else shape(_measured(tree.term, tree.units), leaf)
        case Call(function="abs"):
            return shape(tree.term, leaf)
        case Call(function="sqrt"):
            return _raised(shape(tree.term, leaf), 0.5)
        case Call():
            return _single(Function(tree.function, shape(tree.term, leaf)))
        case Operation():
            return _operated(tree, leaf)


def _operated(tree: Operation, leaf: Callable[[Number | Name | Measured], Leaf]) -> Group:
    """Return what an operation makes of its two sides."""
    match tree:
        case Operation(operator="^"):
            assert isinstance(tree.right, Number), "the grammar reads whole powers only"
            return _raised(shape(tree.left, leaf), tree.right.value)
        case Operation(operator="*", right=Measured(units=units)) if _is_bare(tree.left):
            # The unit behind a product belongs to all of it: `19.5*cos(13.2) cm`.
            left = shape(_measured(tree.left, units), leaf)
            return _product(left, shape(tree.right, leaf))
    left, right = shape(tree.left, leaf), shape(tree.right, leaf)
    match tree.operator:
        case "+":
            return Group(left.terms + right.terms)
        case "-":
            return Group(left.terms + negative(right).terms)
        case "*":
            return _product(left, right)
    return _product(left, _raised(right, -1.0))


def _is_bare(tree: Tree) -> bool:
    """Return whether no unit is written in a tree, and no symbol that has one."""
    return not any(written_units(tree)) and not any(names_in(tree))


def _measured(tree: Tree, units: tuple[tuple[str, int], ...]) -> Tree:
    """Return a tree with the unit behind it at each number that it may belong to.

    Those are the numbers that it multiplies: not the ones within a function, a power or a divisor.
    """
    match tree:
        case Number():
            return Measured(tree, units)
        case Negative():
            return Negative(_measured(tree.term, units))
        case Operation(operator="+" | "-" | "*"):
            left, right = _measured(tree.left, units), _measured(tree.right, units)
            return Operation(tree.operator, left, right)
        case Operation(operator="/"):
            return Operation("/", _measured(tree.left, units), tree.right)
    return tree


def _single(base: Leaf | Function | Group) -> Group:
    return Group((Term(1, (Factor(base),)),))


def negative(group: Group) -> Group:
    """Return a sum with all signs the other way."""
    return Group(tuple(Term(-term.sign, term.factors) for term in group.terms))


def _as_term(group: Group) -> Term:
    """Return a sum as one product: a sum of several becomes a factor in brackets."""
    return group.terms[0] if len(group.terms) == 1 else Term(1, (Factor(group),))


def _product(left: Group, right: Group) -> Group:
    one, other = _as_term(left), _as_term(right)
    return Group((Term(one.sign * other.sign, one.factors + other.factors),))


def _raised(group: Group, power: float) -> Group:
    term = _as_term(group)
    sign = 1 if power % 2 == 0 else term.sign
    factors = tuple(Factor(f.base, f.power * power) for f in term.factors)
    return Group((Term(sign, factors),))


def value(base: Leaf | Function | Group) -> float:
    """Return what a part comes to, nan where it has no finite value."""
    try:
        match base:
            case Leaf():
                return base.values[0]
            case Function():
                return _FUNCTIONS[base.name](value(base.inside))
        return sum(t.sign * math.prod(power_of(f) for f in t.factors) for t in base.terms)
    except (ArithmeticError, ValueError, TypeError):
        return math.nan


def power_of(factor: Factor) -> float:
    """Return what a factor comes to, with its power; nan where it has no finite value."""
    try:
        return float(value(factor.base) ** factor.power)
    except (ArithmeticError, TypeError):
        return math.nan


def leaves(group: Group) -> Iterator[Leaf]:
    """Yield the numbers and symbols of a sum, from left to right."""
    for term in group.terms:
        for factor in term.factors:
            match factor.base:
                case Leaf():
                    yield factor.base
                case Function():
                    yield from leaves(factor.base.inside)
                case Group():
                    yield from leaves(factor.base)


def replaced(group: Group, key: str, by: Group) -> Group:
    """Return a sum with another sum in place of a symbol."""

    def part(factor: Factor) -> Group:
        match factor.base:
            case Leaf(key=found) if found == key:
                return _raised(by, factor.power) if factor.power != 1 else by
            case Function(name, inside):
                return _raised(_single(Function(name, replaced(inside, key, by))), factor.power)
            case Group():
                return _raised(replaced(factor.base, key, by), factor.power)
        return _raised(_single(factor.base), factor.power)

    terms: list[Term] = []
    for term in group.terms:
        product = reduce(_product, map(part, term.factors))
        terms += product.terms if term.sign > 0 else negative(product).terms
    return Group(tuple(terms))


def cancelled(group: Group) -> Group:
    """Return a sum with what both multiplies and divides a product left out of it."""
    terms = []
    for term in group.terms:
        kept: list[Factor] = []
        for factor in term.factors:
            inverse = replace(factor, power=-factor.power)
            if inverse in kept:
                kept.remove(inverse)
            else:
                kept.append(factor)
        terms.append(replace(term, factors=tuple(kept)))
    return Group(tuple(terms))


def multiplied_out(group: Group) -> Group:
    """Return a sum with the brackets of its products multiplied out: `a + b c - b a`."""
    terms: list[Term] = []
    for term in group.terms:
        sums: list[Group] = []
        alone: list[Factor] = []
        for factor in term.factors:
            if isinstance(factor.base, Group) and factor.power == 1:
                sums.append(multiplied_out(factor.base))
            else:
                alone.append(factor)
        for parts in itertools.product(*(one.terms for one in sums)):
            sign = math.prod((part.sign for part in parts), start=term.sign)
            factors = (factor for part in parts for factor in part.factors)
            terms.append(Term(sign, (*alone, *factors)))
    return Group(tuple(terms))
