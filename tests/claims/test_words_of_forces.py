"""What a line says of forces in words: which way they act, how they compare, their names."""

from __future__ import annotations

import pytest
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"].question("7")
PRESS_UP = SHELF.problems["body-press-up"].question("1")
PLANK = SHELF.problems["body-plank-two-supports"].question("1")
KNEECAP = SHELF.problems["knee-kneecap"].question("1")
BOARD = SHELF.problems["plain-balance-board"].question("1")


def last(question: Question, *lines: str) -> LineStanding:
    return judge_page(question, lines).lines[-1].standing


@pytest.mark.parametrize(
    ("text", "standing"),
    [
        ("the floor pushes up at the toes", LineStanding.KEPT),
        ("the floor pushes down at the toes", LineStanding.REMARK),
        ("both push up on the body", LineStanding.KEPT),
        ("if the floor pushes up it is fine", LineStanding.REMARK),
    ],
)
def test_which_way_a_force_acts_is_kept_where_it_is_true(text: str, standing: LineStanding) -> None:
    assert last(PLANK, text) is standing


@pytest.mark.parametrize(
    ("text", "standing"),
    [
        ("the pail turns it clockwise", LineStanding.KEPT),
        ("the pail turns it anticlockwise", LineStanding.REMARK),
        ("negative, so clockwise", LineStanding.KEPT),
        ("clockwise is positive", LineStanding.REMARK),
    ],
)
def test_which_way_a_force_turns_is_kept_where_it_is_true(
    text: str, standing: LineStanding
) -> None:
    assert last(PAIL, text) is standing


def test_half_of_a_force_is_that_of_one_hand() -> None:
    half = PRESS_UP.right["F_h"] / 2
    assert last(PRESS_UP, f"so {half:.0f} N on each hand") is LineStanding.KEPT
    assert last(PRESS_UP, f"so {half * 1.2:.0f} N on each hand") is LineStanding.UNREAD


def test_a_share_of_the_body_is_kept() -> None:
    share = 100 * PLANK.right["F_f"] / PLANK.right["W_b"]
    text = "the forearms carry {:.1f} % of the body"
    assert last(PLANK, text.format(share)) is LineStanding.KEPT
    assert last(PLANK, text.format(share + 9)) is LineStanding.UNREAD


@pytest.mark.parametrize(
    ("times", "standing"), [("8,9", LineStanding.KEPT), ("3,9", LineStanding.UNREAD)]
)
def test_how_forces_compare_is_read_with_a_decimal_comma(
    times: str, standing: LineStanding
) -> None:
    text = f"the muscle pulls {times} x as hard as the pail"
    assert last(PAIL, "W_l = 48,94 N", text) is standing


def test_a_force_may_be_written_by_its_two_components() -> None:
    right = KNEECAP.right
    pair = f"({right['F_qx']:.4g}, {right['F_qy']:.4g})"
    assert last(KNEECAP, f"Q = {pair} N") is LineStanding.RIGHT
    assert last(KNEECAP, f"Q\t{right['F_qx']:+.4g}\t{right['F_qy']:+.4g}") is LineStanding.RIGHT
    assert last(KNEECAP, "Q = (-17, 3) N") is LineStanding.UNREAD


@pytest.mark.parametrize(
    "text",
    [
        "moment of pail = 48.94 * 0.35 = 17.13 N m",
        "pail = 4.99 * 9.81 = 48.9",
        "Fpail = 48.94 N",
        "weight of the pail is 4.99g = 48.9 N",
        "biceps = 19.94 / 0.046 = 433.5 N",
        "arm of the muscle = 4.6 cm = 0.046 m",
        "moment of the pail = 0.35 times 48.94 = 17.13 N m (+)",
        "the pail weighs 48.9 N (3 s.f.)",
    ],
)
def test_what_people_call_a_force_is_known(text: str) -> None:
    assert last(PAIL, text).holds


def test_words_that_stand_as_symbols_are_words_before_others() -> None:
    lines = ["pail = 48.94 N", "pail moment = 48.94 * 0.35 = 17.13 N m"]
    page = judge_page(PAIL, lines)
    assert [line.about for line in page.lines] == [("W_l",), ("M_l",)]


@pytest.mark.parametrize("text", ["W = m g", "M = F * d"])
def test_a_formula_in_letters_claims_nothing(text: str) -> None:
    assert last(PAIL, text) is LineStanding.REMARK


def test_an_answer_may_stand_alone_at_the_end() -> None:
    answer = f"{PAIL.right['F_m']:.4g} N"
    assert last(PAIL, answer) is LineStanding.REMARK
    assert last(PAIL, f"F_m = {answer}", answer) is LineStanding.RIGHT


@pytest.mark.parametrize(
    ("text", "standing"),
    [
        ("arm of A_y = 38.9 cm", LineStanding.UNREAD),
        ("arm of A_x = 38.9 cm", LineStanding.RIGHT),
        ("arm of A_y = 15.7 cm", LineStanding.RIGHT),
    ],
)
def test_an_arm_is_of_the_component_whose_symbol_is_named(
    text: str, standing: LineStanding
) -> None:
    chain = SHELF.problems["ankle-then-knee"].question("11")  # A_x has an arm of 38.9 cm
    assert last(chain, text) is standing


@pytest.mark.parametrize(
    "text",
    ["F_h = 90 N wrong! F_h = 103 N", "F_h = 90 N no, 103 N", "F_h = -90 N, oops, F_h = 103 N"],
)
def test_what_a_line_takes_back_is_no_claim(text: str) -> None:
    crowbar = SHELF.problems["plain-crowbar"].question("211")  # F_h is 103 N
    assert last(crowbar, text) is LineStanding.RIGHT
    assert last(crowbar, "F_h = 103 N wrong! F_h = 90 N") is LineStanding.WRONG
