"""What a word of an entry may mean: one of the problem's symbols, a function, or units."""

from __future__ import annotations

from collections.abc import Collection

from leverstep.entry.tokens import GREEK
from leverstep.statics.units import ANGLE, unit

INVERSES = {"sin": "asin", "cos": "acos", "tan": "atan"}
"""The functions of an angle, and those that give the angle back."""
FUNCTIONS = ("sqrt", *INVERSES, *INVERSES.values())


class Vocabulary:
    """What words mean where some symbols are known: these come before functions and units."""

    def __init__(self, symbols: Collection[str]) -> None:
        self._symbols = symbols

    def symbol(self, word: str) -> str | None:
        """Return the problem's symbol that is written so: Greek letters and case are forgiven."""
        spelled = word
        if not word.isascii():
            spelled = "".join(GREEK.get(character, character) for character in word)
        if spelled in self._symbols:
            return spelled
        for forgiven in (str.lower, lambda name: name.lower().replace("_", "")):
            wanted = forgiven(spelled)
            near = [name for name in self._symbols if forgiven(name) == wanted]
            # M_l is a moment and m_l a mass, even where the problem has no line M_l.
            near = [name for name in near if not (name[0] == "m" and spelled[0] == "M")]
            if len(near) == 1 and len(spelled) > 1 and units_spelled(word) is None:
                return near[0]
        return None

    def is_factor(self, word: str) -> bool:
        """Return whether a word is a symbol or a function, so that it may begin a factor."""
        return self.symbol(word) is not None or function_named(word) is not None

    def is_unit_only(self, word: str) -> bool:
        """Return whether a word is a unit and no symbol: behind a mass, g is no gram."""
        return word not in self._symbols and units_spelled(word) is not None


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
    for force in ("kN", "N"):
        length = word.removeprefix(force)
        if word.startswith(force) and length in ("m", "cm", "mm"):
            return (force, length)
    return None
