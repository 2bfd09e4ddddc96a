"""The problems that ship, as a course needs them, and held against equilibrium by other means."""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from helpers.bodies import Body
from helpers.equilibrium import Plane
from leverstep.course.places import shipped
from leverstep.course.problem import Problem, Question
from leverstep.course.segments import TABLES, segment_table
from leverstep.course.shelf import load_shelf
from leverstep.statics.acting import Force
from leverstep.statics.geometry import force_bearing, segment_bearing
from leverstep.statics.graph import Values
from leverstep.statics.kinds import Part
from leverstep.statics.points import Distance
from leverstep.statics.posture import Find
from leverstep.working.wording import ask
from scipy import constants as nist
from sympy import Rational, symbols
from sympy.physics.continuum_mechanics.beam import Beam

SHELF = load_shelf([shipped("problems")])
PROBLEMS = SHELF.problems
SEEDS = range(50)

SIZES = {
    "N": 1.0,
    "kN": 1000.0,
    "lbf": nist.pound_force,
    "kg": 9.80665,
    "g": 9.80665e-3,
    "lb": nist.pound_force,
    "oz": nist.pound_force / 16,
    "st": nist.pound_force * 14,
    "m": 1.0,
    "L": 1.0,
    "cm": 0.01,
    "mm": 0.001,
    "in": 0.0254,
    "ft": 0.3048,
}
"""Newtons and metres, with masses as their weights (NIST SP 811, 2008, B.8; standard gravity)."""

EXACT = {
    "g": 9.80665,
    "pounds_per_kilogram": 1 / nist.pound,
    "newtons_per_pound": nist.pound_force,
    "kilograms_per_stone": 14 * nist.pound,
    "kilograms_per_ounce": nist.pound / 16,
}


def metres(question: Question, distance: Distance, values: dict[str, float]) -> float:
    """Return a distance in metres, signed: negative past the axis."""
    if distance.sought:
        size = values[distance.symbol]
    elif distance.derived is not None:
        parts = [
            metres(
                question, next(d for d in question.problem.posture.distances if d.symbol == s), {}
            )
            for s in distance.derived.of
        ]
        if distance.derived.angle is None:
            sign = 1 if distance.derived.how == "sum" else -1
            size = parts[0] + sign * sum(parts[1:])
        else:
            turned = cmath.rect(
                parts[0], math.radians(question.numbers[distance.derived.angle.key])
            )
            size = turned.imag if distance.derived.how == "sine" else turned.real
    elif distance.of is not None:
        whole = next(d for d in question.problem.posture.distances if d.symbol == distance.of)
        size = question.numbers[distance.given.key] * metres(question, whole, values)
    else:
        size = question.numbers[distance.given.key] * SIZES[distance.given.unit]
    return -size if distance.beyond else size


def newtons(question: Question, force: Force, values: dict[str, float]) -> float:
    """Return the size of a force: from what is given, or as the working found it."""
    numbers, given = question.numbers, force.magnitude
    if force.is_handed_on:  # the opposite of what was found of the segment before
        return -values[force.before]
    if force.is_shared:
        plane = Plane(question.problem.posture, numbers, EXACT["g"])
        return plane.solved()[force.symbol][0]
    if force.source is not None:
        return Plane.of(question).size(force)
    if force.share is not None:
        body = question.problem.posture.body
        assert body is not None
        return numbers[force.share.given.key] * numbers[body.key] * SIZES[body.unit]
    if given is None or given.key not in numbers:
        return values[force.symbol]
    return numbers[given.key] * SIZES[given.unit]


def along(question: Question) -> np.ndarray:
    """Return the unit vector along the segment."""
    posture = question.problem.posture
    incline = 0.0
    if posture.inclination is not None:
        incline = question.numbers[posture.inclination.key]
    turned = math.radians(segment_bearing(posture).degrees(incline, 0))
    return np.array([math.cos(turned), math.sin(turned)])


