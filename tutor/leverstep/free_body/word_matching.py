"""Words that name one thing of a list: by its number, its words in any order, or a part of them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from leverstep.course.phrases import listed
from leverstep.course.symbols import spelt

_T = TypeVar("_T")
Words = frozenset[str]

_WORD = re.compile(r"\w+(?:[.,]\d+)?")
NUMBER = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,9})?")
_NO_WORDS = frozenset(
    {"the", "a", "an", "of", "its", "it", "at", "to", "on", "from", "by", "is"}
) | {
    "their",
}
_SAME: dict[str, str] = {
    **dict.fromkeys(("upwards", "upward"), "up"),
    **dict.fromkeys(("downwards", "downward"), "down"),
    **dict.fromkeys(("leftwards", "leftward"), "left"),
    **dict.fromkeys(("rightwards", "rightward"), "right"),
    **dict.fromkeys(("upper", "top"), "above"),
    **dict.fromkeys(("lower", "bottom"), "below"),
    "horizontally": "horizontal",
    "vertically": "vertical",
    "square": "perpendicular",
    "parallel": "along",
    "counterclockwise": "anticlockwise",
    "open": "unknown",
    "center": "centre",
    "gravity": "mass",
}  # fmt: skip
SHOWN = 4
"""So many of the things that a word may mean are told."""


class UnclearWordsError(Exception):
    """What was said fits nothing, or several things; the text says what was looked for.

    `fits` is how many things of a list it may mean; 1 where it is too little to mean that one.
    """

    def __init__(self, told: str, fits: int = 0) -> None:
        super().__init__(told)
        self.fits = fits


def words_in(text: str) -> Words:
    """Return the words that tell something, in lower case, one word for what means the same."""
    found = (_SAME.get(word, word) for word in _WORD.findall(spelt(text).lower()))
    return frozenset(map(as_number, found)) - _NO_WORDS


def words_of_force(text: str) -> Words:
    """Return the words of a force, what it acts on told apart from what exerts it."""
    by, _, on = text.partition(" on ")
    return words_in(by) | {f"on {word}" for word in words_in(on)}


def as_number(word: str) -> str:
    """Return a word, a number without what does not change it: `35` for 35.0."""
    return f"{float(word.replace(',', '.')):g}" if NUMBER.fullmatch(word) else word


def one_meant(
    said: str,
    choices: Sequence[_T],
    names: Callable[[_T], Iterable[str]],
    what: str,
    words_of: Callable[[str], Words],
    is_enough: Callable[[_T, Words], bool],
) -> _T:
    """Return the one choice that is meant by its number or its words.

    Args:
        said: the number or the words.
        choices: the list, in the order of its numbers.
        names: what each may be called, first what the list calls it.
        what: what they are, in one word.
        words_of: the words of a text.
        is_enough: whether a part of the words of a choice may mean it; else it is asked for.

    Raises:
        UnclearWordsError: where that is none or several, or only may be one.
    """
    if said.strip().isdecimal() and 0 < int(said) <= len(choices):
        return choices[int(said) - 1]
    words = words_of(said)
    whole = [
        one for one in choices if any(name.lower() == said.strip().lower() for name in names(one))
    ] or [one for one in choices if any(words_of(name) == words for name in names(one) if name)]
    found = whole or [
        one for one in choices if words and any(words <= words_of(name) for name in names(one))
    ]
    found = _shortest(found, names) or found
    if not found:
        raise UnclearWordsError(f"No {what} of the list is called {said.strip() or 'nothing'}.")
    if len(found) == 1 and (whole or is_enough(found[0], words)):
        return found[0]
    if len(found) == 1:
        fitting = next(name for name in names(found[0]) if words <= words_of(name))
        number = choices.index(found[0]) + 1
        raise UnclearWordsError(
            f"No {what} of the list is called just that. If you mean this one, type its number, "
            f"{number}: {fitting}.",
            fits=1,
        )
    shown = listed([next(iter(names(one))) for one in found[:SHOWN]])
    raise UnclearWordsError(
        f"That fits more than one {what}: {shown}. Say more words, or its number.",
        fits=len(found),
    )


def _shortest(found: Sequence[_T], names: Callable[[_T], Iterable[str]]) -> list[_T]:
    """Return the one thing whose first name all others hold and add to, none where there is none.

    The pull of a muscle is meant where nothing is said of its other end.
    """
    told = [(one, words_in(next(iter(names(one))))) for one in found]
    return [one for one, words in told if all(words < other for o, other in told if o is not one)]
