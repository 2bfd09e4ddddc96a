"""What a line may be about, beside the steps of the derivation."""

from __future__ import annotations

from dataclasses import replace

import pytest
from leverstep.claims.page_quantities import PageQuantities
from leverstep.claims.quantity_values import summed_forces
from leverstep.course.shelf import load_shelf
from scipy import constants as nist

SHELF = load_shelf()
PAIL = PageQuantities(SHELF.problems["elbow-full-pail"].question("7"))

IN_SI = {
    "MPa": nist.mega, "kN": nist.kilo, "lbf": nist.pound_force, "kgf": nist.kilogram_force,
    "%": nist.centi,
}  # fmt: skip
"""What the units are in SI that only some lines are in."""


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_line_with_a_number_has_its_value(name: str) -> None:
    question = SHELF.problems[name].question("7")
    quantities = PageQuantities(question)
    for step in question.derivation.steps:
        if step.kind.is_number:
            in_si = question.right[step.key] * IN_SI.get(step.unit, 1.0)
            assert quantities.right[step.key] == pytest.approx(in_si)


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_every_quantity_has_a_value(name: str) -> None:
    quantities = PageQuantities(SHELF.problems[name].question("7"))
    assert quantities.all.keys() == quantities.right.keys()


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("m_l", PAIL.right["W_l"] / 9.81),
        ("W_f+W_l", PAIL.right["W_f"] + PAIL.right["W_l"]),
        ("M of W_f+W_l", PAIL.right["M_sum"]),
        ("from W_f to W_l", PAIL.right["d_l"] - PAIL.right["d_f"]),
        ("M_m", -PAIL.right["M_sum"]),
        ("M about F_m", PAIL.right["M_sum"] + PAIL.right["d_m"] * PAIL.right["W_f+W_l"]),
        ("M about F_m of R_y", -PAIL.right["d_m"] * PAIL.right["R_y"]),
        ("angle of W_l to the vertical", 0.0),
        ("1/MA", 1 / PAIL.right["MA"]),
    ],
)
def test_what_lies_beside_the_steps_follows_from_them(key: str, value: float) -> None:
    assert PAIL.right[key] == pytest.approx(value, abs=1e-9)


def test_about_any_point_the_moments_of_all_forces_balance() -> None:
    for point, others in (
        ("W_l", ("W_f", "F_m")),
        ("F_m", ("W_f", "W_l")),
        ("W_f", ("W_l", "F_m")),
    ):
        parts = [PAIL.right[f"M about {point} of {one}"] for one in (*others, "R_y")]
        assert sum(parts) == pytest.approx(0.0, abs=1e-9)


def test_of_many_forces_not_every_sum_is_looked_for() -> None:
    posture = PAIL.posture
    few = summed_forces(posture)
    assert [[force.symbol for force in some] for some in few] == [["W_f", "W_l"]]
    load = posture.loads[0]
    many = replace(posture, loads=tuple(replace(load, symbol=f"W_{i}") for i in range(12)))
    assert len(summed_forces(many)) == 12 * 11 / 2 + 1
