"""Units and conventions against the constants of scipy, which follow NIST SP 811 and CODATA."""

from __future__ import annotations

from fractions import Fraction

import pytest
from helpers.source import ROOT
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.convert import factor_for
from leverstep.statics.units import (
    ACCELERATION,
    ANGLE,
    ANGULAR_ACCELERATION,
    ANGULAR_VELOCITY,
    AREA,
    FORCE,
    LENGTH,
    MASS,
    MOMENT,
    MOMENT_OF_INERTIA,
    NUMBER,
    POWER,
    SPEED,
    STIFFNESS,
    STRESS,
    TABLE,
    Dimension,
    known_unit,
    metres,
    unit,
    units_for,
)
from pint import UnitRegistry
from scipy import constants as nist

PINT = UnitRegistry()

# NIST SP 811 (2008), appendix B.8, through scipy.constants.
SIZES = {
    "kg": (MASS, 1.0),
    "g": (MASS, nist.gram),
    "lb": (MASS, nist.pound),
    "oz": (MASS, nist.ounce),
    "st": (MASS, nist.stone),
    "m": (LENGTH, 1.0),
    "cm": (LENGTH, nist.centi),
    "mm": (LENGTH, nist.milli),
    "in": (LENGTH, nist.inch),
    "ft": (LENGTH, nist.foot),
    "N": (FORCE, 1.0),
    "kN": (FORCE, nist.kilo),
    "lbf": (FORCE, nist.pound_force),
    "kgf": (FORCE, nist.kilogram_force),
    "N·m": (MOMENT, 1.0),
    "J": (MOMENT, 1.0),
    "W": (POWER, 1.0),
    "mm²": (AREA, nist.milli**2),
    "cm²": (AREA, nist.centi**2),
    "Pa": (STRESS, 1.0),
    "kPa": (STRESS, nist.kilo),
    "MPa": (STRESS, nist.mega),
    "N/cm²": (STRESS, 1 / nist.centi**2),
    "rad/s": (ANGULAR_VELOCITY, 1 / nist.degree),
    "deg/s": (ANGULAR_VELOCITY, 1.0),
    "rad/s²": (ANGULAR_ACCELERATION, 1 / nist.degree),
    "deg/s²": (ANGULAR_ACCELERATION, 1.0),
    "kg·m²": (MOMENT_OF_INERTIA, 1.0),
    "m/s": (SPEED, 1.0),
    "cm/s": (SPEED, nist.centi),
    "m/s²": (ACCELERATION, 1.0),
    "N/m": (STIFFNESS, 1.0),
    "N/cm": (STIFFNESS, 1 / nist.centi),
    "%": (NUMBER, nist.centi),
    "deg": (ANGLE, 1.0),
    "rad": (ANGLE, 1 / nist.degree),
}

# What each convention rounds: the exact factor.
EXACT = {
    "g": nist.g,
    "pounds_per_kilogram": 1 / nist.pound,
    "newtons_per_pound": nist.pound_force,
    "newtons_per_kilogram_force": nist.kilogram_force,
    "kilograms_per_stone": nist.stone,
    "kilograms_per_ounce": nist.ounce,
}

# Values that books use and no standard gives: common practice.
COMMON_PRACTICE = {
    "g": {9.8, 9.81},
    "pounds_per_kilogram": {2.2, 2.205},
    "newtons_per_pound": {4.448, 4.45},
    "newtons_per_kilogram_force": {9.8, 9.81},
    "kilograms_per_stone": {6.35},
    "kilograms_per_ounce": {0.02835, 0.0284},
}


@pytest.mark.parametrize("sign", SIZES)
def test_a_unit_is_worth_what_the_tables_say(sign: str):
    """Each unit has the dimension and the size of the tables."""
    dimension, size = SIZES[sign]
    found = known_unit(sign)
    assert found.dimension == TABLE[sign].dimension == dimension
    assert float(found.size) == pytest.approx(size, rel=1e-12)


def test_exact_units_are_held_exactly():
    """The pound, inch, foot and pound-force are exact by definition (NIST SP 811, 2008, B.8)."""
    pound, gravity = Fraction("0.45359237"), Fraction("9.80665")
    assert known_unit("lb").size == pound
    assert known_unit("st").size == 14 * pound
    assert known_unit("oz").size == pound / 16
    assert known_unit("lbf").size == pound * gravity
    assert known_unit("in").size == Fraction("0.0254")
    assert known_unit("ft").size == 12 * Fraction("0.0254")


