"""Random postures, solved again by other means: a matrix of equilibrium, and sympy's beams.

Nothing of the product's geometry is used here. A force is a vector at a point, read from what the
fields of a posture are documented to mean.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot

import numpy as np
import pytest
from helpers.equilibrium import LENGTHS, Plane, Vector
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from leverstep.statics.acting import Couple, Force
from leverstep.statics.derivation import derive
from leverstep.statics.graph import Values, graph
from leverstep.statics.line_keys import beside
from leverstep.statics.points import Direction, Distance, FromOthers, Given
from leverstep.statics.posture import Axes, Posture
from scipy import constants as nist
from sympy import Rational, symbols
from sympy.physics.continuum_mechanics.beam import Beam

EXACT = {
    "g": nist.g,
    "pounds_per_kilogram": 1 / nist.pound,
    "newtons_per_pound": nist.pound_force,
    "kilograms_per_stone": 14 * nist.pound,
    "kilograms_per_ounce": nist.pound / 16,
}


@dataclass(frozen=True)
class Case(Plane):
    """A posture and its numbers."""

    gravity: float = nist.g

    def values(self) -> Values:
        """Return what the product makes of the case."""
        return graph(derive(self.posture, self.numbers)).values(self.numbers, EXACT)

    def by_matrix(self) -> tuple[float, float, float]:
        """Return effort and both components of the reaction, from the matrix of equilibrium."""
        effort, loads = self.posture.effort, self.posture.loads
        across, upward = self.unit(effort)
        matrix = [[across, 1, 0], [upward, 0, 1], [self.lever(effort), 0, 0]]
        known = [
            -sum(self.size(load) * self.unit(load)[0] for load in loads),
            -sum(self.size(load) * self.unit(load)[1] for load in loads),
            -sum(self.size(load) * self.lever(load) for load in loads) - self.turned(),
        ]
        force, right, up = np.linalg.solve(matrix, known)
        return float(force), float(right), float(up)


def quarters(low: int, high: int) -> st.SearchStrategy[float]:
    """Return numbers in steps of a quarter, which binary numbers hold exactly."""
    return st.integers(4 * low, 4 * high).map(lambda n: n / 4)


@st.composite
def directions(draw: st.DrawFn, name: str, numbers: dict[str, float]) -> Direction:
    """Return a direction of any kind, with its angle among the numbers."""
    reference = draw(st.sampled_from(["segment", "horizontal", "vertical"]))
    side = draw(st.sampled_from(["above", "below"]))
    toward = draw(st.sampled_from(["axis", "end"] if reference == "segment" else ["left", "right"]))
    if draw(st.integers(0, 3)) == 0:
        return Direction("bearing", between_axes(draw, name, numbers))
    if draw(st.booleans()):
        lies_along = reference == "segment" and draw(st.booleans())
        return Direction(reference, None, toward, "along" if lies_along else side)
    angle = Given(f"angle_{name}", f"angle_{name}", "deg")
    numbers[angle.key] = draw(st.one_of(quarters(1, 90), quarters(91, 179)))
    return Direction(reference, angle, toward, side)


def between_axes(draw: st.DrawFn, name: str, numbers: dict[str, float]) -> Given:
    """Return a bearing of any quadrant, with its angle among the numbers."""
    angle = Given(f"angle_{name}", f"angle_{name}", "deg")
    numbers[angle.key] = 90 * draw(st.integers(0, 3)) + draw(quarters(1, 89))
    return angle


@st.composite
def from_others(draw: st.DrawFn, name: str, numbers: dict[str, float]) -> FromOthers:
    """Return a way in which a distance follows from the length and from a piece of its own."""
    how = draw(st.sampled_from(["sum", "difference", "sine", "cosine"]))
    if how in ("sum", "difference"):
        return FromOthers(how, draw(st.sampled_from([("L", "d_p"), ("d_p", "L")])))
    angle = Given(f"turned_{name}", f"turned_{name}", "deg")
    numbers[angle.key] = draw(quarters(1, 89))
    return FromOthers(how, ("L",), angle)


@st.composite
def distances(draw: st.DrawFn, name: str, numbers: dict[str, float], arms: bool) -> Distance:
    """Return a distance: measured, from others or, among `arms`, a moment arm."""
    kinds = ["measured", "fraction", "others", "perpendicular"]
    kind = draw(st.sampled_from(kinds[: 4 if arms else 3]))
    beyond = draw(st.booleans())
    symbol, key = f"d_{name}", f"given_d_{name}"
    if kind == "others":
        derived = draw(from_others(name, numbers))
        return Distance(symbol, Given("", symbol, "m"), None, beyond, derived=derived)
    if kind == "fraction":
        numbers[key] = draw(st.integers(1, 19)) / 16
        return Distance(symbol, Given(key, ""), "L", beyond)
    unit = draw(st.sampled_from(sorted(LENGTHS)))
    numbers[key] = draw(quarters(1, 60))
    return Distance(symbol, Given(key, symbol, unit), None, beyond, kind == "perpendicular")


@st.composite
def forces(
    draw: st.DrawFn, name: str, numbers: dict[str, float], units: list[str], arms: bool
) -> Force:
    """Return a force of any kind; `units` are those of its size, none for the effort."""
    at = draw(distances(name, numbers, arms))
    magnitude = None
    if units:
        magnitude = Given(f"size_{name}", "", draw(st.sampled_from(units)))
        numbers[magnitude.key] = draw(quarters(1, 90))
    turns = draw(st.sampled_from([1, -1])) if at.perpendicular else None
    return Force(f"F_{name}", at, draw(directions(name, numbers)), magnitude, turns)


@st.composite
def couple(draw: st.DrawFn, name: str, numbers: dict[str, float]) -> Couple:
    """Return a couple that turns either way."""
    numbers[f"C_{name}"] = draw(quarters(1, 90))
    return Couple(
        f"C_{name}", Given(f"C_{name}", f"C_{name}", "N·m"), draw(st.sampled_from([1, -1]))
    )


def is_degenerate(case: Case) -> bool:
    """Return whether the effort has hardly any arm, or no load has a moment worth the name."""
    effort = case.posture.effort
    reach = case.distance(effort.at)
    turned = max(case.size(load) * abs(case.lever(load)) for load in case.posture.loads)
    reaches = max(case.size(load) * case.distance(load.at) for load in case.posture.loads)
    return abs(case.lever(effort)) < 0.01 * reach or turned < 0.01 * reaches


def turned_to_pull(case: Case) -> Case:
    """Return the case with its effort the other way round where it would have to push."""
    if case.by_matrix()[0] > 0:
        return case
    effort = case.posture.effort
    if effort.turns is not None:
        other = replace(effort, turns=-effort.turns)
    else:
        old = effort.direction
        ends = {"axis": "end", "end": "axis", "left": "right", "right": "left", None: None}
        side = {"above": "below", "below": "above", "along": "along"}[old.side]
        other = replace(effort, direction=replace(old, toward=ends[old.toward], side=side))
    return replace(case, posture=replace(case.posture, effort=other))


@st.composite
def cases(draw: st.DrawFn, arms: bool = True) -> Case:
    """Return a posture of any kind whose effort pulls; with `arms`, some points are not told."""
    numbers = {"given_L": draw(quarters(1, 60)), "given_d_p": draw(quarters(1, 60))}
    piece = Distance("d_p", Given("given_d_p", "d_p", draw(st.sampled_from(sorted(LENGTHS)))))
    length = Distance("L", Given("given_L", "L", draw(st.sampled_from(sorted(LENGTHS)))))
    inclination = None
    if draw(st.booleans()):
        inclination = Given("alpha", "alpha", "deg")
        numbers["alpha"] = draw(quarters(1, 89))
    units = draw(st.sampled_from([["N", "kN", "lbf"], ["kg", "g", "lb", "oz", "st"], ["N", "kg"]]))
    count = draw(st.integers(1, 4))
    couples = tuple(draw(couple(name, numbers)) for name in "xy"[: draw(st.integers(0, 2))])
    case = Case(
        Posture(
            draw(forces("m", numbers, [], arms)),
            tuple(draw(forces(name, numbers, units, arms)) for name in "abcd"[:count]),
            length,
            inclination,
            draw(st.sampled_from(["right", "left"])),
            draw(st.booleans()),
            draw(st.sampled_from([1, -1])),
            draw(st.booleans()),
            resolved=draw(st.sampled_from([(Axes.LEVEL,), (Axes.SEGMENT,), tuple(Axes)])),
            ratios=not couples,
            pieces=(piece,),
            couples=couples,
            inclined_to=draw(st.sampled_from(["horizontal", "vertical"])),
        ),
        numbers,
    )
    assume(all(case.distance(force.at) > 0 for force in case.posture.forces))
    assume(not is_degenerate(case))
    case = turned_to_pull(case)
    force, right, up = case.by_matrix()
    scale = sum(case.size(load) for load in case.posture.loads)
    assume(force > 1e-6 * scale)
    # A load whose line of action happens to meet the axis has no arm to divide by.
    slanting = [f for f in case.posture.loads if inclination or f.direction.angle]
    assume(all(abs(case.lever(f)) > 1e-9 * case.distance(f.at) for f in slanting))
    across = [abs(case.unit(f)[0]) > 1e-12 for f in case.posture.forces]
    assume(abs(right) > 1e-6 * scale or not any(across))
    assume(hypot(right, up) > 1e-6 * scale)
    return case


def near(value: float, scale: float):
    """Return a value to compare with: to nine figures, or to twelve of the largest term."""
    return pytest.approx(value, rel=1e-9, abs=1e-12 * scale)


def largest_force(case: Case, effort: float) -> float:
    """Return the largest force of a case, which sets the noise of a sum."""
    return max([effort, *(case.size(load) for load in case.posture.loads)])


def largest_moment(case: Case) -> float:
    """Return the largest product of a load and its distance."""
    couples = [case.numbers[couple.magnitude.key] for couple in case.posture.couples]
    return max(
        *(case.size(load) * case.distance(load.at) for load in case.posture.loads), *couples, 0.0
    )


def check(case: Case):
    """Compare moments, effort and reaction with those that solve the three equations together."""
    force, right, up = case.by_matrix()
    values = case.values()
    forces_scale, moments_scale = largest_force(case, force), largest_moment(case)

    moments = {beside("M", x.symbol): case.size(x) * case.lever(x) for x in case.posture.loads}
    for key, moment in moments.items():
        assert values[key] == near(case.posture.positive * moment, moments_scale), key
    known = case.posture.positive * (sum(moments.values()) + case.turned())
    for couple in case.posture.couples:
        turned = case.posture.positive * couple.turns * case.numbers[couple.magnitude.key]
        assert values[couple.moment_key] == pytest.approx(turned)
    assert values["M_sum"] == near(known, moments_scale)

    assert values["F_m"] == near(force, moments_scale / abs(case.lever(case.posture.effort)))
    if Axes.LEVEL in case.posture.resolved:
        assert values.get("R_x", 0.0) == near(right, forces_scale)
        assert values.get("R_y", 0.0) == near(up, forces_scale)
    if Axes.SEGMENT in case.posture.resolved:
        check_by_segment(case, values, (right, up), forces_scale)
    if "R" in values:
        assert values["R"] == near(hypot(right, up), forces_scale)
    if "phi_R" in values:
        expected = degrees(atan2(abs(up), abs(right)))
        assert values["phi_R"] == near(expected, 90 * forces_scale / hypot(right, up))


def check_by_segment(case: Case, values: Values, reaction: Vector, scale: float):
    """Compare what is resolved along and across the segment with projections on it."""
    axes = case.along(), case.upper()
    for key, axis in zip(("R_a", "R_t"), axes, strict=True):
        assert values.get(key, 0.0) == near(float(np.dot(reaction, axis)), scale), key
    for force in case.posture.forces:
        size = values[force.symbol]
        for letter, axis in zip("at", axes, strict=True):
            if (key := f"{force.symbol}{letter}") in values:
                assert values[key] == near(float(size * np.dot(case.unit(force), axis)), scale), key


@settings(max_examples=60, deadline=None)
@given(cases())
def test_every_step_agrees_with_the_matrix_of_equilibrium(case: Case):
    """Whatever the posture, its steps solve the three equations of equilibrium."""
    check(case)


@st.composite
def borders(draw: st.DrawFn) -> tuple[Case, float]:
    """Return one load on a slope, and the angle near its own at which it changes its quadrant."""
    numbers = {"given_d_m": 1.0, "given_d_a": 1.0, "size_a": 1.0}
    numbers["alpha"] = draw(quarters(5, 85))
    incline = numbers["alpha"]
    border = draw(st.sampled_from([90.0, incline, 90 - incline]))
    numbers["angle_a"] = border + draw(st.sampled_from([-3.0, 3.0] if border < 85 else [-3.0]))
    reference = draw(st.sampled_from(["segment", "horizontal", "vertical"]))
    toward = draw(st.sampled_from(["axis", "end"] if reference == "segment" else ["left", "right"]))
    side = draw(st.sampled_from(["above", "below"]))
    angle = Given("angle_a", "", "deg")
    load = Force(
        "F_a",
        Distance("d_a", Given("given_d_a", "", "m")),
        Direction(reference, angle, toward, side),
        Given("size_a", "", "N"),
    )
    posture = Posture(
        Force("F_m", Distance("d_m", Given("given_d_m", "", "m")), Direction("segment")),
        (load,),
        None,
        Given("alpha", "", "deg"),
        draw(st.sampled_from(["right", "left"])),
        draw(st.booleans()),
        by_components=draw(st.booleans()),
    )
    case = Case(posture, numbers)
    assume(not is_degenerate(case))
    case = turned_to_pull(case)
    assume(hypot(*case.by_matrix()[1:]) > 1e-6)  # the two forces may be equal and opposite
    return case, border


@settings(max_examples=60, deadline=None)
@given(borders())
def test_numbers_on_a_border_leave_the_signs_of_others_alone(border: tuple[Case, float]):
    """A posture met first with a load upright, along or across the segment reads no different."""
    case, angle = border
    with suppress(ValueError):  # across the border, the effort may not pull against its load
        derive(case.posture, case.numbers | {"angle_a": angle})
    check(case)


@settings(max_examples=30, deadline=None)
@given(
    cases(arms=False),
    st.tuples(quarters(-9, 9), quarters(-9, 9)),
    st.tuples(quarters(-9, 9), quarters(10, 20)),
)
def test_moments_about_other_points_vanish(case: Case, one: Vector, other: Vector):
    """With the product's effort and reaction, the moments about any point sum to nothing."""
    values = case.values()
    acting = [(case.point(f), case.unit(f), values[f.symbol]) for f in case.posture.forces]
    is_level = Axes.LEVEL in case.posture.resolved
    keys = ("R_x", "R_y") if is_level else ("R_a", "R_t")
    ways = ((1.0, 0.0), (0.0, 1.0)) if is_level else (case.along(), case.upper())
    acting += [((0.0, 0.0), way, values.get(k, 0.0)) for k, way in zip(keys, ways, strict=True)]
    for about in (one, other):
        moments = [
            size * ((at[0] - about[0]) * unit[1] - (at[1] - about[1]) * unit[0])
            for at, unit, size in acting
        ]
        moments.append(case.turned())
        assert sum(moments) == pytest.approx(0, abs=1e-9 * sum(map(abs, moments)))


