"""Whether a result makes sense: the right answer, and each other one, by an independent solver."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from helpers.drills import SHELF
from helpers.equilibrium import Plane
from leverstep.course.problem import Question
from leverstep.explore.answers import answer_of
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.questions.sense_questions import MOST, sense_questions
from leverstep.statics.posture import Find

SEEDS = ("1", "2")
PAIL = SHELF.problems["elbow-full-pail"].question("7")
NEWTONS = re.compile(r"about ([\d.]+) N")
KILOGRAMS = {"kg": 1.0, "lb": 0.4536}
BY = {"halve": Fraction(1, 2), "double": Fraction(2)}


def newtons(text: str) -> float:
    found = NEWTONS.fullmatch(text)
    assert found is not None
    return float(found[1])


def hundred(view: Question) -> float:
    """Return how much of what is found there is for each 100 N of what it holds, by vectors."""
    posture, plane = view.problem.posture, Plane.of(view)
    solved = plane.solved()
    sizes = {symbol: size for symbol, (size, _) in solved.items()}
    if posture.find is Find.TWO_FORCES:
        found = max(sizes[force.symbol] for force in posture.unknown)
        return 100 * found / sum(sizes[f.symbol] for f in posture.forces if f.magnitude is not None)
    if not posture.has_moments:
        return 100 * plane.reaction() / sum(sizes.values())
    found = posture.balancing
    assert found is not None
    moments = {symbol: moment for symbol, (_, moment) in solved.items()}
    held = [
        f.symbol for f in posture.known_turning if moments[f.symbol] * moments[found.symbol] < 0
    ]
    return 100 * sizes[found.symbol] / sum(sizes[symbol] for symbol in held)


def check_hundred(question: Question, one: ChoiceQuestion) -> None:
    offered = {answer.key: newtons(answer.text) for answer in one.answers}
    assert one.right == {"right"}
    true = offered["right"]
    if not question.problem.stages:
        assert true == pytest.approx(hundred(question), rel=0.06)
    assert all(
        max(true / other, other / true) > 1.15 for key, other in offered.items() if key != "right"
    )
    if "upside-down" in offered:
        assert offered["upside-down"] == pytest.approx(10_000 / true, rel=0.11)
    if "equal" in offered:
        assert offered["equal"] == 100


def check_body(question: Question, one: ChoiceQuestion) -> None:
    """Hold how many times the weight of the body a force is against vectors, and each slip."""
    offered = {answer.key: float(answer.text.split()[1]) for answer in one.answers}
    true = offered["right"]
    view = question.views[-1]
    body, plane = view.problem.posture.body, Plane.of(view)
    if body is None:
        weight = sum(plane.size(f) for f in view.problem.posture.forces if f.own_weight)
    else:
        weight = float(view.exact[body.key]) * KILOGRAMS[body.unit] * 9.81
    size = result_of(view, one.key.removeprefix("body:"))
    assert size is not None
    assert true == pytest.approx(abs(size) / weight, rel=0.06)
    assert all(
        max(true / other, other / true) > 1.15 for key, other in offered.items() if key != "right"
    )
    if "upside-down" in offered:
        assert offered["upside-down"] == pytest.approx(1 / true, rel=0.11)
    if "mass" in offered:
        assert offered["mass"] == pytest.approx(9.81 * true, rel=0.11)


def result_of(question: Question, key: str) -> float | None:
    """Return a force of a posture by vectors; None where the result is none."""
    plane = Plane.of(question)
    solved = plane.solved()
    if key in solved:
        return solved[key][0]
    return plane.reaction() if key == "R" else None


def check_change(question: Question, one: ChoiceQuestion) -> bool:
    """Hold each answer against the solver where it has the result; return whether it has."""
    _, verb, key = one.key.split(":")
    if question.problem.stages or question.problem.posture.seeks_centre or verb == "make":
        return False
    before = result_of(question, key)
    if before is None or question.problem.posture.sought_angle is not None:
        return False
    for answer in one.answers:
        word, given = answer.key.split(":")
        moved = question.with_given(given, question.exact[given] * BY[word])
        after = result_of(moved, key)
        assert after is not None
        said = answer_of(after / before)
        assert said is not None
        assert (answer.key in one.right) is (str(said) == f"{verb}s"), answer
    return True


@pytest.mark.parametrize("name", [card.id for card in SHELF.offered])
def test_what_is_said_to_make_sense_does_so_by_vectors(name: str) -> None:
    for seed in SEEDS:
        question = SHELF.problems[name].question(seed)
        asked = sense_questions(question)
        assert len(asked) <= MOST
        assert len({one.key for one in asked}) == len(asked)
        for one in asked:
            assert 3 <= len(one.answers) <= 4
            assert len(one.right) == 1
            assert all(answer.told.endswith(".") for answer in one.answers)
            assert len({answer.text for answer in one.answers}) == len(one.answers)
            if one.sort is QuestionSort.HUNDRED:
                check_hundred(question, one)
            elif one.sort is QuestionSort.BODY:
                check_body(question, one)
            else:
                check_change(question, one)


def test_nearly_every_problem_has_two_and_most_changes_are_held_against_the_solver() -> None:
    questions = [SHELF.problems[card.id].question("1") for card in SHELF.offered]
    asked = [sense_questions(question) for question in questions]
    assert sum(len(each) == MOST for each in asked) > 0.85 * len(asked)
    changes = [
        (question, one)
        for question, each in zip(questions, asked, strict=True)
        for one in each
        if one.sort is QuestionSort.CHANGE
    ]
    assert sum(check_change(*one) for one in changes) > 0.5 * len(changes)


def test_of_a_force_it_is_asked_how_many_times_the_weight_of_the_body_it_is() -> None:
    pressed = SHELF.problems["hip-joint-pressure"]
    asked = [
        one
        for seed in map(str, range(1, 13))
        for one in sense_questions(pressed.question(seed))
        if one.sort in (QuestionSort.HUNDRED, QuestionSort.BODY)
    ]
    assert len(asked) == 12
    assert {one.asks for one in asked if one.sort is QuestionSort.BODY} == {
        "How many times the weight of the body is the force of the hip abductors (F_m)?"
    }, "the reaction as a multiple of it is a line of its own there"
    body = next(one for one in asked if one.sort is QuestionSort.BODY)
    assert body.told_of("right").startswith("Yes. The force of the hip abductors (F_m) is ")
    assert ", and the body weighs " in body.told_of("right")
    assert body.told_of("upside-down").startswith("Not quite. That is upside down")


def test_a_problem_without_the_body_never_asks_for_its_weight() -> None:
    asked = (sense_questions(PAIL.problem.question(seed)) for seed in map(str, range(1, 9)))
    assert QuestionSort.BODY not in {one.sort for each in asked for one in each}


def test_a_result_that_no_line_has_the_sign_of_is_told_by_its_name() -> None:
    force, reaction = sense_questions(SHELF.problems["neck-two-layers"].question("7"))
    assert force.asks.startswith("What would halve the force of the outer layer (F_m), with")
    assert reaction.asks == "What would halve the joint reaction, with all else as it is?"
    assert all(answer.told.startswith("With that, it ") for answer in reaction.answers)


def test_the_right_answer_lies_anywhere_and_always_there_for_the_same_numbers() -> None:
    places = set()
    for seed in map(str, range(1, 20)):
        first, again = (sense_questions(PAIL.problem.question(seed)) for _ in range(2))
        assert first == again
        places |= {
            (one.sort, [answer.key in one.right for answer in one.answers].index(True))
            for one in first
        }
    assert len(places) >= 7


def test_what_is_told_of_an_answer_says_why() -> None:
    each, change = sense_questions(PAIL)
    told = {key: each.told_of(key) for key in ("right", "equal", "upside-down", "alone")}
    assert told["right"].startswith(
        "Yes. The force of the elbow flexors (F_m) is 434 N for 65.1 N."
    )
    assert "A mechanical advantage of 0.15 means just that: more force than load." in told["right"]
    assert told["equal"].startswith("Not quite. In balance the moments are equal, not the forces")
    assert re.search(r"It is \d, about 670 N\.$", told["equal"])
    assert "upside down" in told["upside-down"]
    assert "W_l alone" in told["alone"]
    (right,) = change.right
    assert "(× 0.50)" in change.told_of(right)
    wrong = next(answer for answer in change.answers if answer.key != right)
    assert change.told_of(wrong.key).startswith("Not quite. With that, F_m goes from 434 N to ")
    assert change.told_of("nothing") == ""
