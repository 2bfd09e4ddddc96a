"""Known forces by where they come from, and muscles that share, solved again by other means."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers.equilibrium import Plane
from helpers.problem_texts import read_text
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.statics.acting import BandSize, Force, InertiaSize, MuscleSize, SharedSize
from leverstep.statics.derivation import derive
from leverstep.statics.graph import Values, graph
from leverstep.statics.points import Direction, Distance, Given
from leverstep.statics.posture import Posture
from scipy import constants as nist

SHELF = load_shelf()
DOWN = Direction("vertical", side="below")
UP = Direction("vertical", side="above")
lengths = st.floats(4, 60)
sizes = st.floats(1, 60)


def given_in(key: str, unit: str) -> Given:
    return Given(key, key, unit)


def at(key: str) -> Distance:
    return Distance(f"d_{key}", Given(f"at_{key}", "", "cm"))


def solved(posture: Posture, numbers: dict[str, float]) -> tuple[Values, Plane]:
    """Return what the product makes of a posture, and its plane of vectors."""
    values = graph(derive(posture, numbers)).values(numbers, {"g": nist.g})
    return values, Plane(posture, numbers, nist.g)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_a_force_is_what_it_comes_from(data: st.DataObject) -> None:
    """A muscle, a band and inertia load a level segment; each and the effort by vectors in SI."""
    area, tension = (
        data.draw(st.sampled_from(("cm²", "mm²"))),
        data.draw(st.sampled_from(("N/cm²", "MPa"))),
    )
    stiffness, length = (
        data.draw(st.sampled_from(("N/m", "N/cm"))),
        data.draw(st.sampled_from(("cm", "m", "in"))),
    )
    numbers = {f"at_{key}": data.draw(lengths) for key in ("m", "a", "b", "i")}
    numbers |= {key: data.draw(sizes) for key in ("area", "tension", "k", "rest", "mass", "speed")}
    numbers["long"] = numbers["rest"] + data.draw(sizes)
    mass = given_in("mass", data.draw(st.sampled_from(("kg", "lb", "g"))))
    loads = (
        Force("F_a", at("a"), DOWN, given_in("F_a", "N"), source=MuscleSize(
            given_in("area", area), given_in("tension", tension))),
        Force("F_b", at("b"), DOWN, given_in("F_b", "N"), source=BandSize(
            given_in("k", stiffness), given_in("long", length), given_in("rest", length))),
        Force("W_i", at("i"), DOWN, mass),
        Force("F_j", at("i"), DOWN, given_in("F_j", "N"), source=InertiaSize(
            "W_i", mass, given_in("speed", "m/s²"))),
    )  # fmt: skip
    posture = Posture(Force("F_m", at("m"), UP), loads, ratios=False)
    exact = {"g": nist.g, "pounds_per_kilogram": 1 / nist.pound}
    found = graph(derive(posture, numbers)).values(numbers, exact)
    plane = Plane(posture, numbers, nist.g)
    for force in loads:
        assert found[force.symbol] == pytest.approx(plane.size(force))
    assert found["F_m"] == pytest.approx(plane.solved()["F_m"][0])


@settings(max_examples=40, deadline=None)
@given(st.tuples(lengths, lengths, lengths), st.tuples(sizes, sizes, sizes), st.booleans())
def test_muscles_share_by_a_rule(
    places: tuple[float, float, float], numbers: tuple[float, float, float], by_area: bool
) -> None:
    """The two unknown forces solve moments and rule, as two linear equations."""
    own, other, weight = numbers
    rule = SharedSize(given_in("own", "cm²"), given_in("other", "cm²"))
    rule = rule if by_area else SharedSize(given_in("own", ""))
    partner = Force("F_b", at("b"), UP, given_in("F_b", "N"), source=rule)
    load = Force("W_l", at("l"), DOWN, given_in("w", "N"))
    posture = Posture(Force("F_m", at("m"), UP), (partner, load), ratios=False)
    given = dict(zip(("at_m", "at_b", "at_l"), places, strict=True))
    given |= {"own": own, "other": other, "w": weight}
    found, plane = solved(posture, given)
    x_m, x_b, x_l = places
    times = own / other if by_area else own
    effort, shared = np.linalg.solve([[x_m, x_b], [times, -1]], [weight * x_l, 0])
    assert found["F_m"] == pytest.approx(effort)
    assert found["F_b"] == pytest.approx(shared)
    assert found["R_y"] == pytest.approx(weight - effort - shared, abs=1e-9 * weight * x_l)
    assert plane.solved()["F_b"][0] == pytest.approx(shared)


def test_an_antagonist_is_no_resistance() -> None:
    """It has its moment, and is left out of the mechanical advantage and of the class."""
    question = SHELF.problems["knee-made-stiff"].question("5")
    posture, found = question.problem.posture, question.right
    assert found["MA"] == pytest.approx(found["W_s"] / found["F_q"])
    plain = tuple(replace(load, antagonist=False) for load in posture.loads)
    as_loads = replace(posture, loads=plain)
    counted = graph(derive(as_loads, question.numbers)).values(question.numbers, {})
    assert counted["F_q"] == pytest.approx(found["F_q"])
    assert counted["MA"] == pytest.approx((found["W_s"] + found["F_h"]) / found["F_q"])


def test_a_lift_that_starts_needs_what_a_tutor_reckoned() -> None:
    # Wyzant, answer 885018, read in an extract: a forearm of 2.2 kg at 13 cm is sped up with 0.9
    # m/s², plates of 1.1 kg at 37 cm with 2.5 m/s², by a biceps at 3.5 cm: 230.7 N.
    masses = {"f": given_in("m_f", "kg"), "p": given_in("m_p", "kg")}
    weights = [Force(f"W_{k}", at(k), DOWN, mass) for k, mass in masses.items()]
    inertia = [
        Force(
            f"F_i{k}", at(k), DOWN, given_in(f"F_i{k}", "N"),
            source=InertiaSize(f"W_{k}", mass, given_in(f"a_{k}", "m/s²")),
        )
        for k, mass in masses.items()
    ]  # fmt: skip
    posture = Posture(Force("F_m", at("m"), UP), (*weights, *inertia), ratios=False)
    numbers = {"at_m": 3.5, "at_f": 13.0, "at_p": 37.0}
    numbers |= {"m_f": 2.2, "m_p": 1.1, "a_f": 0.9, "a_p": 2.5}
    found = graph(derive(posture, numbers)).values(numbers, {"g": 9.81})
    assert found["F_m"] == pytest.approx(230.7, abs=0.05)


FILES = {
    name: next(
        path.read_text("utf-8")
        for joint in shipped("problems").iterdir()
        if joint.is_dir()
        for path in joint.iterdir()
        if path.name == f"{name}.toml"
    )
    for name in ("shoulder-band-pull", "elbow-quick-lift", "elbow-two-flexors")
}


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        ("shoulder-band-pull", "from = 120, to = 140", "from = 80, to = 140", "band.length"),
        ("shoulder-band-pull", 'unit = "N/m"', 'unit = "N"', "band.stiffness.unit"),
        ("shoulder-band-pull", "rest_length = {", "rest = {", "rest_length"),
        ("elbow-quick-lift", 'inertia_of = "W_f"', 'inertia_of = "W_x"', "inertia_of"),
        ("elbow-quick-lift", "acceleration = {", "speed = {", "acceleration: missing"),
        ("elbow-two-flexors", "ratios = false", "ratios = true", "shares"),
        ("elbow-two-flexors", 'd_b", place', 'd_b", beyond = true, place', "the same way"),
        ("elbow-two-flexors", "area_of_effort = {", "area_of = {", "area_of_effort"),
    ],
)
def test_what_does_not_go_together_is_a_fault(name: str, old: str, new: str, told: str) -> None:
    """Each is told with its place, and nothing fails."""
    with pytest.raises(FileError) as error:
        read_text(FILES[name], (old, new))
    assert told in str(error.value)
