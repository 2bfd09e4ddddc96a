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
from leverstep.statics.acting import BandSize, InertiaSize, MuscleSize, SharedSize
from leverstep.statics.posture import Relation
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


def test_the_format_has_a_whole_file_of_each_form() -> None:
    problems = [problem_of(text, Path(f"{name}.toml"), name) for text, name in WHOLE.items()]
    assert {one.asks for one in problems} >= {
        "angle", "distance", "centre of mass", "resultant", "two forces",
    }  # fmt: skip
    postures = [posture for one in problems for posture in one.postures]
    assert any(one.couples for one in postures)
    assert any(one.sharing for one in postures)
    assert any(one.support is not None for one in postures)
    assert any(one.inclined_to == "vertical" for one in postures)
    assert any(
        point.direction is not None and point.direction.reference == "bearing"
        for one in postures
        for point in one.body_points
    )
    assert {one.relation for each in postures for one in each.further} >= {
        Relation.STRESS, Relation.BODY_WEIGHTS, Relation.OTHER_UNIT, Relation.PART_SHARED,
        Relation.FRICTION_NEEDED, Relation.MOMENT_SPED_UP, Relation.POWER, Relation.DISTANCE_MOVED,
        Relation.SPEED, Relation.RATIO,
    }  # fmt: skip
    forces = [force for one in postures for force in one.forces]
    assert any(force.antagonist for force in forces)
    sources = {type(force.source) for force in forces}
    assert sources >= {BandSize, MuscleSize, InertiaSize, SharedSize}
    assert any(force.at.derived is not None for force in forces)
    again = {force.before for force in forces}
    assert any(key.startswith("R_y") for key in again), "a reaction is handed on"
    assert any(key.startswith("W_") for key in again), "a force acts again"
    further = {one.symbol for each in postures for one in each.further}
    assert again & further, "what was worked out further acts again"
    assert further & {couple.before for one in postures for couple in one.couples}


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
