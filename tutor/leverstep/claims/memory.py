"""What a page has written so far, which later lines may rest on."""

from __future__ import annotations

import math
import re
from bisect import bisect_left, insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import label_of
from leverstep.claims.letters_laid_down import Letters
from leverstep.claims.near_numbers import CUT_OFF, ROUNDED, is_same, stands_among
from leverstep.claims.page_quantities import Quantity
from leverstep.claims.segments import Chain
from leverstep.claims.senses import Senses
from leverstep.claims.subject import Subject
from leverstep.claims.worth import Side, numbers_in, sides_of
from leverstep.entry.tree import Number
from leverstep.statics.kinds import Part
from leverstep.statics.units import (
    ACCELERATION,
    FORCE,
    MASS,
    MOMENT_OF_INERTIA,
    Dimension,
    known_unit,
)

MOST_RESULTS = 1000
"""So many numbers of a page are kept, so that no line takes long; hardly a page has a tenth."""
_NOT_RIGHT = (LineStanding.WRONG, LineStanding.FOLLOWS)
_LETTERS_ALONE = {"m": MASS, "a": ACCELERATION, "I": MOMENT_OF_INERTIA}
"""Letters of what is given, where there is one of it."""


@dataclass(frozen=True, slots=True)
class PageResult:
    """A number that stands on the page: as written, in SI, what it should be, and whether it is.

    `digits` are the numbers that it was worked out from.
    """

    plain: float
    value: float
    right: float
    key: str
    standing: LineStanding
    doubted: bool = False
    digits: frozenset[float] = frozenset()

    @property
    def is_not_right(self) -> bool:
        """Return whether what rests on it is to be put right: it is wrong, follows, or may be."""
        return self.doubted or self.standing in _NOT_RIGHT


@dataclass(frozen=True, slots=True)
class Solution:
    """What an unknown of an equation came to, as its numbers are written; `digits` are theirs."""

    unknown: str
    value: float
    standing: LineStanding
    digits: frozenset[str]


class _Sized(NamedTuple):
    """A result by the size of a number of it, `place` is when it was written."""

    size: float
    place: int


class _BySize:
    """Results in the order of their size, so that those near a number are soon found."""

    def __init__(self) -> None:
        self._sized: list[_Sized] = []

    def add(self, size: float, place: int) -> None:
        """Put in a result; one without a size is left out."""
        if not math.isnan(size):
            insort(self._sized, _Sized(abs(size), place))

    def like(self, number: Number, by: float = 1.0) -> Iterator[int]:
        """Yield the places of results that a number stands for, once multiplied by a factor."""
        size = abs(number.value)
        reach = max(number.half_digit * ROUNDED, size * CUT_OFF * 1.01)
        start = bisect_left(self._sized, _Sized((size - reach) / by, -1))
        for one in self._sized[start:]:
            if one.size * by > size + reach:
                return
            if is_same(number, one.size * by):
                yield one.place


