"""What follows from what was found, worked out again from the posture's forces as vectors."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians, sqrt

import numpy as np
import pytest
from helpers.equilibrium import Plane
from helpers.problem_texts import read_text
from helpers.source import TESTS
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from leverstep.course.faults import FileError
from leverstep.course.shelf import load_shelf
from leverstep.statics.acting import Force
from leverstep.statics.derivation import derive
from leverstep.statics.further import HOLDS, SLIPS
from leverstep.statics.graph import Values, graph
from leverstep.statics.points import Direction, Distance, Given
from leverstep.statics.posture import Find, Further, Posture, Relation
from scipy import constants as nist

EXACT = {"g": nist.g, "newtons_per_pound": nist.pound_force, "newtons_per_kilogram_force": nist.g}
SHELF = load_shelf()
"""The problems that ship."""

sizes = st.floats(1, 500)
places = st.floats(5, 90)
slopes = st.floats(20, 70)


@st.composite
def planes(draw: st.DrawFn, further: tuple[Further, ...], **given: float) -> Plane:
    """Return a tilted segment with a slanting pull and two weights, and something further."""
    numbers = {"x_m": draw(places), "x_a": draw(places), "x_c": draw(places), "a": draw(sizes)}
    numbers |= {"c": draw(sizes), "tilt": draw(slopes), "lean": draw(slopes), "m_b": draw(sizes)}
    down = Direction("vertical", side="below")
    pull = Direction("horizontal", Given("lean", "lean", "deg"), "left", "above")
    effort = Force("F_m", Distance("d_m", Given("x_m", "", "cm")), pull)
    loads = tuple(
        Force(
            f"W_{one}", Distance(f"d_{one}", Given(f"x_{one}", "", "cm")), down, Given(one, "", "N")
        )
        for one in "ac"
    )
    incline, body = Given("tilt", "tilt", "deg"), Given("m_b", "m_b", "kg")
    posture = Posture(effort, loads, inclination=incline, body=body, further=further)
    plane = Plane(posture, numbers | given, nist.g)
    assume(plane.lever(effort) > 1e-3)
    return plane


def values_of(plane: Plane) -> Values:
    """Return what the product makes of a plane."""
    return graph(derive(plane.posture, plane.numbers)).values(plane.numbers, EXACT)


def reaction_of(plane: Plane) -> tuple[float, float]:
    """Return both parts of the reaction, from all other forces as vectors."""
    pulls = [(plane.solved()[f.symbol][0], plane.unit(f)) for f in plane.posture.forces]
    across, upward = (-sum(size * unit[axis] for size, unit in pulls) for axis in (0, 1))
    return across, upward


def area(unit: str = "cm²", symbol: str = "A_t") -> Given:
    return Given(symbol, symbol, unit)


STRESS = Further("S_t", Relation.STRESS, "F_m", given=area())
WEIGHTS = Further("n_R", Relation.BODY_WEIGHTS, "R", unit="%")
FRICTION = Further("mu_n", Relation.FRICTION_NEEDED, "R")
ENOUGH = Further("grip", Relation.FRICTION_ENOUGH, "mu_n", given=Given("mu_s", "mu_s"))
SHARED = Further(
    "F_s", Relation.PART_SHARED, "F_m", given=area(symbol="A_s"), others=(area(symbol="A_o"),)
)
MOVED = Further("s_a", Relation.DISTANCE_MOVED, "W_a", "F_m", Given("s_m", "s_m", "cm"))
TIMES = Further("k_F", Relation.RATIO, "R", "W_a")
OTHERS = tuple(Further(u, Relation.OTHER_UNIT, "F_m", unit=u) for u in ("lbf", "kN", "kgf"))


@settings(max_examples=30, deadline=None)
@given(planes((STRESS,), A_t=0.6), st.sampled_from([("cm²", 100.0), ("mm²", 1.0)]))
def test_a_stress_is_newtons_on_a_square_millimetre(plane: Plane, unit: tuple[str, float]) -> None:
    sign, square_millimetres = unit
    further = (replace(STRESS, given=area(sign)),)
    plane = replace(plane, posture=replace(plane.posture, further=further))
    pull = plane.solved()["F_m"][0]
    assert values_of(plane)["S_t"] == pytest.approx(pull / (0.6 * square_millimetres))


@settings(max_examples=30, deadline=None)
@given(planes((WEIGHTS, FRICTION, ENOUGH, TIMES), mu_s=0.4))
def test_what_follows_from_the_reaction(plane: Plane) -> None:
    """As a percentage of the body's weight, as a ratio, and whether it holds."""
    across, upward = reaction_of(plane)
    assume(abs(upward) > 1e-6)
    assume(abs(abs(across / upward) - 0.4) > 1e-6)
    found, size = values_of(plane), hypot(across, upward)
    assert found["n_R"] == pytest.approx(100 * size / (plane.numbers["m_b"] * nist.g))
    assert found["k_F"] == pytest.approx(size / plane.numbers["a"])
    assert found["mu_n"] == pytest.approx(abs(across / upward))
    # friction along the ground can be at most the coefficient times what presses on it
    holds = abs(across) <= 0.4 * abs(upward)
    assert found["grip"] == (HOLDS if holds else SLIPS)


