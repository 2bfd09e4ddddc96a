"""Where a wrong line is wrong, told without the slip behind it."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.slips.telling import tell
from leverstep.working.rules import Reasons, Rules
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

PAIL = load_shelf([shipped("problems")]).problems["elbow-full-pail"].question("7")


def working(attempts: int | None = None) -> Working:
    return Working(PAIL, rules=Rules(attempts, reasons=Reasons.WHEN_ASKED))


def told(key: str, text: str, **before: str) -> str:
    """Return what is said of a line after some others, whose slip is not named."""
    lines = working()
    for earlier, entry in before.items():
        assert lines.enter(earlier, entry).outcome is Outcome.RIGHT
    verdict = lines.enter(key, text)
    assert verdict.outcome is Outcome.WRONG
    said = tell(lines, verdict, CATALOGUE)
    for one in explained(verdict, CATALOGUE).explanations:
        assert not [f for f in one.findings if CATALOGUE.slips[f.slip].name in said]
    return said


@pytest.mark.parametrize(
    ("key", "text", "where"),
    [
        ("W_l", "11.0 N", "The slip is in this line."),
        ("W_l", "11.0*9.81 N", "Something is missing from what you typed."),
        ("W_l", "11.0*2.205*9.81 N", "Look at 2.205 lb/kg in what you typed."),
        ("M_sum", "-17.13 N m", "The slip is in this line, at the forearm and hand."),
        ("M_sum", "-2.815+17.13 N m", "Look at the sign before M_l in what you typed."),
        ("MA", "48.94/433.5", "W_f is missing from what you typed."),
        ("AR", "48.94/433.5", "Look at 48.94 and at 433.5 in what you typed."),
        ("F_m", "(2.815+17.13)*0.046 N", "Look at d_m in what you typed."),
        ("M_l", "-38.5 N m", ""),  # a slip that is only asked about may be another
        ("R_dir", "up", ""),  # there are few answers, and to tell more would tell the right one
    ],
)
def test_a_wrong_line_is_told_where_it_is_wrong(key: str, text: str, where: str) -> None:
    assert told(key, text) == " ".join(part for part in ("Not yet.", where, LATER) if part)


@pytest.mark.parametrize(
    ("text", "where", "sense"),
    [
        ("48.94 N * 35 cm = 1713 Ncm", "No sign stands before W_l: which way", "without a sign"),
        (
            "+48.94*0.35 N m",
            "Look at the sign before W_l",
            "your sign says that it is anticlockwise",
        ),
    ],
)
def test_no_sign_is_spoken_of_that_was_not_typed(text: str, where: str, sense: str) -> None:
    said = told("M_l", text)
    assert where in said
    assert sense in said


LATER = "A hint tells more."


def test_a_slip_on_an_earlier_line_is_told_by_that_line() -> None:
    """The moment of a weight that was never written holds the slip of that weight."""
    said = told("M_l", "-37.77 N m")  # 11.0 lb times g, times 0.35 m
    assert said == f"Not yet. The slip lies earlier, in W_l. {LATER}"


def test_where_no_slip_is_known_that_is_said() -> None:
    assert told("F_m", "100 N") == "Not yet, and no slip we know explains it. A hint may help."


def test_a_line_with_no_try_left_is_told_in_full() -> None:
    """No hint can be asked for any more, so that nothing is held back."""
    lines = working(attempts=1)
    said = tell(lines, lines.enter("W_l", "11.0 N"), CATALOGUE)
    assert said == "Not right. It looks like this slip: pounds left as newtons."
