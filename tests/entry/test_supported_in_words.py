"""What a support does, and whether the line of gravity falls inside the base, in own words."""

from __future__ import annotations

import pytest
from leverstep.entry.answers_in_words import read_answer
from leverstep.entry.tree import Unreadable
from leverstep.statics.centre_of_mass import INSIDE, OUTSIDE
from leverstep.statics.further import HOLDS, SLIPS
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


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("slips", SLIPS),
        ("it holds", HOLDS),
        ("does not slip", HOLDS),
        ("it won't slip", HOLDS),
        ("it won’t hold", SLIPS),
        ("the soles don't hold", SLIPS),
        ("no slip", HOLDS),
        ("no, it slips", SLIPS),
        ("no", SLIPS),
        ("will it slip? yes", SLIPS),
        ("will it slip? no", HOLDS),
        ("does it hold? no, it slips", SLIPS),
        ("it holds and does not slip", HOLDS),
        ("not enough friction", SLIPS),
        ("slips, since 0.324 > 0.2", SLIPS),
        ("will it slip?", None),
        ("holds or slips", None),
        ("it would slip", None),
        ("so that it does not slip", None),
        ("to not slip", None),
        ("it holds but slips", None),
        ("no it slips", SLIPS),
        ("slips - no grip", SLIPS),
        ("no friction left it slips", SLIPS),
        ("it holds with no problem", HOLDS),
        ("no it holds", HOLDS),
        ("it doesnt slip", HOLDS),
        ("it wont hold", SLIPS),
        ("hardly slips", None),
        ("slipping does not happen", None),
        ("slipping is not possible", None),
        ("slipping is impossible", None),
        ("without slipping", None),
        ("nothing slips", None),
        ("neither foot slips", None),
        ("no chance of slipping", None),
        ("slips: no", None),
        ("slips = no", None),
        ("a) holds", HOLDS),
        ("**slips**", SLIPS),
        ("friction stops the feet sliding", None),
        ("safe against slipping", None),
        ("does the foot slip", None),
        ("no slip condition", None),
    ],
)
def test_whether_a_support_holds_is_read_with_what_denies_it(
    text: str, value: float | None
) -> None:
    if value is None:
        with pytest.raises(Unreadable):
            read_answer(text, WordChoice.HOLD)
    else:
        assert read_answer(text, WordChoice.HOLD) == value