@settings(max_examples=30, deadline=None)
@given(planes((SHARED, *OTHERS), A_s=55.0, A_o=30.0))
def test_forces_that_share_by_area_bear_the_same_stress(plane: Plane) -> None:
    found, pull = values_of(plane), plane.solved()["F_m"][0]
    other = pull - found["F_s"]
    assert found["F_s"] / 55.0 == pytest.approx(other / 30.0)
    assert found["lbf"] == pytest.approx(pull / nist.pound_force)
    assert found["kN"] == pytest.approx(pull / nist.kilo)
    assert found["kgf"] == pytest.approx(pull / nist.kilogram_force)


@settings(max_examples=30, deadline=None)
@given(planes((MOVED,), s_m=0.001))
def test_a_point_moves_as_the_segment_turns(plane: Plane) -> None:
    """The segment is turned by a small angle, and the points are looked at once more."""
    effort, load = plane.posture.force("F_m"), plane.posture.force("W_a")
    turned = 1e-6
    turn = np.array([[0.0, -turned], [turned, 0.0]])
    moved = {
        force.symbol: abs(np.dot(turn @ np.array(plane.point(force)), plane.unit(force)))
        for force in (effort, load)
    }
    expected = 0.001 / 100 * moved["W_a"] / moved["F_m"]
    assert values_of(plane)["s_a"] == pytest.approx(expected)


def test_what_is_done_by_a_lever_is_done_to_its_load() -> None:
    """No work is won: force times distance moved is alike for effort and load."""
    question = SHELF.problems["elbow-force-for-range"].question("3")
    found, numbers = question.right, question.numbers
    done = found["F_m"] * numbers["s_m"] / 100
    assert found["W_l"] * found["s_l"] == pytest.approx(done)
    assert found["W_l"] * found["v_l"] == pytest.approx(found["F_m"] * numbers["v_m"] / 100)


def powered(moment: float, speed: float, unit: str) -> float:
    """Return the power of the muscles that hold one force at arm's length of a metre."""
    further = Further("P_k", Relation.POWER, "M_net", given=Given("omega", "omega", unit))
    load = Force(
        "F_l", Distance("d_l", Given("x", "", "m")), Direction("vertical"), Given("f", "", "N")
    )
    posture = Posture(None, (load,), find=Find.NET_MOMENT, further=(further,))
    return values_of(Plane(posture, {"x": 1.0, "f": moment, "omega": speed}))["P_k"]


def test_power_is_moment_times_radians_per_second() -> None:
    # OpenStax, University Physics Volume 1, 2016, section 10.8, from memory: an engine of 9.0e4 W
    # at 300 revolutions a minute turns with 2864.8 N·m.
    assert powered(2864.8, 300 * 360 / 60, "deg/s") == pytest.approx(9.0e4, rel=1e-4)
    assert powered(2864.8, radians(1800), "rad/s") == pytest.approx(9.0e4, rel=1e-4)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(5, 90), st.floats(-60, 60), st.floats(0.1, 2), st.floats(1, 9),
    st.sampled_from([("m", 1.0), ("cm", 100.0), ("in", 1 / 0.0254)]),
)  # fmt: skip
def test_a_force_at_its_arm_makes_the_moment(
    weight: float, quickly: float, inertia: float, arm: float, unit: tuple[str, float]
) -> None:
    """Whichever way the moment turns, force times arm is as large as what holds and speeds up."""
    assume(quickly)
    turns = 1 if quickly > 0 else -1
    givens = Given("I_s", "I_s", "kg·m²"), Given("q_s", "q_s", "rad/s²")
    further = (
        Further("M_q", Relation.MOMENT_SPED_UP, "M_net", "", givens[0], givens[1:], turns=turns),
        Further("F_k", Relation.FORCE_AT_ARM, "M_q", given=Given("a_k", "a_k", unit[0])),
    )
    down = Direction("vertical", side="below")
    load = Force("W_l", Distance("d_l", Given("x", "", "m")), down, Given("w", "", "N"))
    posture = Posture(None, (load,), find=Find.NET_MOMENT, further=further)
    numbers = {"x": 0.3, "w": weight, "I_s": inertia, "q_s": abs(quickly), "a_k": arm}
    found = values_of(Plane(posture, numbers))["F_k"]
    assert found * arm / unit[1] == pytest.approx(abs(0.3 * weight + inertia * quickly))


