"""How well a symbol that the problem does not have fits a quantity: by its letter and its index."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set

from leverstep.claims import weights
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS, Quantity
from leverstep.claims.quantity_values import RATIO_KEYS
from leverstep.course.symbols import OF_ANGLES, OF_FRICTION, spelt

_LETTERS: dict[str, tuple[str, ...]] = {
    "W": ("weight",), "G": ("weight", "force"), "w": ("weight",), "P": ("force", "weight", "power"),
    "m": ("mass",), "M": ("moment", "force", "mass"), "T": ("force", "moment"),
    "d": ("distance", "arm"), "x": ("distance", "arm"), "l": ("distance", "arm"),
    "L": ("distance", "weight", "force"), "s": ("distance",), "r": ("arm", "distance"),
    "a": ("arm", "distance"), "h": ("distance", "arm"), "b": ("distance", "arm"),
    "F": ("force", "weight"), "E": ("force", "reaction"), "B": ("force", "weight", "reaction"),
    "H": ("force", "reaction"), "Q": ("force", "weight"), "D": ("force", "distance"),
    "A": ("weight", "force", "reaction"), "S": ("force", "weight", "reaction"),
    "K": ("force", "reaction"),
    "R": ("reaction", "weight", "force"), "J": ("reaction",), "N": ("reaction", "force"),
    "C": ("reaction", "force"), "V": ("reaction", "force"), "Z": ("force", "reaction"),
    **dict.fromkeys(OF_ANGLES.values(), ("angle",)), OF_FRICTION: ("ratio",),
    "X": ("force", "reaction"), "Y": ("force", "reaction"),
    "k": ("ratio",), "i": ("ratio",),
}  # fmt: skip
"""What a letter mostly stands for, the likeliest first."""

_NAMES = "|".join((*OF_ANGLES.values(), *RATIO_KEYS))
_SYMBOL = re.compile(rf"({_NAMES}|{OF_FRICTION}(?![a-z])|[A-Za-z])_?(.*)")
_INDICES_OF_AXIS = {
    "x": ("x", "h", "hor", "horiz", "left", "right", "back", "fwd"),
    "y": ("y", "v", "vert", "up", "down"),
}
_BY_SEGMENT = {
    ALONG_AXIS: ("a", "ax", "axial", "c", "comp", "compr", "compression"),
    ACROSS_AXIS: ("t", "tr", "trans", "s", "shear"),
}
"""Indices of the parts of the reaction along and across the segment, whatever letter they have."""
_FOR_REACTION = frozenset("RJHVNCXYA")
"""Letters of the reaction, which has components by any name."""
_LONGEST_WITH_AXIS = 3
"""An index of so many letters may end with that of an axis: `_mx`."""
SIGNS_OF_SUM = ("Σ", "sum")
_INDICES_OF_SUM = ("tot", "total", "sum", "res", "r")
_INDICES_OF_WHOLE = (*_INDICES_OF_SUM, "net")
_INDICES_OF_EFFORT = ("m", "mus", "muscle", "b", "biceps", "t")


def fit_of_symbol(
    symbol: str, quantity: Quantity, effort: str, words_of_force: Mapping[str, Set[str]]
) -> float:
    """Return how well a symbol fits a quantity: 0 where it says nothing of it.

    Args:
        symbol: the symbol as written, "" where there is none.
        quantity: what it may stand for.
        effort: the symbol of the force that is to be found, "" where there is none.
        words_of_force: the words that each force is called by.
    """
    plain = spelt(symbol)
    for sign in SIGNS_OF_SUM:
        plain = plain.removeprefix(sign)
    letter, index = _parts_of(plain)
    if not letter:
        return 0.0
    if letter in RATIO_KEYS:
        if quantity.key == letter:
            return weights.SYMBOL_OF_RATIO
        return 0.0 if quantity.family == "ratio" else weights.SYMBOL_OF_OTHER_RATIO
    if is_reaction_by_segment(symbol, quantity):
        return weights.LETTER_COMMON + weights.INDEX_OWN
    axis = _axis_of(index)
    score = _fit_of_letter(letter, quantity)
    if axis and quantity.family == "reaction" and quantity.axis:
        score = max(score, _fit_of_letter_of_part(letter))
    if quantity.is_sum:
        score += weights.SUM_BY_SYMBOL
    if axis and not is_of_force(symbol, words_of_force):
        return score + _fit_of_axis_index(axis, quantity)
    if index:
        return score + _fit_of_index(index, quantity, effort, words_of_force)
    return score + _fit_of_bare_letter(letter, quantity, effort)


def _fit_of_bare_letter(letter: str, quantity: Quantity, effort: str) -> float:
    """Return how well it fits a quantity that a letter has no index: `F`, `M`."""
    score = weights.COMPONENT_WITHOUT_INDEX if quantity.is_component else 0.0
    if letter == "F" and effort in quantity.about and quantity.family == "force":
        score += weights.PLAIN_F
    if letter == "M" and quantity.whole:
        score += weights.PLAIN_M
    return score


def is_reaction_by_segment(symbol: str, quantity: Quantity) -> bool:
    """Return whether a symbol is that of a part of the reaction by a segment: `Fa`, `F_shear`."""
    letter, index = _parts_of(spelt(symbol))
    is_part = letter in ("F", "R") and quantity.family == "reaction"
    return is_part and index in _BY_SEGMENT.get(quantity.axis, ())


def axis_of_symbol(symbol: str) -> str:
    """Return the axis that the index of a symbol is of: `Fy`, `F_up`; "" where it is of none."""
    _, index = _parts_of(spelt(symbol))
    return _axis_of(index)


def is_of_force(symbol: str, words_of_force: Mapping[str, Set[str]]) -> bool:
    """Return whether an index that may be that of an axis begins the name of a force: `Fh`, where
    there are hamstrings.
    """
    letter, index = _parts_of(spelt(symbol))
    may_be_either = index in ("h", "v") and letter not in _FOR_REACTION
    return may_be_either and any(
        word.startswith(index) for words in words_of_force.values() for word in words
    )


def is_of_sum(symbol: str) -> bool:
    """Return whether a symbol is that of a sum: `ΣM`, `M_tot`; a net one may balance the sum."""
    symbol = spelt(symbol)
    return symbol.startswith(SIGNS_OF_SUM) or _parts_of(symbol)[1] in _INDICES_OF_SUM


def index_in_words(symbol: str) -> str:
    """Return the index of a symbol, "" where it is a number, or that of an axis."""
    _, index = _parts_of(spelt(symbol))
    return index if index.isalpha() and not _axis_of(index) else ""


def _parts_of(symbol: str) -> tuple[str, str]:
    """Return the letter of a symbol and its index in small letters, "" for what is not there."""
    read = _SYMBOL.match(symbol)
    return ("", "") if read is None else (read.group(1), read.group(2).strip("_").lower())


def _fit_of_letter(letter: str, quantity: Quantity) -> float:
    if letter in _INDICES_OF_AXIS and quantity.along in _INDICES_OF_AXIS:
        return weights.LETTER_COMMON if letter == quantity.along else weights.OTHER_LETTER
    sorts = _LETTERS.get(letter, ())
    if quantity.sort in sorts:
        return weights.LETTER_COMMON + weights.LETTER_RARER * sorts.index(quantity.sort)
    return weights.OTHER_LETTER if sorts else 0.0


def _fit_of_letter_of_part(letter: str) -> float:
    """Return how well the letter of a component fits one of the reaction: `A_x`, or else `F_x`."""
    if letter in _FOR_REACTION:
        return weights.LETTER_COMMON
    return weights.LETTER_COMMON + 3 * weights.LETTER_RARER if letter == "F" else 0.0


def _axis_of(index: str) -> str:
    """Return the axis that an index is of: `_x`, `_bx`, `_vert`; "" where it is of none."""
    for axis, indices in _INDICES_OF_AXIS.items():
        is_ended = index.endswith(axis) and len(index) <= _LONGEST_WITH_AXIS
        if index in indices or is_ended:
            return axis
    return ""


def _fit_of_axis_index(axis: str, quantity: Quantity) -> float:
    if not quantity.axis:
        return weights.INDEX_WITHOUT_AXIS
    return weights.INDEX_OF_AXIS if quantity.axis == axis else weights.INDEX_OF_OTHER_AXIS


def _fit_of_index(
    index: str, quantity: Quantity, effort: str, words_of_force: Mapping[str, Set[str]]
) -> float:
    """Return how well what follows the first letter fits: `_l`, `muscle`, `bag`, `1`."""
    if index in _INDICES_OF_WHOLE:
        return weights.INDEX_OF_WHOLE if quantity.whole else weights.INDEX_NOT_ITS_WHOLE
    best = 0.0
    for symbol in quantity.about:
        begins = any(word.startswith(index[:4]) for word in words_of_force.get(symbol, ()))
        if index == symbol.partition("_")[2].lower():
            best = max(best, weights.INDEX_OWN)
        elif begins and (len(index) > 2 or len(quantity.about) == 1):
            by = weights.INDEX_BY_NAME if len(index) > 1 else weights.INDEX_BY_LETTER
            best = max(best, by)
        elif index in _INDICES_OF_EFFORT and symbol == effort:
            best = max(best, weights.INDEX_OF_EFFORT)
    return best
