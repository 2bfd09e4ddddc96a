"""A line that lays down what letters stand for: `H = hand, T = axis`; `inner part A, outer B`."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple

from leverstep.claims.labels import ValueLabel, words_in
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS
from leverstep.claims.subject import Subject
from leverstep.statics import kinds
from leverstep.statics.units import unit

_BETWEEN = re.compile(r"[,;]|\s{3,}|\band\b")
_LETTER = re.compile(r"(?<![\w.])[A-Z](?:_?[a-z0-9]{1,2})?(?![\w'’])")
_WORKED_OUT = re.compile(r"[+*/×·⋅^√]|\d\s*x\s*\d|[=≈]\s*[-+]?\s*\d|[=≈].*[=≈]")
"""What a line has that is no laying down of letters: something that is worked out."""
_SYMBOL = r"[A-Za-z](?:_?[a-z0-9]{1,2})?"
_CALLED = re.compile(
    rf"\b(?:call(?:ing)?|name|label)\s+(?P<words>[^,;.:=\d]{{3,40}}?)\s+(?P<symbol>{_SYMBOL})"
    r"(?=\s*(?:[,;.:)]|$|\band\b|\bthen\b|\bso\b))"
    rf"|\b(?:let|call)\s+(?P<first>{_SYMBOL})\s+(?:be\s+|stand for\s+)?"
    r"(?P<after>the\s+[^,;.:=\d]{3,40})",
    re.IGNORECASE,
)
"""A letter that a sentence gives to something: `call the outer pull x`, `let x be the pull`."""
_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
_PART_OF_REACTION = {
    "compression": ALONG_AXIS, "compressive": ALONG_AXIS, "shear": ACROSS_AXIS,
}  # fmt: skip
"""Words for a component of the reaction where no force is named, with its axis."""
_FEWEST = 2
"""So many letters are laid down together, at least."""


class Letters(NamedTuple):
    """Letters with the keys of the forces that they stand for, in whichever order these are."""

    symbols: tuple[str, ...]
    keys: tuple[str, ...]


def letters_laid_down(text: str, subject: Subject) -> list[Letters]:
    """Return the letters that a line gives a meaning to, none where it says anything else.

    Args:
        text: the line as it was typed, with decimal points.
        subject: what the page is about.
    """
    parts = [part for part in _BETWEEN.split(text) if part.strip()]
    given = {abs(number) for number in subject.question.numbers.values()}
    if any(_WORKED_OUT.search(part) or not _has_only(part, given) for part in parts):
        return []
    letters = [one for part in parts if (one := _laid_down(part, subject)) is not None]
    return letters if sum(len(one.symbols) for one in letters) >= _FEWEST else []


def letters_called(text: str, subject: Subject) -> list[Letters]:
    """Return the letters that a sentence gives to a force before it goes on: `call the outer pull
    x, then the inner one is 0.65x`; `let x be the outer pull`.

    Args:
        text: the line as it was typed.
        subject: what the page is about.
    """
    found = []
    for said in _CALLED.finditer(text):
        symbol, words = said["symbol"] or said["first"], said["words"] or said["after"]
        keys = _forces_meant(words_in(words), subject)
        if len(keys) == 1 and keys[0] in subject.all:
            found.append(Letters((symbol,), keys))
    return found


def _has_only(part: str, given: Collection[float]) -> bool:
    return all(float(number) in given for number in _NUMBER.findall(part))


def _laid_down(part: str, subject: Subject) -> Letters | None:
    """Return the letters in a part of a line that names as many forces, else None."""
    symbols = tuple(one for one in _LETTER.findall(part) if unit(one) is None)
    keys = _forces_meant(words_in(_LETTER.sub(" ", part)), subject)
    return Letters(symbols, keys) if symbols and len(symbols) == len(keys) else None


def _forces_meant(words: frozenset[str], subject: Subject) -> tuple[str, ...]:
    """Return the keys of the forces that words name: one alone, all that are called so, or else
    the reaction where that is named.
    """
    names = subject.names
    words |= {word.removesuffix("s") for word in words}
    if named := names.forces_named(ValueLabel(words)) - {"body"}:
        return tuple(sorted(named))
    called = {one for one, own in names.words_of_force.items() if words & own & names.common}
    if called - {"body"}:
        return tuple(sorted(called - {"body"}))
    if axes := {_PART_OF_REACTION[word] for word in words & _PART_OF_REACTION.keys()}:
        parts = (q.key for q in subject.with_line if q.family == "reaction" and q.axis in axes)
        return tuple(parts) if len(axes) == 1 else ()
    if not words & (names.words_of_axis | names.words_of_reaction):
        return ()
    keys = map(subject.question.key, (kinds.REACTION_SIZE, kinds.REACTION_Y))
    return tuple(key for key in keys if key in subject.all)[:1]
