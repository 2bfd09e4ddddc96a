"""Lines that are right, though few would write them so: none of them is called wrong."""

from __future__ import annotations

import random

import pytest
from helpers.right_lines import RightLines, figures
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
PAGES = 6
"""Pages for each problem: with plain lines before or none, and with a wrong value or none."""
LINES = 4
AMISS = (9.81, 1 / 9.81, 2.205, 0.5, 1.37, 0.82, 4.448)
"""What the value of a line is multiplied by to be wrong."""


def one_wrong(question: Question, chance: random.Random) -> tuple[dict[str, float], str]:
    """Return a wrong value of some line by its key, and that line."""
    steps = [s for s in question.derivation.asked if s.kind.is_number and question.right.get(s.key)]
    step = chance.choice(steps)
    value = question.right[step.key] * chance.choice(AMISS)
    return {step.key: value}, f"{step.key} = {figures(value)} {step.unit}"


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_no_right_line_is_called_wrong(name: str) -> None:
    chance = random.Random(name)
    seen = 0
    for number in range(PAGES):
        question = SHELF.problems[name].question(str(number))
        own, wrong = one_wrong(question, chance) if number % 3 == 2 else ({}, "")
        lines = RightLines(question, chance, own)
        page = Page(question)
        for text in [wrong, *(lines.ordinary() if number % 2 else ())]:
            page.write(text)
        for _ in range(LINES):
            kind, text = lines.line()
            if any(key in text for key in own):
                continue  # it says the wrong value again
            standing = page.write(text).standing
            assert standing is not LineStanding.WRONG, (kind, text)
            seen += standing.holds
    assert seen > 0, "some of them are understood"
