"""Whether the line of gravity falls inside the base, said in a student's own words."""

from __future__ import annotations

import pytest
from leverstep.entry.answers_in_words import read_answer
from leverstep.entry.tree import Unreadable
from leverstep.statics.centre_of_mass import INSIDE, OUTSIDE
from leverstep.statics.kinds import WordChoice


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("outside the feet", OUTSIDE),
        ("outside, so she topples", OUTSIDE),
        ("outside - he falls over", OUTSIDE),
        ("the line of gravity falls outside the base in front of the toes", OUTSIDE),
        ("the centre of mass is no longer within the base", OUTSIDE),
        ("not inside", OUTSIDE),
        ("inside, so he stands", INSIDE),
        ("not outside", INSIDE),
        ("over", INSIDE),
    ],
)
def test_it_may_be_said_with_more_words(text: str, place: float) -> None:
    assert read_answer(text[:60], WordChoice.SUPPORT) == place


@pytest.mark.parametrize(
    "text",
    ["the head is outside the base", "inside or outside", "outside by 3 cm", "he falls over"],
)
def test_what_is_said_of_something_else_is_no_answer(text: str) -> None:
    with pytest.raises(Unreadable, match="not_inside"):
        read_answer(text, WordChoice.SUPPORT)
