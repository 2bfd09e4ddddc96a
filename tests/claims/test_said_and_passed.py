"""What is true as it stands and yet not what is asked for: it does not pass for right."""

from __future__ import annotations

import pytest
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
KETTLEBELL = SHELF.problems["elbow-kettlebell"].question("1104")  # 24 cm, the handle 8 cm on
TIPTOE = SHELF.problems["ankle-tiptoe-one-foot"].question("15")  # all of 690 N on one foot
PAIL = SHELF.problems["elbow-full-pail"].question("7")  # it hangs 35 cm from the elbow
EXTENSION = SHELF.problems["knee-seated-extension"].question("705")  # AR 3.71 over 29.6


@pytest.mark.parametrize(
    ("question", "text"),
    [
        (KETTLEBELL, "the kettlebell is at 24 cm"),
        (TIPTOE, "half on each foot: G = 345 N"),
        (EXTENSION, "arms 29.6/3.71 = 7.98"),
    ],
)
def test_a_number_of_another_is_not_taken_as_kept(question: Question, text: str) -> None:
    assert not judge_page(question, [text]).lines[-1].standing.holds


@pytest.mark.parametrize(
    ("question", "text"),
    [
        (PAIL, "the pail is at 35 cm"),
        (EXTENSION, "arms 3.71/29.6 = 0.125"),
    ],
)
def test_a_number_of_its_own_holds(question: Question, text: str) -> None:
    assert judge_page(question, [text]).lines[-1].standing.holds


@pytest.mark.parametrize(
    ("total", "holds"),
    [("3 N", False), ("1 N", False), ("105.7 N", True), ("106 N", True), ("0.1057 kN", True)],
)
def test_a_sum_is_not_true_by_a_factor_that_any_coarse_number_fits(total: str, holds: bool) -> None:
    """12.26 + 93.43 is 105.69, of which 3 is some unit's share, as it is of nearly anything."""
    question = SHELF.problems["elbow-pail-of-water"].question("7")
    page = judge_page(question, ["W_f = 12.26 N", "W_l = 93.43 N", f"W_f + W_l = {total}"])
    assert page.lines[-1].standing.holds is holds
    assert page.lines[-1].standing != "wrong"
