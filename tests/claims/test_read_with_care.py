"""Lines that hold, in words or an order that a rule for another line must not take for its own."""

from __future__ import annotations

import pytest
from helpers.drill_sittings import SHELF
from leverstep.claims.page_of_claims import judge_page
from leverstep.working.guidance import Guidance
from leverstep.working.working import Working

PAIL = "elbow-pail-of-water"
TRUNK = "lumbar-level-trunk"
JAW = "jaw-back-teeth"


@pytest.mark.parametrize(
    ("problem", "lines", "standing"),
    [
        # a line that says only how something turns or acts
        (PAIL, ["acts anticlockwise"], "remark"),
        (PAIL, ["F_m = 794 N", "M_l = -31.3 N m", "acts up"], "kept"),
        (PAIL, ["F_m = 794 N", "M_l = -31.3 N m", "acts clockwise"], "kept"),
        (PAIL, ["Forces pushing down"], "remark"),
        (PAIL, ["Turning moments clockwise"], "remark"),
        (PAIL, ["sum of moments about the elbow = 0"], "remark"),
        (PAIL, ["sum of the moments = 0: {F_m}*0.042 = 33.36"], "right"),
        # numbers before lines
        (PAIL, ["1. class: third"], "right"),
        (PAIL, ["2. class = third"], "right"),
        (PAIL, ["1. class of lever: third"], "right"),
        (PAIL, ["3. class"], "right"),
        (PAIL, ["3. class lever"], "right"),
        # where other things stand on the page, or lie
        ("ankle-then-knee", ["phi_R1 = {phi_R1}° (with the values above)"], "right"),
        ("ankle-then-knee", ["from above, phi_R1 = {phi_R1}°"], "right"),
        ("elbow-cord-at-an-angle", ["phi_R = {phi_R}°, sketch below"], "right"),
        ("elbow-cord-at-an-angle", ["R = {R} N at {phi_R}°, under the forearm"], "right"),
        # what is asked or supposed before it is answered
        (PAIL, ["what if d_m were 5 cm? then F_m = 667 N"], "unread"),
        (PAIL, ["would 50 cm be worse? yes, F_m = 1164 N"], "unread"),
        (PAIL, ["F_m = {F_m} N; is MA < 1? yes, MA = {MA}"], "right"),
        (PAIL, ["F_m = 700 N; is MA < 1? yes, MA = {MA}"], "wrong"),
        # the sign of a reaction whose way was said
        (PAIL, ["R_y = 688.5 N down", "794.2 - 12.26 - 93.43 - R_y = 0"], "right"),
        (PAIL, ["taking down as positive: R_y + 12.26 + 93.43 - 794.2 = 0"], "right"),
        # what is handed on to the next joint, by the letter that it has
        (
            "elbow-then-shoulder",
            ["R = {R_y1} N", "at the shoulder: R*{r_y2} = {M_y2} N m"], "right",
        ),
        # a part of a force by its letter and its axis in a word
        (TRUNK, ["E = {F_m} N", "E horizontal = {F_mx} N", "J horizontal = {R_x} N"], "right"),
        (TRUNK, ["horizontal = {F_mx} N", "joint", "horizontal = {R_x} N"], "right"),
        # a capital and a known letter side by side, and a given that looks like a constant
        (JAW, ["a2 = {d_n} m", "b = {d_m} m", "W1 = {G_n} N", "F b = W1 a2"], "right"),
        (JAW, ["b = {d_m} m", "F b = {M_n} N m", "AR = b/{d_n} = {AR}"], "right"),
        # a table with units in a column of their own
        (JAW, ["| muscle force | {F_m} | N |"], "right"),
        # the parts of the force of a floor, and what friction needs of them
        ("body-lean-on-wall", ["friction f = {R_x} N"], "right"),
        ("body-lean-on-wall", ["normal force = {R_y} N"], "right"),
        ("body-lean-on-wall", ["normal N = {R_y} N", "μ = {R_x}/N = {mu_n}"], "right"),
        ("body-lean-on-wall", ["f = {R_x} N", "N = {R_y} N", "\u00b5 = f/N = {mu_n}"], "right"),
        ("body-lean-on-wall", ["coefficient of friction = {mu_n}"], "right"),
        ("body-lean-on-wall", ["it doesn't hold"], "right"),
        ("body-lean-on-wall", ["the soles do not slip"], "wrong"),
        ("body-lean-on-wall", ["so that it does not slip"], "remark"),
        ("body-lean-on-wall", ["mu = {mu_n} so that it does not slip"], "right"),
        ("body-lean-on-wall", ["coefficient of friction: {R_x}/{R_y} = {mu_n}"], "right"),
    ],
)  # fmt: skip
def test_a_line_is_what_it_says(problem: str, lines: list[str], standing: str) -> None:
    question = SHELF.problems[problem].question("7")
    values = {key: f"{abs(value):.4g}" for key, value in question.right.items()}
    page = judge_page(question, [line.format(**values) for line in lines])
    assert page.lines[-1].standing == standing