def straight(name: str, place: int, size: int | None, upward: bool) -> tuple[Force, dict]:
    """Return a vertical force on a level segment, so many centimetres from the axis."""
    direction = Direction("vertical", side="above" if upward else "below")
    at = Distance(f"d_{name}", Given(f"given_d_{name}", "", "cm"), beyond=place < 0)
    numbers = {at.given.key: float(abs(place))}
    magnitude = None
    if size is not None:
        magnitude = Given(f"size_{name}", "", "N")
        numbers[magnitude.key] = float(size)
    return Force(f"F_{name}", at, direction, magnitude), numbers


PLACES = st.integers(1, 100).map(lambda n: n if n <= 50 else n - 101)
LOADS = st.tuples(PLACES, st.integers(1, 200), st.booleans())


@settings(max_examples=20, deadline=None)
@given(PLACES, st.lists(LOADS, min_size=1, max_size=4))
def test_vertical_forces_agree_with_a_beam_on_two_supports(
    support: int, loads: list[tuple[int, int, bool]]
):
    """The axis and the effort bear vertical loads as the two supports of sympy's beam do."""
    pivot = 50
    beam = Beam(Rational(100), *symbols("E I"))
    axis, effort = symbols("axis effort")
    beam.apply_load(axis, pivot, -1)
    beam.apply_load(effort, pivot + support, -1)
    for place, size, upward in loads:
        beam.apply_load(size if upward else -size, pivot + place, -1)
    beam.solve_for_reaction_loads(axis, effort)
    borne = {name: float(value) for name, value in beam.reaction_loads.items()}
    assume(borne[effort] != 0)

    pull, numbers = straight("m", support, None, borne[effort] > 0)
    carried = []
    for name, (place, size, upward) in zip("abcd", loads, strict=False):
        force, own = straight(name, place, size, upward)
        carried.append(force)
        numbers |= own
    values = Case(Posture(pull, tuple(carried)), numbers).values()
    assert values["F_m"] == pytest.approx(abs(borne[effort]), rel=1e-9)
    assert values["R_y"] == pytest.approx(borne[axis], rel=1e-9, abs=1e-9)


