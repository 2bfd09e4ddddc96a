"""Why a line of a page is wrong: the slips that are told of it."""

from __future__ import annotations

from functools import cache

import pytest
from helpers.labelled_pages import pages_of
from helpers.material import CATALOGUE
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.page_told import ToldLine, conventions, told_page

SHELF = load_shelf()
HELMET = SHELF.problems["neck-helmet"].question("1")
PAIL = SHELF.problems["elbow-full-pail"].question("7")
# W_f 16.19 N, W_l 48.94 N, d_f 17.39 cm, d_l 35 cm, M_f −2.815 N·m, M_l −17.13 N·m


def told(question: Question, *lines: str) -> list[ToldLine]:
    return list(told_page(judge_page(question, lines), CATALOGUE))


@cache
def told_of(name: str) -> tuple[tuple[str, ToldLine], ...]:
    """Return what is told of the lines of a set of pages, each with what a reader found of it."""
    return tuple(
        (found, lines[n - 1])
        for page in pages_of(name)
        for lines in [told(page.question, *page.texts)]
        for n, found in page.found.items()
    )


@pytest.mark.parametrize(
    ("name", "least", "of"),
    [
        ("first", 12, 16),
        ("second", 24, 25),
        ("third", 21, 21),
        ("fourth", 12, 12),
        ("fifth", 10, 10),
        ("sixth", 25, 28),
        ("ninth", 35, 48),
        ("tenth", 8, 13),
        ("eleventh", 10, 15),
        ("fourteenth", 10, 10),
        ("fifteenth", 23, 31),
    ],
)
def test_most_wrong_lines_are_told_their_slip(name: str, least: int, of: int) -> None:
    lines = [line for found, line in told_of(name) if found == "wrong"]
    assert len(lines) == of
    assert sum(bool(line.slips) for line in lines) >= least


@pytest.mark.parametrize("name", ["first", "fourth", "sixth", "ninth", "tenth"])
def test_a_right_line_that_is_not_understood_is_hardly_ever_asked_about_by_a_slip(
    name: str,
) -> None:
    """It is a question where it is, and costs nothing; where the number is worked out in a way of
    one's own it may be another line's with a slip.
    """
    right = [line for found, line in told_of(name) if found == "right"]
    asked = [line for line in right if line.slips]
    assert len(asked) <= max(1, 0.01 * len(right))
    assert all(line.told.startswith("Not judged: is this ") for line in asked)


def test_a_mass_that_no_line_is_for_is_told_as_its_weight() -> None:
    pounds = HELMET.numbers["m_h"]
    (line,) = told(HELMET, f"head {pounds:g} * 2.205 = {pounds * 2.205:.3g} kg")
    assert line.slips == ("conversion-upside-down",)
    assert line.told.startswith("W_h: ")


def test_a_component_with_the_other_sign_is_told_that() -> None:
    question = SHELF.problems["elbow-lowered-forearm"].question("7")
    (line,) = told_page(judge_page(question, ["R_x = -74.56 N"]), CATALOGUE)
    assert "it has the other sign" in line.told


def test_a_distance_that_looks_like_gravity_is_none() -> None:
    question = SHELF.problems["hip-one-leg-stance"].question("21")  # d_u is 9.8 cm
    page = judge_page(question, ["L = 708.7 N", "h = 6.16 cm", "A·h − L·9.8 = 0"])
    assert page.lines[-1].standing.holds
    assert not conventions(page)


def test_an_angle_on_the_other_side_of_the_horizontal_is_told_that() -> None:
    question = SHELF.problems["finger-hook-bucket"].question("14")
    angle = question.right["phi_R"]
    for way, is_right in (("below", False), ("above", True)):
        text = f"angle of R: {angle:.3g}° {way} the horizontal"
        (line,) = told_page(judge_page(question, [text]), CATALOGUE)
        assert ("which side of the horizontal" in line.told) is not is_right
        assert line.told.startswith("Right") is is_right


@pytest.mark.parametrize(
    ("text", "slip", "told"),
    [
        ("M_l = 84.94 * 0.35 = 29.7 N m", "digits-miscopied", "copy 48.94 as 84.94"),
        ("moment of pail = 48.94 * 9.81 * 0.35 = 168 N m", "force-times-gravity", "g used on"),
        ("48.94 x 17.39 = 851 N cm for the pail", "arm-of-another-force", "another force's arm"),
        ("moment of pail = 48.94 * 0.35 = 11.73 N m", "digits-miscopied", "copy 17.13 as 11.73"),
        ("2.815 - 17.13 = -14.3 N m", "sign-of-a-moment", "the sign of one moment"),
    ],
)
def test_what_arithmetic_shows_is_told_by_the_name_of_its_slip(
    text: str, slip: str, told: str
) -> None:
    lines = ["W_f = 16.19 N", "W_l = 48.94 N", "d_f = 17.39 cm", text]
    *_, line = told_page(judge_page(PAIL, lines), CATALOGUE)
    assert not line.line.standing.holds
    assert slip in line.slips
    assert told in line.told


def test_a_right_value_beside_one_with_a_digit_otherwise_does_not_let_the_line_pass() -> None:
    question = SHELF.problems["lumbar-leaning-trunk"].question("819")  # 0.355 and 0.081 of 78 kg
    (line,) = told(question, "m: trunk .335*78 = 26.1; head .081*78 = 6.32")
    assert not line.line.standing.holds
    assert line.slips == ("digits-miscopied",)


@pytest.mark.parametrize(
    ("line", "slip", "axis"),
    [
        ("T_l*cos({a}) + T_r*sin({b}) - {W} = 0", "sine-for-cosine", "vertical"),
        ("T_l*sin({a}) + T_r*sin({b}) + {W} = 0", "sign-in-the-balance", "vertical"),
        ("-T_l*cos({a}) + T_r*sin({b}) = 0", "sine-for-cosine", "horizontal"),
    ],
)
def test_a_slip_in_an_equation_of_both_sought_forces_is_told(
    line: str, slip: str, axis: str
) -> None:
    lamp = SHELF.problems["plain-lamp-two-cords"].question("7")
    numbers = {"a": lamp.numbers["alpha"], "b": lamp.numbers["beta"], "W": lamp.right["W_w"]}
    (found,) = told(lamp, line.format(**{key: f"{one:.4g}" for key, one in numbers.items()}))
    assert found.slips == (slip,)
    assert f"Taken as the equation of the {axis} components of all forces." in found.told
