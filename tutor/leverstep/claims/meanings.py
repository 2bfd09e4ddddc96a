"""What each number of a page may stand for, exactly as it should be: a given, a line, a term."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from leverstep.claims.judged_line import LineStanding
from leverstep.claims.memory import Memory, PageResult
from leverstep.claims.near_numbers import CUT_OFF, ROUNDED, is_constant, is_same
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.worth import numbers_in, plain_value
from leverstep.entry.amount import Amount, evaluate, unit_size
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
)
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.points import Given
from leverstep.statics.units import (
    ACCELERATION,
    ANGLE,
    MASS,
    MASS_LENGTH,
    NUMBER,
    Dimension,
    known_unit,
)

EXACT = 1e-7
"""How far apart two numbers may be that are worked out in two ways from the same, as a share."""
_MOST_MEANINGS = 5
_MOST_WAYS = 12
"""So many meanings of a number are kept, and so many ways of putting them together in a term."""
_MOST_PLACES = 16
"""So many numbers and symbols stand in a tree that is traced."""
_MOST_TERMS = 300
"""So many terms of a page are kept."""

_OF_CONVERSION = (
    0.4536, 0.454, 0.45359, 2.54, 0.0254, 0.3048, 30.48, 12.0, 0.001, 0.01, 0.1, 10.0, 100.0,
    1000.0, *CONVENTIONS["pounds_per_kilogram"].values, *CONVENTIONS["newtons_per_pound"].values,
)  # fmt: skip
"""Factors between units, by which what a number stands for is no other."""


class Meaning(NamedTuple):
    """How much a number should be, in kg, m, s and degrees, what it is there as the page has it,
    and whether that is amiss.
    """

    amount: Amount
    own: float
    is_amiss: bool = False


def _right(amount: Amount) -> Meaning:
    return Meaning(amount, amount.value)


class _Written(NamedTuple):
    """A meaning by the size that it is written with."""

    size: float
    place: int
    meaning: Meaning


class Slot(NamedTuple):
    """A place of a number or symbol in a tree, with what may stand there.

    `written` is its number or nan, `free` the result of the page that is not known to be of
    anything, or may be of another; `symbol` is "" for a number.
    """

    name: str
    written: float
    meanings: list[Meaning]
    free: PageResult | None = None
    symbol: str = ""


class Meanings:
    """Finds what numbers may stand for, by what the page has written so far."""

    def __init__(self, subject: Subject, memory: Memory) -> None:
        self.subject = subject
        self.memory = memory
        self._by_value = sorted((abs(value), key) for key, value in subject.right.items() if value)
        self._sizes: list[_Written] = []
        self._sizes_in_si: list[_Written] = []
        self._terms: list[tuple[float, Meaning]] = []
        self._waiting: list[Chain] = []
        self._gravity = subject.question.accepted["g"][0]

    def note(self, chain: Chain) -> None:
        """Keep the terms of a chain, for which numbers of later lines may stand."""
        self._waiting.append(chain)

    def slotted(self, tree: Tree, chain: Chain) -> tuple[Tree, list[Slot]]:
        """Return a tree with a name in place of each number and symbol, and these names; a number
        for a tree with too many.
        """
        if not _is_short(tree):
            return Number(math.nan), []
        slots: list[Slot] = []
        return self._slotted(tree, chain, slots), slots

    def exactly(self, amount: Amount) -> Iterator[Quantity]:
        """Yield the quantities that have a value, of the dimension of that or by its weight."""
        yield from self._having(abs(amount.value), amount.dimension)
        if amount.dimension in (MASS, MASS_LENGTH):
            mass, length, time, angle = amount.dimension
            yield from self._having(
                abs(amount.value) * self._gravity, (mass, length + 1, time - 2, angle)
            )

    def _having(self, size: float, dimension: Dimension) -> Iterator[Quantity]:
        return (one for one in self.sized(size) if one.dimension == dimension)

    def sized(self, size: float) -> Iterator[Quantity]:
        """Yield the quantities that have a size above 0, of whatever dimension."""
        start = bisect_left(self._by_value, (size * (1 - EXACT), ""))
        for value, key in self._by_value[start:]:
            if value > size * (1 + EXACT):
                return
            yield self.subject.all[key]

    # ---- the places of a tree

    def _slotted(
        self, tree: Tree, chain: Chain, slots: list[Slot], unit: Amount | None = None
    ) -> Tree:
        match tree:
            case Number():
                name = f"#{len(slots)}"
                slots.append(self._slot(name, tree, unit))
                return Name(name, 0)
            case Name():
                name = f"#{len(slots)}"
                slots.append(self._slot_of_symbol(name, chain.names[tree.symbol]))
                return Name(name, 0)
            case Measured():
                return self._slotted(tree.term, chain, slots, unit_size(tree.units))
            case Negative():
                return Negative(self._slotted(tree.term, chain, slots, unit))
            case Call():
                return Call(tree.function, self._slotted(tree.term, chain, slots))
            case Operation(operator="^"):
                return Operation("^", self._slotted(tree.left, chain, slots), tree.right)
            case Operation():
                left = self._slotted(tree.left, chain, slots)
                return Operation(tree.operator, left, self._slotted(tree.right, chain, slots))

    def _slot(self, name: str, number: Number, unit: Amount | None) -> Slot:
        meanings = _each_once(self._of_number(number, unit))[:_MOST_MEANINGS]
        return Slot(name, number.value, meanings, self._loose(number, meanings))

    def _slot_of_symbol(self, name: str, symbol: str) -> Slot:
        key = self.memory.key_of(symbol)
        written = self.memory.written.get(symbol, math.nan)
        if key in self.subject.right:
            size, of = abs(self.subject.right[key]), self.subject.all[key]
            latest = self.memory.latest(key)
            is_amiss = latest is not None and latest.is_not_right
            own = latest.value if latest is not None and is_amiss else size
            return Slot(
                name,
                written,
                [Meaning(Amount(size, of.dimension), abs(own), is_amiss)],
                symbol=symbol,
            )
        if symbol == "g":
            return Slot(name, written, [_right(Amount(self._gravity, ACCELERATION))])
        if math.isnan(written):
            return Slot(name, written, [], symbol=symbol)
        return self._slot(name, Number(written), None)._replace(symbol=symbol)

    # ---- what a number may stand for

    def _of_number(self, number: Number, unit: Amount | None) -> Iterator[Meaning]:
        size = abs(number.value)
        for plain, meaning in () if is_constant(number) else self._terms_so_far():
            if is_same(number, plain) and (unit is None or _goes_with(meaning, unit)):
                yield meaning
        last = self._last_like(number)
        if last is not None and last.key in self.subject.all and not math.isnan(last.right):
            of = self.subject.all[last.key]
            amount = Amount(abs(last.right), of.dimension)
            is_amiss = last.is_not_right or last.standing is LineStanding.UNREAD
            yield Meaning(amount, abs(last.value) if is_amiss else amount.value, is_amiss)
        if unit is None:
            yield from self._constants(number)
            yield from _near(self._all_sizes(), size, number.half_digit)
            yield from self._functions(number)
            return
        in_si = _near(self._all_in_si(), size * unit.value, number.half_digit * unit.value)
        yield from (meaning for meaning in in_si if _goes_with(meaning, unit))

    def _last_like(self, number: Number) -> PageResult | None:
        """Return the last result of the page that a number is; one that is not understood is no
        ground where the problem states the number.
        """
        last = self.memory.last_like(number)
        is_guess = last is not None and last.standing is LineStanding.UNREAD
        is_stated = is_guess and any(is_same(number, size) for size, _ in self._as_stated())
        return None if is_stated else last

    def _constants(self, number: Number) -> Iterator[Meaning]:
        """Yield what a number is that any line may hold."""
        size = abs(number.value)
        if size in CONVENTIONS["g"].values:
            yield _right(Amount(self._gravity, ACCELERATION))
        if size in CONVENTIONS["newtons_per_pound"].values:
            yield _right(Amount(self._gravity, ACCELERATION))
        if size in _OF_CONVERSION:
            yield _right(Amount(1.0))
        if is_constant(number) and size not in CONVENTIONS["g"].values:
            yield _right(Amount(size))

    def _functions(self, number: Number) -> Iterator[Meaning]:
        """Yield the sines, cosines and tangents of angles that a decimal is."""
        if is_constant(number) or (number.figures or 0) < 2 or abs(number.value) > 1:
            return
        for one in self._all_in_si():
            if one.meaning.amount.dimension == ANGLE:
                angle = math.radians(one.size)
                for value in (math.sin(angle), math.cos(angle)):
                    if is_same(number, value):
                        yield _right(Amount(value))

    def _loose(self, number: Number, meanings: list[Meaning]) -> PageResult | None:
        """Return the result of the page that a number stands for, where that is not understood, or
        may be of something else; or the term that it is, where there is such a number in that.
        """
        last = self._last_like(number)
        if last is None or is_constant(number):
            term = next((one for one in meanings if one.is_amiss), None)
            unread = LineStanding.UNREAD
            return (
                None if term is None else PageResult(number.value, term.own, math.nan, "", unread)
            )
        is_amiss = last.standing in (LineStanding.UNREAD, LineStanding.WRONG)
        is_told = bool(last.key) or any(any(self.exactly(one.amount)) for one in meanings)
        return last if is_amiss or not is_told else None

    # ---- numbers in their order

    def _all_sizes(self) -> list[_Written]:
        """Return the meanings by the sizes that they may be written with on this page."""
        if not self._sizes:
            scaled = [
                (one.amount.value / scale, one)
                for one in self._all_there()
                for scale in self._scales(one.amount.dimension)
            ]
            self._sizes = _sorted([*self._as_stated(), *scaled])
        return self._sizes

    def _all_in_si(self) -> list[_Written]:
        if not self._sizes_in_si:
            self._sizes_in_si = _sorted([(one.amount.value, one) for one in self._all_there()])
        return self._sizes_in_si

    def _scales(self, dimension: Dimension) -> tuple[float, ...]:
        return (1.0, 0.01) if dimension == NUMBER else self.subject.scales.of(dimension)

    def _as_stated(self) -> list[tuple[float, Meaning]]:
        """Return the givens with the numbers that the problem states them by."""
        question = self.subject.question
        return [
            (abs(question.numbers[given.key]), self._meaning_of(given)) for given in question.givens
        ]

    def _meaning_of(self, given: Given) -> Meaning:
        dimension = known_unit(given.unit).dimension if given.unit else NUMBER
        return _right(Amount(abs(self.subject.question.in_si(given)), dimension))

    def _all_there(self) -> list[Meaning]:
        """Return what the quantities and givens are worth, and the angles beside these."""
        there = [
            _right(Amount(abs(value), self.subject.all[key].dimension))
            for key, value in self.subject.right.items()
            if value and not math.isnan(value)
        ]
        there += [meaning for _, meaning in self._as_stated()]
        angles = [one.amount.value for one in there if one.amount.dimension == ANGLE]
        return there + [
            _right(Amount(abs(by - one), ANGLE)) for one in angles for by in (90.0, 180.0)
        ]

    # ---- terms of earlier lines

    def _terms_so_far(self) -> list[tuple[float, Meaning]]:
        while self._waiting and len(self._terms) < _MOST_TERMS:
            chain, *self._waiting = self._waiting
            for side in chain.sides:
                for term in _operations(side) if _is_short(side) else ():
                    plain = plain_value(term, chain, self.memory.written)
                    if not math.isnan(plain):
                        self._terms += [
                            (abs(plain), _size(one)) for one in self._worth(term, chain)
                        ]
        return self._terms

    def _worth(self, term: Tree, chain: Chain) -> Iterable[Meaning]:
        tree, slots = self.slotted(term, chain)
        there = itertools.islice(ways(slots), _MOST_WAYS)
        found = filter(None, (worth(tree, way) for way in there))
        return _each_once(itertools.islice(found, _MOST_MEANINGS))


Way = dict[str, Meaning]
"""What stands in each place of a tree, by its name; a number keeps its sign."""


def worth(tree: Tree, way: Way) -> Meaning | None:
    """Return what a tree comes to, and what by the numbers of the page; None where they don't go
    together.
    """
    try:
        amount = evaluate(tree, {name: one.amount for name, one in way.items()})
        own = evaluate(tree, {n: one.amount._replace(value=one.own) for n, one in way.items()})
    except Unreadable:
        return None
    return Meaning(amount, own.value, any(one.is_amiss for one in way.values()))


def ways(slots: list[Slot]) -> Iterator[Way]:
    """Yield the ways to put what may stand in some places together."""
    for some in itertools.product(*(slot.meanings for slot in slots)):
        yield {s.name: _signed(one, s.written) for s, one in zip(slots, some, strict=True)}


def _signed(meaning: Meaning, written: float) -> Meaning:
    if not written < 0:
        return meaning
    amount = meaning.amount._replace(value=-meaning.amount.value)
    return meaning._replace(amount=amount, own=-meaning.own)


def _is_short(tree: Tree) -> bool:
    """Return whether a tree has no more numbers and symbols than are traced."""
    places = itertools.chain(numbers_in(tree), names_in(tree))
    return sum(1 for _ in places) <= _MOST_PLACES


def _size(meaning: Meaning) -> Meaning:
    amount = meaning.amount._replace(value=abs(meaning.amount.value))
    return meaning._replace(amount=amount, own=abs(meaning.own))


def _operations(tree: Tree) -> Iterator[Tree]:
    """Yield what is worked out within a tree, the inner first."""
    match tree:
        case Operation():
            yield from _operations(tree.left)
            yield from _operations(tree.right)
        case Negative() | Measured() | Call():
            yield from _operations(tree.term)
    if isinstance(tree, Operation | Call) and is_arithmetic(tree):
        yield tree


def _goes_with(meaning: Meaning, unit: Amount) -> bool:
    return meaning.amount.dimension == unit.dimension


def _each_once(meanings: Iterable[Meaning]) -> list[Meaning]:
    """Return meanings that are not the same but for what binary fractions leave."""
    there = {(f"{one.amount.value:.9g}", one.amount.dimension): one for one in meanings}
    return list(there.values())


def _sorted(sizes: Iterable[tuple[float, Meaning]]) -> list[_Written]:
    there = sorted(sizes, key=lambda one: one[0])
    return [_Written(size, place, meaning) for place, (size, meaning) in enumerate(there)]


def _near(sizes: list[_Written], size: float, half_digit: float) -> Iterator[Meaning]:
    """Yield the meanings that a size may be rounded from."""
    reach = max(half_digit * ROUNDED, CUT_OFF * size)
    start = bisect_left(sizes, size - reach, key=lambda one: one.size)
    near = itertools.takewhile(lambda one: one.size <= size + reach, sizes[start:])
    yield from (one.meaning for one in sorted(near, key=lambda one: abs(one.size - size)))
