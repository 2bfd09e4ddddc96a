"""Arithmetic in the margin of a working: with what is given, what is written, and results kept.

It works out what is typed and nothing else: it judges nothing, and what is still to be found has no
value here. What is worked out is no entry, and nothing of it is recorded.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from leverstep.course.problem import FIGURES
from leverstep.course.symbols import SPELT, sign_of, spelt
from leverstep.entry.amount import Amount, evaluate
from leverstep.entry.amount_written import amount_written
from leverstep.entry.grammar import read_line
from leverstep.entry.tokens import tokenize
from leverstep.entry.tree import Tree, Unreadable, names_in
from leverstep.entry.vocabulary import Vocabulary, function_named, units_spelled
from leverstep.statics.units import ONE_LENGTH
from leverstep.working.reasons import at_place, reason_words
from leverstep.working.values_written import values_written
from leverstep.working.working import Working

LAST = "ans"
"""The symbol of the last result."""

MOST_KEPT = 20
"""Results that are kept under names."""

MOST_REMEMBERED = 50
"""Lines of arithmetic that are shown again."""

_LETTERS = f"A-Za-z{''.join(SPELT)}"
_KEEPS = re.compile(rf"\s*([{_LETTERS}][{_LETTERS}0-9_]*)\s*=(?!=)(.*)", re.DOTALL)
"""`a = 0.27*0.682`: a name, and what is kept under it."""


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What came of a line of arithmetic.

    `typed` is the line, `told` what it comes to, or in a sentence why it comes to nothing; `result`
    is the value as it may be entered, "" where there is none.
    """

    typed: str
    told: str
    result: str = ""


class Reckoner:
    """Works out arithmetic beside one working; `done` is what was worked out, the latest last.

    `shown` gives the values of lines that are shown though the student did not write them.
    """

    def __init__(self, working: Working, shown: Callable[[], Mapping[str, Amount]] = dict) -> None:
        self._working = working
        self._shown = shown
        self._kept: dict[str, Amount] = {}
        self.done: list[Reckoned] = []

    @property
    def last(self) -> str:
        """Return the last result as it may be entered, "" before any."""
        return self._written(self._kept[LAST], FIGURES) if LAST in self._kept else ""

    @property
    def has_value(self) -> tuple[str, ...]:
        """Return every symbol that has a value here, with that: `m_l 18.0 lb`, `W_l 80.08 N`."""
        question, known = self._working.question, self._known()
        as_stated = {
            given.sign: question.written(given)
            for given in question.givens
            if given.sign in known and known[given.sign].number is not None
        }
        others = {
            symbol: self._written(amount)
            for symbol, amount in known.items()
            if symbol not in (*as_stated, ONE_LENGTH) and not math.isnan(amount.value)
        }
        return tuple(f"{sign_of(symbol)} {value}" for symbol, value in (as_stated | others).items())

    def work_out(self, text: str) -> Reckoned:
        """Work out a line of arithmetic, `name = …` to keep what it comes to under a name."""
        try:
            reckoned = self._worked_out(text)
        except Unreadable as error:
            place = "" if error.reason.named else at_place(text, error.place)
            reckoned = Reckoned(text, f"Not worked out{place}: {reason_words(error.reason)}")
        self.done = [*self.done, reckoned][-MOST_REMEMBERED:]
        return reckoned

    def _worked_out(self, text: str) -> Reckoned:
        known, keeps = self._known(), _KEEPS.fullmatch(text)
        name, start = (spelt(keeps[1]), keeps.start(2)) if keeps else ("", 0)
        if name:
            self._check_name(name, known)
        tree = _read(text, start, known)
        amount = evaluate(tree, known)
        self._kept |= {one: amount for one in (LAST, name) if one}
        told = f"{sign_of(name)} = {self._written(amount)}" if name else self._written(amount)
        return Reckoned(text, f"{told}{_taken_as(tree, known)}", self._written(amount, FIGURES))

    def _written(self, amount: Amount, least: int = 1) -> str:
        posture = self._working.question.problem.posture
        return amount_written(amount, least, length=posture.unit_of_lines("m"))

    def _check_name(self, name: str, known: Mapping[str, Amount]) -> None:
        """Refuse a name that means something else, or one more than are kept."""
        is_symbol = Vocabulary(known.keys() - self._kept.keys()).symbol(name) is not None
        is_word = function_named(name) or units_spelled(name) or name.lower() in (LAST, "x")
        if is_symbol or is_word:
            raise Unreadable("name_in_use", found=sign_of(name))
        if name not in self._kept and len(self._kept.keys() - {LAST}) >= MOST_KEPT:
            raise Unreadable("too_many_kept", most=MOST_KEPT)

    def _known(self) -> dict[str, Amount]:
        """Return every symbol there is, with its value where it has one (else nan)."""
        values = {**values_written(self._working), **self._shown()}
        return {**values, LAST: Amount(math.nan), **self._kept}


def _taken_as(tree: Tree, known: Mapping[str, Amount]) -> str:
    """Return as what the givens in a tree were taken that are stated in another unit."""
    names = dict.fromkeys(name.symbol for name in names_in(tree))
    taken = [
        f"{sign_of(name)} as {amount_written(known[name])}"
        for name in names
        if known[name].number not in (None, known[name].value)
    ]
    return f", with {' and '.join(taken)}" if taken else ""


def _read(text: str, start: int, symbols: Mapping[str, Amount]) -> Tree:
    """Return the tree of the arithmetic that a text has from one of its characters on."""
    said = text[start:]
    try:
        if any(token.text == "=" for token in tokenize(said)):
            raise Unreadable("equals_sign")
        (tree,) = read_line(said, symbols)
    except Unreadable as error:
        if error.place is not None:
            error.place += start
        raise
    return tree
