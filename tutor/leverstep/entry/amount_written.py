"""A value as one writes it, so that it can be read again: `28.3 N·m`, `0.205 m`, `9.81 m/s^2`."""

from __future__ import annotations

from leverstep.entry.amount import Amount
from leverstep.statics.units import Dimension

FIGURES = 6
"""Significant figures of a value that is worked out: none that matters is lost on the way."""

_LARGE, _SMALL = 1e9, 1e-4
"""From where on, and below what, a number is written with a power of ten."""


def amount_written(amount: Amount, least: int = 1, length: str = "m") -> str:
    """Return a value with its unit, in newtons, kilograms, metres, seconds and degrees.

    Zeros at the end of its number are left out, down to the `least` significant figures; `length`
    is the sign of the metre, or of what stands in its place.
    """
    value = amount.value + 0.0  # which is no minus zero
    mantissa, _, power = f"{value:.{FIGURES - 1}e}".partition("e")
    digits = mantissa.lstrip("-").replace(".", "").rstrip("0")
    figures = max(least, len(digits), 1)
    if value and not _SMALL <= abs(value) < _LARGE:
        number = f"{float(mantissa):.{figures - 1}f}×10^{int(power)}"
    else:
        number = f"{float(f'{value:.{FIGURES}g}'):.{max(0, figures - 1 - int(power))}f}"
    return f"{number} {_unit(amount.dimension, length)}".rstrip()


def _unit(dimension: Dimension, of_length: str) -> str:
    """Return the unit of a dimension, with newtons wherever there can be some."""
    mass, length, time, angle = dimension
    newtons = mass if mass and time == -2 * mass else 0
    if time + 2 * newtons:  # an acceleration is in metres
        of_length = "m"
    parts = [
        ("N", newtons), ("kg", mass - newtons), (of_length, length - newtons),
        ("s", time + 2 * newtons), ("deg", angle),
    ]  # fmt: skip
    above = [_raised(sign, power) for sign, power in parts if power > 0]
    below = [(sign, power) for sign, power in parts if power < 0]
    if not above:
        return "·".join(_raised(sign, power) for sign, power in below)
    return "/".join(["·".join(above), *(_raised(sign, -power) for sign, power in below)])


def _raised(sign: str, power: int) -> str:
    return sign if power == 1 else f"{sign}^{power}"
