"""Problems that ship, laid beside what somebody got on paper from the statement alone."""

from __future__ import annotations

from types import SimpleNamespace

import helpers.paper_arms
import helpers.paper_legs
import helpers.paper_trunks  # noqa: F401  (each keeps its workings)
import pytest
from helpers.on_paper import ON_PAPER, POUND
from leverstep.course.problem import PLACEHOLDER, Question
from leverstep.course.shelf import load_shelf
from leverstep.statics import kinds
from scipy import constants as nist

SHELF = load_shelf()

EXACT = {"pounds_per_kilogram": 1 / POUND, "newtons_per_pound": nist.pound_force}
"""With g as the problem tells it."""


def told(question: Question) -> SimpleNamespace:
    """Return the numbers that stand in the statement, by the symbols that stand for them."""
    problem = question.problem
    symbols = set(PLACEHOLDER.findall(problem.statement))
    keys = {symbol: problem.placeholders[symbol].key for symbol in symbols}
    return SimpleNamespace(**{s: float(question.numbers[key]) for s, key in keys.items()})


def last_lines(question: Question) -> set[str]:
    """Return the lines that nothing else is worked out from, but for those about levers.

    What mechanical advantage is depends on the course (`tests/working/test_advantage.py`).
    """
    steps = question.derivation.steps
    used = {key for step in steps for key in step.uses}
    asked = {step.key for step in question.derivation.asked if step.kind.is_number}
    ratios = (kinds.ADVANTAGE, kinds.ARM_ADVANTAGE, kinds.ARM_RATIO)
    levers = {step.key for step in steps if step.kind in ratios}
    return asked - used - levers


@pytest.mark.parametrize("name", sorted(ON_PAPER))
def test_the_statement_alone_leads_to_the_same_answers(name: str) -> None:
    for seed in ("1", "2"):
        question = SHELF.problems[name].question(seed)
        found = ON_PAPER[name](told(question))
        values = question.graph.values(question.numbers, EXACT)
        assert found == pytest.approx({key: values[key] for key in found}, rel=1e-9)
        assert found.keys() >= last_lines(question)


def test_each_problem_that_is_offered_was_worked_on_paper() -> None:
    assert {card.id for card in SHELF.offered} == ON_PAPER.keys()
