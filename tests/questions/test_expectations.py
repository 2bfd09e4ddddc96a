"""What a student is asked to expect: each right answer is that of vectors alone."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from helpers.bodies import Body
from helpers.drills import SHELF
from helpers.equilibrium import Plane
from helpers.problem_texts import read_text
from leverstep.course.problem import Question
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.expectations import MOST, expectations
from leverstep.statics.kinds import NET_MOMENT, SUM
from leverstep.statics.posture import Find

SEEDS = ("1", "2", "3")
PAIL = SHELF.problems["elbow-full-pail"].question("7")


def sense(turns: float) -> str:
    if abs(turns) < 1e-9:
        return "none"
    return "ccw" if turns > 0 else "cw"


def at(question: Question, one: ChoiceQuestion) -> Question:
    """Return the question as the posture is looked at that is asked about."""
    is_later = one.asks.startswith("Then the ")
    return question.views[-1] if is_later else question.views[0]


def reaction(view: Question) -> complex:
    """Return the force that balances all others, to the right and up."""
    plane, posture = Plane.of(view), view.problem.posture
    sizes = {symbol: size for symbol, (size, _) in plane.solved().items()}
    pulls = [sizes[one.symbol] * complex(*plane.unit(one)) for one in posture.forces]
    way = 1 if posture.find is Find.RESULTANT else -1
    return way * sum(pulls)


def part(value: float, one_of: float, names: tuple[str, str]) -> str:
    if abs(value) < 1e-9 * one_of:
        return "none"
    return names[0] if value > 0 else names[1]


def check_turns(view: Question, one: ChoiceQuestion) -> None:
    posture, plane = view.problem.posture, Plane.of(view)
    symbol = one.key.removeprefix("turns:").removesuffix(posture.mark)
    if symbol == "sum":  # a chain's forces are handed on: only their signs are looked at here
        key = view.key(NET_MOMENT if posture.find is Find.NET_MOMENT else SUM)
        turned = view.right[key] * posture.positive
        if not view.problem.stages:
            turned = sum(moment for _, moment in plane.solved().values()) + plane.turned()
            turned *= -1 if posture.find is Find.NET_MOMENT else 1
        assert one.right == {sense(turned)}
        return
    couples = {couple.symbol: couple.turns for couple in posture.couples}
    if symbol in couples:
        turned = couples[symbol]
    elif posture.force(symbol).at.sought:
        turned = plane.solved()[symbol][1]
    else:
        turned = plane.lever(posture.force(symbol))
    assert one.right == {sense(turned)}


def check_size(view: Question, one: ChoiceQuestion) -> None:
    posture = view.problem.posture
    if posture.find is Find.TWO_FORCES:
        first, second = posture.unknown
        sizes = {symbol: size for symbol, (size, _) in Plane.of(view).solved().items()}
        larger = first if sizes[first.symbol] > sizes[second.symbol] else second
        assert one.right & {larger.symbol, "alike"}
        return
    found = posture.balancing
    assert found is not None
    values = view.right if view.problem.stages else {}
    sizes = {symbol: size for symbol, (size, _) in Plane.of(view).solved().items()} | dict(values)
    ratio = sizes[found.symbol] / sum(sizes[force.symbol] for force in posture.known_turning)
    decades = (place / 2 - 1 for place in range(len(one.answers)))
    off = {
        answer.key: abs(math.log10(ratio) - decade)
        for answer, decade in zip(one.answers, decades, strict=True)
    }
    nearest = min(off.values())
    assert {key for key in off if off[key] < nearest + 1e-9} <= one.right
    assert all(off[key] <= max(0.32, nearest) for key in one.right)


def check_place(view: Question, one: ChoiceQuestion) -> None:
    found = view.problem.posture.balancing
    assert found is not None
    solved = Plane.of(view).solved()
    arms = {symbol: abs(moment) / size for symbol, (size, moment) in solved.items()}
    against = {s: m for s, (_, m) in solved.items() if m * solved[found.symbol][1] < 0}
    largest = max(against, key=lambda symbol: abs(against[symbol]))
    assert f"({largest})" in one.asks
    ratio = arms[found.symbol] / arms[largest]
    assert ("nearer" if ratio < 1 else "farther") in one.right or abs(ratio - 1) < 0.05


def check_reaction(view: Question, one: ChoiceQuestion) -> None:
    if view.problem.stages:
        return  # what is handed on is looked at by tests of the derivation
    whole = reaction(view)
    if "across" in one.key:
        expected = part(whole.real, abs(whole), ("right", "left"))
    else:
        expected = part(whole.imag, abs(whole), ("up", "down"))
    assert one.right == {expected}


def check_centre(view: Question, one: ChoiceQuestion) -> None:
    posture = view.problem.posture
    body = Body(posture, view.numbers)
    x, y = body.centre()
    match one.key:
        case "centre:x_c":
            expected = part(x, 1.0, ("right", "left"))
        case "centre:y_c":
            expected = part(y, 1.0, ("above", "below"))
        case _:
            assert posture.support is not None
            left, right = (body.metres(edge) for edge in posture.support.distances)
            expected = "inside" if left <= x <= right else "outside"
    assert one.right == {"level" if expected == "none" else expected}


CHECKS = {
    QuestionSort.TURNS: check_turns,
    QuestionSort.SIZE: check_size,
    QuestionSort.PLACE: check_place,
    QuestionSort.REACTION: check_reaction,
    QuestionSort.CENTRE: check_centre,
}


@pytest.mark.parametrize("name", [card.id for card in SHELF.offered])
def test_what_is_right_to_expect_is_so_by_vectors(name: str) -> None:
    for seed in SEEDS:
        question = SHELF.problems[name].question(seed)
        asked = expectations(question)
        assert 0 < len(asked) <= MOST
        assert len({one.key for one in asked}) == len(asked)
        for one in asked:
            keys = [answer.key for answer in one.answers]
            assert one.right
            assert one.right < set(keys)
            assert len(set(keys)) == len(keys) <= 7
            assert one.asks.endswith("?")
            assert one.about[0].isupper()
            CHECKS[one.sort](at(question, one), one)


def test_every_sort_of_question_is_asked_of_some_problem() -> None:
    asked = [one for card in SHELF.offered for one in expectations(question_of(card.id))]
    assert {one.sort for one in asked} == CHECKS.keys()
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
    assert len(asked) == MOST


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