@pytest.mark.parametrize("sign", TABLE)
def test_every_spelling_is_the_same_unit(sign: str):
    """Singular, plural and sign name one unit, whole words in any case."""
    spellings = TABLE[sign].spellings
    units = {unit(spelling) for spelling in spellings}
    units |= {
        unit(spelling.upper()) for spelling in spellings if len(spelling) > 3 and spelling.isalpha()
    }
    assert units == {known_unit(sign)}


@pytest.mark.parametrize(
    "spelling", ["n", "KG", "Kg", "LB", "Cm", "slug", "", " kg", "kg ", "kg*m"]
)
def test_other_spellings_are_no_unit(spelling: str):
    """Short signs count as written, and nothing but a name from the list reaches pint."""
    assert unit(spelling) is None


def test_an_unknown_unit_is_a_key_error():
    """Where a unit is known to exist, its absence is an error of the program."""
    with pytest.raises(KeyError):
        known_unit("slug")


@pytest.mark.parametrize("name", CONVENTIONS)
def test_every_accepted_constant_is_close_to_the_exact_one(name: str):
    """No accepted rounding is more than a quarter of a per cent off."""
    values = CONVENTIONS[name].values
    assert values == pytest.approx([EXACT[name]] * len(values), rel=0.0025)


@pytest.mark.parametrize("name", CONVENTIONS)
def test_a_constant_is_the_exact_one_or_common_practice(name: str):
    """What is not common practice agrees with the exact factor to the digits it is written with."""
    for value in set(CONVENTIONS[name].values) - COMMON_PRACTICE[name]:
        decimals = len(str(value).partition(".")[2])
        assert value == round(EXACT[name], decimals)
    assert COMMON_PRACTICE[name] <= set(CONVENTIONS[name].values)


BASES = {
    AREA: nist.milli**2,
    ANGULAR_VELOCITY: 1 / nist.degree,
    ANGULAR_ACCELERATION: 1 / nist.degree,
    ANGLE: None,
    MOMENT: None,
}
"""What a line of working converts to, where that is not the unit of SI; None where nothing is."""


@pytest.mark.parametrize("sign", SIZES)
def test_a_line_of_working_names_the_factor_that_it_uses(sign: str):
    """The factor written behind a given, × or ÷, is the size of its unit or rounds it."""
    factor = factor_for(sign)
    dimension, size = SIZES[sign]
    base = BASES.get(dimension, 1.0)
    if base in (None, size):
        assert factor is None
    else:
        assert factor is not None
        written = EXACT.get(factor.constant, factor.constant)
        worth = written if factor.operation == "×" else 1 / written
        assert worth == pytest.approx(size / base, rel=1e-12)


@pytest.mark.parametrize("sign", TABLE)
def test_the_table_agrees_with_what_pint_knows_of_itself(sign: str):
    """Pint's own definitions, of many authors and checked by many, give the same sizes."""
    theirs = PINT.Quantity(1.0, TABLE[sign].name).to_root_units()
    ours = known_unit(sign)
    in_degrees = nist.degree ** -ours.dimension[3]  # theirs are in radians
    of_mass = 1e-3 if str(theirs.units).startswith("gram") else 1.0
    assert theirs.magnitude * in_degrees * of_mass == pytest.approx(float(ours.size), rel=1e-12)


def test_each_spelling_names_one_unit():
    spellings = [spelling for row in TABLE.values() for spelling in row.spellings]
    assert len(spellings) == len(set(spellings))


def test_a_problem_may_give_what_the_table_says():
    assert units_for(MASS) == ("kg", "g", "lb", "oz", "st")
    assert units_for(FORCE) == ("N", "kN", "lbf")
    assert units_for(LENGTH) == ("m", "cm", "mm", "in", "ft")
    assert units_for(ANGLE) == ("deg",)


@pytest.mark.parametrize(
    ("sort", "dimension"), [("mass", MASS), ("force", FORCE), ("length", LENGTH), ("angle", ANGLE)]
)
def test_the_guide_to_problem_files_names_each_of_them(sort: str, dimension: Dimension):
    guide = " ".join((ROOT / "problems" / "README.md").read_text("utf-8").split())
    *others, last = units_for(dimension)
    assert f"{sort} in {' or '.join(filter(None, (', '.join(others), last)))}" in guide


@pytest.mark.parametrize("sign", units_for(LENGTH))
def test_a_length_is_the_same_without_pint(sign: str):
    assert metres(sign) == pytest.approx(float(known_unit(sign).size), rel=1e-15)
