"""What a file takes for g, and fractions that are written as ratios of whole numbers."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import effort, head, kilograms, load, quantity, read_text, segment
from helpers.source import ROOT
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.slips.copying import swapped, with_a_digit_changed
from leverstep.slips.telling import tell
from leverstep.vetting.vet import vet_problem
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

GOOD = (
    head("A test", "{m_l} at {d_l} of {L}; {d_m}.")
    + segment("bar", "hinge", f"length = {quantity('L', 60, 'cm')}\n")
    + effort("F_m", "rope", quantity("d_m", 20, "cm"))
    + load("W_l", "pail", kilograms(6), '{ symbol = "d_l", fraction = "2/3", of = "L" }')
)


def read(gravity: str = "", fraction: str = '"2/3"') -> Problem:
    """Return the problem of the good text with a line for g, or another fraction."""
    level = "difficulty = 1"
    return read_text(GOOD, (level, f"{level}\n{gravity}"), ('"2/3"', fraction))


def outcome(problem: Problem, key: str, *entries: str, **accepted: tuple[float, ...]) -> Outcome:
    """Return what comes of the last of some entries, each `key entry` but the last."""
    working = Working(problem.question("1", accepted=accepted))
    for entry in entries[:-1]:
        working.enter(*entry.split(" ", 1))
    return working.enter(key, entries[-1]).outcome


@pytest.mark.parametrize("gravity", ["9.8", "10"])
def test_statement_strip_and_lines_take_the_g_of_the_file(gravity: str) -> None:
    question = read(f"gravity = {gravity}").question("1")
    assert f"Take g = {gravity} m/s²." in question.statement
    assert question.factors_line == f"g = {gravity} m/s²"
    assert question.right["W_l"] == pytest.approx(6 * float(gravity))


def test_only_the_g_of_the_file_counts() -> None:
    assert outcome(read("gravity = 10"), "W_l", "60.0 N") is Outcome.RIGHT
    assert outcome(read("gravity = 10"), "W_l", "58.86 N") is Outcome.WRONG
    assert outcome(read(), "W_l", "60.0 N") is Outcome.WRONG
    assert outcome(read("gravity = [9.8, 10]"), "W_l", "60.0 N") is Outcome.RIGHT
    assert outcome(read("gravity = [9.8, 10]"), "W_l", "58.8 N") is Outcome.RIGHT


def test_an_equation_in_numbers_takes_the_g_of_the_file() -> None:
    assert outcome(read("gravity = 10"), "F_m", "W_l 60 N", "60*0.4/0.2 N") is Outcome.RIGHT


def test_a_drill_stands_above_the_file() -> None:
    assert outcome(read("gravity = 10"), "W_l", "58.86 N", g=(9.81,)) is Outcome.RIGHT
    question = read("gravity = 10").question("1", accepted={"pounds_per_kilogram": (2.2,)})
    assert question.accepted["g"] == (10.0,)
    assert question.accepted["pounds_per_kilogram"] == (2.2,)


def test_ten_is_no_slip_where_it_is_to_be_taken() -> None:
    told = [str(one) for one in vet_problem(read("gravity = 10"), "good.toml", CATALOGUE).remarks]
    assert not [one for one in told if "10 used for g" in one]


@pytest.mark.parametrize(
    ("gravity", "expected"),
    [
        ("gravity = [-9.8, 9.81]", "gravity: found [-9.8, 9.81]; expected numbers near 9.81"),
        ("gravity = 8", "gravity: found 8; expected numbers near 9.81"),
        ('gravity = "10"', "gravity: found '10'; expected a number or a list of numbers"),
        ("gravity = []", "gravity: found []; expected a number or a list of numbers"),
        (f"gravity = {[10] * 11}", "gravity: found 11 numbers; expected at most 10"),
    ],
)
def test_a_g_that_is_none_is_a_fault(gravity: str, expected: str) -> None:
    with pytest.raises(FileError) as told:
        read(gravity)
    assert expected in str(told.value)


def test_the_ratio_of_a_share_is_shown_as_it_is_written() -> None:
    text = (ROOT / "problems/neck/neck-two-layers.toml").read_text("utf-8")
    drawn = 'symbol = "q_i", from = 0.40, to = 0.75, step = 0.05'
    question = read_text(text, (drawn, 'symbol = "q_i", value = "2/3"')).question("1")
    assert question.written(question.problem.placeholders["q_i"]) == "2/3"
    assert question.right["F_i"] == pytest.approx(question.right["F_m"] * 2 / 3)
    with pytest.raises(FileError, match="found '2/0'; expected a number, or a ratio such as"):
        read_text(text, (drawn, 'symbol = "q_i", value = "2/0"'))


def test_a_ratio_is_shown_as_it_is_written() -> None:
    question = read().question("1")
    assert "2/3 of 60 cm" in question.statement
    assert question.right["d_l"] == pytest.approx(0.4)
    assert read(fraction='"4 / 6"').question("1").statement == question.statement


@pytest.mark.parametrize(
    "typed", ["2/3*L", "2/3 L", "2L/3", "(2/3)*L", "2/3 × 0.6 m", "2/3*60 cm", "40 cm", "0.400 m"]
)
def test_a_ratio_is_read_as_students_write_it(typed: str) -> None:
    assert outcome(read(), "d_l", "L 0.6 m", typed) is Outcome.RIGHT


def test_a_ratio_from_the_wrong_end_is_told() -> None:
    working = Working(read().question("1"))
    working.enter("L", "0.6 m")
    verdict = working.enter("d_l", "1/3*L")
    assert verdict.outcome is Outcome.WRONG
    assert "the fraction taken from the wrong end" in tell(working, verdict, CATALOGUE)


def test_no_digits_of_a_ratio_are_taken_for_miscopied() -> None:
    assert not [*swapped("2/3"), *with_a_digit_changed("2/3")]


@pytest.mark.parametrize("fraction", ['"2/0"', '"two thirds"', '"-2/3"', '"2/3/4"', '"0x2/3"'])
def test_a_ratio_that_is_none_is_a_fault(fraction: str) -> None:
    with pytest.raises(FileError, match='a number, or a ratio such as "2/3"'):
        read(fraction=fraction)


def test_a_ratio_of_two_or_more_is_a_fault() -> None:
    with pytest.raises(FileError, match="found 2; expected between 0 and 2"):
        read(fraction='"6/3"')
