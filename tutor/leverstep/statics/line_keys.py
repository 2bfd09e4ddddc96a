"""How the keys of lines are made: nowhere else is one put together, and nowhere is one taken apart.

Most keys are a letter for what a line is of, the index of the symbol that it is about, and the mark
of its posture: `M_l` of `W_l`, `M_l2` in a second posture. What a line is says its row of the table
of kinds (`Step.kind`), what it is about says `Step.about`, and which posture it is of `Step.mark`.
"""

from __future__ import annotations

from typing import Literal

How = Literal["given", "fraction", "share", "between"]
"""How a quantity with a symbol is stated, where not by its own value: as a force or a length in
some unit, as a fraction of a length, as a share of the body, or as a part of a way."""

STATED: tuple[How, ...] = ("given", "fraction", "share", "between")


def index_of(symbol: str) -> str:
    """Return what stands behind the letter of a symbol: `_l` of `W_l`."""
    return symbol[1:]


def with_index(letter: str, index: str, mark: str = "") -> str:
    """Return a letter with an index, in the posture with a mark: `x_k2`."""
    return f"{letter}{index}{mark}"


def beside(letter: str, symbol: str, mark: str = "") -> str:
    """Return the key with another letter and the same index as a symbol: `M_l` of `W_l`."""
    return with_index(letter, index_of(symbol), mark)


def resolved_key(axis: str, symbol: str, mark: str = "") -> str:
    """Return the key of the component of a force along an axis, by its letter: `F_mx` of `F_m`."""
    return f"{symbol}{axis}{mark}"


def mark_behind(letters: str, key: str) -> str:
    """Return the mark of its posture in the key of the one line of a kind, by that kind's key."""
    return key.removeprefix(letters)


def mass_key(symbol: str) -> str:
    """Return the key of the mass whose weight has a symbol: `m_l` of `W_l`."""
    return beside("m", symbol)


def weight_key(symbol: str) -> str:
    """Return the key of the weight of the body whose mass has a symbol: `W_b` of `m_b`."""
    return beside("W", symbol)


def share_sign(symbol: str) -> str:
    """Return the sign of how far along a way a force acts, as a share of that: `x_t` of `W_t`."""
    return beside("x", symbol)


def attachment_angle_key(symbol: str, mark: str) -> str:
    """Return the key of the angle between a segment and a muscle attached to it: `gamma_m`."""
    return beside("gamma", symbol, mark)


def moment_letter(axis: str = "") -> str:
    """Return what stands for the moments of parts, those along one of two axes: `M`, `Mx`."""
    return f"M{axis}"


def moment_sum_key(axis: str, mark: str) -> str:
    """Return the key of the sum of the moments of parts along one of two axes, or one ("")."""
    return with_index(moment_letter(axis), "_sum", mark)


def stated_key(how: How, symbol: str) -> str:
    """Return the key of the given that says how large a quantity with a symbol is."""
    return f"{how}_{symbol}"