class Memory:
    """The values of symbols, what they stand for, results, solutions, and wrong values of a page.

    `written` holds the numbers of symbols as they are written, `in_si` in SI; `bound` the keys of
    what they stand for, `meant` those of what one may stand for; `own` the wrong values of
    quantities, in SI, `doubted` the keys of those that may be of something else. `senses` are those
    that moments are counted in. `of_unread` are the symbols of equations without numbers that were
    not understood; `rewritten` are the symbols that were given another value; `posture` is the mark
    of the posture that the page speaks of, "" where that is not told; `has_unread` says that some
    number was not, or is doubted.
    """

    def __init__(self, subject: Subject, senses: Senses) -> None:
        self.subject = subject
        self.written: dict[str, float] = {}
        self.in_si: dict[str, float] = {}
        self.dimensions: dict[str, Dimension] = {}
        self.bound: dict[str, str] = {}
        self.meant: dict[str, tuple[str, ...]] = {}
        self.own: dict[str, float] = {}
        self.doubted: set[str] = set()
        self.results: list[PageResult] = []
        self.solutions: list[Solution] = []
        self.senses = senses
        self.of_unread: set[str] = set()
        self.rewritten: set[str] = set()
        self.last: Side | None = None
        self.last_label = label_of("")
        self.heading: frozenset[str] = frozenset()
        self.posture = ""
        self._of_other_posture: set[str] = set()
        self._latest: dict[str, PageResult] = {}
        self._plain, self._wrong, self._unread = _BySize(), _BySize(), _BySize()
        self._amiss = _BySize()
        self.has_unread = False
        self._put_givens()

    def _put_givens(self) -> None:
        question = self.subject.question
        for given in question.givens:
            if given.sign:
                self.put_symbol(given.sign, question.numbers[given.key], question.in_si(given))
        self.put_symbol("π", math.pi, math.pi)
        gravity = question.accepted["g"][0]
        self.put_symbol("g", gravity, gravity)
        for letter, dimension in _LETTERS_ALONE.items():
            there = [
                g for g in question.givens if g.unit and known_unit(g.unit).dimension == dimension
            ]
            is_sought = any(q.dimension == dimension for q in self.subject.with_line)
            if len(there) == 1 and not is_sought:  # it may be called so without an index
                self.put_symbol(letter, question.numbers[there[0].key], question.in_si(there[0]))

    def put_symbol(self, symbol: str, written: float, in_si: float) -> None:
        """Keep the number of a symbol."""
        if symbol in self.written and not math.isclose(self.written[symbol], written):
            self.rewritten.add(symbol)
        self.written[symbol] = written
        self.in_si[symbol] = in_si

    def put_unless_written(self, symbol: str, in_si: float) -> None:
        """Keep what a symbol is worth, where the page has no value for it."""
        if symbol not in self.written:
            self.put_symbol(symbol, in_si, in_si)

    @property
    def symbols(self) -> set[str]:
        """Return the symbols that the problem and the page have."""
        return (
            set(self.written)
            | (set(self.bound) - self.subject.names.symbols_in_words)
            | set(self.meant)
            | self.subject.names.exact
            | self.subject.names.joined
        )

    def words_of_symbols(self, text: str) -> frozenset[str]:
        """Return the words of the forces whose symbols stand in a text: `F up: 171.7 sin 23.5`."""
        return frozenset().union(*map(self.subject.names.words_of, self._spoken_of(text)))

    def forces_by_symbol(self, text: str) -> frozenset[str]:
        """Return the forces whose symbols stand in a text: `arm of A_y`."""
        quantities = filter(None, self._spoken_of(text))
        return frozenset(one.key for one in quantities if one.about == (one.key,))

    def _spoken_of(self, text: str) -> list[Quantity | None]:
        return [self.quantity_of(one) for one in re.findall(r"\b[A-Z]\w{0,3}\b", text)]

    def key_of(self, symbol: str) -> str:
        """Return the quantity that a symbol stands for, "" where that is unknown."""
        return self.subject.names.key_of(symbol) or self.bound.get(symbol, "")

    def quantity_of(self, symbol: str) -> Quantity | None:
        """Return the same as a quantity, None where that is unknown."""
        return self.subject.all.get(self.key_of(symbol))

    def force_by_letter(self, letter: str) -> Quantity | None:
        """Return the force that a letter alone stands for in a table: by what the page has it for,
        or else by its index in the problem; None for any other.
        """
        by_index = [
            force
            for force in self.subject.names.words_of_force
            if letter and force.partition("_")[2].lower() == letter.lower()
        ]
        key = self.bound.get(letter, by_index[0] if len(by_index) == 1 else "")
        force = self.subject.all.get(key)
        return force if force is not None and force.about == (key,) else None

    def note_posture(self, words: frozenset[str]) -> None:
        """Take the posture that words name as what the page speaks of from here on.

        Symbols of the page for what another posture has keep their values, which may be handed on,
        until a line defines them anew.
        """
        self.speak_of(self.subject.names.posture_named(words))

    def speak_of(self, posture: str) -> None:
        """Take a posture by its mark as what the page speaks of from here on; "" is none."""
        if not posture or posture == self.posture:
            return
        self.posture = posture
        bound = self.bound.items()
        self._of_other_posture = {one for one, key in bound if self._is_of_other(key)}

    def define_anew(self, symbol: str) -> None:
        """Forget what a symbol stood for in another posture."""
        if symbol in self._of_other_posture:
            self._of_other_posture.remove(symbol)
            for values in (self.bound, self.written, self.in_si):
                values.pop(symbol, None)

    def lay_down(self, letters: Iterable[Letters]) -> None:
        """Take letters of the page for what a line says that they stand for."""
        for one in letters:
            for symbol in one.symbols:
                if self.subject.names.key_of(symbol):
                    continue  # the problem has it for something
                if len(one.keys) == 1:
                    self.bound.setdefault(symbol, one.keys[0])
                else:
                    self.meant[symbol] = one.keys

    def _is_of_other(self, key: str) -> bool:
        """Return whether a quantity is of another posture; weights and distances are of all."""
        step = self.subject.all[key].step
        if step is None or step.kind.part in (Part.FORCES, Part.DISTANCES):
            return False
        return step.mark not in ("", self.posture)

    # ---- results

    def add(self, result: PageResult) -> None:
        """Keep a number of the page."""
        place = len(self.results)
        if place >= MOST_RESULTS:
            return
        self.results.append(result)
        self._plain.add(result.plain, place)
        if result.key:
            self._latest[result.key] = result
        if result.standing not in (LineStanding.RIGHT, LineStanding.KEPT):
            self._amiss.add(result.plain, place)
        if result.standing is LineStanding.UNREAD:
            self.has_unread = True
            for number in {result.plain, result.value}:
                self._unread.add(number, place)
        if result.is_not_right and result.value and not math.isnan(result.right):
            self._wrong.add(result.plain, place)
            self._wrong.add(result.value, place)

    def add_solution(self, solution: Solution) -> None:
        """Keep what an unknown came to; once it is right, nothing follows from a wrong one."""
        if solution.standing is LineStanding.RIGHT:
            self._forget_wrong_solutions(solution.unknown)
        if len(self.solutions) < MOST_RESULTS:
            self.solutions.append(solution)

    def _forget_wrong_solutions(self, unknown: str) -> None:
        self.solutions = [
            one
            for one in self.solutions
            if one.unknown != unknown or one.standing is not LineStanding.WRONG
        ]

    @property
    def last_force(self) -> str:
        """Return the key of the last force whose value was written, "" where there is none."""
        forces = (self.subject.all.get(result.key) for result in reversed(self.results))
        return next((one.key for one in forces if one and one.dimension == FORCE), "")

    @property
    def last_key(self) -> str:
        """Return the key of the last result, "" where there is none."""
        return self.results[-1].key if self.results else ""

    def has(self, key: str) -> bool:
        """Return whether a value of a quantity stands on the page."""
        return key in self._latest

    def latest(self, key: str) -> PageResult | None:
        """Return the last result of a quantity."""
        return self._latest.get(key)

    def holds(self, number: Number) -> bool:
        """Return whether a number stands on the page."""
        return next(self._plain.like(number), None) is not None

    def has_written(self, number: float) -> bool:
        """Return whether a number stands on the page figure by figure."""
        there = self._plain.like(Number(number))
        return any(abs(self.results[place].plain) == abs(number) for place in there)

    def holds_or_given(self, number: Number) -> bool:
        """Return whether a number stands on the page, or is one of the problem."""
        return self.holds(number) or stands_among(number, self.subject.every_size)

    def last_like(self, number: Number) -> PageResult | None:
        """Return the last result of the page that a number stands for."""
        there = list(self._plain.like(number))
        return self.results[max(there)] if there else None

    def results_like(self, number: Number) -> list[PageResult]:
        """Return the results of the page that a number may stand for."""
        return [self.results[place] for place in self._plain.like(number)]

    def holds_unread(self, number: Number) -> bool:
        """Return whether a number stands on the page in what was not understood, or doubted."""
        return any(not self._is_put_right(self.results[p]) for p in self._unread.like(number))

    def holds_amiss(self, number: Number) -> bool:
        """Return whether a number stands on the page in what is not right, or not understood."""
        return any(not self._is_put_right(self.results[p]) for p in self._amiss.like(number))

    def is_written_right(self, number: Number) -> bool:
        """Return whether a number stands on the page, figure by figure, in what is right there."""
        there = (self.results[place] for place in self._plain.like(number))
        exact = [one for one in there if abs(one.plain) == abs(number.value)]
        return bool(exact) and not any(one.is_not_right for one in exact)

    def wrong_behind(self, number: Number, factors: tuple[float, ...]) -> PageResult | None:
        """Return the last wrong result that a number stands for, in any of some units.

        One that the page has put right since is none.
        """
        there = [place for by in factors for place in self._wrong.like(number, by)]
        there = [place for place in there if not self._is_put_right(self.results[place])]
        return self.results[max(there)] if there and number.value else None

    def _is_put_right(self, result: PageResult) -> bool:
        """Return whether a result was not right, and its quantity has a right value by now."""
        latest = self.latest(result.key)
        return latest is not None and latest.standing is LineStanding.RIGHT

    # ---- what a value says

    def take(self, chain: Chain, symbol: str, claim: Claim) -> None:
        """Keep what a value says, so that later lines may rest on it."""
        sides = sides_of(chain, self.written, self.dimensions)
        closed = [side for side in sides if not math.isnan(side.plain)]
        if not closed:
            return
        self.last = closed[-1]
        if chain.before.strip(" ;,:") or symbol in self.subject.names.all_words:
            self.last_label = label_of(f"{chain.before} {symbol}", symbol)
        if symbol:
            self._take_symbol(symbol, self.last, claim)
        right = self.subject.right.get(claim.key, math.nan)
        key, value, standing, doubted = claim.key, claim.value, claim.standing, claim.doubted
        digits = frozenset(
            n.value for side in closed if side.is_arithmetic for n in numbers_in(side.tree)
        )
        results = [
            PageResult(side.plain, value, right, key, standing, doubted, digits)
            for side in closed
            if side is self.last or not side.is_arithmetic
        ]
        for result in results:
            self.add(result)
        if key and results[-1].is_not_right and not math.isnan(value):
            self._take_own(key, value, doubted)
        elif standing is LineStanding.RIGHT:
            self.own.pop(key, None)
            self.doubted.discard(key)
            self._forget_wrong_solutions(symbol)

    def _take_own(self, key: str, value: float, doubted: bool) -> None:
        """Keep a wrong value; one in doubt, which may be of another, replaces no sure one."""
        if doubted and key in self.own.keys() - self.doubted:
            return
        self.own[key] = value
        if doubted:
            self.doubted.add(key)
        else:
            self.doubted.discard(key)

    def _take_symbol(self, symbol: str, side: Side, claim: Claim) -> None:
        value = side.value if math.isnan(claim.value) else claim.value
        self.put_symbol(symbol, side.plain, value)
        if side.dimension is not None:
            self.dimensions[symbol] = side.dimension
        is_read = claim.doubted or claim.standing is not LineStanding.UNREAD
        quantity = self.subject.all.get(claim.key)
        if quantity is None or symbol == quantity.along:
            return  # the letter of an axis is that of any point
        if is_read and not self.subject.names.key_of(symbol):
            self.bound[symbol] = claim.key
