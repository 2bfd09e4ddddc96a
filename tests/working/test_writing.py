"""Lines as they are worked out on paper."""

from __future__ import annotations

import re

import pytest
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.working.writing import only_copies_a_given, worked_line

PROBLEMS = load_shelf([shipped("problems")]).problems


@pytest.mark.parametrize(
    ("name", "key", "line"),
    [
        ("lumbar-flower-pot", "W_t", "W_t = 395.0 N"),
        ("ankle-tendon-stress", "G_g", "G_g = 598.4 N"),
        ("elbow-full-pail", "W_f", "W_f = 1.65 kg × 9.81 m/s² = 16.19 N"),
    ],
)
def test_a_line_with_nothing_to_work_out_has_one_side(name: str, key: str, line: str) -> None:
    """A given is not told twice, once with more figures; a share of 1 is no factor."""
    question = PROBLEMS[name].question("7")
    assert worked_line(question, question.derivation.step(key), question.right) == line


@pytest.mark.parametrize("name", sorted(PROBLEMS))
def test_no_side_of_a_worked_line_is_another_once_more(name: str) -> None:
    """No two sides of a line that is worked out are one number and unit."""
    question = PROBLEMS[name].question("7")
    lines = [s for s in question.derivation.asked if s.written and not s.kind.is_equation]
    assert lines
    for step in lines:
        _, *sides = worked_line(question, step, question.right).split(" = ")
        plain = [re.fullmatch(r"([0-9.]+)( .*)?", side) for side in sides]
        values = [(float(one[1]), one[2]) for one in plain if one]
        assert len(values) == len(set(values)), sides
    assert not any(only_copies_a_given(question, s) and not s.written for s in lines)
