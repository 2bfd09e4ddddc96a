"""What a word of an entry may mean: one of the problem's symbols, a function, or units."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from itertools import islice

from leverstep.entry.tokens import GREEK, Token
from leverstep.statics.units import ANGLE, NAMED_LENGTH, ONE_LENGTH, unit

INVERSES = {"sin": "asin", "cos": "acos", "tan": "atan"}
"""The functions of an angle, and those that give the angle back."""
FUNCTIONS = ("sqrt", *INVERSES, *INVERSES.values())

_INVERTED = re.compile(r"(?:\^?-1|\^\(-1\))(?![0-9.,])")
"""What makes a function its inverse where it stands behind its name: tokens of one sign each."""

_OF_MOMENTS = ("kN", "N")
"""The units of force that may be written together with one of length."""

_LONGEST_JOINED = 20
"""Letters of the longest word that is tried as symbols with no sign between them."""


class Vocabulary:
    """What words mean where some symbols are known: these come before functions and units."""

    def __init__(self, symbols: Collection[str]) -> None:
        self._symbols = symbols
        self.names_length = ONE_LENGTH in symbols
        self._forgiven: tuple[dict[str, list[str]], ...] = ({}, {})
        for symbol in symbols:
            for alike, name in zip(self._forgiven, _forgiving(symbol), strict=True):
                alike.setdefault(name, []).append(symbol)

    def units(self, word: str) -> tuple[str, ...] | None:
        """Return the units that a word spells, with `L` and `NL` where the problem names L."""
        force = word.removesuffix(NAMED_LENGTH)
        if self.names_length and force != word and force in ("", *_OF_MOMENTS):
            return (force, NAMED_LENGTH) if force else (NAMED_LENGTH,)
        return units_spelled(word)

    def is_one_length(self, word: str) -> bool:
        """Return whether a word stands for one of the length that the problem names."""
        return self.names_length and word == NAMED_LENGTH

    def symbol(self, word: str) -> str | None:
        """Return the problem's symbol that is written so: Greek letters and case are forgiven."""
        spelled = word
        if not word.isascii():
            spelled = "".join(GREEK.get(character, character) for character in word)
        if spelled in self._symbols:
            return spelled
        for alike, wanted in zip(self._forgiven, _forgiving(spelled), strict=True):
            # M_l is a moment and m_l a mass, even where the problem has no line M_l.
            is_moment = spelled.startswith("M")
            near = [name for name in alike.get(wanted, ()) if not (is_moment and name[0] == "m")]
            if len(near) > 1:  # ml is the mass m_l where there is a moment M_l too
                near = [name for name in near if name[0] == spelled[0]]
            if len(near) == 1 and len(spelled) > 1 and units_spelled(word) is None:
                return near[0]
        return None

    def beginning(self, word: str) -> list[str]:
        """Return the symbols whose index a word leaves out: W_f and W_l for `W`."""
        return sorted(symbol for symbol in self._symbols if symbol.startswith(f"{word}_"))

    def joined(self, word: str) -> tuple[str, ...]:
        """Return the parts of a word that is symbols with no sign between them: `Wfdf`.

        None where it means something as it stands, or may be parted in two ways.
        """
        means = self.is_factor(word) or self.units(word) is not None
        if means or len(word) > _LONGEST_JOINED:
            return ()
        ways = list(islice(self._ways(word), 2))
        return ways[0] if len(ways) == 1 else ()

    def _ways(self, word: str) -> Iterator[tuple[str, ...]]:
        """Yield the ways to part a word into symbols, of which one at least has two letters."""
        for length in range(1, len(word)):
            head, rest = word[:length], word[length:]
            if not self._is_part(head):
                continue
            if self._is_part(rest) and len(word) > 2:
                yield head, rest
            for parts in self._ways(rest):
                yield head, *parts

    def _is_part(self, word: str) -> bool:
        """Return whether a word may be a part: a symbol; one of one letter in its own case."""
        return word in self._symbols if len(word) == 1 else self.symbol(word) is not None

    def is_factor(self, word: str) -> bool:
        """Return whether a word is a symbol or a function, so that it may begin a factor."""
        return self.symbol(word) is not None or function_named(word) is not None

    def is_unit_only(self, word: str) -> bool:
        """Return whether a word is a unit and no symbol: behind a mass, g is no gram."""
        return word not in self._symbols and self.units(word) is not None


def _forgiving(word: str) -> tuple[str, str]:
    """Return a word as it is looked for in any case, and without its low lines too."""
    small = word.lower()
    return small, small.replace("_", "")


@lru_cache(maxsize=64)
def vocabulary_of(symbols: frozenset[str]) -> Vocabulary:
    """Return the vocabulary of some symbols, made on first use."""
    return Vocabulary(symbols)


def with_inverses(tokens: Sequence[Token]) -> Iterator[Token]:
    """Yield tokens with `tan-1(…)`, as calculators write it, and `tan^-1(…)` as `atan(…)`."""
    place = 0
    while place < len(tokens):
        token = tokens[place]
        place += 1
        name = function_named(token.text) if token.kind == "word" else None
        if name in INVERSES and (inverted := _INVERTED.match(_five(tokens, place))):
            last = tokens[place + len(inverted[0]) - 1]
            place += len(inverted[0])
            token = token._replace(text=INVERSES[name], end=last.end)
        yield token


def _five(tokens: Sequence[Token], place: int) -> str:
    """Return what five tokens from a place on spell together."""
    return "".join(one.text for one in tokens[place : place + 5])


def function_named(word: str) -> str | None:
    """Return the function that a word names, `arctan` for atan among them."""
    name = word.lower().replace("arc", "a", 1) if word.lower().startswith("arc") else word.lower()
    return name if name in FUNCTIONS else None


def is_angle(word: str) -> bool:
    """Return whether a word is a unit of angle."""
    found = unit(word)
    return found is not None and found.dimension == ANGLE


def units_spelled(word: str) -> tuple[str, ...] | None:
    """Return the units that a word spells: `N` or, written together, `Nm`, `kNm`."""
    if unit(word) is not None:
        return (word,)
    for force in _OF_MOMENTS:
        length = word.removeprefix(force)
        if word.startswith(force) and length in ("m", "cm", "mm"):
            return (force, length)
    return None
