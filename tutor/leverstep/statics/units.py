"""The units of this course, and what each is worth.

The few rows below replace pint's own definition file, so that a name means the same with every
version of pint.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

if TYPE_CHECKING:
    from pint import UnitRegistry


Dimension = tuple[int, int, int, int]
"""Exponents of mass, length, time and angle."""

NUMBER: Dimension = (0, 0, 0, 0)
MASS: Dimension = (1, 0, 0, 0)
LENGTH: Dimension = (0, 1, 0, 0)
TIME: Dimension = (0, 0, 1, 0)
ANGLE: Dimension = (0, 0, 0, 1)
FORCE: Dimension = (1, 1, -2, 0)
MOMENT: Dimension = (1, 2, -2, 0)
MASS_LENGTH: Dimension = (1, 1, 0, 0)
"""That of a moment whose force is written as a mass: `lb ft`, `kg cm`."""
AREA: Dimension = (0, 2, 0, 0)
STRESS: Dimension = (1, -1, -2, 0)
POWER: Dimension = (1, 2, -3, 0)
SPEED: Dimension = (0, 1, -1, 0)
ANGULAR_VELOCITY: Dimension = (0, 0, -1, 1)
ACCELERATION: Dimension = (0, 1, -2, 0)
STIFFNESS: Dimension = (1, 0, -2, 0)
MOMENT_OF_INERTIA: Dimension = (1, 2, 0, 0)
ANGULAR_ACCELERATION: Dimension = (0, 0, -2, 1)

DEGREES = 57.29577951308232
"""In one radian."""

NAMED_LENGTH = "L"
"""The sign of a length whose size does not matter, where others are given as multiples of it."""

ONE_LENGTH = f"1 {NAMED_LENGTH}"
"""What one of it is called among the symbols of such a problem; no word can be written so."""

IN_NAMED_LENGTH = {"m": NAMED_LENGTH, "N·m": f"N·{NAMED_LENGTH}"}
"""The units of lines that have the metre in them, and what stands for them in such a problem."""

STANDARD_GRAVITY = 9.80665
"""In m/s2, for moments written in pound-force feet."""


@dataclass(frozen=True, slots=True)
class BookFactor:
    """How a book converts a unit to newtons, kilograms or metres.

    `constant` is the name of a convention, or a number that is exact; `unit` that of the number.
    """

    constant: str | float
    operation: Literal["×", "÷"]
    unit: str

    def size(self, constant: float) -> float:
        """Return what one of the unit is worth, by a value of the constant."""
        return constant if self.operation == "×" else 1 / constant

    @property
    def written(self) -> str:
        """Return the operation as written behind the given: `÷ 100 cm/m`."""
        if isinstance(self.constant, str):
            return f" {self.operation} {{{self.constant}}}"
        return f" {self.operation} {self.constant:g} {self.unit}"


@dataclass(frozen=True, slots=True)
class UnitRow:
    """One row of the table of units.

    `name` is what pint calls it, `definition` what it is worth, in the words of pint, which follow
    from other rows ("" where the name says so itself); `dimension` says the same of its kind, for
    what can't wait for pint. The first of the `spellings` is its sign. `given` says whether a
    problem may give a quantity in it, `system` which system of units it belongs to ("" for both).
    `factor` is how a line of working
    converts it, None where there is nothing to convert.
    """

    name: str
    definition: str
    dimension: Dimension
    spellings: tuple[str, ...]
    given: bool = False
    system: Literal["", "SI", "US customary", "imperial"] = "SI"
    factor: BookFactor | None = None


# NIST SP 811 (2008), appendix B.8: the pound, the inch, the foot and the pound-force are exact.
# The degree is the unit of angle here, since every angle of the course is written in degrees.
TABLE: dict[str, UnitRow] = {
    row.spellings[0]: row
    for row in (
        UnitRow(
            "kilogram", "[mass]", MASS,
            ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"),
            given=True,
        ),
        UnitRow(
            "metre", "[length]", LENGTH, ("m", "metre", "metres", "meter", "meters"), given=True
        ),
        UnitRow("second", "[time]", TIME, ("s", "sec", "second", "seconds")),
        UnitRow(
            "degree", "[angle]", ANGLE, ("deg", "degree", "degrees", "°"), given=True, system=""
        ),
        UnitRow(
            "radian", f"{DEGREES} * degree", ANGLE, ("rad", "radian", "radians"), system=""
        ),
        UnitRow(
            "gram", "kilogram / 1000", MASS, ("g", "gram", "grams", "gramme", "grammes"),
            given=True, factor=BookFactor(1000.0, "÷", "g/kg"),
        ),
        UnitRow(
            "pound", "0.45359237 * kilogram", MASS, ("lb", "lbs", "pound", "pounds", "lbm"),
            given=True, system="US customary",
            factor=BookFactor("pounds_per_kilogram", "÷", "lb/kg"),
        ),
        UnitRow(
            "ounce", "pound / 16", MASS, ("oz", "ounce", "ounces"),
            given=True, system="US customary",
            factor=BookFactor("kilograms_per_ounce", "×", "kg/oz"),
        ),
        UnitRow(
            "stone", "14 * pound", MASS, ("st", "stone", "stones"), given=True, system="imperial",
            factor=BookFactor("kilograms_per_stone", "×", "kg/st"),
        ),
        UnitRow(
            "centimetre", "metre / 100", LENGTH,
            ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
            given=True, factor=BookFactor(100.0, "÷", "cm/m"),
        ),
        UnitRow(
            "millimetre", "metre / 1000", LENGTH,
            ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
            given=True, factor=BookFactor(1000.0, "÷", "mm/m"),
        ),
        UnitRow(
            "inch", "0.0254 * metre", LENGTH, ("in", "inch", "inches", '"'),
            given=True, system="US customary", factor=BookFactor(0.0254, "×", "m/in"),
        ),
        UnitRow(
            "foot", "0.3048 * metre", LENGTH, ("ft", "foot", "feet", "'"),
            given=True, system="US customary", factor=BookFactor(0.3048, "×", "m/ft"),
        ),
        UnitRow(
            "newton", "kilogram * metre / second ** 2", FORCE, ("N", "newton", "newtons"),
            given=True,
        ),
        UnitRow(
            "kilonewton", "1000 * newton", FORCE, ("kN", "kilonewton", "kilonewtons"),
            given=True, factor=BookFactor(1000.0, "×", "N/kN"),
        ),
        UnitRow(
            "pound_force", "4.4482216152605 * newton", FORCE, ("lbf",),
            given=True, system="US customary", factor=BookFactor("newtons_per_pound", "×", "N/lbf"),
        ),
        UnitRow(
            "kilogram_force", "9.80665 * newton", FORCE, ("kgf",),
            factor=BookFactor("newtons_per_kilogram_force", "×", "N/kgf"),
        ),
        UnitRow("newton * metre", "", MOMENT, ("N·m",), given=True),
        UnitRow("joule", "newton * metre", MOMENT, ("J", "joule", "joules")),
        UnitRow("watt", "joule / second", POWER, ("W", "watt", "watts")),
        UnitRow("millimetre ** 2", "", AREA, ("mm²", "mm2"), given=True),
        UnitRow(
            "centimetre ** 2", "", AREA, ("cm²", "cm2"),
            given=True, factor=BookFactor(100.0, "×", "mm²/cm²"),
        ),
        UnitRow("pascal", "newton / metre ** 2", STRESS, ("Pa", "pascal", "pascals")),
        UnitRow(
            "kilopascal", "1000 * pascal", STRESS, ("kPa", "kilopascal", "kilopascals"),
            factor=BookFactor(1000.0, "×", "Pa/kPa"),
        ),
        UnitRow(
            "megapascal", "1000000 * pascal", STRESS, ("MPa", "megapascal", "megapascals"),
            given=True, factor=BookFactor(1000000.0, "×", "Pa/MPa"),
        ),
        UnitRow(
            "newton / centimetre ** 2", "", STRESS,
            ("N/cm²", "N/cm2"), given=True, factor=BookFactor(10000.0, "×", "Pa·cm²/N"),
        ),
        UnitRow(
            "radian / second", "", ANGULAR_VELOCITY, ("rad/s",),
            given=True, system="",
        ),
        UnitRow(
            "degree / second", "", ANGULAR_VELOCITY, ("deg/s", "°/s"),
            given=True, system="", factor=BookFactor(DEGREES, "÷", "deg/rad"),
        ),
        UnitRow(
            "radian / second ** 2", "", ANGULAR_ACCELERATION, ("rad/s²", "rad/s2"),
            given=True, system="",
        ),
        UnitRow(
            "degree / second ** 2", "", ANGULAR_ACCELERATION, ("deg/s²", "deg/s2", "°/s²"),
            given=True, system="", factor=BookFactor(DEGREES, "÷", "deg/rad"),
        ),
        UnitRow(
            "kilogram * metre ** 2", "", MOMENT_OF_INERTIA, ("kg·m²", "kg m²", "kg m2"),
            given=True,
        ),
        UnitRow("metre / second", "", SPEED, ("m/s",), given=True),
        UnitRow(
            "centimetre / second", "", SPEED, ("cm/s",),
            given=True, factor=BookFactor(100.0, "÷", "cm/m"),
        ),
        UnitRow(
            "metre / second ** 2", "", ACCELERATION, ("m/s²", "m/s2"),
            given=True,
        ),
        UnitRow("newton / metre", "", STIFFNESS, ("N/m",), given=True),
        UnitRow(
            "newton / centimetre", "", STIFFNESS, ("N/cm",),
            given=True, factor=BookFactor(100.0, "×", "cm/m"),
        ),
        UnitRow(
            "percent", "0.01", NUMBER, ("%",), system="", factor=BookFactor(100.0, "÷", "%"),
        ),
    )
}  # fmt: skip
"""Every unit that a student or an author may use, by its sign; all that is known of each.

