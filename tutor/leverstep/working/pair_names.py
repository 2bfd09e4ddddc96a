"""What a student calls the two forces that hold a point, and the load: `T1` and `T2`, `W`."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping, Sequence, Set
from types import MappingProxyType
from typing import NamedTuple

from leverstep.comparing.balance_numbers import in_symbols
from leverstep.comparing.equation import balance_lines, how_unlike
from leverstep.course.problem import Question
from leverstep.entry.axis_labels import after_axis_label
from leverstep.entry.grammar import read_line
from leverstep.entry.tree import Unreadable
from leverstep.entry.vocabulary import Vocabulary, units_spelled

_NAME = re.compile(r"(?<![\w.])[A-Z][A-Za-z]?_?(?:[12]|[abAB]|left|right)(?!\w)")
"""One of two forces that are told apart by an index."""
_OTHER = {"1": "2", "a": "b", "A": "B", "left": "right"}
_SECOND = tuple(_OTHER.values())
_OTHER |= {other: one for one, other in _OTHER.items()}
_INDEX = re.compile(r"(?:[12]|[abAB]|left|right)$")
_LOWERED = re.compile(r"(?<=[A-Za-z])[₁₂]")
_WEIGHT = re.compile(r"(?<![\w.])(?:[WGQ]|F_?g|F_?[WG])(?!\w)")
"""The weight of what hangs, where there is one load alone."""


class InSymbols(NamedTuple):
    """A line in the symbols of its problem; `names` has what a pair is taken for in it."""

    text: str
    names: Mapping[str, str] = MappingProxyType({})


class PairNames:
    """The names that a working has for the two forces that are to be found, once it has any.

    They are taken for two forces at once, or for none.
    """

    def __init__(self, question: Question) -> None:
        self._equations = balance_lines(question)
        self._question = question.at(self._equations[0]) if self._equations else question
        self._names: dict[str, str] = {}

    def keep(self, said: InSymbols) -> None:
        """Take names for what they stand for in a line, from now on."""
        self._names |= said.names

    def read(
        self, text: str, symbols: Collection[str], is_right: Callable[[str], bool]
    ) -> InSymbols:
        """Return a line in the symbols of the problem, as it is where it has no other names.

        Args:
            text: what was typed.
            symbols: those of the problem.
            is_right: what says whether a line in these symbols is right.
        """
        if not self._equations:
            return InSymbols(text)
        vocabulary = Vocabulary(symbols)
        text = self._with_load(_LOWERED.sub(_raised, text), vocabulary)
        own = {one for one in _NAME.findall(text) if not _has_meaning(one, vocabulary)}
        pairs = {frozenset((one, _partner(one))) for one in own}
        if own <= self._names.keys() or len(pairs) != 1:
            return InSymbols(_put_in(text, self._names))
        names = self._taken(text, own, sorted(pairs.pop(), key=_is_second), symbols, is_right)
        return InSymbols(_put_in(text, names), names)

    def _with_load(self, text: str, vocabulary: Vocabulary) -> str:
        """Return a line with its symbol for the one weight there is; as it is where several are."""
        weights = [one for one in self._question.problem.posture.forces if one.is_weight]
        if len(weights) != 1:
            return text

        def named(one: re.Match[str]) -> str:
            return one.group() if vocabulary.is_factor(one.group()) else weights[0].symbol

        return _WEIGHT.sub(named, text)

    def _taken(
        self,
        text: str,
        own: Set[str],
        pair: Sequence[str],
        symbols: Collection[str],
        is_right: Callable[[str], bool],
    ) -> dict[str, str]:
        """Return what both names of a pair stand for, none where that can't be told.

        A line with one of them alone must be right so.
        """
        forces = [force.symbol for force in self._question.problem.posture.unknown]
        ways = [dict(zip(pair, order, strict=True)) for order in (forces, forces[::-1])]
        if len(own) == 1:
            return next((names for names in ways if is_right(_put_in(text, names))), {})
        return min(ways, key=lambda names: self._unlike(_put_in(text, names), symbols))

    def _unlike(self, text: str, symbols: Collection[str]) -> float:
        """Return how far a line is from an equation of forces, by the likelier of the two."""
        label = after_axis_label(text)
        try:
            sides = in_symbols(self._question, read_line(label.text, symbols), {})
            return min(how_unlike(self._question, step, sides) for step in self._equations)
        except Unreadable:
            return math.inf


def _raised(index: re.Match[str]) -> str:
    return {"₁": "1", "₂": "2"}[index.group()]


def _has_meaning(word: str, vocabulary: Vocabulary) -> bool:
    """Return whether a word is a symbol of the problem, or a unit."""
    return vocabulary.is_factor(word) or units_spelled(word) is not None


def _partner(name: str) -> str:
    """Return the name of the other of two forces: `T2` for `T1`."""
    return _INDEX.sub(lambda index: _OTHER[index.group()], name)


def _is_second(name: str) -> bool:
    """Return whether a name is the second of its pair."""
    return name.endswith(_SECOND)


def _put_in(text: str, names: Mapping[str, str]) -> str:
    return _NAME.sub(lambda one: names.get(one.group(), one.group()), text)
