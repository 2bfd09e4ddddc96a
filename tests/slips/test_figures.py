"""A slip is found by the three figures that are asked for, as it is by more."""

from __future__ import annotations

import random

from helpers.material import CATALOGUE
from helpers.sweeps import seeds
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.slips.explained import explained
from leverstep.slips.hypotheses import usable
from leverstep.statics import kinds
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
