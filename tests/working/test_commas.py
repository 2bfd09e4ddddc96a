"""A comma before three digits: decimals or thousands, by lines that stand or by what is right."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

PAIL = load_shelf().problems["elbow-full-pail"].question("7")  # M_f −2.815 N·m, F_m 433.5 N


def is_asked_about(verdict: Verdict) -> bool:
    reason = verdict.reason
    return verdict.outcome is Outcome.UNREAD and reason is not None and reason.code == "comma"


def test_a_number_that_is_right_one_way_is_read_that_way() -> None:
    working = Working(PAIL)
    assert working.enter("M_f", "-2,815 N·m").outcome is Outcome.RIGHT
    assert working.lines["M_f"].text == "-2,815 N·m", "it stands as it was typed"


def test_a_number_that_is_right_neither_way_is_asked_about_until_a_comma_is_sure() -> None:
    working = Working(PAIL)
    assert is_asked_about(working.enter("M_f", "-3,571 N·m"))
    assert working.enter("W_f", "16,19 N").outcome is Outcome.RIGHT
    assert working.enter("M_f", "-3,571 N·m").outcome is Outcome.WRONG


def test_a_comma_read_by_what_is_right_tells_of_the_commas_after_it() -> None:
    working = Working(PAIL)
    working.enter("M_f", "-2,815 N·m")
    assert working.enter("F_m", "1,234 N").outcome is Outcome.WRONG


def test_thousands_that_are_right_tell_nothing_of_decimals() -> None:
    heavy = load_shelf().problems["ankle-tiptoe-one-foot"].question("5")
    working = Working(heavy)
    force = f"{heavy.right['F_m']:,.0f} N"
    assert "," in force
    assert working.enter("F_m", force).outcome is Outcome.RIGHT
    assert is_asked_about(working.enter("W_b", "9,876 N"))


def test_a_line_with_a_comma_is_read_alike_when_it_is_judged_again() -> None:
    working = Working(PAIL)
    working.enter("W_f", "18.40 N")
    assert working.enter("M_f", "-3,200 N·m").outcome is Outcome.FOLLOWED
    working.enter("W_f", "16.19 N")
    assert working.lines["M_f"].verdict.outcome is Outcome.WRONG


def test_where_verdicts_are_hidden_the_reading_tells_nothing() -> None:
    working = Working(PAIL, rules=Rules(tells=False, hints=False, marked=True))
    assert is_asked_about(working.enter("M_f", "-2,815 N·m"))
    assert is_asked_about(working.enter("M_f", "-3,571 N·m"))


@pytest.mark.parametrize("marked", [False, True])
def test_a_blank_sheet_reads_wrong_lines_by_the_commas_before_them(*, marked: bool) -> None:
    working = Working(PAIL, Guidance.BLANK, Rules(marked=marked))
    assert working.write("W_f = 16,19 N").outcome is Outcome.RIGHT
    verdict = working.write("M_f = -3,571 N·m")
    assert (verdict.step, verdict.outcome) == ("M_f", Outcome.WRONG)
