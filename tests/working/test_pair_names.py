"""Equations of two forces through a point, with a student's own names, labels and numbers."""

from __future__ import annotations

import pytest
from helpers.step_lines import right_line
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import Reason
from leverstep.statics.choices import Choice
from leverstep.working.guidance import Guidance
from leverstep.working.reasons import reason_words
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

LAMP = load_shelf().problems["plain-lamp-two-cords"]
"""Seed 9: 26.0 lb, alpha 27°, beta 57°; W_w 115.7 N, T_l 63.35 N, T_r 103.6 N."""


def free(*texts: str) -> list[Verdict]:
    working = Working(LAMP.question("9"), Guidance.BLANK)
    return [working.write(text) for text in texts]


def entered(key: str, text: str) -> Verdict:
    """Return the verdict on an entry where a line is asked for, all before it right."""
    working = Working(LAMP.question("9"))
    while (step := working.current()) is not None and step.key != key:
        working.enter(step.key, right_line(working.question, step))
    return working.enter_open(key, text)


def slips(verdict: Verdict) -> list[tuple[str, str]]:
    """Return the slips that an equation has, each with the force it is about."""
    assert verdict.attempt is not None
    assert verdict.attempt.terms is not None
    changed: list[Choice] = [choice for choice, _ in verdict.attempt.terms.changes]
    return [(choice.kind, choice.about) for choice in changed]


@pytest.mark.parametrize(
    "text",
    [
        "x: T1 cos 27 = T2 cos 57",
        "T1 cos 27 = T2 cos 57",
        "→: T_1*cos(27) - T_2*cos(57) = 0",
        "horizontal: T_a cos 27 = T_b cos 57",
        "x-direction: F1 cos 27 = F2 cos 57",
        "ΣF_x = T_r cos 57 - T_l cos 27 = 0",
        "sum Fx = 0: T_l cos 27 = T_r cos 57",
        "0.891 T1 = 0.545 T2",
        "F_x: T₁·cos 27° = T₂·cos 57°",
        "(x) T_l cos 27 = T_r cos 57",
        "→ T_l cos 27 = T_r cos 57",
    ],
)
def test_a_horizontal_equation_is_right_in_own_names_behind_a_label(text: str) -> None:
    assert [(one.step, one.outcome) for one in free(text)] == [("sum_x", Outcome.RIGHT)]
    there = entered("sum_x", text)
    assert (there.step, there.outcome) == ("sum_x", Outcome.RIGHT)


@pytest.mark.parametrize(
    "text",
    [
        "y: T1 sin 27 + T2 sin 57 = W",
        "↑: T_l*sin 27 + T_r*sin 57 = 115,7",
        "vertical: T_l*sin 27 + T_r*sin 57 = 115.7 N",
        "T_l*sin 27 + T_r*sin 57 - m_w*g = 0",
        "T_l*sin 27 + T_r*sin 57 = 11.79*9.81",
        "T_l*sin 27 + T_r*sin 57 = 26/2.205*9.81",
        "0.454*T_l + 0.839*T_r = 115.7",
        "ΣFy = 0: T_l sin 27 + T_r sin 57 - W = 0",
    ],
)
def test_a_vertical_equation_with_given_numbers_is_right(text: str) -> None:
    assert [(one.step, one.outcome) for one in free(text)] == [("sum_y", Outcome.RIGHT)]
    there = entered("sum_y", text)
    assert (there.step, there.outcome) == ("sum_y", Outcome.RIGHT)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("T_l*sin 27 - T_r*sin 57 = 115,7", [("flip", "T_r")]),
        ("T_l*sin 27 + T_r*sin 57 = 26", [("given_used", "W_w")]),
        ("T1*cos 27 + T2*cos 57 = 115.7", [("other_function", "T_l"), ("other_function", "T_r")]),
    ],
)
def test_a_slip_in_an_equation_with_numbers_is_seen(
    text: str, found: list[tuple[str, str]]
) -> None:
    verdict = entered("sum_y", text)
    assert (verdict.step, verdict.outcome) == ("sum_y", Outcome.WRONG)
    assert slips(verdict) == found


@pytest.mark.parametrize(
    "text",
    [
        "T_l*sin 27 + T_r*sin 57 = 120",
        "T_l*sin 27 + T_r*sin 57",
        "T_l*sin 27 + T_r*sin 57 115,7",
        "63.35*sin 27 + 103.6*sin 57 = 115.7",
        "x: T_l sin 27 + T_r sin 57 = 115.7",
    ],
)
def test_an_equation_of_forces_is_never_told_of_moments(text: str) -> None:
    verdict = entered("sum_y", text)
    assert verdict.outcome is not Outcome.RIGHT
    assert verdict.reason is not None
    told = reason_words(verdict.reason)
    assert "arm" not in told
    assert "moment" not in told


def test_an_equation_that_says_its_axis_is_along_that_whichever_is_asked_for() -> None:
    verdict = entered("sum_y", "x: T_l cos 27 = T_r cos 57")
    assert (verdict.step, verdict.outcome) == ("sum_x", Outcome.RIGHT)


def test_a_sum_of_forces_without_an_equals_sign_is_told_so() -> None:
    (verdict,) = free("T1 sin 27 + T2 sin 57 - 115.7")
    assert verdict.reason == Reason("forces_need_equals_sign")


