"""The direction of a reaction, said in a student's own words."""

from __future__ import annotations

import pytest
from leverstep.entry.answers_in_words import read_answer
from leverstep.entry.tree import Unreadable
from leverstep.statics.kinds import WordChoice

UP_RIGHT, UP_LEFT, DOWN_LEFT = 4.0, -2.0, -4.0


@pytest.mark.parametrize(
    ("text", "way"),
    [
        ("upper right", UP_RIGHT),
        ("up/right", UP_RIGHT),
        ("up-right", UP_RIGHT),
        ("Right / up", UP_RIGHT),
        ("to the upper left", UP_LEFT),
        ("to the top-left", UP_LEFT),
        ("lower left", DOWN_LEFT),
        ("to the bottom left.", DOWN_LEFT),
        ("↙", DOWN_LEFT),
        ("↓ and ←", DOWN_LEFT),
    ],
)
def test_a_quarter_may_be_said_as_a_corner(text: str, way: float) -> None:
    assert read_answer(text, WordChoice.DIRECTION) == way


@pytest.mark.parametrize("text", ["upper", "upper arm", "top", "left/right", "up/down", "lower up"])
def test_what_tells_no_quarter_is_no_direction(text: str) -> None:
    with pytest.raises(Unreadable, match="no_direction"):
        read_answer(text, WordChoice.DIRECTION)
