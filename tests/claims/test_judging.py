"""A number or an equation laid beside what the problem has: units, signs, and what follows."""

from __future__ import annotations

import pytest
from leverstep.claims.judged_line import Claim, LineStanding, whole
from leverstep.claims.labels import label_of
from leverstep.claims.matching import Match, Stated
from leverstep.claims.page_of_claims import Page, judge_page
from leverstep.claims.subject import Subject
from leverstep.claims.worth import Side
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import Number
from leverstep.statics.units import FORCE, MASS, MOMENT, Dimension

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"].question("7")
SUBJECT = Subject(PAIL)
RIGHT = PAIL.right


def standings(*lines: str) -> list[LineStanding]:
    return [line.standing for line in judge_page(PAIL, lines).lines]


def number(value: float, dimension: Dimension | None = None, *units: str) -> Side:
    return Side(Number(value), value, value, dimension, units=units)


# ---- units


@pytest.mark.parametrize(
    ("value", "dimension", "how"),
    [
        (19.94, MOMENT, Match.YES),
        (19.94, None, Match.YES),
        (1994.4, None, Match.YES),
        (1994.4, MOMENT, Match.NO),
        (19.94, FORCE, Match.NO),
        (25.0, MOMENT, Match.NO),
    ],
)
def test_a_number_is_matched_in_every_unit_that_it_may_be_in(
    value: float, dimension: Dimension | None, how: Match
) -> None:
    stated = Stated(number(value, dimension), label_of("moment"))
    total = SUBJECT.all["M_sum"]
    assert SUBJECT.match(stated, total, abs(RIGHT["M_sum"])) is how


def test_a_mass_in_pounds_is_a_weight_in_pounds() -> None:
    weight = SUBJECT.all["W_l"]
    side = Side(Number(11.0), 11.0, 11.0 * 0.45359237, MASS, units=("lb",))
    assert SUBJECT.match(Stated(side, label_of("weight")), weight, RIGHT["W_l"]) is Match.YES
    kilograms = number(11.0 * 0.45359237, MASS, "kg")
    assert SUBJECT.match(Stated(kilograms, label_of("")), weight, RIGHT["W_l"]) is Match.NO


# ---- signs


@pytest.mark.parametrize(
    ("words", "value", "strict", "how"),
    [
        ("", 368.4, False, Match.YES),
        ("", 368.4, True, Match.SIGN),
        ("", -368.4, True, Match.YES),
        ("downward", 368.4, True, Match.YES),
        ("upward", 368.4, False, Match.SIGN),
    ],
)
def test_a_sign_is_asked_for_where_it_is_told(
    words: str, value: float, strict: bool, how: Match
) -> None:
    stated = Stated(number(value, FORCE), label_of(words), strict=strict)
    assert SUBJECT.match(stated, SUBJECT.all["R_y"], RIGHT["R_y"]) is how


def test_moments_are_counted_in_the_sense_that_a_page_names() -> None:
    turning = "M_l = +48.9 * 0.350 = +17.1 N m"
    assert standings("clockwise is positive", turning)[1] is LineStanding.RIGHT
    assert standings("anticlockwise is positive", turning)[1] is LineStanding.WRONG


def test_a_page_that_names_no_sense_keeps_to_that_of_its_first_moment() -> None:
    first, second = standings("M_f = +16.2 * 0.1739 = +2.82 N m", "M_l = -48.9 * 0.350 = -17.1 N m")
    assert first is LineStanding.RIGHT
    assert second is LineStanding.WRONG


# ---- what follows


def test_a_line_follows_from_an_earlier_wrong_number() -> None:
    wrong, follows, right = standings(
        "weight of the pail 11 * 9.81 = 107.9 N",
        "moment of the pail 107.9 * 0.350 = 37.8 N m",
        "weight of the forearm 1.65 * 9.81 = 16.2 N",
    )
    assert (wrong, follows, right) == (LineStanding.WRONG, LineStanding.FOLLOWS, LineStanding.RIGHT)


def test_what_does_not_follow_from_an_earlier_wrong_number_is_wrong() -> None:
    assert standings(
        "weight of the pail 11 * 9.81 = 107.9 N", "moment of the pail 107.9 / 0.350 = 308 N m"
    ) == [LineStanding.WRONG, LineStanding.WRONG]


