"""The units of this course, and what each is worth.

pint holds the definitions; only names from `SPELLINGS` ever reach it. The few lines below replace
pint's own definition file, so that a name means the same with every version of pint.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pint import UnitRegistry

# NIST SP 811 (2008), appendix B.8: the pound, the inch, the foot and the pound-force are exact.
# The degree is the unit of angle here, since every angle of the course is written in degrees.
DEFINITIONS = """
kilogram = [mass] = kg
metre = [length] = m
second = [time] = s
degree = [angle] = deg
radian = 57.29577951308232 * degree = rad
gram = kilogram / 1000 = g
pound = 0.45359237 * kilogram = lb
ounce = pound / 16 = oz
stone = 14 * pound = st
centimetre = metre / 100 = cm
millimetre = metre / 1000 = mm
inch = 0.0254 * metre = in
foot = 0.3048 * metre = ft
newton = kilogram * metre / second ** 2 = N
kilonewton = 1000 * newton = kN
pound_force = 4.4482216152605 * newton = lbf
joule = newton * metre = J
"""

SPELLINGS: dict[str, tuple[str, ...]] = {
    "kilogram": (
        "kg",
        "kgs",
        "kilo",
        "kilos",
        "kilogram",
        "kilograms",
        "kilogramme",
        "kilogrammes",
    ),
    "gram": ("g", "gram", "grams", "gramme", "grammes"),
    "pound": ("lb", "lbs", "pound", "pounds", "lbm"),
    "ounce": ("oz", "ounce", "ounces"),
    "stone": ("st", "stone", "stones"),
    "metre": ("m", "metre", "metres", "meter", "meters"),
    "centimetre": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "millimetre": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "inch": ("in", "inch", "inches", '"'),
    "foot": ("ft", "foot", "feet", "'"),
    "newton": ("N", "newton", "newtons"),
    "kilonewton": ("kN", "kilonewton", "kilonewtons"),
    "pound_force": ("lbf",),
    "joule": ("J", "joule", "joules"),
    "second": ("s", "sec", "second", "seconds"),
    "degree": ("deg", "degree", "degrees", "°"),
    "radian": ("rad", "radian", "radians"),
}
"""Every way of writing a unit that a student or an author may use, by the unit's name for pint."""

Dimension = tuple[int, int, int, int]
"""Exponents of mass, length, time and angle."""

NUMBER: Dimension = (0, 0, 0, 0)
MASS: Dimension = (1, 0, 0, 0)
LENGTH: Dimension = (0, 1, 0, 0)
ANGLE: Dimension = (0, 0, 0, 1)
FORCE: Dimension = (1, 1, -2, 0)
MOMENT: Dimension = (1, 2, -2, 0)

_BASES = ("[mass]", "[length]", "[time]", "[angle]")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: its short sign, its dimension, and its size in kg, m, s and degrees."""

    sign: str
    dimension: Dimension
    size: Fraction


@cache
def _registry() -> UnitRegistry[Any]:
    """Return the one registry, made on first use: pint takes long to import."""
    from pint import UnitRegistry

    lines = [line for line in DEFINITIONS.splitlines() if line]
    return UnitRegistry(lines, non_int_type=Fraction)


@lru_cache(maxsize=64)
def unit(spelling: str) -> Unit | None:
    """Return the unit written so, or None where this course has no such unit.

    Short signs count as written (`N` is a newton, `n` is nothing); whole words in any case.
    """
    for name, spellings in SPELLINGS.items():
        if spelling in spellings or (len(spelling) > 3 and spelling.lower() in spellings):
            return _measure(name, spellings[0])
    return None


def _measure(name: str, sign: str) -> Unit:
    """Ask pint for the dimension and the size of a unit by its own name."""
    quantity = _registry().Quantity(Fraction(1), name).to_root_units()
    powers: dict[str, Any] = dict(quantity.dimensionality)
    mass, length, time, angle = (int(powers.get(base, 0)) for base in _BASES)
    return Unit(sign, (mass, length, time, angle), Fraction(quantity.magnitude))


def known_unit(spelling: str) -> Unit:
    """Return a unit that is known to exist; KeyError where it does not."""
    found = unit(spelling)
    if found is None:
        raise KeyError(spelling)
    return found
