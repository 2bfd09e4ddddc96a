"""A slip is found by the three figures that are asked for, as it is by more."""

from __future__ import annotations

import random

import pytest
from helpers.material import CATALOGUE
from helpers.sweeps import seeds
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.slips.hypotheses import usable
from leverstep.slips.telling import tell
from leverstep.statics import kinds
from leverstep.statics.step import Step
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import quantity

PROBLEMS = load_shelf([shipped("problems")]).problems


def test_slips_before_a_moment_are_found_with_three_figures() -> None:
    """Of the commoner slips on lines that are not written nearly all are at least asked about."""
    found = tried = 0
    for problem in PROBLEMS.values():
        question = problem.question("1")
        for step in question.derivation.asked:
            if step.kind not in (kinds.NET_MOMENT, kinds.SUM, kinds.EFFORT):
                continue
            slips, _ = usable(question.derivation, CATALOGUE, step.key, frozenset())
            probe = question.graph.probe(step.key, question.numbers, {})
            common = [one for one in slips if one.step != step.key and one.slip.often > 1]
            for one in random.Random(problem.id).sample(common, min(4, len(common))):
                text = quantity(probe.at(one.changes), step.unit, 3).replace("−", "-")
                verdict = Working(question).enter(step.key, text)
                if verdict.outcome is Outcome.WRONG:
                    tried += 1
                    found += bool(explained(verdict, CATALOGUE).explanations)
    assert tried > 150
    assert found >= 0.9 * tried


@pytest.mark.parametrize("text", ["-16.5 N·m", "-16.53 N·m"])
def test_three_figures_of_a_net_moment_name_the_slip_that_four_do(text: str) -> None:
    """The slip was made on a line before it, where an angle was taken in radians."""
    question = PROBLEMS["ankle-then-knee"].question("a1")
    working = Working(question)
    verdict = working.enter("M_net1", text)
    assert verdict.outcome is Outcome.WRONG
    told = tell(working, verdict, CATALOGUE)
    assert "degrees taken as radians, on the line F_gx1" in told


def test_of_every_net_moment_three_figures_find_what_four_find() -> None:
    """Nearly always the same slips on the same lines, of the commoner ones."""
    same = tried = 0
    for problem in PROBLEMS.values():
        question = problem.question("1")
        for step in question.derivation.asked:
            if step.kind is not kinds.NET_MOMENT:
                continue
            slips, _ = usable(question.derivation, CATALOGUE, step.key, frozenset())
            probe = question.graph.probe(step.key, question.numbers, {})
            common = [one for one in slips if one.slip.often > 1]
            for one in random.Random(problem.id).sample(common, min(20, len(common))):
                four, three = (
                    _found(question, step, probe.at(one.changes), figures) for figures in (4, 3)
                )
                tried += bool(four)
                same += bool(four) and four <= three
    assert tried > 150
    assert same >= 0.9 * tried


def _found(question: Question, step: Step, value: float, figures: int) -> set[tuple[str, str]]:
    """Return each slip that is found behind a value of so many figures, with its line."""
    text = quantity(value, step.unit, figures).replace("−", "-")
    explanations = explained(Working(question).enter(step.key, text), CATALOGUE).explanations
    return {(one.slip, one.step) for told in explanations for one in told.findings}


def test_random_numbers_of_three_figures_are_told_no_slip() -> None:
    """Few are asked about, and hardly any is told as a slip."""
    chance, told, asked, tried = random.Random(4), 0, 0, 0
    for problem in PROBLEMS.values():
        question = problem.question("1")
        for step in question.derivation.asked:
            if step.kind not in (kinds.NET_MOMENT, kinds.SUM, kinds.EFFORT):
                continue
            for _ in seeds(3):
                value = question.right[step.key] * 20 ** chance.uniform(-1, 1)
                text = quantity(value * chance.choice((1, -1)), step.unit, 3).replace("−", "-")
                verdict = Working(question).enter(step.key, text)
                explanations = explained(verdict, CATALOGUE).explanations
                tried += 1
                told += bool(explanations) and explanations[0].sure
                asked += bool(explanations) and not explanations[0].sure
    assert told <= 0.02 * tried
    assert asked <= 0.1 * tried
