"""A quantity as an author types it: `20 N`, `25 to 35 cm`, `0.5 to 2 by 0.25 kg`, `30°`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from leverstep.course.plain_text import cut, near, plain

LEAST_STEPS = 5
"""Steps of a range whose author names none; more where its ends ask for it."""

_NUMBER = r"\d{1,9}(?:[.,]\d{1,6})?"
_TYPED = re.compile(
    rf"({_NUMBER})(?:\s*(?:to|-|–)\s*({_NUMBER}))?(?:\s+by\s+({_NUMBER}))?\s*([^\d\s]*)"
)


@dataclass(frozen=True, slots=True)
class TypedQuantity:
    """Numbers as they are written in a file, and their unit; `high` is "" for one number alone."""

    low: str
    high: str
    step: str
    unit: str

    @property
    def toml(self) -> str:
        """Return it as the inside of a table of a problem file."""
        if not self.high:
            return f'value = {self.low}, unit = "{self.unit}"'
        return f'from = {self.low}, to = {self.high}, step = {self.step}, unit = "{self.unit}"'


def typed_quantity(typed: str, units: Sequence[str]) -> TypedQuantity:
    """Return what is typed as a quantity in one of some units, the only one where none is typed.

    Raises:
        ValueError: where it can't be read, with what was expected.
    """
    example, told = f"20 {units[0]}, or 15 to 30 {units[0]}", cut(plain(typed.strip())) or "nothing"
    found = _TYPED.fullmatch(typed.strip())
    if found is None:
        raise ValueError(f"Found {told}; type a quantity such as {example}.")
    low, high, step = ((number or "").replace(",", ".") for number in found.groups()[:3])
    unit = found[4].replace("°", "deg") or (units[0] if len(units) == 1 else "")
    if unit not in units:
        why = f"{cut(plain(unit))} is no unit here{near(unit, units)}" if unit else "it has no unit"
        raise ValueError(f"Found {told}: {why}. Units are {', '.join(units)}.")
    if Fraction(low) <= 0:
        raise ValueError(f"Found {low}; a quantity is above 0.")
    if not high:
        return TypedQuantity(low, "", "", unit)
    first, last = Fraction(low), Fraction(high)
    if not first < last:
        raise ValueError(f"Found {low} to {high}; the smaller number comes first.")
    step = step or _usual_step(low, high)
    if not Fraction(step) or (last - first) % Fraction(step):
        raise ValueError(f"Steps of {step} do not lead from {low} to {high}.")
    return TypedQuantity(low, high, step, unit)


def _usual_step(low: str, high: str) -> str:
    """Return the largest round step that leads from one number to another in a few."""
    places = 1 + max(len(number.partition(".")[2]) for number in (low, high))
    run = Fraction(high) - Fraction(low)
    round_steps = (
        Fraction(10) ** power * digit for power in range(-places, 9) for digit in (1, 2, 5)
    )
    step = max(step for step in round_steps if not run % step and run / step >= LEAST_STEPS)
    decimals = next(n for n in range(places + 1) if (step * 10**n).denominator == 1)
    return f"{float(step):.{decimals}f}"
