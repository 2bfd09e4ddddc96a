"""What an entry is made of once it is read: a tree of numbers, symbols, operations and units."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple


class Reason(NamedTuple):
    """Why an entry is not read, or what to note of it: a code, and what is put into its words.

    The words are those of `working.reasons`. `named` holds pairs of a placeholder and its text.
    """

    code: str
    named: tuple[tuple[str, str], ...] = ()

    @classmethod
    def of(cls, code: str, **named: object) -> Reason:
        """Return a reason with what is put into its words."""
        return cls(code, tuple((key, str(value)) for key, value in named.items()))


class Unreadable(Exception):
    """An entry, or a part of it, that there is no reading for; `reason` says why.

    `place` is the index of the character in the text as typed, or None where no one character is
    to blame.
    """

    def __init__(self, code: str, place: int | None = None, **named: object) -> None:
        super().__init__(code)
        self.reason = Reason.of(code, **named)
        self.place = place


@dataclass(frozen=True, slots=True)
class Number:
    """A number as typed: its value, half a unit of its last digit, and its significant figures.

    A number that is exact by its form, such as ½, has no last digit: `half_digit` is 0 and
    `figures` is None.
    """

    value: float
    half_digit: float = 0.0
    figures: int | None = None


@dataclass(frozen=True, slots=True)
class Name:
    """One of the problem's symbols, in an expression."""

    symbol: str
    place: int


@dataclass(frozen=True, slots=True)
class Negative:
    """A term with a minus sign before it."""

    term: Tree


@dataclass(frozen=True, slots=True)
class Operation:
    """Two terms and what is done with them."""

    operator: Literal["+", "-", "*", "/", "^"]
    left: Tree
    right: Tree


@dataclass(frozen=True, slots=True)
class Call:
    """A function of one term; `abs` is written with bars."""

    function: str
    term: Tree


@dataclass(frozen=True, slots=True)
class Measured:
    """A number or a bracket with a unit behind it: each unit's spelling with its exponent."""

    term: Tree
    units: tuple[tuple[str, int], ...]


Tree = Number | Name | Negative | Operation | Call | Measured


def names_in(tree: Tree) -> Iterator[Name]:
    """Yield the symbols that stand in a tree, from left to right."""
    match tree:
        case Name():
            yield tree
        case Operation():
            yield from names_in(tree.left)
            yield from names_in(tree.right)
        case Negative() | Call() | Measured():
            yield from names_in(tree.term)


def compared_in(sides: Sequence[Tree]) -> tuple[str, str] | None:
    """Return the symbols of one thing over another, where that stands before a value: `F/W = 2`."""
    match sides[0]:
        case Operation(operator="/", left=Name(symbol=above), right=Name(symbol=below)):
            is_value = len(sides) > 1 and not any(True for _ in names_in(sides[-1]))
            return (above, below) if is_value else None
    return None


def precision(tree: Tree) -> tuple[float, int | None]:
    """Return half a unit of the last digit and the figures of a plain number, else 0 and None."""
    number = number_in(tree)
    return (0.0, None) if number is None else (number.half_digit, number.figures)


def number_in(tree: Tree | None) -> Number | None:
    """Return the plain number that is typed, without its sign and unit; None for anything else."""
    while isinstance(tree, Measured | Negative):
        tree = tree.term
    return tree if isinstance(tree, Number) else None


def is_plain(tree: Tree) -> bool:
    """Return whether a tree is one number, with no more than a sign and one unit about it."""
    tree = tree.term if isinstance(tree, Negative) else tree
    return isinstance(tree.term if isinstance(tree, Measured) else tree, Number)


def is_arithmetic(tree: Tree) -> bool:
    """Return whether a tree is more than one number or symbol with its unit."""
    while isinstance(tree, Negative | Measured):
        tree = tree.term
    return isinstance(tree, Operation | Call)
