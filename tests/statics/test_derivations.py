"""Derivations: one for all numbers that share their signs, whatever was derived before."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import pytest
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from helpers.source import TESTS
from leverstep.course.shelf import load_shelf
from leverstep.statics import derivation, kinds
from leverstep.statics.acting import Force
from leverstep.statics.choices import CHOICE_KINDS
from leverstep.statics.derivation import derive
from leverstep.statics.graph import Graph
from leverstep.statics.points import Direction, Distance, Given
from leverstep.statics.posture import Posture
from leverstep.statics.turn import horizontal_angle_key
from leverstep.working import wording
from leverstep.working.wording import ask, resisting

ANGLES = (45.0, 90.0, 95.0, 135.0)
LOAD = Force(
    "W_l", Distance("d_l", Given("d_l", "d_l", "m")), Direction("vertical", side="below"),
    Given("W_l_N", "W_l", "N"),
)  # fmt: skip


def pulled(toward: str) -> Posture:
    """Return a level segment that a muscle pulls up at an angle to the horizontal."""
    slanting = Direction("horizontal", Given("theta", "theta", "deg"), toward)  # type: ignore[arg-type]
    muscle = Force("F_m", Distance("d_m", Given("d_m", "d_m", "m")), slanting)
    return Posture(muscle, (LOAD,))


@pytest.mark.parametrize("toward", ["left", "right"])
@pytest.mark.parametrize("order", [*itertools.permutations(ANGLES)])
def test_no_derivation_hangs_on_those_before_it(toward: str, order: tuple[float, ...]) -> None:
    """Right and obtuse angles, in any order, against sums of forces written out here."""
    derivation._made.cache_clear()
    posture = pulled(toward)
    for theta in order:
        numbers = {"d_l": 0.3, "d_m": 0.05, "W_l_N": 40.0, "theta": theta}
        values = Graph(derive(posture, numbers)).values(numbers, {})
        force = 40.0 * 0.3 / (0.05 * math.sin(math.radians(theta)))
        way = 1 if toward == "right" else -1
        across, upward = way * math.cos(math.radians(theta)), math.sin(math.radians(theta))
        assert values["F_m"] == pytest.approx(force)
        assert values["R_y"] == pytest.approx(40.0 - force * upward)
        assert values["R_x"] == pytest.approx(-force * across, abs=1e-9)


def test_what_is_kept_of_derivations_is_bounded() -> None:
    assert derivation._made.cache_info().maxsize is not None


def test_every_kind_that_ships_is_a_row_with_words() -> None:
    """What a step of any kind asks for is said; its unit is that of its row."""
    for problem in load_shelf().problems.values():
        question = problem.question("1")
        for step in question.derivation.steps:
            assert kinds.KINDS[step.kind.name] is step.kind
            assert not step.kind.key or step.key == question.at(step).key(step.kind)
            assert ask(question, step)
    assert set(kinds.KINDS) <= {*wording._ASK, "angle"}


def test_every_kind_of_choice_is_left_open_somewhere_in_what_ships() -> None:
    problems = load_shelf().problems.values()
    steps = [step for problem in problems for step in problem.question("1").derivation.steps]
    assert {choice.kind for step in steps for choice in step.choices} == set(CHOICE_KINDS)


def test_an_angle_is_asked_for_to_the_line_that_it_is_measured_from() -> None:
    found = 0
    for problem in load_shelf().problems.values():
        question = problem.question("1")
        keys = {horizontal_angle_key(force) for force in problem.posture.forces}
        for step in question.derivation.steps:
            if step.kind is kinds.ANGLE:
                assert ("horizontal" in ask(question, step)) == (step.key in keys)
                found += 1
    assert found


ALIKE = (
    head(
        "Two loads",
        "A level bar: {W_ab} at {d_ab}, {W_a} lifting at {d_a}, a hand lifting at {d_h}.",
        ident="two-loads",
    )
    + segment("bar", "pin")
    + effort("F_h", "hand", quantity("d_h", 50, "cm"))
    + load("W_ab", "crate", 'force = { value = 11, unit = "st" }', quantity("d_ab", 30, "cm"))
    + load("W_a", "spring", newtons(10), quantity("d_a", 20, "cm"), '"up"')
)


def test_loads_whose_symbols_begin_alike_are_told_apart() -> None:
    """Only the crate turns against the hand, though its symbol begins with the spring's."""
    text = ALIKE.replace("force = { value = 11", "mass = { value = 11")
    question = read_text(text).question("1")
    assert [load.symbol for load in resisting(question)] == ["W_ab"]
    advantage = question.derivation.step(kinds.ADVANTAGE.key)
    assert ask(question, advantage) == "Mechanical advantage: crate over the force of the hand"


def test_a_problem_in_stone_is_in_no_one_system() -> None:
    text = ALIKE.replace("force = { value = 11", "mass = { value = 11")
    assert read_text(text).units == "mixed units"
    assert read_text(text.replace('"st"', '"kg"')).units == "SI"


SEESAW = (TESTS / "published" / "seesaw.toml").read_text("utf-8")
WEIGHT = 'mass = { value = 32.0, unit = "kg" }\nat = { symbol = "d_b" }\ndirection = "down"'
ROPE = """force = { value = 400, unit = "N" }
at = { symbol = "d_b" }
direction = { line = "segment", toward = "axis", side = "below", angle = { symbol = "alpha", value = 40, unit = "deg" } }"""  # noqa: E501


@pytest.mark.parametrize("incline", [0, 30])
@pytest.mark.parametrize(
    ("pull", "told", "turns"),
    [
        (WEIGHT, "{m_b}", lambda cosine: 32 * 9.81 * cosine),
        (ROPE, "{W_b} at {alpha}", lambda _: 400 * math.sin(math.radians(40))),
    ],
    ids=["weight", "rope"],
)
def test_a_distance_that_is_sought_lies_along_the_segment(
    incline: int, pull: str, told: str, turns: Callable[[float], float]
) -> None:
    """Also where the arm, or the part of the force that turns, is another; by moments alone."""
    text = SEESAW.replace(WEIGHT, pull).replace("{m_b}", told)
    if incline:
        tilt = f'inclination = {{ symbol = "theta", value = {incline}, unit = "deg" }}'
        text = text.replace('axis = "pivot"', f'axis = "pivot"\n{tilt}').replace(
            "Where", "It leans {theta}. Where"
        )
    question = read_text(text).question("1")
    cosine = math.cos(math.radians(incline))
    found = question.graph.values(question.numbers, {})["d_b"]
    assert found * turns(cosine) == pytest.approx(26 * 9.81 * 1.6 * cosine)
