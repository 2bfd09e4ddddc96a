"""Workings of several postures: what is known of one goes into the next, and each is in balance."""

from __future__ import annotations

import pytest
from helpers.equilibrium import Plane
from leverstep.course.problem import Problem
from leverstep.course.shelf import load_shelf
from leverstep.statics import kinds
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

SHELF = load_shelf()
SEVERAL = [problem for problem in SHELF.problems.values() if problem.stages]
every_one = pytest.mark.parametrize("problem", SEVERAL, ids=lambda problem: problem.id)
JUG = SHELF.problems["elbow-level-then-lowered"]


def test_there_are_some() -> None:
    assert len(SEVERAL) >= 3


@every_one
def test_each_posture_is_in_balance_as_vectors_have_it(problem: Problem) -> None:
    """Forces, moments and reactions of each posture are those of an independent solver."""
    for seed in map(str, range(20)):
        question = problem.question(seed)
        assert not question.trouble
        right = question.right
        for view in question.views:
            plane = Plane.of(view)
            for symbol, (size, _) in plane.solved().items():
                assert right[symbol] == pytest.approx(size, rel=1e-9), (seed, symbol)
            reaction = right.get(view.key(kinds.REACTION_SIZE))
            if reaction is not None:
                assert reaction == pytest.approx(plane.reaction(), rel=1e-9)


@every_one
def test_lines_bear_the_mark_of_their_posture(problem: Problem) -> None:
    """What is the same in both has one line; all else has a line in each, with its mark."""
    derivation = problem.question("7").derivation
    keys = [step.key for step in derivation.steps]
    assert len(keys) == len(set(keys))
    assert {step.mark for step in derivation.steps} == {"1", "2"}
    for step in derivation.steps:
        if step.kind.key:
            assert step.key == step.kind.key + step.mark
    for force in problem.postures[1].loads:
        assert keys.count(force.symbol) == 1


def test_a_slip_in_the_first_posture_follows_into_the_second() -> None:
    """A weight that is wrong once is wrong in both, and all that rests on it follows."""
    question = JUG.question("3")
    working = Working(question, guidance=Guidance.LINES)
    right = question.right
    assert working.enter("W_l", f"{right['W_l'] / 9.81:.4g} N").outcome is Outcome.WRONG
    for key in ("M_l1", "F_h", "M_l2", "F_d"):
        unit = question.derivation.step(key).unit
        entry = f"{right[key] / 9.81:.4g} {unit}"
        assert working.enter(key, entry).outcome is Outcome.FOLLOWED, key


def test_a_line_is_judged_by_its_own_posture() -> None:
    """The other posture's equation and direction are not those of the line that is asked for."""
    working = Working(JUG.question("3"), guidance=Guidance.LINES)
    first, second = "W_l*d_l = F_h*d_m", "W_l*r_l2 = F_d*r_d2"
    assert working.enter("equation1", first).outcome is Outcome.RIGHT
    assert working.enter("equation2", first).outcome is not Outcome.RIGHT
    assert working.enter("equation2", second).outcome is Outcome.RIGHT
    assert working.enter("class2", "third").outcome is Outcome.RIGHT


def test_an_answer_in_words_may_say_of_which_posture_it_is() -> None:
    working = Working(SHELF.problems["lumbar-near-and-far"].question("3"), guidance=Guidance.BLANK)
    assert working.write("direction 2: up").step == "R_dir2"
    assert working.write("direction 1 = up").step == "R_dir1"


def test_moments_of_both_are_told_apart_on_a_blank_sheet() -> None:
    question = JUG.question("3")
    working = Working(question, guidance=Guidance.BLANK)
    for key in ("M_l2", "M_l1", "F_d"):
        verdict = working.write(
            f"{key} = {question.right[key]:.4g} {question.derivation.step(key).unit}"
        )
        assert (verdict.step, verdict.outcome) == (key, Outcome.RIGHT)
    symbols = "W_l*cos(beta)*d_l = F_d*r_d2"
    assert working.write(symbols).step == "equation2"
