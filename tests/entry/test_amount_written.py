"""A value that is written as one writes it: read again, it is the same."""

from __future__ import annotations

import math
import random

import pytest
from leverstep.entry.amount import Amount, evaluate
from leverstep.entry.amount_written import amount_written
from leverstep.entry.grammar import read_line
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MASS, MOMENT, NUMBER, TIME

UNITS = {
    FORCE: "N", MOMENT: "N·m", LENGTH: "m", MASS: "kg", ANGLE: "deg", NUMBER: "", TIME: "s",
    (1, 0, -2, 0): "N/m", (0, 1, -2, 0): "m/s^2", (2, 2, -4, 0): "N^2", (0, -1, 0, 0): "m^-1",
    (0, 2, 0, 0): "m^2", (1, 1, 0, 0): "kg·m", (-1, -1, 2, 0): "N^-1", (1, -1, -2, 0): "N/m^2",
}  # fmt: skip
"""How the units of some dimensions are written."""


def read(text: str) -> Amount:
    (tree,) = read_line(text, ())
    return evaluate(tree, {})


@pytest.mark.parametrize("dimension", UNITS)
def test_a_unit_is_written_as_a_student_writes_it(dimension: tuple[int, int, int, int]) -> None:
    assert amount_written(Amount(2.5, dimension)) == f"2.5 {UNITS[dimension]}".rstrip()


@pytest.mark.parametrize(
    ("value", "short", "full"),
    [
        (28.3, "28.3", "28.3"),
        (0.18414, "0.18414", "0.18414"),
        (5, "5", "5.00"),
        (-10, "-10", "-10.0"),
        (0, "0", "0.00"),
        (-0.0, "0", "0.00"),
        (1 / 3, "0.333333", "0.333333"),
        (123456, "123456", "123456"),
        (1000000, "1000000", "1000000"),
        (0.0001, "0.0001", "0.000100"),
        (2e12, "2×10^12", "2.00×10^12"),
        (-3.5e-7, "-3.5×10^-7", "-3.50×10^-7"),
    ],
)
def test_zeros_are_left_out_down_to_the_figures_that_are_wanted(
    value: float, short: str, full: str
) -> None:
    assert amount_written(Amount(value)) == short
    assert amount_written(Amount(value), 3) == full


def test_what_is_written_is_read_again_as_the_same() -> None:
    draw = random.Random(5)
    for _ in range(600):
        value = draw.choice((-1, 1)) * 10 ** draw.uniform(-20, 20)
        dimension = draw.choice([*UNITS])
        again = read(amount_written(Amount(value, dimension), draw.randint(1, 6)))
        assert again.dimension == dimension
        assert math.isclose(again.value, value, rel_tol=1e-5)
