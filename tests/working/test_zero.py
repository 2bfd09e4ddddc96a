"""Values that are nothing at all: asked for, typed as 0 N, judged, and told of."""

from __future__ import annotations

import logging
import random

import pytest
from helpers.any_lines import any_line
from helpers.drills import right_entry
from helpers.material import CATALOGUE
from helpers.problem_texts import head, leaning, load, newtons, quantity, read_text, segment
from leverstep.bench.bench import Bench
from leverstep.bench.replaying import keep_nothing
from leverstep.board.board import Board
from leverstep.course.problem import Problem, Question
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.meaning import meaning
from leverstep.explore.exploration import Exploration
from leverstep.sheets.handout import of_problems
from leverstep.sheets.sheet_files import document
from leverstep.slips.explained import explained
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.vetting.vet import vet_problem
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import value_text, worked_line

CORDS = (
    head(
        "Nothing is left",
        "Two cords pull on a ring: one up and left with {F_a}, {alpha} above the horizontal, "
        "one up and right with {F_b}, {beta} above it.",
        "test",
        "zero",
    )
    + segment("ring", "middle of the ring")
    + load("F_a", "left cord", newtons(140), '"axis"', leaning("alpha", 35, "left"))
    + load("F_b", "right cord", newtons(140), '"axis"', leaning("beta", 35, "right"))
    + """[ask]
find = "reaction"
"""
)
"""Two equal pulls: nothing is left across, and rounding makes 1e-14 N of it."""

BALANCED = (
    head(
        "Nothing is left",
        "A pail of {W_a} hangs {d_a} from the pivot, one of {W_b} {d_b} from it.",
        "test",
        "zero",
    )
    + segment("plank", "pivot")
    + load("W_a", "left pail", newtons(30.1), quantity("d_a", 0.7, "m", beyond=True))
    + load("W_b", "right pail", newtons(43), quantity("d_b", 0.49, "m"))
    + """[ask]
find = "FIND"
"""
)
ALONG = BALANCED.replace('"m", beyond = true }\ndirection = "down"', '"m" }\ndirection = "right"')
"""A force along the level segment has no moment."""

UPRIGHT = CORDS.replace('value = 35, unit = "deg"', 'value = 90, unit = "deg"', 1)
"""A component by the cosine of a right angle, which is 6e-17."""

TEXTS = {
    "cords": CORDS,
    "net": BALANCED.replace("FIND", "moment"),
    "sum": BALANCED.replace("FIND", "moment sum"),
    "upright": UPRIGHT,
    "along": ALONG.replace("FIND", "moment"),
}
NOTHING = {
    "cords": ["R_x"], "net": ["M_sum", "M_net"], "sum": ["M_sum"], "upright": ["F_ax"],
    "along": ["M_a"],
}  # fmt: skip
"""The lines asked for that come to nothing."""


def problem(name: str) -> Problem:
    return read_text(TEXTS[name])


@pytest.mark.parametrize("name", TEXTS)
def test_what_only_rounding_makes_is_nothing(name: str) -> None:
    question = problem(name).question("1")
    asked = [step.key for step in question.derivation.asked if step.kind.is_number]
    assert [key for key in asked if question.right[key] == 0] == NOTHING[name]
    assert all(value == 0 or abs(value) > 1e-9 for value in question.right.values())
    for key in NOTHING[name]:
        step = question.derivation.step(key)
        told = worked_line(question, step, question.right)
        assert value_text(step, question.right[key]) == f"0 {step.unit}"
        assert told.endswith(f" = 0 {step.unit}")


@pytest.mark.parametrize("name", TEXTS)
def test_a_line_that_comes_to_nothing_has_no_fault(name: str) -> None:
    report = vet_problem(problem(name), "zero.toml", CATALOGUE)
    assert report.faults == ()


@pytest.mark.parametrize("name", TEXTS)
def test_nothing_is_typed_and_judged_like_any_value(name: str) -> None:
    """In the usual ways to write it; what is far from nothing is wrong."""
    question = problem(name).question("1")
    for key in NOTHING[name]:
        unit = question.derivation.step(key).unit.replace("·", " ")
        for text, outcome in (
            (f"0 {unit}", Outcome.RIGHT), (f"0.00 {unit}", Outcome.RIGHT),
            (f"-0 {unit}", Outcome.RIGHT), (f"2.5e-14 {unit}", Outcome.RIGHT),
            (f"12.3 {unit}", Outcome.WRONG), (f"229.4 {unit}", Outcome.WRONG),
        ):  # fmt: skip
            working = Working(question)
            for step in working.steps:
                if step.key == key:
                    break
                entry = worked_line(question, step, question.right)
                assert working.enter(step.key, entry).outcome is Outcome.RIGHT, entry
            verdict = working.enter(key, text)
            assert verdict.outcome is outcome, (key, text)
            explained(verdict, CATALOGUE)


@pytest.mark.parametrize("name", TEXTS)
def test_whatever_is_typed_beside_nothing_is_judged_and_told(
    name: str, caplog: pytest.LogCaptureFixture
) -> None:
    chance, question = random.Random(name), problem(name).question("1")
    with caplog.at_level(logging.ERROR):
        for guidance in Guidance:
            for _ in range(20):
                working = Working(question, guidance=guidance)
                for key, text in (any_line(working, chance), any_line(working, chance)):
                    verdict = working.enter(key, text) if key else working.write(text)
                    assert tell(working, verdict, CATALOGUE)
                    assert verdict.outcome is not Outcome.FAILED
                for step in working.steps:
                    assert hints(working, step.key, CATALOGUE)
    assert not caplog.records


@pytest.mark.parametrize("name", TEXTS)
def test_nothing_is_told_of_at_the_end_on_the_board_on_paper_and_in_exploring(name: str) -> None:
    question = problem(name).question("1")
    bench = Bench(question, CATALOGUE, keep_nothing)
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(bench, step))
    told = [*look_back(bench).meaning, *(line.worked for line in _whole_board(question).lines)]
    paper = of_problems((question.problem,), Guidance.LINES, "1", {})
    told += [document(paper, "md", key) for key in (True, False)]
    exploring = Exploration(question)
    for movable in exploring.movables:
        exploring.move(movable, 1)
        told.append(exploring.svg(300, 200))
    told += [asked.told(asked.answer) for asked in exploring.predictions]
    assert all(told)
    assert not any("nan" in one or "e-1" in one for one in told)


def test_moments_that_come_to_nothing_balance_each_other() -> None:
    told = meaning(problem("net").question("1"))[0]
    assert told.endswith(" it the other way with 21.1 N·m: they balance each other.")


def _whole_board(question: Question) -> Board:
    board = Board(question, CATALOGUE)
    board.show(board.count)
    return board