def vector(question: Question, force: Force, values: dict[str, float]) -> np.ndarray:
    """Return a force as a vector; the direction of a two-ended muscle comes from its ends."""
    posture, numbers = question.problem.posture, question.numbers
    size = newtons(question, force, values)
    ends = force.direction.attachment
    if ends is not None:
        axis = along(question)
        up = np.array([-axis[1], axis[0]]) * (1 if axis[0] > 0 else -1)
        side = 1 if force.direction.side == "above" else -1
        far = metres(question, ends.along, values) * axis
        far = far + side * metres(question, ends.off, values) * up
        run = far - metres(question, force.at, values) * axis
        return size * run / np.hypot(*run)
    incline = 0.0 if posture.inclination is None else numbers[posture.inclination.key]
    angle = force.direction.angle
    slant = 0.0 if angle is None else numbers[angle.key]
    turned = math.radians(force_bearing(posture, force.direction).degrees(incline, slant))
    return size * np.array([math.cos(turned), math.sin(turned)])


def point(
    question: Question, force: Force, values: dict[str, float], pull: np.ndarray
) -> np.ndarray:
    """Return a point on the line of action of a force, seen from the axis."""
    if force.offset is not None:
        parts = (force.offset.across, force.offset.up)
        return np.array([0.0 if p is None else metres(question, p, values) for p in parts])
    if force.at_axis:
        return np.zeros(2)
    reach = metres(question, force.at, values)
    if force.turns is None:
        return reach * along(question)
    reach = abs(reach)
    unit = pull / np.hypot(*pull)
    # A point at the given moment arm from the axis, on the side that gives the sense given.
    return force.turns * reach * np.array([unit[1], -unit[0]])


def reaction_of(question: Question, values: dict[str, float]) -> np.ndarray:
    """Return the reaction as a vector, from its components along whatever they are taken."""
    if not {"R_a", "R_t"} & values.keys():
        return np.array([values.get("R_x", 0.0), values.get("R_y", 0.0)])
    axis = along(question)
    up = np.array([-axis[1], axis[0]]) * (1 if axis[0] > 0 else -1)
    return values.get("R_a", 0.0) * axis + values.get("R_t", 0.0) * up


def cross(place: np.ndarray, pull: np.ndarray) -> float:
    return float(place[0] * pull[1] - place[1] * pull[0])


def balances_at(question: Question, values: Values) -> None:
    """Check that the weights of all parts balance about the centre of mass that is found."""
    body = Body(question.problem.posture, question.numbers)
    for number, key in enumerate(("x_c", "y_c")):
        if key in values:
            turning = [
                body.kilograms(load) * (body.part(load)[number] - values[key])
                for load in body.posture.loads
            ]
            assert abs(sum(turning)) <= 1e-9 * sum(map(abs, turning))


def worked(name: str, seeds: Iterable[int]) -> Iterator[tuple[Question, dict[str, float]]]:
    """Yield each posture of a problem's questions, with its values by keys without its mark."""
    for seed in seeds:
        question = PROBLEMS[name].question(str(seed))
        values = question.graph.values(question.numbers, EXACT)
        for view in question.views:
            unmarked = {
                step.kind.key: values[step.key]
                for step in question.derivation.steps
                if step.mark == view.problem.posture.mark and step.key in values
            }
            yield view, {**values, **unmarked}


