"""Numbers beside what can't be read: none is taken for a value, in whatever unit that may be."""

from __future__ import annotations

import random

import pytest
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

SHELF = load_shelf()
PAIL = SHELF.problems["elbow-full-pail"].question("30")  # W_f 13.73 N, which is 3.09 lbf or 1.4 kg
NAMES = [
    "elbow-full-pail",
    "plain-balance-board",
    "knee-half-straight",
    "hip-stick-in-hand",
    "shoulder-lantern",
    "plain-uneven-barbell",
    "lumbar-crate-jerked",
]
UNREAD = ("2J", "[2]", "2", "2Q", "# 2", "2zz", "0x", "J", "~", "@", "☃ 2", "<2>", "[kg]", "' 2")
FORMS = ("{n} {p} {u}", "{n}{p} {u}", "{n} {p} {p} {u}")
IN_OTHER_UNITS = (1 / 4.448, 1 / 9.81, 100, 39.37, 2.2046, 1 / 1.3558)
ENTRIES = 40


def verdicts(question: Question, step: Step, text: str) -> list[Verdict]:
    """Return what comes of an entry where its line is asked for, and on a blank sheet."""
    written = Working(question, guidance=Guidance.BLANK).write(f"{step.key} = {text}")
    return [Working(question).enter_open(step.key, text), written]


@pytest.mark.parametrize(
    "text",
    [
        "3 2J N", "3 [2] N", "3 2 N", "3 {2} N", "3.1 2J N", "3.1 [2] N", "3.09 2 N", "3.09 # 2 N",
        "3.09 ~ N", "3.09 @ N", "3.09 J N", "3.09 J", "3.09 2J", "3.09; 2 N", "3.09 , 2 N",
        "3.09 ☃ 2 N", "3.09 <2> N", "3.09 [kg] N", "3.09 \\ N", "3.09 2Q N", "3.09 2zz",
        "1 3.73 N", "13 .73 4 N", "13.7 2 N", "13.7 [2] N", "13.7; 2 N", "13.7 % 2 N",
        "13.7 N 2", "2 13.7 N",
    ],
)  # fmt: skip
def test_a_number_beside_what_is_unread_is_no_value(text: str) -> None:
    step = PAIL.derivation.step("W_f")
    assert PAIL.right["W_f"] == pytest.approx(13.73, abs=0.005)
    for verdict in verdicts(PAIL, step, text):
        assert verdict.outcome in (Outcome.UNREAD, Outcome.WRONG)


@pytest.mark.parametrize("name", NAMES)
def test_no_garbled_entry_counts_as_right(name: str) -> None:
    chance = random.Random(name)
    for _ in range(ENTRIES):
        question = SHELF.problems[name].question(str(chance.randrange(100)))
        step = chance.choice([s for s in question.derivation.asked if s.unit and s.kind.is_number])
        value = abs(question.right[step.key]) * chance.choice((1, *IN_OTHER_UNITS))
        number = f"{value:.{chance.choice((1, 2, 3))}g}"
        text = chance.choice(FORMS).format(n=number, p=chance.choice(UNREAD), u=step.unit)
        for verdict in verdicts(question, step, text):
            assert not verdict.settled, (step.key, question.right[step.key], text)


@pytest.mark.parametrize("text", ["13.7 ✓", "13.7 N ✓", "13.7 N (2 dp)", "13.7 N, which is little"])
def test_a_mark_behind_a_value_leaves_it_a_value(text: str) -> None:
    verdict = Working(PAIL, guidance=Guidance.BLANK).write(f"W_f = {text}")
    assert (verdict.step, verdict.outcome) == ("W_f", Outcome.RIGHT)
