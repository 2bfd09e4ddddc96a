"""What a student is asked to expect: each right answer is that of vectors alone."""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers.drills import SHELF
from helpers.predictions import decades_off, predicted, ratio_to_loads, view_of
from helpers.problem_texts import read_text
from leverstep.course.problem import Question
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.expectations import expectations

SEEDS = ("1", "2", "3")
MOST = 6
"""So many are asked of a problem that ships: ten seconds."""

PAIL = SHELF.problems["elbow-full-pail"].question("7")


EXPECTED_OF = {
    QuestionSort.TURNS,
    QuestionSort.SIZE,
    QuestionSort.PLACE,
    QuestionSort.REACTION,
    QuestionSort.CENTRE,
}


def check_size(question: Question, one: ChoiceQuestion) -> None:
    """Answers that are right lie no farther from the truth than the border between two."""
    ratio = ratio_to_loads(view_of(question, one))
    if ratio is not None:
        off = decades_off(one, ratio)
        nearest = min(off.values())
        assert all(off[key] <= max(0.32, nearest) for key in one.right)


@pytest.mark.parametrize("name", [card.id for card in SHELF.offered])
def test_what_is_right_to_expect_is_so_by_vectors(name: str) -> None:
    for seed in SEEDS:
        question = SHELF.problems[name].question(seed)
        asked = expectations(question)
        assert 0 < len(asked) <= MOST
        posture = question.views[0].problem.posture
        turning = [f.symbol for f in posture.forces if posture.has_moments and not f.is_handed_on]
        assert {f"turns:{symbol}{posture.mark}" for symbol in turning} <= {o.key for o in asked}
        assert len({one.key for one in asked}) == len(asked)
        for one in asked:
            keys = [answer.key for answer in one.answers]
            assert one.right
            assert one.right < set(keys)
            assert len(set(keys)) == len(keys) <= 7
            assert one.asks.endswith("?")
            assert one.about[0].isupper()
            found = predicted(question, one)
            assert found or (question.problem.stages and one.sort is QuestionSort.REACTION)
            assert found <= one.right
            if one.sort is QuestionSort.SIZE:
                check_size(question, one)
            elif found:
                assert found == one.right


def test_every_sort_of_question_is_asked_of_some_problem() -> None:
    asked = [one for card in SHELF.offered for one in expectations(question_of(card.id))]
    assert {one.sort for one in asked} == EXPECTED_OF
    turns = [one.right for one in asked if one.sort is QuestionSort.TURNS]
    assert {key for right in turns for key in right} == {"ccw", "cw"}


def test_a_force_through_the_axis_turns_nothing_and_is_asked_about_first() -> None:
    seesaw = """
id = "stood-on"
title = "Stood on"
joint = "plain"
difficulty = 1
statement = "A box of {m_b} stands {d_b} right of the pivot, and {F_p} press on the pivot."
[segment]
name = "board"
axis = "pivot"
points = "right"
[effort]
symbol = "F_h"
name = "hand"
at = { symbol = "d_h", value = 1.2, unit = "m", beyond = true }
direction = "down"
[[load]]
symbol = "F_p"
name = "press"
force = { value = 100, unit = "N" }
at = "axis"
direction = "down"
[[load]]
symbol = "W_b"
name = "box"
mass = { value = 12, unit = "kg" }
at = { symbol = "d_b", value = 0.8, unit = "m" }
direction = "down"
"""
    asked = {one.key: one.right for one in expectations(read_text(seesaw).question("1"))}
    assert asked["turns:F_p"] == {"none"}
    assert asked["turns:W_b"] == {"cw"}
    assert asked["turns:F_h"] == {"ccw"}
    assert len(asked) == 5, "of each force, and of both results"


def question_of(name: str) -> Question:
    return SHELF.problems[name].question("1")


def test_what_is_asked_first_are_the_forces_then_what_is_found() -> None:
    asked = expectations(PAIL)
    assert [one.key for one in asked] == [
        "turns:W_f", "turns:W_l", "turns:F_m", "size:F_m", "reaction:up",
    ]  # fmt: skip
    assert "weight of the pail (W_l) turn the forearm about the elbow?" in asked[1].asks
    assert all(before.key != after.key for before, after in pairwise(asked))


def test_an_answer_is_told_beside_what_came_out() -> None:
    turns, *_, size, _ = expectations(PAIL)
    assert turns.came_out("cw") == (
        "The weight of the forearm and hand (W_f) turns the forearm: clockwise. You expected that."
    )
    assert turns.came_out("none").endswith("clockwise. You expected: not at all.")
    truth = size.came_out("30")
    assert "times as large. You expected: 30 times as large or more." in truth
    ratio = PAIL.right["F_m"] / (PAIL.right["W_f"] + PAIL.right["W_l"])
    assert f"{ratio:.2g} times" in truth


def test_near_the_border_of_two_sizes_both_are_right() -> None:
    both = [
        one.right
        for card in SHELF.offered
        for one in expectations(question_of(card.id))
        if one.key.startswith("size:") and len(one.right) == 2
    ]
    assert both
    near = {frozenset({"0.3", "1"}), frozenset({"1", "3"}), frozenset({"3", "10"})}
    assert set(both) <= near | {frozenset({"0.1", "0.3"}), frozenset({"10", "30"})}
