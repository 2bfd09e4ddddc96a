"""Numbers as they are written in tables and sentences, the same on every machine."""

from __future__ import annotations

from fractions import Fraction


def half_up(value: Fraction) -> int:
    """Return the nearest whole number, the larger one of two that are as near."""
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)


def number(value: Fraction, decimals: int = 2) -> str:
    """Return a number that is not negative, rounded half up, without zeros at its end."""
    whole = half_up(value * 10**decimals)
    text = f"{whole // 10**decimals}.{whole % 10**decimals:0{decimals}d}"
    return text.rstrip("0").rstrip(".")


def percent(share: Fraction) -> str:
    """Return a share as somebody set it: `2.5 %`."""
    return f"{float(100 * share):g} %"


def whole_percent(share: Fraction) -> str:
    """Return a share that was counted, rounded half up: `67 %`."""
    return f"{number(100 * share, 0)} %"


def in_percent(share: Fraction) -> str:
    """Return a share in per cent, to a tenth, as tables of marks have it: `66.7`."""
    return number(100 * share, 1)


def true_minus(text: str) -> str:
    """Return a number as text with a minus sign in place of a hyphen."""
    return text.replace("-", "−")