pint is the authority on what they are worth: it reads the definitions, and only names of this table
ever reach it.
"""


OF_LINES: dict[str, Dimension] = {
    "N": FORCE, "m": LENGTH, "N·m": MOMENT, "deg": ANGLE, "kg": MASS, "": NUMBER,
    "kg·m": MASS_LENGTH,
    "MPa": STRESS, "W": POWER, "m/s": SPEED, "kN": FORCE, "lbf": FORCE, "kgf": FORCE, "%": NUMBER,
    NAMED_LENGTH: LENGTH, IN_NAMED_LENGTH["N·m"]: MOMENT,
}  # fmt: skip
"""The units that lines of a working are answered in, by their sign."""


class LineUnit(NamedTuple):
    """The unit of a line: its sign, its dimension, and its size in kg, m, s and degrees."""

    sign: str
    dimension: Dimension
    size: float


@cache
def unit_of_line(sign: str) -> LineUnit:
    """Return the unit that a line is answered in; KeyError where no line has it."""
    is_base = sign not in TABLE or TABLE[sign].factor is None
    return LineUnit(sign, OF_LINES[sign], 1.0 if is_base else float(known_unit(sign).size))


_BASES = ("[mass]", "[length]", "[time]", "[angle]")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: its short sign, its dimension, and its size in kg, m, s and degrees."""

    sign: str
    dimension: Dimension
    size: Fraction


