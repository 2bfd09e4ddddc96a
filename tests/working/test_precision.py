"""Precision is judged by the figures that the given behind a line carries."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.copying import with_a_digit_changed
from leverstep.slips.telling import tell
from leverstep.statics.posture import Given
from leverstep.statics.step import Step
from leverstep.working.precision import given_converted
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

PROBLEMS = load_shelf([shipped("problems")]).problems
OWN_UNIT = {"lb": "lbf"}
"""What a weight is typed back in, where its given is a mass of so many pounds."""


def restated(question: Question) -> Iterator[tuple[Step, Given, str]]:
    """Yield each line at which its given may be typed back, with the unit to type."""
    for step in question.derivation.asked:
        given = given_converted(question, step)
        if given is not None and not (given.is_mass and given.unit != "lb"):
            yield step, given, OWN_UNIT.get(given.unit, given.unit)


@pytest.mark.parametrize("problem", sorted(PROBLEMS))
def test_a_given_may_be_typed_back_with_its_own_figures(problem: str) -> None:
    """It is right as it is stated, whether verdicts are shown or not."""
    for seed in ("1", "2", "3"):
        question = PROBLEMS[problem].question(seed)
        for step, given, unit in restated(question):
            text = f"{question.number_written(given)} {unit}"
            for tells in (True, False):
                working = Working(question, rules=Rules(tells=tells))
                assert working.enter(step.key, text).outcome is Outcome.RIGHT, (step.key, text)


@pytest.mark.parametrize("problem", sorted(PROBLEMS))
def test_a_given_of_few_figures_is_wrong_with_another_digit(problem: str) -> None:
    """It is never refused for its figures, since it has those of the given."""
    question = PROBLEMS[problem].question("1")
    for step, given, unit in restated(question):
        number = question.number_written(given)
        if len(number.replace(".", "").lstrip("0")) != 2:
            continue
        for other in with_a_digit_changed(number):
            if other.replace(".", "").lstrip("0")[1:]:
                verdict = Working(question).enter(step.key, f"{other} {unit}")
                assert verdict.outcome is Outcome.WRONG, (step.key, number, other)


TOES = PROBLEMS["ankle-toes-lifted"].question("1")
"""A foot of 0.80 kg whose weight acts at 6.5 cm."""


@pytest.mark.parametrize(
    ("key", "text", "outcome"),
    [
        ("d_f", "6.5 cm", Outcome.RIGHT),
        ("d_f", "6.4 cm", Outcome.WRONG),
        ("d_f", "0.065 m", Outcome.RIGHT),
        ("d_f", "0.066 m", Outcome.WRONG),
        ("d_f", "5 cm", Outcome.WRONG),
        ("d_f", "7 cm", Outcome.UNREAD),  # as it rounds, but with less than is given
        ("W_f", "7.8 N", Outcome.RIGHT),  # 7.848 N, of a given with two figures
        ("W_f", "7.9 N", Outcome.WRONG),
        ("W_f", "8 N", Outcome.UNREAD),
        ("M_s", "-3.3 N m", Outcome.UNREAD),  # a product has no given of its own
        ("MA", "0", Outcome.UNREAD),
    ],
)
def test_a_value_needs_the_figures_of_its_given(key: str, text: str, outcome: Outcome) -> None:
    """Two figures are enough where the given has no more; they must be as the value rounds."""
    assert Working(TOES).enter(key, text).outcome is outcome


def test_a_given_copied_with_another_digit_is_asked_about() -> None:
    """Typed as finely as it is stated, it is seen to be that given."""
    working = Working(TOES)
    verdict = working.enter("d_f", "8.5 cm")
    assert "copy 6.5 cm as 8.5" in tell(working, verdict, CATALOGUE)
    verdict = working.enter("d_f", "0.08500 m")
    assert "copy" not in tell(working, verdict, CATALOGUE)