@pytest.mark.parametrize("ratio", ["F1/F2 = 2.125", "R_2/R_1 = 2.125"])
def test_a_ratio_of_what_was_written_is_judged_by_that(ratio: str) -> None:
    question = SHELF.problems["lumbar-near-and-far"].question("7")
    lines = ["near: F1 = 498 N", "far: F2 = 1058 N", "near: R_1 = 606 N", "far: R_2 = 1166 N"]
    assert not judge_page(question, [*lines, ratio]).lines[-1].standing.holds


@pytest.mark.parametrize(
    ("ratio", "standing"),
    [
        ("F2/F1 = 0.645", "kept"),
        ("F1/F2 = 1.55", "right"),
        ("F1/F2 = 0.645", "wrong"),
        ("F2/F1 = 1.55", "unread"),
        ("F2/F1 = 226/300 = 0.645", "unread"),
    ],
)
def test_a_ratio_is_true_where_it_comes_to_the_quotient(ratio: str, standing: str) -> None:
    question = SHELF.problems["shoulder-straight-then-bent"].question("7")
    page = judge_page(question, ["straight: F1 = 351 N", "bent: F2 = 226 N", ratio])
    assert page.lines[-1].standing == standing
    assert judge_page(question, ["F_b/F_s = 0.645"]).lines[-1].standing == "kept"


@pytest.mark.parametrize("text", ["F*a = W*b", "sum of moments (neck) F*a = W*b, total = 0"])
def test_an_equation_whose_letters_are_guessed_is_not_called_right(text: str) -> None:
    (line,) = judge_page(SHELF.problems["neck-head-upright"].question("7"), [text]).lines
    assert line.standing == "unread"
    assert line.claims[0].letters == ("F", "a", "W", "b")


def test_a_sum_of_known_terms_is_the_sum() -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=Guidance.BLANK)
    values = working.question.right
    for key in ("M_f", "M_l"):
        assert working.write(f"{key} = {values[key]:.4g} N m").settled
    verdict = working.write(f"M_f + M_l = {values['M_sum']:.4g} N m")
    assert (verdict.step, verdict.settled) == ("M_sum", True)
    assert working.lines["M_l"].text.startswith("M_l = ")


def test_a_reaction_whose_way_was_said_is_a_size_on_a_blank_sheet_too() -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=Guidance.BLANK)
    assert working.write("R_y = 688.5 N down").settled
    assert working.write("794.2 - 12.26 - 93.43 - R_y = 0").settled
    assert working.done("R_y")


@pytest.mark.parametrize(
    ("ratio", "standing"),
    [("453/920) = 26.2", "right"), ("920/453) = 63.8", "wrong")],
)
def test_values_that_follow_are_not_exchanged_in_a_later_line(ratio: str, standing: str) -> None:
    question = SHELF.problems["hip-leg-raise"].question("1197")
    before = ["F = 1091", "Rx = 920", "Ry = -453"]
    page = judge_page(question, [*before, f"angle to horizontal = atan({ratio} deg"])
    assert [line.standing for line in page.lines[1:3]] == ["follows", "follows"]
    assert page.lines[3].standing == standing


@pytest.mark.parametrize(
    "written", ["mu = 883/291 = 3.03", "friction coefficient = 883/291 = 3.03"]
)
def test_a_ratio_upside_down_is_not_traced_to_a_moment_arm(written: str) -> None:
    question = SHELF.problems["body-lean-on-wall"].question("1183")
    before = ["sum Fy: N = W = 883 N", "H = 291 N and so f = 291 N"]
    assert judge_page(question, [*before, written]).lines[-1].standing in ("wrong", "unread")


@pytest.mark.parametrize(
    ("problem", "text", "standing"),
    [(PAIL, "Rx = 0", "kept"), (TRUNK, "Rx = 0", "unread"), (TRUNK, "Fx = 0", "remark")],
)
def test_a_component_of_the_reaction_that_is_nothing_is_judged(
    problem: str, text: str, standing: str
) -> None:
    question = SHELF.problems[problem].question("7")
    assert judge_page(question, [text]).lines[0].standing == standing
