"""Whole problems that a new one is copied from: each ships, and reads and vets under another id."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.source import ROOT
from leverstep.course.problem_examples import FORMS, Form, copy_of
from leverstep.course.problem_file import problem_of
from leverstep.course.shelf import load_shelf
from leverstep.vetting.vet import vet_problem

SHELF = load_shelf()


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.name)
def test_a_copy_reads_and_has_no_fault(form: Form) -> None:
    title = r'My own \1 "copy"'
    problem = problem_of(copy_of(form, "my-own", title, "tail"), Path("my-own.toml"), "my-own.toml")
    assert (problem.id, problem.title, problem.joint) == ("my-own", title, "tail")
    assert problem.posture == SHELF.problems[form.example].posture
    assert vet_problem(problem, "my-own.toml", CATALOGUE).faults == ()


WHOLE = dict(
    re.findall(
        r'^```toml\n(id = "([a-z-]+)".*?)^```$',
        (ROOT / "problems/README.md").read_text("utf-8"),
        re.DOTALL | re.MULTILINE,
    )[1:]
)
"""The whole files of problems/README.md as examples, but the first, which shows each key."""


@pytest.mark.parametrize("text", WHOLE, ids=WHOLE.get)
def test_a_whole_file_of_the_format_vets(text: str) -> None:
    name = f"{WHOLE[text]}.toml"
    assert vet_problem(problem_of(text, Path(name), name), name, CATALOGUE).faults == ()


def test_the_format_has_a_whole_file_of_each_common_form() -> None:
    problems = [problem_of(text, Path(f"{name}.toml"), name) for text, name in WHOLE.items()]
    assert {one.asks for one in problems} >= {"angle", "centre of mass", "resultant", "two forces"}
    assert any(one.posture.couples and not one.stages for one in problems)
    assert any(one.posture.sharing for one in problems)
    forces = [force for one in problems for force in one.forces]
    assert any(force.before and force.symbol.endswith("_y") for force in forces)


def test_each_example_is_offered_and_of_its_form() -> None:
    cards = {card.id: card for card in SHELF.offered}
    asks = {form.name: cards[form.example].asks for form in FORMS}
    for name in ("resultant", "two forces", "distance", "mass", "angle", "centre of mass"):
        assert asks[name] == name
    found = {form.name: SHELF.problems[form.example] for form in FORMS}
    assert found["body"].posture.body_points
    assert found["line of gravity"].posture.support is not None
    assert found["couple"].posture.couples
    assert found["further"].posture.further
    assert found["postures"].stages
    assert not any(force.before for force in found["couple"].forces)
    assert any(force.before and force.symbol.endswith("_y") for force in found["chain"].forces)
