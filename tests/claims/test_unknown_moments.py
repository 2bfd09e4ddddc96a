"""Which quantity an unknown of an equation is: what balances the rest, with its own sign."""

from __future__ import annotations

import pytest
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()


@pytest.mark.parametrize(
    ("problem", "seed", "lines", "key"),
    [
        ("wrist-then-elbow", "11", ("0 = M_w - 0,225 - 4,415", "M_w = 4,64 N·m ccw"), "M_net1"),
        ("wrist-then-elbow", "11", ("M_w = 0,225 + 4,415", "M_w = 4,64 N·m ccw"), "M_net1"),
        ("shoulder-band-turn", "5", ("0 = M_sh - 64,8*0,34", "M_sh = 22,03 N·m ccw"), "M_net"),
        (
            "ankle-standing-lean-moment",
            "5",
            ("0 = M_a + 42,53 - 0,756", "M_a = 41,8 N·m cw"),
            "M_net",
        ),
    ],
)
def test_an_unknown_moment_is_the_net_moment(
    problem: str, seed: str, lines: tuple[str, ...], key: str
) -> None:
    page = judge_page(SHELF.problems[problem].question(seed), lines)
    assert [line.standing for line in page.lines] == [LineStanding.RIGHT] * len(lines)
    assert page.lines[-1].claims[0].key == key


@pytest.mark.parametrize("problem", ["hip-stick-in-hand", "elbow-bag-over-forearm"])
def test_a_component_has_the_sign_that_its_equation_gives_it(problem: str) -> None:
    question = SHELF.problems[problem].question("23")
    size = f"{abs(question.right['R_x']):.4g}"
    right, other = ("-", "+") if question.right["R_x"] > 0 else ("+", "-")
    for sign, standing in ((right, LineStanding.RIGHT), (other, LineStanding.UNREAD)):
        (line,) = judge_page(question, [f"0 = R_x {sign} {size}"]).lines
        assert line.standing is standing, sign


def test_a_force_along_an_axis_is_no_vector_and_a_size_at_once() -> None:
    """Both of two equations that contradict each other can't be right."""
    question = SHELF.problems["wrist-flat-tray"].question("7")  # R_x is F_m, 86.19 N
    lines = ("F_m = 86,19 N", "R_x + F_m = 0", "0 = R_x - F_m")
    standings = [line.standing for line in judge_page(question, lines).lines]
    assert standings[2] is LineStanding.RIGHT
    assert standings[1] is not LineStanding.RIGHT


@pytest.mark.parametrize(
    ("problem", "text"),
    [
        ("plain-door-push", "hinge force: arm 0 m, moment 0 N·m"),
        ("ankle-then-knee", "shank force at ankle: arm 0 m, moment 0 N·m"),
    ],
)
def test_nothing_without_a_symbol_is_no_wrong_value_that_others_follow(
    problem: str, text: str
) -> None:
    (line,) = judge_page(SHELF.problems[problem].question("23"), [text]).lines
    assert line.standing is LineStanding.UNREAD
    assert [claim.key for claim in line.claims if claim.key] == []


def test_a_guess_of_two_unknowns_gives_a_symbol_no_meaning() -> None:
    question = SHELF.problems["elbow-two-flexors"].question("3")
    page = judge_page(question, ["F_m = 5.4/11.6 * F", "F = 311 N"])
    assert [claim.key for claim in page.lines[1].claims if claim.standing.holds] == [""]
