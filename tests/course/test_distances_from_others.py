"""Distances that follow from others, as a file describes them, and its faults."""

from __future__ import annotations

import math

import pytest
from helpers.material import CATALOGUE
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from leverstep.course.faults import FileError
from leverstep.course.problem import Problem
from leverstep.vetting.vet import vet_problem
from leverstep.working.wording import ask

GOOD = (
    head(
        "A test",
        "{W_l} at the grip, {d_g} past the wrist, {L} at {theta}; {F_m} and {d_m}.",
        "elbow",
    )
    + segment(
        "forearm",
        "elbow",
        f"length = {quantity('L', 26, 'cm')}\ninclination = {quantity('theta', 30, 'deg')}\n",
    )
    + """
[[distance]]
symbol = "d_g"
name = "distance from wrist to grip"
value = 8
unit = "cm"
"""
    + effort("F_m", "flexors", quantity("d_m", 4, "cm"))
    + load("W_l", "pail", newtons(100), '{ symbol = "d_l", sum = ["L", "d_g"] }')
)
SUM = 'sum = ["L", "d_g"]'
LENGTH = 'value = 8\nunit = "cm"'


def read(*changes: tuple[str, str]) -> Problem:
    """Return the problem of the good text with some of it replaced."""
    return read_text(GOOD, *changes)


@pytest.mark.parametrize(
    ("from_others", "metres", "asked"),
    [
        (SUM, 0.34, "Distance from the elbow to the pail, from other distances, in metres"),
        ('difference = ["L", "d_g"]', 0.18, "from other distances, in metres"),
        ('cosine = "theta", of = "L"', 0.26 * math.sqrt(3) / 2, "from a length and an angle"),
        ('sine = { symbol = "phi", value = 60, unit = "deg" }, of = "d_g"', 0.08 * math.sqrt(3) / 2,
         "from a length and an angle, in metres"),
    ],
)  # fmt: skip
def test_a_distance_follows_from_others(from_others: str, metres: float, asked: str) -> None:
    question = read((SUM, from_others)).question("1")
    assert question.right["d_l"] == pytest.approx(metres)
    assert question.trouble == ""
    assert asked in ask(question, question.derivation.step("d_l"))


def test_a_distance_of_others_may_be_the_moment_arm() -> None:
    """Then it stands in the moment as it is, whatever the segment's angle."""
    arm = 'cosine = "theta", of = "L", perpendicular = true, turns = "clockwise"'
    question = read((SUM, arm)).question("1")
    assert question.right["M_l"] == pytest.approx(-100 * 0.26 * math.sqrt(3) / 2)
    assert "Moment arm of the pail" in ask(question, question.derivation.step("d_l"))


def test_a_distance_of_the_file_may_follow_from_others_too() -> None:
    """Steps stand in the order in which they are worked out, wherever the file has them."""
    another = '[[distance]]\nsymbol = "d_k"\nname = "another"\nvalue = 9\nunit = "cm"'
    made = f'difference = ["d_k", "d_m"]\n{another}'
    problem = read((LENGTH, made), ("{d_g} past", "{d_k} past"))
    keys = [step.key for step in problem.question("1").derivation.steps]
    assert keys.index("d_k") < keys.index("d_g") < keys.index("d_l")
    assert problem.question("1").right["d_l"] == pytest.approx(0.31)


def test_a_difference_that_is_not_above_zero_is_a_fault_of_its_numbers() -> None:
    problem = read((SUM, 'difference = ["d_g", "L"]'))
    assert problem.question("1").trouble == "d_l is not above 0"
    told = [str(fault) for fault in vet_problem(problem, "good.toml", CATALOGUE).faults]
    assert any("d_l is not above 0; expected an equilibrium" in one for one in told)


FAULTS = {
    "sum of one": (
        (SUM, 'sum = ["L"]'),
        "load[1].at.sum: found ['L']; expected two symbols or more, each once",
    ),
    "difference of three": (
        (SUM, 'difference = ["L", "d_g", "d_m"]'),
        "load[1].at.difference: found ['L', 'd_g', 'd_m']; expected two symbols, each once",
    ),
    "sum with itself": (
        (SUM, 'sum = ["L", "d_l"]'),
        "load: distances worked out from each other: d_l; "
        "expected at least one of them measured",
    ),
    "sum with nothing": (
        (SUM, 'sum = ["L", "d_gg"]'),
        '.at: d_l is worked out from "d_gg"; expected a distance of this problem '
        '(did you mean "d_g"?)',
    ),
    "a sum that is no list": (
        (SUM, "sum = 7"),
        "load[1].at.sum: found 7; expected a list of texts",
    ),
    "cosine of no angle": (
        (SUM, 'cosine = "teta", of = "L"'),
        '.at: d_l is worked out with "teta"; expected an angle of this problem '
        '(did you mean "theta"?)',
    ),
    "cosine of a distance": (
        (SUM, 'cosine = "d_g", of = "L"'),
        '.at: d_l is worked out with "d_g"; expected an angle of this problem',
    ),
    "sine of nothing": ((SUM, 'sine = "theta"'), "load[1].at.of: missing; expected a text"),
    "a sum and a number": (
        (SUM, SUM + ', value = 30, unit = "cm"'),
        "load[1].at.value: unknown key; expected one of",
    ),
    "its number in the statement": (
        ("{d_g} past", "{d_l} and {d_g} past"),
        "statement: {d_l} has no number that is given; expected one of {L}, {theta}, {d_g}",
    ),
    "a distance past the axis": (
        (LENGTH, LENGTH + "\nbeyond = true"),
        "distance[1].beyond: it belongs to a point; expected this key where a force acts",
    ),
    "a distance without a name": (
        ('name = "distance from wrist to grip"\n', ""),
        "distance[1].name: missing; expected a text",
    ),
    "a distance without a number": (
        (LENGTH + "\n", ""),
        "distance[1].value: missing; expected a number",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_with_its_place_and_what_was_expected(name: str) -> None:
    change, expected = FAULTS[name]
    with pytest.raises(FileError) as told:
        read(change)
    assert any(expected in str(fault) for fault in told.value.faults), str(told.value)
