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