NAMED_UNITS = {sign: Unit(sign, OF_LINES[sign], Fraction(1)) for sign in IN_NAMED_LENGTH.values()}
"""Units only where a problem names their length, by sign: inside, that is as long as a metre."""


@cache
def _registry() -> UnitRegistry[Any]:
    """Return the one registry, made on first use: pint takes long to import."""
    from pint import UnitRegistry

    lines = [f"{row.name} = {row.definition}" for row in TABLE.values() if row.definition]
    return UnitRegistry(lines, non_int_type=Fraction)


@lru_cache(maxsize=64)
def unit(spelling: str) -> Unit | None:
    """Return the unit written so, or None where this course has no such unit.

    Short signs count as written (`N` is a newton, `n` is nothing); whole words in any case.
    """
    for sign, row in TABLE.items():
        whole = len(spelling) > 3 and spelling.lower() in row.spellings
        if spelling in row.spellings or whole:
            return _measure(row.name, sign)
    return None


def units_for(dimension: Dimension) -> tuple[str, ...]:
    """Return the signs of the units that a problem may give a quantity of a dimension in."""
    if dimension == NUMBER:
        return ("",)
    return tuple(s for s, row in TABLE.items() if row.given and row.dimension == dimension)


def _measure(name: str, sign: str) -> Unit:
    """Ask pint for the dimension and the size of a unit by its own name."""
    quantity = _registry().Quantity(Fraction(1), name).to_root_units()
    powers: dict[str, Any] = dict(quantity.dimensionality)
    mass, length, time, angle = (int(powers.get(base, 0)) for base in _BASES)
    return Unit(sign, (mass, length, time, angle), Fraction(quantity.magnitude))


def metres(sign: str) -> float:
    """Return what a unit of length is worth; its factor is exact."""
    factor = None if sign in NAMED_UNITS else TABLE[sign].factor
    return 1.0 if factor is None else factor.size(float(factor.constant))


def known_unit(spelling: str) -> Unit:
    """Return a unit that is known to exist, named by a problem or not; KeyError where it is not."""
    found = unit(spelling) or NAMED_UNITS.get(spelling)
    if found is None:
        raise KeyError(spelling)
    return found