def test_a_number_without_arithmetic_follows_from_the_own_values() -> None:
    lines = judge_page(PAIL, ["W_l = 107.9 N", "M_l = -37.8 N m"]).lines
    assert [line.standing for line in lines] == [LineStanding.WRONG, LineStanding.FOLLOWS]
    assert lines[1].about == ("M_l",)
    assert lines[1].claims[0].value == pytest.approx(-37.8)


def test_a_page_with_nothing_wrong_has_nothing_that_follows() -> None:
    assert LineStanding.FOLLOWS not in standings("W_l = 48.9 N", "W_f = 16.2 N", "M_l = -17.1 N m")


# ---- equations and words


@pytest.mark.parametrize(
    ("line", "standing"),
    [
        ("F * 0.046 = 16.2 * 0.1739 + 48.9 * 0.350", LineStanding.RIGHT),
        ("F * 0.046 = 16.2 * 0.1739 - 48.9 * 0.350", LineStanding.WRONG),
        ("it is a third class lever", LineStanding.RIGHT),
        ("it is a second class lever", LineStanding.WRONG),
        ("the joint pushes the forearm down", LineStanding.RIGHT),
        ("the joint pushes the forearm up", LineStanding.WRONG),
        ("ΣM = 0", LineStanding.REMARK),
        ("g = 9.81", LineStanding.KEPT),
        ("g = 8.91", LineStanding.WRONG),
        ("1 lb = 4.448 N", LineStanding.REMARK),
        ("now the moments about the elbow", LineStanding.REMARK),
        ("---", LineStanding.REMARK),
    ],
)
def test_a_line_is_judged_by_what_it_says(line: str, standing: LineStanding) -> None:
    assert standings(line) == [standing]


def test_a_symbol_stands_for_what_it_was_defined_as() -> None:
    page = Page(PAIL)
    page.write("B = weight of the pail")
    assert page.write("B = 48.9 N").about == ("W_l",)
    assert page.write("B * 0.35 = 17.1 N m").standing is LineStanding.RIGHT


def test_a_row_of_a_table_speaks_of_the_force_in_its_first_cell() -> None:
    (line,) = judge_page(PAIL, ["pail | 48.9 N | 0.350 m | 17.1 N m"]).lines
    assert line.standing is LineStanding.RIGHT
    assert "M_l" in line.about


def test_a_claim_tells_how_it_was_written() -> None:
    (claim,) = judge_page(PAIL, ["W_f = 1.65 * 9.81 = 16.19 N"]).lines[0].claims
    assert (claim.key, claim.figures, claim.sign, claim.is_equation) == ("W_f", 4, False, False)
    assert claim.value == pytest.approx(16.19)
    assert claim.slack == pytest.approx(0.005)
    assert claim.tree is not None


@pytest.mark.parametrize(
    ("standings_of_claims", "standing"),
    [
        ("right wrong", LineStanding.WRONG),
        ("right follows", LineStanding.FOLLOWS),
        ("kept right unread", LineStanding.RIGHT),
        ("unread remark", LineStanding.UNREAD),
        ("", LineStanding.REMARK),
    ],
)
def test_a_line_is_as_its_claims_are(standings_of_claims: str, standing: LineStanding) -> None:
    assert whole(Claim(LineStanding(one)) for one in standings_of_claims.split()) is standing


# ---- a component taken for the other one

JAW = SHELF.problems["jaw-front-teeth"].question("4")  # F_m 258.0 N at 66°: 104.9 N along, 235.7 N
ALONG = "F_mx = M cos 66 = 105 N"
ACROSS = "F_my = M sin 66 = 235.7 N"


@pytest.mark.parametrize(
    ("before", "standing"),
    [
        ([ALONG], LineStanding.FOLLOWS),
        ([ALONG, ACROSS], LineStanding.WRONG),
        ([], LineStanding.WRONG),
    ],
)
def test_a_component_alone_on_a_page_may_be_taken_for_the_other(
    before: list[str], standing: LineStanding
) -> None:
    first = ["M = muscle, B = bite", "M = 58 × 4.448 = 258 N"]
    page = judge_page(JAW, [*first, *before, "105 × 1.20 = B × 4.05"])
    assert page.lines[-1].standing is standing


