"""How symbols are shown and spelt, `θ` for theta, and what an author says by one."""

from __future__ import annotations

import re

OF_ANGLES = {"α": "alpha", "β": "beta", "γ": "gamma", "θ": "theta", "φ": "phi"}
"""The Greek letters that stand for angles, and how they are spelt."""
OF_FRICTION = "mu"
"""The letter of a coefficient of friction, as it is spelt."""
SPELT = {**OF_ANGLES, "μ": OF_FRICTION, "\u00b5": OF_FRICTION}
"""The Greek letters that symbols may hold, and how they are spelt; the micro sign is such a mu."""

_SIGNS = {name: sign for sign, name in reversed(SPELT.items())}
_SPELT = str.maketrans(SPELT)
_ALONE = re.compile(rf"(?<![^\W\d_])[{''.join(SPELT)}](?![^\W\d_])")
"""A Greek letter that is a symbol, not part of a word in Greek."""


def sign_of(key: str) -> str:
    """Return the sign that a key is shown with: `θ` for theta, `φ_R` for phi_R."""
    first, mark, rest = key.partition("_")
    return _SIGNS.get(first, first) + mark + rest


def index_given(symbol: str) -> str:
    """Return the index of an author's symbol, which all that is of one thing has: `l` of `W_l`."""
    return symbol.partition("_")[2]


def names_mass(symbol: str) -> bool:
    """Return whether an author's symbol is one of a mass: `m_b`."""
    return symbol.startswith("m_")


def names_weight(symbol: str) -> bool:
    """Return whether an author calls a force a weight by its symbol: `W_l`."""
    return symbol.startswith("W")


def spelt(text: str) -> str:
    """Return a text with its Greek letters spelt: `theta` for θ."""
    return text.translate(_SPELT)


def joined_up(symbol: str) -> str:
    """Return a symbol with its index not set off, as it may be typed: `Wl` for `W_l`."""
    return symbol.replace("_", "")


def read_out(text: str) -> str:
    """Return a text for the ear, its symbols spelt: `phi_R` for φ_R; words in Greek stay."""
    return _ALONE.sub(lambda match: SPELT[match.group()], text)
