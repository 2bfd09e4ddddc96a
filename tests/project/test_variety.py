"""The problems that many tests go over stand for all."""

from __future__ import annotations

from helpers.variety import VARIED, traits
from leverstep.course.shelf import load_shelf


def test_the_varied_problems_have_all_that_any_problem_has() -> None:
    """Whoever adds a problem of a new make adds it there too."""
    problems = load_shelf().problems
    found = frozenset().union(*(traits(problems[name]) for name in VARIED))
    lacking = {name: new for name, problem in problems.items() if (new := traits(problem) - found)}
    assert lacking == {}
    assert len(set(VARIED)) == len(VARIED) < len(problems)
