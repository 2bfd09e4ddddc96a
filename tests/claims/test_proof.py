"""What is asked for before a line is called wrong, and what is unread for the lack of it."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from helpers.source import TESTS
from helpers.variety import VARIED
from leverstep.claims.beside_the_working import is_aside
from leverstep.claims.judged_line import JudgedLine, LineStanding
from leverstep.claims.one_slip import values_with_one_slip
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.problem_file import read_problem
from leverstep.course.shelf import load_shelf
from leverstep.slips.hypotheses import hypotheses

PROBLEMS = TESTS / "problems"
SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"].question("7")
# W_f 16.19 N, W_l 48.94 N (11 lb), d_f 0.1739 m, d_l 0.350 m, d_m 0.046 m, M_f −2.815 N·m,
# M_l −17.13 N·m, F_m 433.6 N, MA 0.150, R_y −368.4 N
BOARD = SHELF.problems["plain-balance-board"].question("1")
LOWERED = SHELF.problems["elbow-full-teapot"].question("3")  # F_m 261.1 N, 46° to the bone


def last(*lines: str) -> JudgedLine:
    return judge_page(PAIL, lines).lines[-1]


@pytest.mark.parametrize(
    "text",
    [
        "the pail is 48.9/16.2 = 3.02 times heavier than the arm",
        "weight of pail is 75 % of all the weight",
        "W = 16.2 + 48.9 = 65.1 N",
        "load = 65.1 N",
        "with an empty hand F = 61.3 N",
        "muscle force for pail alone: 372 N",
        "372 N of it for the pail and 61 N for the arm",
        "if d_m was 5 cm F = 399 N",
        "pressure 433.5 / 2 = 217 N per tendon",
        "elbow: 48.9 + 16.2 = 65.1 down",
        "effort/load = 6.66",
        "R_y = 368.4",
        "R_y = 368.4 N (down is positive)",
        "F*4.6 = 1.65*17.4 + 4.99*35",
        "F * 4.6 = 203.4",
        "about the hand: F*30.4 - R*35 - 16.2*17.6 = 0",
        "the forearm pushes up on the upper arm with 368 N",
        "F about 450 N",
        "g = 32.2 ft/s^2",
        "first I work out the pail, then the effort",
        "2 forces: effort and pail",
        "F_m = 450 N",
    ],
)
def test_what_may_be_right_in_another_way_is_not_called_wrong(text: str) -> None:
    assert last(text).standing is not LineStanding.WRONG


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("W_l = 11 * 9.81 = 107.9 N", "W_l"),  # pounds taken for kilograms
        ("weight of the pail 107.9 N", "W_l"),
        ("pail weight: 4.99 / 9.81 = 0.509 N", "W_l"),
        ("W_f = 16.5 * 9.81 = 161.9 N", "W_f"),  # a power of ten
        ("d_f = (1 - 0.682) * 25.5 = 8.11 cm", "d_f"),  # from the other end
        ("M_l = 48.9 * 0.174 = 8.51 N m", "M_l"),  # the arm of another force
        ("total moment = 17.13 - 2.82 = 14.31 N m", "M_sum"),  # one sign
        ("F * 0.046 = 17.13 - 2.82", "F_m"),
        ("R_y = 368.4 N up", "R_y"),
        ("MA = 433.6 / 65.1 = 6.66", "MA"),  # upside down
        ("F_m = -433.6 N", "F_m"),
        ("it is a first class lever", "class"),
        ("reaction: up", "R_dir"),
        ("F_m = 700 N", "F_m"),  # no slip, but laid under its own symbol
        ("pail 11 * 2.205 = 24.3 kg", "m_l"),  # a mass that no line is for
        ("moment of the pail = 48.9 * 9.81 * 0.35 = 168 N m", "M_l"),  # gravity once more
        ("force at the elbow = 433.6 - 48.9 = 384.7 N down", "R_y"),  # the forearm left out
        ("M_l = 48.94 * 0.046 = 2.25", "M_l"),  # a force in newtons is in no masses
        ("the pail adds 48.9 * 0.174 = 8.51 N m", "M_l"),
    ],
)
def test_a_slip_under_a_name_is_called_wrong(text: str, key: str) -> None:
    line = last(text)
    assert (line.standing, line.about) == (LineStanding.WRONG, (key,))


def test_what_seems_wrong_without_proof_is_unread_and_what_rests_on_it_follows() -> None:
    odd, follows = judge_page(
        PAIL, ["pail 48.9 + 30 = 78.9 N", "moment of the pail 78.9 * 0.35 = 27.6 N m"]
    ).lines
    assert odd.standing is LineStanding.UNREAD
    assert odd.about == ()
    assert follows.standing is LineStanding.FOLLOWS


@pytest.mark.parametrize(
    ("text", "standing"),
    [
        ("Fx = 261.1 cos 46 = 181.4 N", LineStanding.UNREAD),  # along the bone
        ("Fy = 261.1 cos 69 = 93.57 N", LineStanding.WRONG),  # cosine for sine
    ],
)
def test_a_component_along_an_axis_of_its_own_is_not_wrong(
    text: str, standing: LineStanding
) -> None:
    page = judge_page(LOWERED, ["F = 261.1 N", text])
    assert page.lines[-1].standing is standing


def test_a_symbol_for_several_forces_is_of_the_one_that_is_named() -> None:
    arm, pail, moment = judge_page(
        PAIL,
        [
            "forearm Fg = 1.65 * 9.81 = 16.19 N",
            "pail Fg = 11 * 9.81 = 107.9 N",
            "moment of the pail = 107.9 * 0.35 = 37.8 N m",
        ],
    ).lines
    assert (arm.standing, arm.about) == (LineStanding.RIGHT, ("W_f",))
    assert (pail.standing, pail.about) == (LineStanding.WRONG, ("W_l",))
    assert (moment.standing, moment.about) == (LineStanding.FOLLOWS, ("M_l",))


def test_a_component_is_not_that_of_the_other_axis_for_its_value() -> None:
    """Sine stands for cosine: the number is the vertical component, which is not what is said."""
    right, wrong = LOWERED.right, "horizontal part of the muscle force"
    text = f"{wrong} = {right['F_m']:.4g} * 0.9 = {abs(right['F_my']):.4g} N"
    line = judge_page(LOWERED, [text]).lines[0]
    assert not line.standing.holds
    upright = judge_page(LOWERED, [text.replace("horizontal", "vertical")]).lines[0]
    assert upright.about == ("F_my",)


@pytest.mark.parametrize("said", ["the force soleus (138.7 N)", "force of soleus 31.17 lbf"])
def test_a_doubted_value_spoils_no_wrong_one_that_is_sure(said: str) -> None:
    """What two forces come to with a wrong value follows, whatever was said of that value since."""
    question = read_problem(PROBLEMS / "three-known-forces.toml").question("411")
    lines = ["F_o = 65.65 N", "the outer head has 191.7 N", said]  # F_s is 73 N
    wrong, doubted, both = judge_page(question, lines).lines
    assert [wrong.standing, doubted.standing] == [LineStanding.WRONG, LineStanding.UNREAD]
    assert (both.standing, both.about) == (LineStanding.FOLLOWS, ("F_o+F_s",))


def test_a_doubted_value_leads_to_no_proof() -> None:
    """It may be of something else, so that what follows from the others alone is not wrong."""
    question = read_problem(PROBLEMS / "three-known-forces.toml").question("411")
    lines = ["F_i = 44.2 N", "the outer head has 191.7 N", "the force soleus (124.3 N)"]
    assert judge_page(question, lines).lines[-1].standing is not LineStanding.WRONG


def test_a_mass_of_which_no_line_is_weighed_is_judged() -> None:
    question = SHELF.problems["hip-leg-raise"].question("2")
    line = judge_page(question, ["body mass = 12.3 * 4.5 = 55.4 kg"]).lines[0]
    assert not line.standing.holds


def test_an_unknown_beside_what_is_sought_as_a_number_is_something_else() -> None:
    question = SHELF.problems["elbow-level-then-lowered"].question("2")  # F_h 192.3 N, W_l 27.47 N
    lines = ["M_l1 = -11.85 N·m", "263.4 * 4.500 - 31.50Q = 0"]  # the load from what follows
    wrong, turned = judge_page(question, lines).lines
    assert wrong.standing is LineStanding.WRONG
    assert turned.standing is not LineStanding.WRONG


def test_components_that_are_added_are_no_reaction() -> None:
    right = LOWERED.right
    across, upward = abs(right["R_x"]), abs(right["R_y"])
    added = f"R = {across:.4g} + {upward:.4g} = {across + upward:.4g} N"
    parts = [f"R_x = {right['R_x']:.4g} N", f"R_y = {right['R_y']:.4g} N"]
    assert judge_page(LOWERED, [*parts, added]).lines[-1].standing is LineStanding.WRONG


def test_the_product_in_a_row_of_a_table_is_called_wrong_under_a_heading() -> None:
    heading, row = judge_page(
        PAIL, ["force | N | arm m | moment", "pail | 48.94 | 0.174 | 8.52"]
    ).lines
    assert heading.standing is LineStanding.REMARK
    assert row.standing is LineStanding.WRONG
    assert "M_l" in row.about


@pytest.mark.parametrize("name", VARIED)
def test_every_slip_of_the_catalogue_is_among_what_one_slip_gives(name: str) -> None:
    question = SHELF.problems[name].question("1")
    graph, there = question.graph, 0
    for slip in hypotheses(question.derivation, CATALOGUE):
        if not question.derivation.step(slip.step).kind.is_number:
            continue
        values = values_with_one_slip(question, slip.step, {}, is_whole=True)
        try:
            value = graph.probe(slip.step, question.numbers, {}).at(slip.changes)
            value *= question.derivation.step(slip.step).unit_size
        except ArithmeticError:
            continue
        there += 1
        assert any(value == pytest.approx(one) for one in values), slip
    assert there > 0


# ---- what is true of more than one quantity


@pytest.mark.parametrize(
    "text",
    [
        "the muscle pulls 8.9 x as hard as the pail",
        "the pail is about 3 times the weight of the forearm",
        "11 lb = 4.99 kg = 48.9 N",
        "muscle: F * 0.046",
        "F * 0.5 * 0.092 = F * 0.046",
    ],
)
def test_what_is_said_beside_the_lines_is_kept(text: str) -> None:
    assert last(text).standing.holds


@pytest.mark.parametrize(
    "text", ["the muscle pulls 7 x as hard as the pail", "muscle: F * 0.613", "all times 2"]
)
def test_what_is_not_seen_to_be_true_is_not_kept(text: str) -> None:
    assert last(text).standing in (LineStanding.UNREAD, LineStanding.REMARK)


def test_an_equation_may_be_in_masses_with_any_letter_for_what_is_sought() -> None:
    numbers = BOARD.numbers
    text = (
        f"{numbers['given_d_l']:g} x = {numbers['given_d_c']:g} * {numbers['m_c']:g}"
        f" + {numbers['given_d_p']:g} * {numbers['m_p']:g}"
    )
    (line,) = judge_page(BOARD, [text]).lines
    assert (line.standing, line.about) == (LineStanding.RIGHT, ("m_l",))


@pytest.mark.parametrize(
    ("text", "aside"),
    [
        ("that is 25 % more", True),
        ("scale : triceps = 15.6 : 1", True),
        ("6.1% of 67 kg = 4.09 kg", False),
        ("(down is +)", True),
        ("F = 2298 N ???", True),
        ("F = 433 N up", False),
    ],
)
def test_a_line_beside_the_working_is_told_by_its_words(text: str, aside: bool) -> None:
    assert is_aside(text) is aside