# ---- what is left open, so that nobody is called wrong by a guess


@pytest.mark.parametrize(
    "text", ["the muscle is at 97 deg from horizontal", "it is 12 cm by force"]
)
def test_an_angle_or_a_length_among_words_is_wrong_only_under_its_name(text: str) -> None:
    assert standings(text)[0] in (LineStanding.UNREAD, LineStanding.REMARK)


def test_a_length_under_its_name_is_still_called_wrong() -> None:
    assert standings("the distance of the pail is 45 cm")[0] is LineStanding.WRONG


def test_a_force_written_with_a_minus_is_handed_on_as_a_size() -> None:
    page = judge_page(JAW, ["F_m = -158 N", "F_my = 158 sin 66 = 144.3 N"])
    assert [line.standing for line in page.lines] == [LineStanding.WRONG, LineStanding.FOLLOWS]


@pytest.mark.parametrize("text", ["F = 105 N", "R = 165.8 N"])
def test_a_symbol_without_an_axis_is_no_component(text: str) -> None:
    (line,) = judge_page(JAW, [text]).lines
    assert line.standing not in (LineStanding.RIGHT, LineStanding.KEPT)


@pytest.mark.parametrize("text", ["F up 235.7 N", "F_y = 235.7 N", "vertical part of F = 235.7 N"])
def test_a_component_is_told_by_an_axis_or_by_words(text: str) -> None:
    (line,) = judge_page(JAW, ["F = 258 N", text]).lines[1:]
    assert line.standing in (LineStanding.RIGHT, LineStanding.KEPT)


def test_a_capital_before_a_function_is_a_symbol_not_a_word() -> None:
    (line,) = judge_page(JAW, ["so only A cos 19 = 0.946 A turns it"]).lines
    assert line.standing is LineStanding.KEPT


def test_a_weight_in_kilograms_is_not_called_right() -> None:
    """Its symbol says that it is a force; in pounds it may be one."""
    question = SHELF.problems["ankle-tiptoe-one-foot"].question("5")
    kilograms, pounds = judge_page(question, ["W_b = 61.7 kg", "W_b = 136 lb"]).lines
    assert not kilograms.standing.holds
    assert pounds.standing is LineStanding.RIGHT


@pytest.mark.parametrize(
    "text",
    ["93.5 W = 131 F", "F*1.31 = 0.935 W", "F = 0.714W", "W = mg = 90.0 x 9.81 N"],
)
def test_w_is_a_weight_where_no_line_is_in_watts(text: str) -> None:
    press_up = SHELF.problems["body-press-up"].question("43")
    assert Page(press_up).write(text).standing is LineStanding.RIGHT


def test_w_is_a_watt_where_a_line_is_in_watts() -> None:
    machine = SHELF.problems["knee-steady-machine"].question("1")
    power = next(step for step in machine.derivation.asked if step.unit == "W")
    text = f"{power.key} = {machine.right[power.key]:.4g} W"
    assert Page(machine).write(text).standing is LineStanding.RIGHT


# ---- conventions of the page


def test_a_first_comma_before_three_digits_is_read_as_the_number_that_the_problem_has() -> None:
    question = SHELF.problems["hip-leg-raise"].question("2")  # the leg's mass is 8.050 kg
    decimals, pointed = Page(question), Page(question)
    assert decimals.write("m_l = 8,050 kg").standing is LineStanding.RIGHT
    pointed.write("W = 1.5 N")
    assert not pointed.write("m_l = 8,050 kg").standing.holds, "points are its decimals"


@pytest.mark.parametrize(
    ("problem", "seed", "lines"),
    [
        ("hip-one-leg-stance", "135", ["F_m = 1,295 N"]),
        ("hip-one-leg-stance", "135", ["F_m = 1295 N", "R = 1,954 N"]),
        ("plain-crowbar", "211", ["R_y = 1,113 N", "W_l = 1,010 N", "R_y = 1,010 + 103 = 1,113 N"]),
    ],
)
def test_a_comma_before_three_digits_is_that_of_thousands_where_that_is_right(
    problem: str, seed: str, lines: list[str]
) -> None:
    page = judge_page(SHELF.problems[problem].question(seed), lines)
    assert {line.standing for line in page.lines} == {LineStanding.RIGHT}
    assert not page.comma


