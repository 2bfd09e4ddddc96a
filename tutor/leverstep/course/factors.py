"""What is to be taken for g and for units, as it stands among the givens of a problem."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.convert import factor_for
from leverstep.statics.posture import Posture


@dataclass(frozen=True, slots=True)
class TakenFactor:
    """A constant that is to be taken: its symbol, its value, and the unit of that.

    The symbol of a factor is one of the unit that it brings in or out: `1 kg`, with 2.205 and `lb`.
    """

    symbol: str
    value: str
    unit: str

    @property
    def text(self) -> str:
        """Return it as an equation: `g = 9.81 m/s²`, `1 kg = 2.205 lb`."""
        return f"{self.symbol} = {self.value} {self.unit}"


def factors_of(
    postures: Sequence[Posture], accepted: Mapping[str, tuple[float, ...]]
) -> tuple[TakenFactor, ...]:
    """Return g where something is weighed, and the factors of the units given.

    Those that are a power of ten, as centimetres in a metre, are left out: everybody has them.

    Args:
        postures: what is worked.
        accepted: the values that count for each constant, the first of them printed.
    """
    found = [_gravity(accepted)] if any(map(_weighs, postures)) else []
    units = (given.unit for posture in postures for given in posture.givens())
    return tuple(dict.fromkeys([*found, *_of_units(units, accepted)]))


def _gravity(accepted: Mapping[str, tuple[float, ...]]) -> TakenFactor:
    gravity = CONVENTIONS["g"]
    return TakenFactor(gravity.sign, f"{accepted['g'][0]:g}", gravity.unit)


def _weighs(posture: Posture) -> bool:
    """Return whether a mass is weighed somewhere, or found from its weight."""
    if posture.sums_masses:
        return False
    masses = [f.magnitude is not None and f.magnitude.is_mass for f in posture.forces]
    return any(masses) or posture.body is not None or posture.as_mass


def _of_units(
    units: Iterable[str], accepted: Mapping[str, tuple[float, ...]]
) -> Iterator[TakenFactor]:
    for factor in filter(None, map(factor_for, units)):
        if isinstance(factor.constant, str):
            value, unit = accepted[factor.constant][0], CONVENTIONS[factor.constant].unit
        else:
            value, unit = factor.constant, factor.unit
        if not math.log10(value).is_integer():
            many, _, one = unit.partition("/")
            yield TakenFactor(f"1 {one}", f"{value:g}", many)