@pytest.mark.parametrize("name", sorted(PROBLEMS))
def test_every_problem_is_in_equilibrium(name: str) -> None:
    """Forces, and moments about the axis and two other points, add up to nothing."""
    for question, values in worked(name, SEEDS):
        posture = question.problem.posture
        if posture.sought_angle is not None:  # with the constants taken here
            question = replace(question, angle_guessed=values[posture.sought_angle.key])
        if posture.seeks_centre:
            balances_at(question, values)
            continue
        pulls = [vector(question, force, values) for force in posture.forces]
        places = [
            point(question, force, values, pull)
            for force, pull in zip(posture.forces, pulls, strict=True)
        ]
        given = sum(
            c.turns * (-values[c.before] if c.before else question.numbers[c.magnitude.key])
            for c in posture.couples
        )
        couple = values.get("M_net", 0.0) * posture.positive + given
        scale = sum(float(np.hypot(*pull)) for pull in pulls)
        if posture.reaction:
            reaction = reaction_of(question, values)
            assert np.hypot(*(sum(pulls) + reaction)) <= 1e-9 * scale
        else:
            reaction = -sum(pulls)
        if posture.find is Find.RESULTANT:
            assert np.hypot(*(sum(pulls) - reaction_of(question, values))) <= 1e-9 * scale
        if posture.find is Find.MOMENT_SUM or not posture.has_moments:
            moments = (sum(map(cross, places, pulls)) + given) * posture.positive
            assert values.get("M_sum", 0.0) == pytest.approx(moments, rel=1e-9, abs=1e-9)
            continue
        size = sum(abs(cross(p, f)) for p, f in zip(places, pulls, strict=True))
        for other in (np.zeros(2), np.array([0.7, -0.3]), np.array([-1.1, 2.3])):
            total = sum(cross(p - other, f) for p, f in zip(places, pulls, strict=True))
            total += cross(-other, reaction) + couple
            assert abs(total) <= 1e-9 * (size + scale * float(np.hypot(*other)))


def count(what: object) -> Counter[str]:
    assert callable(what)
    return Counter(str(what(problem)) for problem in PROBLEMS.values())


def slanted_effort(problem: Problem) -> bool:
    effort = problem.posture.effort
    return effort is not None and effort.direction.angle is not None


JOINTS = (
    "ankle", "body", "elbow", "finger", "hip", "jaw", "knee", "lumbar", "neck", "plain", "shoulder",
    "wrist",
)  # fmt: skip
"""Each joint has problems of all three levels of difficulty."""


def test_there_are_the_problems_that_a_course_needs() -> None:
    assert len(SHELF.offered) >= 80
    assert {card.joint for card in SHELF.offered} == set(JOINTS)
    for joint in JOINTS:
        levels = {card.difficulty for card in SHELF.offered if card.joint == joint}
        assert levels == {1, 2, 3}, joint
    assert min(Counter(card.difficulty for card in SHELF.offered).values()) >= 20
    for lever in (1, 2, 3):
        having = {p.joint for p in PROBLEMS.values() if p.lever_class == lever}
        assert len(having) >= 4, lever
    assert sum(map(slanted_effort, PROBLEMS.values())) >= 12
    assert sum(p.posture.inclination is not None for p in PROBLEMS.values()) >= 8
    assert sum(len(p.posture.loads) >= 3 for p in PROBLEMS.values()) >= 8
    asked = count(lambda p: p.asks)
    assert {"effort", "load", "mass", "distance", "support", "moment", "net moment"} <= set(asked)
    assert min(count(lambda p: p.units)[units] for units in ("SI", "US customary")) >= 8
    assert all(problem.idealised for problem in PROBLEMS.values())


@pytest.mark.parametrize("name", [name for name, p in sorted(PROBLEMS.items()) if p.stages])
def test_two_distances_are_asked_for_in_two_ways(name: str) -> None:
    """A listener has the words alone to tell them apart."""
    question = PROBLEMS[name].question("1")
    steps = [s for s in question.derivation.asked if s.kind.part is Part.DISTANCES]
    assert max(Counter(ask(question, step) for step in steps).values()) == 1


def test_what_holds_a_joint_is_an_effort_with_or_without_ratios() -> None:
    supports = {name for name, problem in PROBLEMS.items() if problem.asks == "support"}
    assert supports >= {"body-plank-two-supports", "body-lean-on-wall", "plain-pole-for-two"}
    assert {PROBLEMS[name].joint for name in supports} == {"body", "plain"}
    assert PROBLEMS["elbow-two-flexors"].asks == PROBLEMS["lumbar-flower-pot"].asks == "effort"


# Dempster's shares of the body's mass, as Winter's Biomechanics and Motor Control of Human
# Movement, 4th ed. (2009), prints them; hand, forearm, upper arm, foot, lower leg and thigh twice.
LIMBS = ("hand", "forearm", "upper arm", "foot", "lower leg", "thigh")