@pytest.mark.parametrize(
    "line",
    [
        "weight of the pail: 21/2.205*9.81 = 93,4 N",
        "W_l = 21/2.205*9.81 = 93,43 N",
        "d_l: 33.5/100 = 0,335 m",
    ],
)
def test_a_decimal_comma_before_a_unit_is_one_beside_decimal_points_too(line: str) -> None:
    question = SHELF.problems["elbow-pail-of-water"].question("7")
    page = judge_page(question, [line, "d_f = 0.682*24.6 cm"])
    assert [one.standing for one in page.lines] == [LineStanding.RIGHT] * 2


def test_a_comma_that_can_be_nothing_else_makes_all_of_the_page_decimals() -> None:
    question = SHELF.problems["hip-one-leg-stance"].question("135")  # F_m 1295 N
    page = judge_page(question, ["F_m = 1,295 N", "R = 1954,0 N"])
    assert [line.standing.holds for line in page.lines] == [False, True]
    assert page.comma


@pytest.mark.parametrize("first", ["M_sum = 30.07 N·m", "M_s = 8.573 N·m"])
def test_a_net_moment_is_counted_as_the_sum_before_it(first: str) -> None:
    """Who writes moments without a sign may count the other way; only a sum tells."""
    question = SHELF.problems["knee-net-moment"].question("1")  # M_sum −30.07, M_net 30.07 N·m
    page = Page(question)
    page.write(first)
    is_sum = first.startswith("M_sum")
    assert page.write("M_net = -30.07 N·m").standing.holds == is_sum
    alone = Page(question)
    assert not alone.write("M_net = -30.07 N·m").standing.holds


# ---- more than one posture, and forces that are named by where they are


def test_where_the_reaction_points_is_of_its_posture() -> None:
    question = SHELF.problems["lumbar-near-and-far"].question("101")  # F_n 438.7 N, R_y1 541.7 N
    page = judge_page(question, ["F_n = 400 N", "reaction 503 N up"])
    assert page.lines[-1].standing is LineStanding.FOLLOWS
    assert page.lines[-1].about == ("R_y1", "R_dir1")


def test_the_name_of_the_next_force_is_no_direction_of_the_one_before() -> None:
    question = SHELF.problems["plain-lamp-two-cords"].question("103")
    line = judge_page(question, ["force of right cord 45.30 N, force left cord 29.87 N"]).lines[0]
    assert (line.standing, line.about) == (LineStanding.RIGHT, ("T_r", "T_l"))


@pytest.mark.parametrize(
    ("problem", "lines", "keys"),
    [
        ("elbow-how-much", ("F_x = 81.9 N", "F_y = 212.6 N"), ["F_mx", "R_y"]),
        ("elbow-how-much", ("A_x = 81.9 N", "A_y = 212.6 N"), ["R_x", "R_y"]),
        ("knee-muddy-boot", ("shear = 80 N", "Fa = 304.5 N"), ["R_t", "R_a"]),
        ("knee-muddy-boot", ("F_axial = 304.5 N", "F_shear = 80 N"), ["R_a", "R_t"]),
        ("lumbar-flower-pot", ("F_c = 2464 N", "F_s = 354 N"), ["R_a", "R_t"]),
    ],
)
def test_both_parts_of_a_force_are_taken_in_own_letters(
    problem: str, lines: tuple[str, ...], keys: list[str]
) -> None:
    found = judge_page(SHELF.problems[problem].question("7"), lines).lines
    assert [line.standing for line in found] == [LineStanding.RIGHT] * len(lines)
    assert [line.claims[0].key for line in found] == keys


@pytest.mark.parametrize("label", ["", "y: ", "↑: ", "+↑: ", "vertical: ", "ΣFy = 0: "])
def test_a_label_before_an_equation_says_nothing_of_where_its_force_points(label: str) -> None:
    kettlebell = SHELF.problems["elbow-kettlebell"].question("8")
    *_, line = judge_page(
        kettlebell, ["F_m = 652.6 N", f"{label}R_y = 14.7 + 73.6 - 652.6 = -564.3 N"]
    ).lines
    assert (line.standing, line.about) == (LineStanding.RIGHT, ("R_y",))