def test_the_own_weight_of_a_student_may_stand_in_an_equation() -> None:
    wrong, equation = free("W_w = 26*9.81 = 255 N", "T1 sin 27 + T2 sin 57 = 255")
    assert wrong.outcome is Outcome.WRONG
    assert (equation.step, equation.outcome) == ("sum_y", Outcome.RIGHT)


def test_a_label_says_which_equation_is_wrong() -> None:
    (verdict,) = free("x: T1 sin 27 = T2 sin 57")
    assert (verdict.step, verdict.outcome) == ("sum_x", Outcome.WRONG)


def test_a_value_where_an_equation_is_asked_for_is_taken_as_a_value() -> None:
    verdict = entered("sum_y", "T_l = 115.7*cos 57/sin 84 N")
    assert (verdict.step, verdict.outcome) == ("T_l", Outcome.RIGHT)


@pytest.mark.parametrize(
    ("texts", "keys"),
    [
        (("T1 cos 27 = T2 cos 57", "T1 = 63.35 N", "T2 = 103.6 N"), ["sum_x", "T_l", "T_r"]),
        (("T2 cos 27 = T1 cos 57", "T2 = 63.35 N", "T1 = 103.6 N"), ["sum_x", "T_l", "T_r"]),
        (("T1 = 103.6 N", "T2 = 63.35 N"), ["T_r", "T_l"]),
    ],
)
def test_both_names_of_a_pair_are_taken(texts: tuple[str, ...], keys: list[str]) -> None:
    verdicts = free(*texts)
    assert [one.outcome for one in verdicts] == [Outcome.RIGHT] * len(texts)
    assert [one.step for one in verdicts] == keys
    assert verdicts[0].text == texts[0]
    assert reason_words(verdicts[0].reason).startswith("T1 is taken as")
    assert all(one.reason is None for one in verdicts[1:])


def test_neither_name_is_taken_where_it_can_not_be_told() -> None:
    wrong, right = free("T1 = 70 N", "T2 = 63.35 N")
    assert wrong.outcome is Outcome.UNREAD
    assert (right.step, right.outcome) == ("T_l", Outcome.RIGHT)


def test_a_name_stays_what_it_was_taken_for() -> None:
    *_, wrong, again = free("T1 cos 27 = T2 cos 57", "T1 = 103.6 N", "T1 = 103.6 N")
    assert (wrong.step, wrong.outcome) == ("T_l", Outcome.WRONG)
    assert again.outcome is Outcome.SAME


def test_a_true_equation_of_both_forces_is_no_value_of_one_beside_a_wrong_one() -> None:
    working = Working(LAMP.question("9"), Guidance.BLANK)
    assert working.write("T_l = 80 N").outcome is Outcome.WRONG
    verdict = working.write("T_l sin27 + T_r sin57 = 115.7")
    assert (verdict.step, verdict.outcome) == ("sum_y", Outcome.RIGHT)
    assert working.write("T_l = 63.35 N").outcome is Outcome.RIGHT
    assert working.stands("sum_y"), "nor does it rest on one"


@pytest.mark.parametrize("guidance", Guidance)
def test_a_true_equation_never_replaces_a_value_that_is_right(guidance: Guidance) -> None:
    working = Working(LAMP.question("9"), guidance)
    for text in ("T_r = 80 N", "T_l = 63.35 N", "-T_l*0.891 + T_r*0.545 = 0"):
        verdict = working.enter_open("W_w", text)
    assert (verdict.step, verdict.outcome) == ("sum_x", Outcome.RIGHT)
    assert working.lines["T_l"].text == "T_l = 63.35 N"


@pytest.mark.parametrize("value", ["63.35 N", "80 N"])
def test_a_wrong_equation_of_both_forces_is_one_too(value: str) -> None:
    _, verdict = free(f"T_l = {value}", "T_l sin27 + T_r cos57 = 115.7")
    assert (verdict.step, slips(verdict)) == ("sum_y", [("other_function", "T_r")])


def test_the_equation_along_the_other_axis_is_that_one_where_lines_are_asked_for() -> None:
    working = Working(LAMP.question("9"))
    working.enter_open("W_w", "115.7 N")
    verdict = working.enter_open("sum_x", "T_l sin27 + T_r sin57 = 115.7")
    assert (verdict.step, verdict.outcome) == ("sum_y", Outcome.RIGHT)
    assert working.current() is not None
    assert working.current().key == "sum_x"  # type: ignore[union-attr]
    verdict = working.enter_open("sum_x", "T_l cos27 = T_r cos57")
    assert (verdict.step, verdict.outcome) == ("sum_x", Outcome.RIGHT)


@pytest.mark.parametrize("text", ["T_l sin27 = T_r sin57", "T_l sin27 + T_r cos57 = 115.7"])
def test_a_wrong_equation_answers_the_one_that_is_asked_for(text: str) -> None:
    working = Working(LAMP.question("9"))
    working.enter_open("W_w", "115.7 N")
    verdict = working.enter_open("sum_x", text)
    assert (verdict.step, verdict.outcome) == ("sum_x", Outcome.WRONG)
    assert "sum_y" not in working.lines
