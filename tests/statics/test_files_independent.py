"""Problem files with made-up numbers, solved again by a matrix of equilibrium from the posture.

Couples, named lengths, distances from others and second postures go through the format here, as an
author writes them.
"""

from __future__ import annotations

from math import radians

import numpy as np
import pytest
from helpers.equilibrium import Plane
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.course.problem import Question
from leverstep.statics import kinds

few = settings(max_examples=20, deadline=None, derandomize=True)
forces = st.integers(5, 400)
near_ones, far_ones = st.integers(2, 9), st.integers(10, 60)
angles = st.integers(5, 85)
senses = st.sampled_from(["clockwise", "counter-clockwise"])


def couple(value: int, turns: str, unit: str) -> str:
    """Return the table of a couple."""
    size = f'couple = {{ value = {value}, unit = "{unit}" }}'
    return f'[[load]]\nsymbol = "C_b"\nname = "brace"\n{size}\nturns = "{turns}"\n'


def by_matrix(plane: Plane) -> tuple[float, float, float]:
    """Return effort and reaction, right and up, from three equations solved together."""
    effort_, loads = plane.posture.effort, plane.posture.loads
    assert effort_ is not None
    matrix = np.array([[*plane.unit(effort_), plane.lever(effort_)], [1, 0, 0], [0, 1, 0]]).T
    known = sum(
        plane.size(one) * np.array([*plane.unit(one), plane.lever(one)]) for one in loads
    ) + np.array([0, 0, plane.turned()])
    pull, right, up = np.linalg.solve(matrix, -known)
    return float(pull), float(right), float(up)


def agrees(question: Question) -> None:
    """Lay effort and reaction of each posture of a question beside the matrix."""
    for view in question.views:
        plane = Plane.of(view)
        effort_ = plane.posture.effort
        assert effort_ is not None
        pull, right, up = by_matrix(plane)
        assert question.right[effort_.symbol] == pytest.approx(pull, rel=1e-9)
        for key, found in ((kinds.REACTION_X, right), (kinds.REACTION_Y, up)):
            told = question.right.get(view.key(key), 0.0)
            assert told == pytest.approx(found, rel=1e-9, abs=1e-9 * abs(pull))


@few
@given(forces, far_ones, near_ones, st.integers(1, 9), senses, angles)
def test_a_couple_stands_in_the_balance(
    weight: int, far: int, near: int, turning: int, turns: str, lean: int
) -> None:
    """Either way, as long as the effort still has to pull."""
    text = (
        head("A couple", "{W_l} {d_l} {C_b} {d_m} {theta}")
        + segment("bar", "pivot", f"inclination = {quantity('theta', lean, 'deg')}\n")
        + effort("F_m", "rope", quantity("d_m", near, "cm"))
        + load("W_l", "box", newtons(weight + 4000), quantity("d_l", far, "cm"))
        + couple(turning, turns, "N·m")
    )
    agrees(read_text(text).question("1"))


@few
@given(forces, far_ones, near_ones, angles)
def test_multiples_of_a_length_balance_as_metres_do(
    weight: int, far: int, near: int, lean: int
) -> None:
    direction = (
        '{ line = "segment", toward = "axis", side = "above", '
        f"angle = {quantity('alpha', lean, 'deg')} }}"
    )
    text = (
        head("A length", "{W_l} {d_l} {d_m} {alpha}")
        + segment("bar", "pivot")
        + effort("F_m", "rope", quantity("d_m", near, "L"), direction)
        + load("W_l", "box", newtons(weight), quantity("d_l", far, "L"))
    )
    agrees(read_text(text).question("1"))


@few
@given(forces, far_ones, near_ones, angles, st.sampled_from(["sum", "difference", "sine"]))
def test_distances_from_others_balance(
    weight: int, far: int, near: int, lean: int, how: str
) -> None:
    parts = 'sine = "theta", of = "d_g"' if how == "sine" else f'{how} = ["d_g", "d_m"]'
    text = (
        head("Distances", "{W_l} {d_g} {d_m} {theta}")
        + segment("bar", "pivot", f"inclination = {quantity('theta', lean, 'deg')}\n")
        + f'[[distance]]\nsymbol = "d_g"\nname = "another"\nvalue = {far}\nunit = "cm"\n'
        + effort("F_m", "rope", quantity("d_m", near, "cm"))
        + load("W_l", "box", newtons(weight), f'{{ symbol = "d_l", {parts} }}')
    )
    question = read_text(text).question("1")
    agrees(question)
    expected = {"sum": far + near, "difference": far - near, "sine": far * np.sin(radians(lean))}
    assert question.right["d_l"] == pytest.approx(expected[how] / 100)


@few
@given(forces, far_ones, near_ones, near_ones, angles)
def test_both_postures_of_a_working_balance(
    weight: int, far: int, near: int, other: int, lean: int
) -> None:
    first = (
        head("Twice", "{W_l} {d_l} {d_m} {d_n} {theta}")
        + segment("bar", "pivot")
        + effort("F_m", "rope", quantity("d_m", near, "cm"))
        + load("W_l", "box", newtons(weight), quantity("d_l", far, "cm"))
    )
    second = (
        segment("bar, raised", "pivot", f"inclination = {quantity('theta', lean, 'deg')}\n")
        + effort("F_n", "rope then", quantity("d_n", other, "cm"), '"perpendicular above"')
        + load("W_l", "box", "", '"d_l"')
    )
    second = second.replace("[[load]]", "[[next.load]]").replace("[effort]", "[next.effort]")
    text = f"{first}\n[[next]]\n{second.replace('[segment]', '[next.segment]')}"
    agrees(read_text(text).question("1"))
