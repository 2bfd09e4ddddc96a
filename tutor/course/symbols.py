"""How the symbols of a problem are shown and spelt: `θ` for theta, `φ_R` for phi_R."""

from __future__ import annotations

SPELT = {"α": "alpha", "β": "beta", "γ": "gamma", "θ": "theta", "φ": "phi"}
"""The Greek letters that symbols may hold, and how they are spelt."""

_SIGNS = {name: sign for sign, name in SPELT.items()}


def sign_of(key: str) -> str:
    """Return the sign that a key is shown with: `θ` for theta, `φ_R` for phi_R."""
    first, mark, rest = key.partition("_")
    return _SIGNS.get(first, first) + mark + rest


def spelt(text: str) -> str:
    """Return a text with its Greek letters spelt: `theta` for θ."""
    return "".join(SPELT.get(letter, letter) for letter in text)