def test_dempsters_segments_add_up() -> None:
    table = segment_table("dempster").segments
    limbs = 2 * sum(table[name].mass for name in LIMBS)
    whole = limbs + table["trunk"].mass + table["head and neck"].mass
    assert whole == 1
    assert table["forearm and hand"].mass == table["forearm"].mass + table["hand"].mass
    assert table["arm"].mass == table["upper arm"].mass + table["forearm and hand"].mass
    assert (
        table["trunk"].mass == table["thorax"].mass + table["abdomen"].mass + table["pelvis"].mass
    )
    assert table["trunk, head and neck"].mass == table["trunk"].mass + table["head and neck"].mass
    leg = table["thigh"].mass + table["lower leg"].mass + table["foot"].mass
    assert table["leg"].mass == leg
    both = table["trunk, head and neck"].mass + 2 * table["arm"].mass
    assert table["head, arms and trunk"].mass == both


@pytest.mark.parametrize("name", ["de-leva-women", "de-leva-men"])
def test_de_levas_segments_add_up(name: str) -> None:
    """De Leva, Journal of Biomechanics 29(9), 1996: the segments make up the whole body."""
    table = segment_table(name).segments
    limbs = 2 * sum(table[limb].mass for limb in LIMBS)
    assert limbs + table["trunk"].mass + table["head"].mass == pytest.approx(1, abs=6e-4)
    trunk = table["upper trunk"].mass + table["middle trunk"].mass + table["lower trunk"].mass
    assert trunk == table["trunk"].mass


def test_no_share_of_a_table_is_out_of_reason() -> None:
    for name in TABLES:
        for segment in segment_table(name).segments.values():
            assert 0 < segment.mass < Fraction(7, 10)
            assert 0 < segment.centre <= 1
            assert " to " in segment.length


def is_parallel(problem: Problem) -> bool:
    """Return whether all forces are straight up or down on a level segment, the effort unknown."""
    posture = problem.posture
    upright = all(
        force.direction.reference == "vertical" and force.direction.angle is None
        for force in posture.forces
    )
    on_it = all(f.turns is None and not f.at_axis for f in posture.forces)
    level = posture.inclination is None and posture.has_moments
    effort = posture.effort is not None and posture.balancing is posture.effort
    return upright and on_it and level and effort and not posture.effort.at.sought


PARALLEL = [name for name in sorted(PROBLEMS) if is_parallel(PROBLEMS[name])]


@pytest.mark.parametrize("name", PARALLEL)
def test_parallel_forces_agree_with_a_beam(name: str) -> None:
    """Sympy's beam, with supports for effort and axis, gives the same two forces.

    It is given fractions, since it would look for some beside each decimal.
    """
    for question, values in worked(name, range(2)):
        if not is_parallel(question.problem):
            continue
        posture = question.problem.posture
        effort = posture.effort
        assert effort is not None
        places = {f.symbol: Rational(metres(question, f.at, values)) for f in posture.forces}
        start = min(Rational(0), *places.values())
        found, axis = symbols("found axis")
        beam = Beam(max(places.values()) - start + 1, 1, 1)
        beam.apply_load(found, places[effort.symbol] - start, -1)
        beam.apply_load(axis, -start, -1)
        for load in posture.loads:
            size = Rational(newtons(question, load, values))
            sign = 1 if load.direction.side == "above" else -1
            beam.apply_load(sign * size, places[load.symbol] - start, -1)
        for couple in posture.couples:  # a beam counts clockwise ones as positive
            size = Rational(question.numbers[couple.magnitude.key])
            beam.apply_load(-couple.turns * size, 0, -2)
        beam.bc_deflection = [(-start, 0), (places[effort.symbol] - start, 0)]
        beam.solve_for_reaction_loads(found, axis)
        up = 1 if effort.direction.side == "above" else -1
        forces = beam.reaction_loads
        assert values[effort.symbol] == pytest.approx(up * float(forces[found]), rel=1e-6)
        if posture.reaction:
            assert values["R_y"] == pytest.approx(float(forces[axis]), rel=1e-6)


def test_enough_problems_are_held_against_a_beam() -> None:
    assert len(PARALLEL) >= 8
