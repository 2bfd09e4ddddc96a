"""Masses and weights lead to the same centre of mass: either is right in place of the other."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.problem import ACCEPTED
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

PROBLEMS = load_shelf().problems


def at(problem: str, key: str, entry: str) -> Verdict:
    """Return the verdict on an entry, with every line before it right."""
    question = PROBLEMS[problem].question("7")
    working = Working(question)
    for step in working.steps:
        if step.key == key:
            break
        working.enter(step.key, worked_line(question, step, question.right))
    return working.enter(key, entry)


@pytest.mark.parametrize(
    ("problem", "key", "entry"),
    [
        ("shoulder-arm-held-out", "M_u", "0.2414 kg m"),
        ("shoulder-arm-held-out", "M_u", "24.14 kg cm"),
        ("shoulder-arm-held-out", "M_u", "2.368 N m"),
        ("shoulder-arm-held-out", "M_u", "1.7*9.81*0.142 N m"),
        ("shoulder-arm-held-out", "M_u", "W_u*d_u"),
        ("shoulder-arm-held-out", "m_sum", "32.77 N"),
        ("body-bag-in-front", "M_t", "-0.839 kg m"),
        ("body-bag-in-front", "M_sum", "6.06 kg m"),
        ("body-bag-in-front", "W_sum", "83.6 kg"),
    ],
)
def test_either_is_right(problem: str, key: str, entry: str) -> None:
    assert at(problem, key, entry).outcome is Outcome.RIGHT


@pytest.mark.parametrize(
    ("problem", "key", "entry", "slip"),
    [
        ("shoulder-arm-held-out", "M_u", "0.2414 N m", "unit-of-mass-or-weight"),
        ("body-bag-in-front", "W_sum", "820 kg", "unit-of-mass-or-weight"),
        ("shoulder-arm-held-out", "x_c", "2.951 m", "masses-and-weights-mixed"),
    ],
)
def test_a_mixture_is_told_as_that(problem: str, key: str, entry: str, slip: str) -> None:
    verdict = at(problem, key, entry)
    assert verdict.outcome is Outcome.WRONG
    told = explained(verdict, CATALOGUE).explanations
    assert [[finding.slip for finding in one.findings] for one in told] == [[slip]]


def test_weights_are_taken_with_the_g_of_the_course() -> None:
    """Where a course takes 10 m/s2, so does what a mass stands for."""
    question = PROBLEMS["body-bag-in-front"].question("7", accepted={**ACCEPTED, "g": (10.0,)})
    working = Working(question)
    total = question.right["W_sum"]
    assert working.enter("W_sum", f"{total / 10:.2f} kg").outcome is Outcome.RIGHT
    assert working.enter("W_sum", f"{total / 9.81:.2f} kg").outcome is Outcome.WRONG


def test_elsewhere_a_mass_is_no_weight() -> None:
    assert at("elbow-full-pail", "M_f", "0.3 kg m").outcome is Outcome.UNREAD


@pytest.mark.parametrize(
    ("entry", "outcome"),
    [
        ("W_l = 21.0 lb = 93.4 N", Outcome.RIGHT),
        ("W_l = 21.0 lb = 9.52 kg = 93.4 N", Outcome.RIGHT),
        ("W_l = 21.0 lb = 206 N", Outcome.UNREAD),
        ("W_l = 10.5 lb = 46.7 N", Outcome.WRONG),
    ],
)
def test_a_mass_before_a_force_is_what_it_weighs(entry: str, outcome: Outcome) -> None:
    assert at("elbow-pail-of-water", "W_l", entry).outcome is outcome
