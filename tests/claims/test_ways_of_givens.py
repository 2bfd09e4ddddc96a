"""A given that is said to turn the other way is no given, however right its number is."""

from __future__ import annotations

import pytest
from leverstep.claims.judged_line import JudgedLine, LineStanding
from leverstep.claims.page_of_claims import judge_page
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()


def line_of(problem: str, seed: str, text: str) -> JudgedLine:
    return judge_page(SHELF.problems[problem].question(seed), [text]).lines[0]


@pytest.mark.parametrize(
    ("problem", "seed", "text", "key"),
    [
        ("knee-spring-hinge", "50", "C_h = 4.8 Nm cw", "M_h"),
        ("elbow-stiff-brace", "23", "C_b = 3.4 Nm acw", "M_b"),
        ("elbow-stiff-brace", "23", "brace: 3.4 Nm anticlockwise", "M_b"),
    ],
)
def test_a_couple_that_is_said_to_turn_the_other_way_has_the_wrong_sign(
    problem: str, seed: str, text: str, key: str
) -> None:
    line = line_of(problem, seed, text)
    assert line.standing is LineStanding.WRONG
    assert [(claim.key, claim.sign) for claim in line.claims] == [(key, True)]


@pytest.mark.parametrize(
    ("problem", "seed", "text"),
    [
        ("knee-spring-hinge", "50", "C_h = 4.8 Nm acw"),
        ("elbow-stiff-brace", "23", "C_b = 3.4 Nm clockwise"),
        ("elbow-stiff-brace", "23", "C_b = 3.4 N m"),
    ],
)
def test_a_couple_in_its_own_sense_or_in_none_is_only_said_again(
    problem: str, seed: str, text: str
) -> None:
    assert line_of(problem, seed, text).standing is LineStanding.KEPT
