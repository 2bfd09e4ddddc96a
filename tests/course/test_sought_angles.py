"""Angles that are to be found: what a file says, what is found, and what is a fault."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from helpers.equilibrium import Plane
from helpers.material import CATALOGUE
from helpers.problem_texts import (
    effort,
    head,
    kilograms,
    load,
    newtons,
    quantity,
    read_text,
    segment,
)
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.diagram.described import describe
from leverstep.diagram.layout import layout
from leverstep.diagram.scene_of_question import scene_of
from leverstep.vetting.vet import vet_problem
from leverstep.working.page import givens
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working

SLANT = '{ line = "segment", toward = "axis", side = "above", angle = { symbol = "alpha" } }'
GOOD = (
    head("A test", "{F_c} at {d_c}; {m_f} at {d_f}.", "elbow")
    + segment("forearm", "elbow")
    + effort("F_c", "cord", quantity("d_c", 30, "cm"), SLANT, newtons(20))
    + load("W_f", "forearm", f"own_weight = true\n{kilograms(2)}", quantity("d_f", 16, "cm"))
    + """
[ask]
find = "alpha"
"""
)
TILTED = (
    GOOD.replace('axis = "elbow"', 'axis = "elbow"\ninclination = { symbol = "theta" }')
    .replace(SLANT, '"perpendicular above"')
    .replace('find = "alpha"', 'find = "theta"')
    .replace("{ value = 20, unit", "{ value = 6, unit")
)
ALONG = 'line = "segment", toward = "axis"'


def read(text: str = GOOD, *changes: tuple[str, str]) -> Problem:
    """Return the problem of a text, or of the good one, with some of it replaced."""
    return read_text(text, *changes)


def test_the_angle_of_a_force_is_found_by_its_arm() -> None:
    values = read().question("1").right
    arm = 2 * 9.81 * 0.16 / 20
    assert values["r_c"] == pytest.approx(arm)
    assert values["alpha"] == pytest.approx(math.degrees(math.asin(arm / 0.3)))


def test_the_tilt_of_the_segment_is_found_by_the_arm_of_what_hangs_on_it() -> None:
    values = read(TILTED).question("1").right
    assert values["r_f"] == pytest.approx(6 * 0.3 / (2 * 9.81))
    assert values["theta"] == pytest.approx(math.degrees(math.acos(6 * 0.3 / (2 * 9.81 * 0.16))))


@pytest.mark.parametrize(
    "text", [GOOD, TILTED, TILTED.replace('"theta" }', '"theta", line = "vertical" }')]
)
@settings(max_examples=40, deadline=None)
@given(
    st.floats(2, 60), st.floats(0.05, 0.6), st.floats(0.5, 6), st.floats(0.05, 0.6),
    st.sampled_from(["left", "right"]), st.booleans(),
)  # fmt: skip
def test_with_the_angle_found_nothing_turns(
    text: str, pull: float, reach: float, mass: float, place: float, points: str, rises: bool
) -> None:
    """The vectors of the posture, with the angle put in, have no moment together."""
    problem = read(text)
    question = problem.question("1")
    question = replace(
        question,
        problem=replace(problem, posture=replace(problem.posture, points=points, rises=rises)),
        exact={
            "given_F_c": pull, "given_d_c": 100 * reach, "m_f": mass, "given_d_f": 100 * place,
        },
    )  # fmt: skip
    assume(0.02 < (pull * reach) / (mass * 9.81 * place) < 50)
    assume(not question.trouble)
    plane = Plane.of(question)
    moments = [plane.size(force) * plane.lever(force) for force in question.problem.posture.forces]
    assert sum(moments) == pytest.approx(0, abs=1e-9 * max(map(abs, moments)))


def test_the_tilt_may_be_told_to_the_vertical() -> None:
    """It is what the one to the horizontal leaves of a right angle, and asked for as such."""
    question = read(TILTED, ('"theta" }', '"theta", line = "vertical" }')).question("1")
    assert question.right["theta"] == pytest.approx(90 - read(TILTED).question("1").right["theta"])
    step = question.derivation.step("theta")
    assert ask(question, step).startswith("Angle of the forearm to the vertical")
    assert "to the vertical" in " ".join(describe(question))


def test_a_pull_too_weak_for_any_angle_is_a_fault_of_its_numbers() -> None:
    problem = read(GOOD, ("value = 20", "value = 5"))
    told = "no angle alpha between 0 and 90 degrees keeps it still"
    assert problem.question("1").trouble == told
    faults = [str(fault) for fault in vet_problem(problem, "good.toml", CATALOGUE).faults]
    assert any(told in fault for fault in faults)


@pytest.mark.parametrize(("text", "angle"), [(GOOD, "alpha"), (TILTED, "theta")])
def test_nothing_tells_the_angle_before_it_is_found(text: str, angle: str) -> None:
    """Neither the strip of givens, nor the words, nor the way that anything is drawn."""
    question, other = (
        read(text).question("1"),
        read(text, ("value = 16", "value = 13")).question("1"),
    )
    found = f"{question.right[angle]:.4g}"[:4]
    assert not [one for one in givens(question) if found in one]
    assert not [line for line in describe(question) if found in line]
    assert any("which is to be found" in line for line in describe(question))
    drawn = [scene_of(one, {}) for one in (question, other)]
    assert drawn[0].bearing == drawn[1].bearing
    assert [a.bearing for a in drawn[0].arrows] == [a.bearing for a in drawn[1].arrows]
    picture = layout(question, 60, 16)
    assert "is to be found: drawn at a guess" in "\n".join((*picture.lines, *picture.legend))
    assert scene_of(question, question.right) != drawn[0]


@pytest.mark.parametrize(
    "typed",
    [
        "F_c*d_c*sin(alpha) = W_f*d_f", "F_c r_c - W_f d_f = 0", "W_f*d_f - F_c*sin(alpha)*d_c = 0",
    ],
)  # fmt: skip
def test_the_equation_may_hold_the_angle_or_the_arm(typed: str) -> None:
    working = Working(read().question("1"))
    assert working.enter("equation", typed).outcome is Outcome.RIGHT


def test_an_equation_without_the_angle_is_not_right() -> None:
    working = Working(read().question("1"))
    assert working.enter("equation", "F_c*d_c = W_f*d_f").outcome is Outcome.WRONG
    assert working.enter("equation", "F_c*d_c*cos(alpha) = W_f*d_f").outcome is Outcome.WRONG


def test_a_ratio_upside_down_is_asked_about() -> None:
    working = Working(read().question("1"))
    working.enter("r_c", "0.157 m")
    verdict = working.enter("alpha", "asin(0.3/0.157)")
    assert verdict.outcome is Outcome.UNREAD
    assert verdict.reason is not None
    assert verdict.reason.code == "beyond_one"


FAULTS = {
    "to another line": (
        (ALONG, 'line = "horizontal", toward = "left"'),
        'effort.direction.angle: alpha is to be found; expected line = "segment", '
        "so that one angle alone fits",
    ),
    "something else to be found": (
        ('find = "alpha"', 'find = "F_c"'),
        "ask.find: left open: alpha; expected F_c and no other",
    ),
    "by components": (
        ('find = "alpha"', 'find = "alpha"\nmethod = "components"'),
        'ask.method: alpha is to be found; expected method = "moment arms"',
    ),
    "ratios": (
        ('find = "alpha"', 'find = "alpha"\nratios = true'),
        "ask.ratios: alpha is to be found; expected no ratios: no effort is to be found",
    ),
    "two angles": (
        ('axis = "elbow"', 'axis = "elbow"\ninclination = { symbol = "theta" }'),
        "ask.find: left open: theta, alpha; expected alpha and no other",
    ),
    "in the statement": (
        ("{F_c} at", "{alpha}, {F_c} at"),
        "statement: {alpha} has no number that is given; expected one of",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_with_its_place_and_what_was_expected(name: str) -> None:
    change, expected = FAULTS[name]
    with pytest.raises(FileError) as told:
        read(GOOD, change)
    assert any(expected in str(fault) for fault in told.value.faults), str(told.value)


def test_a_tilt_that_goes_into_two_moments_is_a_fault() -> None:
    with pytest.raises(FileError) as told:
        read(TILTED, ('direction = "perpendicular above"', 'direction = "up"'))
    assert "theta is to be found, and goes into the moment of W_f and F_c" in str(told.value)


def test_a_tilt_that_goes_into_no_moment_is_a_fault() -> None:
    with pytest.raises(FileError) as told:
        read(TILTED, ('direction = "down"', 'direction = "perpendicular below"'))
    assert "theta is to be found, and goes into the moment of no force" in str(told.value)


SECOND = """
[[next]]

[next.segment]
name = "forearm"
axis = "elbow"

[next.effort]
symbol = "F_c"
at = "d_c"
direction = { line = "segment", toward = "axis", side = "above", angle = { symbol = "alpha" } }

[[next.load]]
symbol = "W_f"
at = "d_f"
direction = "down"

[next.ask]
find = "alpha"
"""


def test_an_angle_is_found_in_a_problem_of_one_posture() -> None:
    given = (
        'angle = { symbol = "alpha" }',
        'angle = { symbol = "beta", value = 40, unit = "deg" }',
    )
    first = GOOD.replace(*given).replace('force = { value = 20, unit = "N" }\n', "")
    first = first.replace("{F_c}", "{beta}").replace('find = "alpha"', 'find = "F_c"')
    with pytest.raises(FileError) as told:
        read(first + SECOND)
    assert "ask.find: alpha is to be found; expected a problem of one posture" in str(told.value)
