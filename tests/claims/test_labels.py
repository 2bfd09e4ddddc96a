"""What words and symbols before a value say of what it is."""

from __future__ import annotations

import pytest
from leverstep.claims.labels import label_of, sorts_named
from leverstep.claims.subject import Subject
from leverstep.course.shelf import load_shelf

PAIL = Subject(load_shelf().problems["elbow-full-pail"].question("7"))


def likeliest(words: str, symbol: str = "") -> str:
    label = label_of(words, symbol)
    return max(PAIL.all.values(), key=lambda quantity: PAIL.names.fit(label, quantity)).key


@pytest.mark.parametrize(
    ("words", "sorts"),
    [
        ("moment of the weight", {"moment"}),
        ("weight", {"weight"}),
        ("weight force", {"weight"}),
        ("centre of mass", {"distance"}),
        ("lever arm of the weight", {"arm"}),
        ("weight of the arm", {"weight"}),
        ("angle of the force", {"angle"}),
        ("then", set()),
    ],
)
def test_the_most_telling_sort_is_named(words: str, sorts: set[str]) -> None:
    assert sorts_named(label_of(words).words, arm_is_limb=False) == sorts


def test_a_part_of_the_body_is_no_lever_arm() -> None:
    assert "arm" not in sorts_named(label_of("arm").words, arm_is_limb=True)
    assert "arm" in sorts_named(label_of("arm").words, arm_is_limb=False)


@pytest.mark.parametrize(
    ("words", "symbol", "key"),
    [
        ("weight of the pail", "", "W_l"),
        ("weight of the forearm", "", "W_f"),
        ("moment of the pail", "", "M_l"),
        ("mass of the pail", "", "m_l"),
        ("pull of the muscle", "", "F_m"),
        ("mechanical advantage", "", "MA"),
        ("", "Mpail", "M_l"),
        ("", "F", "F_m"),
        ("", "AR", "AR"),
    ],
)
def test_a_label_fits_what_it_names_best(words: str, symbol: str, key: str) -> None:
    assert likeliest(words, symbol) == key


@pytest.mark.parametrize(
    ("symbol", "key"),
    [("W_f", "W_f"), ("Wf", "W_f"), ("wf", ""), ("W", ""), ("MA", "MA"), ("", ""), ("T", "")],
)
def test_the_symbols_of_a_problem_are_known(symbol: str, key: str) -> None:
    assert PAIL.names.key_of(symbol) == key


def test_directions_are_told_by_words() -> None:
    assert label_of("the joint pushes down").sense == {"y": -1}
    assert label_of("turns anti-clockwise").sense == {"turn": 1}
    assert label_of("up and down").sense == {}