def test_an_effort_that_turns_as_every_load_does_is_refused():
    """No pull balances loads that turn the same way as it does."""
    (pull, one), (load, other) = straight("m", 4, None, False), straight("a", 30, 10, False)
    with pytest.raises(ValueError, match="no force turns against F_m"):
        derive(Posture(pull, (load,)), one | other)


def test_an_effort_through_the_axis_is_refused():
    """A pull along the segment has no moment, so it holds nothing."""
    (pull, one), (load, other) = straight("m", 4, None, True), straight("a", 30, 10, False)
    along = replace(pull, direction=Direction("horizontal", toward="left"))
    with pytest.raises(ValueError, match="F_m acts through the axis"):
        derive(Posture(along, (load,)), one | other)


@pytest.mark.parametrize("by_components", [False, True])
def test_a_load_through_the_axis_has_no_moment_but_pushes_the_joint(by_components: bool):
    """A load along the segment counts in the reaction alone."""
    (pull, one), (load, other) = straight("m", 4, None, True), straight("a", 30, 10, False)
    push, third = straight("b", 20, 7, True)
    along = replace(push, direction=Direction("horizontal", toward="right"))
    posture = Posture(pull, (load, along), by_components=by_components)
    values = Case(posture, one | other | third).values()
    assert values["M_b"] == 0
    assert values["F_m"] == pytest.approx(75, rel=1e-9)  # 10 N x 30 cm over 4 cm
    assert values["R_x"] == pytest.approx(-7, rel=1e-9)
    assert values["MA"] == pytest.approx(10 / 75, rel=1e-9)