LADDER = (TESTS / "published" / "ladder.toml").read_text("utf-8")
FRICTION_OF_FOOT = '[[further]]\nsymbol = "mu_n"\nname = "grip"\nrelation = "friction needed"\n'


def further_problem(text: str, old: str = "", new: str = ""):
    """Return the question of the ladder with something further, and a change in its file."""
    return read_text(LADDER.replace(old, new) + text).question("1")


def test_the_foot_of_a_ladder_needs_what_a_book_says() -> None:
    # OpenStax, University Physics Volume 1, 2016, section 12.2, Example 12.5, from memory: a ladder
    # of 5.0 m and 400.0 N at 53° pushes a slippery wall with 150.7 N, and needs 0.377.
    load = Force(
        "W_l", Distance("d_l", Given("half", "", "m")), Direction("vertical", side="below"),
        Given("w", "", "N"),
    )  # fmt: skip
    wall = Force(
        "F_w", Distance("d_w", Given("all", "", "m")), Direction("horizontal", toward="left")
    )
    posture = Posture(
        wall, (load,), inclination=Given("theta", "", "deg"), ratios=False, further=(FRICTION,)
    )
    numbers = {"half": 2.5, "w": 400.0, "all": 5.0, "theta": 53.0}
    found = values_of(Plane(posture, numbers))
    assert found["mu_n"] == pytest.approx(0.377, abs=5e-4)
    assert found["R"] == pytest.approx(sqrt(400.0**2 + 150.7**2), abs=0.05)


def test_what_is_not_there_to_go_on_from_is_a_fault() -> None:
    """Each is told with its place and what was expected."""
    for text, told in [
        (FRICTION_OF_FOOT.replace("friction needed", "weights"), "further[1].relation"),
        (FRICTION_OF_FOOT.replace("friction needed", "body weights") + 'of = "R"', "[body]"),
        (FRICTION_OF_FOOT + 'of = "W_l"', "further[1].of"),
        (FRICTION_OF_FOOT.replace("friction needed", "ratio") + 'of = "R"\nover = "d_l"', "W_l"),
        (FRICTION_OF_FOOT.replace("friction needed", "stress") + 'of = "R"', "further[1].area"),
        (
            FRICTION_OF_FOOT.replace("friction needed", "other unit") + 'of = "R"\nunit = "lb"',
            '"lbf"',
        ),
        (FRICTION_OF_FOOT + 'more = "x"', "unknown key"),
        (FRICTION_OF_FOOT.replace("mu_n", "R"), "has a meaning of its own"),
        (FRICTION_OF_FOOT.replace("friction needed", "power") + 'of = "W_l"', "angular_velocity"),
        (
            FRICTION_OF_FOOT.replace("friction needed", "force at an arm") + 'of = "R"',
            "further[1].arm",
        ),
    ]:
        with pytest.raises(FileError) as error:
            further_problem(text)
        assert told in str(error.value), text


def test_friction_needs_a_part_along_the_ground() -> None:
    told = r"does not have two components.* expected a slanting force, so that R"
    with pytest.raises(FileError, match=told):
        further_problem(FRICTION_OF_FOOT, 'direction = "left"', 'direction = "up"')


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 90), st.floats(0.1, 2), st.floats(10, 900), st.sampled_from([1, -1]))
def test_all_moments_together_speed_a_segment_up(
    weight: float, inertia: float, quickly: float, turns: int
) -> None:
    """What the muscles and the weight leave is the moment of inertia times radians per second²."""
    givens = Given("I_s", "I_s", "kg·m²"), Given("q_s", "q_s", "deg/s²")
    further = Further(
        "M_q", Relation.MOMENT_SPED_UP, "M_net", given=givens[0], others=givens[1:], turns=turns
    )
    load = Force(
        "W_l", Distance("d_l", Given("x", "", "m")), Direction("vertical", side="below"),
        Given("w", "", "N"),
    )  # fmt: skip
    for positive in (1, -1):
        posture = Posture(
            None, (load,), find=Find.NET_MOMENT, positive=positive, further=(further,)
        )
        plane = Plane(posture, {"x": 0.3, "w": weight, "I_s": inertia, "q_s": quickly})
        muscles = values_of(plane)["M_q"] * positive
        left = muscles + plane.size(load) * plane.lever(load)
        assert left == pytest.approx(turns * inertia * radians(quickly))
