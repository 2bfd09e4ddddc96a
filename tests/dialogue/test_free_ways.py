"""How any line is written is told by what the problem has: its symbols, its words, its equation."""

from __future__ import annotations

import re

from helpers.drill_sittings import SHELF
from leverstep.course.symbols import sign_of
from leverstep.dialogue.free_ways import ways_to_write
from leverstep.working.guidance import Guidance
from leverstep.working.working import Working


def told_of(name: str) -> str:
    working = Working(SHELF.problems[name].question("1"), guidance=Guidance.BLANK)
    return " ".join(ways_to_write(working))


def test_every_symbol_that_is_told_is_one_that_the_problem_asks_for() -> None:
    for name, problem in SHELF.problems.items():
        asked = {sign_of(step.key) for step in problem.question("1").derivation.asked}
        told = told_of(name)
        first, *_ = re.findall(r"such as (\S+) = ", told)
        assert first in asked, name
        assert set(re.findall(r"0\.042\*([^\s.,]+)", told)) <= asked, name
        assert ("such as third" in told) <= ("class" in asked), name


def test_a_word_or_an_equation_is_told_only_where_there_is_one() -> None:
    pail = told_of("elbow-full-pail")
    assert "A word, such as second, will do too, and so will an equation with one unknown" in pail
    assert pail.endswith("0.042*F_m.")
    cords = told_of("plain-lamp-two-cords")
    assert "a word" not in cords.casefold()
    assert "equation" not in cords
    assert "A word, such as " in told_of("body-heavy-pack")
