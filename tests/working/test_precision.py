"""Precision is judged by the figures that the given behind a line carries."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import read_text
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.copying import with_a_digit_changed
from leverstep.slips.telling import tell
from leverstep.statics.points import Given
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


@pytest.mark.parametrize(
    ("problem", "key", "given"),
    [
        ("neck-head-upright", "d_h", "2.3 cm"),
        ("elbow-kettlebell", "d_m", "4.2 cm"),
        ("wrist-hammer", "d_h", "2.4 in"),
        ("finger-on-a-button", "G_b", "5.2 N"),
    ],
)
def test_two_figures_are_not_too_few_to_see_that_a_given_of_two_is_miscopied(
    problem: str, key: str, given: str
) -> None:
    """Each of these givens, typed as 2.2, is judged, and asked about as that given."""
    question, unit = PROBLEMS[problem].question("a1"), given.split()[1]
    assert given in question.statement
    working = Working(question)
    verdict = working.enter(key, f"2.2 {unit}")
    assert verdict.outcome is Outcome.WRONG
    assert f"copy {given} as 2.2" in tell(working, verdict, CATALOGUE)


SACK = """
id = "sack"
title = "A sack on a pole"
joint = "plain"
difficulty = 1
statement = "A sack pulls down with {W_s}, {d_s} from the pivot; a hand lifts {d_h} from it."

[segment]
name = "pole"
axis = "pivot"

[effort]
symbol = "F_h"
name = "hand"
at = { symbol = "d_h", value = 0.50, unit = "m" }
direction = "up"

[[load]]
symbol = "W_s"
name = "sack"
force = { from = 20, to = 286, step = 0.1, unit = "lbf" }
at = { symbol = "d_s", value = 1.00, unit = "m" }
direction = "down"
"""
"""A sack of 286 lbf is 1272 N, of 20.0 lbf 88.96 N; the hand lifts with twice that."""


def sack(pounds: str, figures: int | None = None) -> Question:
    """Return the question of a sack of so many pounds, with the figures that its file asks for."""
    top = "" if figures is None else f"figures = {figures}\n"
    problem = read_text(top + SACK)
    return problem.question("1").with_given("given_W_s", Fraction(pounds))


@pytest.mark.parametrize("tells", [True, False])
@pytest.mark.parametrize("figures", [None, 2, 3])
def test_a_given_may_be_typed_back_without_the_zeros_at_its_end(
    figures: int | None, tells: bool
) -> None:
    for text in ("20 lbf", "20.0 lbf", "20. lbf"):
        working = Working(sack("20", figures), rules=Rules(tells=tells))
        assert working.enter("W_s", text).outcome is Outcome.RIGHT, text
    for text in ("30 lbf", "2 lbf"):
        assert Working(sack("20")).enter("W_s", text).outcome is not Outcome.RIGHT, text
    assert Working(sack("20.4")).enter("W_s", "20 lbf").outcome is Outcome.UNREAD


@pytest.mark.parametrize(
    ("key", "text", "three", "two"),
    [
        ("W_s", "1272 N", Outcome.RIGHT, Outcome.RIGHT),
        ("W_s", "1270 N", Outcome.RIGHT, Outcome.RIGHT),
        ("W_s", "1300 N", Outcome.WRONG, Outcome.RIGHT),
        ("F_h", "2500 N", Outcome.WRONG, Outcome.RIGHT),
        ("W_s", "1.3 kN", Outcome.UNREAD, Outcome.RIGHT),
        ("W_s", "1.30 kN", Outcome.WRONG, Outcome.WRONG),  # its zero is a figure
        ("W_s", "1300.0 N", Outcome.WRONG, Outcome.WRONG),
        ("W_s", "1.2 kN", Outcome.WRONG, Outcome.WRONG),
        ("W_s", "1200 N", Outcome.WRONG, Outcome.WRONG),
        ("W_s", "1400 N", Outcome.WRONG, Outcome.WRONG),
        ("W_s", "1000 N", Outcome.WRONG, Outcome.WRONG),
        ("W_s", "1 kN", Outcome.UNREAD, Outcome.UNREAD),
        ("MA", "0.50", Outcome.RIGHT, Outcome.RIGHT),
        ("MA", "0.51", Outcome.UNREAD, Outcome.WRONG),
    ],
)
def test_two_figures_are_right_as_they_round_where_the_problem_takes_two(
    key: str, text: str, three: Outcome, two: Outcome
) -> None:
    for figures, outcome in ((3, three), (2, two)):
        working = Working(sack("286", figures))
        assert working.enter(key, text).outcome is outcome, figures


def test_a_page_in_two_figures_goes_on_from_itself() -> None:
    """1300 N gives 2600 N, as a book goes on from what it printed; 2500 N is right besides."""
    question = sack("286", 2)
    for last in ("2600 N", "2500 N"):
        working = Working(question)
        assert working.enter("W_s", "1300 N").outcome is Outcome.RIGHT
        assert working.enter("F_h", last).outcome is Outcome.RIGHT, last
    assert Working(question).enter("F_h", "2600 N").outcome is Outcome.WRONG
    assert question.statement.endswith("Two significant figures are enough.")


def test_too_few_figures_are_told_with_how_many_are_enough() -> None:
    for figures, said in ((2, "two"), (3, "three")):
        working = Working(sack("286", figures))
        told = tell(working, working.enter("W_s", "1 kN"), CATALOGUE)
        assert f"at least {said} significant figures" in told
    with pytest.raises(FileError, match="figures: found 4; expected 2 or 3"):
        sack("286", 4)
