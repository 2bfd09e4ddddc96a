"""What people write before a result is no part of it: an arrow, a sign for therefore, a word."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.entry.reading import without_lead
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

PAIL = load_shelf().problems["elbow-full-pail"].question("7")


@pytest.mark.parametrize("lead", ["=>", "->", "∴", "→", "⇒", "so", "Thus:", "∴ d_l ="])
def test_a_lead_before_a_value_changes_nothing(lead: str) -> None:
    working = Working(PAIL)
    assert working.enter("d_l", f"{lead} 0.3500 m").outcome is Outcome.RIGHT
    wrong = working.enter("d_m", f"{lead.replace('d_l', 'd_m')} 4.600 m")
    assert wrong.outcome is Outcome.WRONG


@pytest.mark.parametrize(
    "text", ["=> 3", "so, 35 cm -> 0,35 m", "third", "-3 N", "", "sol", "=-3 N"]
)
def test_every_character_stays_in_its_place(text: str) -> None:
    said = without_lead(text)
    assert len(said) == len(text)
    digits = {place for place, one in enumerate(text) if one.isalnum()}
    assert all(said[place] in (text[place], " ") for place in digits)


@pytest.mark.parametrize(
    "text",
    ["-16.19 . 0.1739 N m", "-W_f . d_f", "16,19 N . 0,1739 m = 2,815 N m clockwise"],
)
def test_a_full_stop_that_stands_alone_is_a_sign_of_multiplication(text: str) -> None:
    working = Working(PAIL)
    for key, right in {"W_f": "16.19 N", "d_f": "0.1739 m"}.items():
        working.enter(key, right)
    assert working.enter_open("M_f", text).outcome is Outcome.RIGHT


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("→ ↑", Outcome.RIGHT),
        ("↑ →", Outcome.RIGHT),
        ("up, →", Outcome.RIGHT),
        ("→ and ↑", Outcome.RIGHT),
        ("so up and right", Outcome.RIGHT),
        ("=> up right", Outcome.RIGHT),
        ("→ up right", Outcome.RIGHT),
        ("- up and right", Outcome.RIGHT),
        ("up and right:", Outcome.RIGHT),
        ("→", Outcome.WRONG),  # to the right alone
        ("→ up", Outcome.UNREAD),  # it may conclude, or point
    ],
)
def test_an_arrow_before_a_direction_may_be_a_part_of_it(text: str, outcome: Outcome) -> None:
    working = Working(load_shelf().problems["body-lean-on-wall"].question("7"))
    assert working.enter_open("R_dir", text).outcome is outcome
