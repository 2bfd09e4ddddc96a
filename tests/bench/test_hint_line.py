"""A hint aims at what is still to be found, through lines that are truly missing."""

from __future__ import annotations

import random

import pytest
from helpers.drill_sittings import SHELF, right_entry
from helpers.material import CATALOGUE
from helpers.variety import VARIED
from leverstep.bench.bench import Bench
from leverstep.bench.replaying import keep_nothing
from leverstep.working.guidance import Guidance
from leverstep.working.page import named_line
from leverstep.working.rules import Rules
from leverstep.working.writing import only_copies_a_given


def bench_of(problem: str, guidance: Guidance, rules: Rules | None = None) -> Bench:
    question = SHELF.problems[problem].question("1")
    return Bench(question, CATALOGUE, keep_nothing, guidance, rules=rules)


def write(bench: Bench, key: str) -> None:
    step = bench.working.step(key)
    assert bench.write(named_line(step, right_entry(bench.question, step))).settled, key


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
@pytest.mark.parametrize("problem", VARIED)
def test_a_hint_is_never_for_what_the_student_has(problem: str, guidance: Guidance) -> None:
    """Whatever is written, in any order: no given, no line that is done, and for an answer in words
    none behind a right number.
    """
    for seed in range(2):
        bench = bench_of(problem, guidance)
        working, rests_on = bench.working, bench.question.derivation.ancestors
        steps = list(working.steps)
        random.Random(f"{problem} {seed}").shuffle(steps)
        for step in steps:
            key, goal = bench.hint_line(), working.current()
            if goal is None:
                break
            assert key == goal.key or key in rests_on(goal.key)
            assert not working.done(key)
            assert not only_copies_a_given(bench.question, working.step(key))
            for other in working.lines if not goal.written else ():
                is_number = working.step(other).kind.is_number
                assert key == goal.key or not (is_number and key in rests_on(other))
            write(bench, step.key)


def test_after_the_reaction_its_direction_needs_no_components() -> None:
    """Who has its size has had them."""
    bench = bench_of("knee-kneecap", Guidance.LANDMARKS)
    assert bench.hint_line() == "F_tx"
    write(bench, "R")
    assert bench.hint_line() == "R_dir"


def test_what_is_right_shows_nowhere_before_it_is_told() -> None:
    told = []
    for text in ("R = 1500 N", "R = 1.23 N"):
        bench = bench_of("knee-kneecap", Guidance.LANDMARKS, Rules(tells=False))
        bench.write(text)
        told.append([step.key for step in bench.working.missing()])
    assert told[0] == told[1]
    right = bench_of("knee-kneecap", Guidance.LANDMARKS, Rules(tells=False))
    write_unseen = named_line(right.working.step("R"), f"{right.question.right['R']:.4g} N")
    right.write(write_unseen)
    assert [step.key for step in right.working.missing()] == told[0]
