"""Right lines of pages with one thing changed are hardly ever called right."""

from __future__ import annotations

import random

import pytest
from helpers.altered_lines import altered_lines, standing_of, worked_out
from helpers.labelled_pages import pages_of

_OF_A_PAGE, _MOST_TRUE = 3, 0.12
"""So many changed lines of a page are judged; of all, some are true by chance."""


@pytest.mark.parametrize("name", ["second", "third", "fourth"])
def test_a_right_line_with_one_thing_changed_is_hardly_ever_right(name: str) -> None:
    chance = random.Random(3)
    standings = [
        standing_of(page, altered)
        for page in pages_of(name)
        for altered in altered_lines(page, chance)[:_OF_A_PAGE]
    ]
    assert len(standings) > 20
    assert sum(standing.holds for standing in standings) <= _MOST_TRUE * len(standings)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3.4 × 2", 6.8),
        ("20 sin30", 10.0),
        ("4 (2.5 - 1)", 6.0),
        ("sqrt(3^2 + 4^2)", 5.0),
        ("12 N x 0.5 m", 6.0),
        ("7", None),
        ("3 cats * 2", None),
        ("1 / 0", None),
    ],
)
def test_arithmetic_is_worked_out_beside_the_program(text: str, value: float | None) -> None:
    assert worked_out(text) == (None if value is None else pytest.approx(value))
