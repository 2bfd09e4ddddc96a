"""What is to be taken for g and for units stands among the givens of every problem."""

from __future__ import annotations

import pytest
from leverstep.course.places import shipped
from leverstep.course.problem import ACCEPTED
from leverstep.course.shelf import load_shelf
from leverstep.statics.choices import CONVENTIONS
from leverstep.statics.convert import factor_for
from leverstep.working.writing import substituted

PROBLEMS = load_shelf([shipped("problems")]).problems


@pytest.mark.parametrize("problem", sorted(PROBLEMS))
def test_what_lines_take_is_told(problem: str) -> None:
    """Each constant of a worked line is told with that value, and no other."""
    question = PROBLEMS[problem].question("1")
    steps = question.derivation.asked
    used = {name for step in steps for name in step.quantities if name in CONVENTIONS}
    told = {one.text for one in question.factors}
    for name, convention in CONVENTIONS.items():
        many, _, one = convention.unit.partition("/")
        symbol = convention.sign or f"1 {one}"
        value = f"{question.accepted[name][0]:g}"
        text = f"{symbol} = {value} {many if symbol[0] == '1' else convention.unit}"
        assert (text in told) == (name in used), name
    for unit in {given.unit for given in question.givens} & {"in", "ft"}:
        factor = factor_for(unit)
        assert factor is not None
        assert f"1 {unit} = {factor.constant:g} m" in told
    worked = " ".join(substituted(question, s, question.right) for s in steps if s.written)
    for one in question.factors:
        assert one.value in worked


@pytest.mark.parametrize("problem", sorted(PROBLEMS))
def test_the_line_of_factors_is_short_and_the_statement_has_them(problem: str) -> None:
    """It fits a narrow screen in one row."""
    question = PROBLEMS[problem].question("1")
    assert len(question.factors_line) <= 78
    assert question.factors_line.split(" · ") == [one.text for one in question.factors] or (
        not question.factors and not question.factors_line
    )
    for one in question.factors:
        assert one.text in question.statement


def test_a_drill_sets_what_is_to_be_taken() -> None:
    """The first value that it accepts is the one that is told."""
    accepted = {**ACCEPTED, "g": (9.8, 9.81), "pounds_per_kilogram": (2.2,)}
    question = PROBLEMS["elbow-full-pail"].question("7", accepted=accepted)
    assert question.factors_line == "g = 9.8 m/s² · 1 kg = 2.2 lb"
    assert "Take g = 9.8 m/s², 1 kg = 2.2 lb." in question.statement


def test_nothing_is_told_where_nothing_is_taken() -> None:
    """Centimetres are put in metres by everybody, and a force is not weighed."""
    lever = next(one.question("1") for one in PROBLEMS.values() if not one.question("1").factors)
    assert "Take" not in lever.statement
