"""Whatever is typed on whatever line, in pairs: it is judged, soon, and nothing fails over it."""

from __future__ import annotations

import logging
import random
import time

import pytest
from helpers.any_lines import Typed, any_line
from helpers.material import CATALOGUE
from helpers.pace import slowness
from helpers.sweeps import seeds
from helpers.variety import VARIED
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.entry.tree import Reason
from leverstep.slips import explained as explaining
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import Explained, explained
from leverstep.slips.finding import Explanation
from leverstep.slips.ladder import hints
from leverstep.slips.telling import tell
from leverstep.working import value_lines as judging
from leverstep.working.attempt import Attempt
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

SHELF = load_shelf()
PAIL = "elbow-full-pail"
PAIRS = 12
"""Pairs of lines for each problem and degree of guidance, unless more are asked for."""

LONGEST = 0.050
"""Seconds of processor time that a line may take, once its problem was met before."""


def judge(working: Working, typed: Typed) -> tuple[Verdict, str, float]:
    """Enter a line; return its verdict, what is told of it, and the processor time it took."""
    key, text = typed
    began = time.process_time()
    verdict = working.enter(key, text) if key else working.write(text)
    told = tell(working, verdict, CATALOGUE)
    if verdict.step:
        hints(working, verdict.step, CATALOGUE)
    working.missing()
    return verdict, told, time.process_time() - began


def taken(question: Question, guidance: Guidance, lines: tuple[Typed, ...]) -> float:
    """Return how long the slowest of some lines took in a working of their own."""
    working = Working(question, guidance=guidance)
    return max(judge(working, typed)[2] for typed in lines)


@pytest.mark.parametrize("name", VARIED)
def test_any_pair_of_lines_is_judged_soon(name: str, caplog: pytest.LogCaptureFixture) -> None:
    chance = random.Random(name)
    question = SHELF.problems[name].question(str(chance.randrange(1000)))
    slow = []
    with caplog.at_level(logging.ERROR):
        for guidance in Guidance:
            for _ in seeds(PAIRS):
                working = Working(question, guidance=guidance)
                lines = (any_line(working, chance), any_line(working, chance))
                for typed in lines:
                    verdict, told, seconds = judge(working, typed)
                    assert verdict.outcome is not Outcome.FAILED, (name, guidance, lines)
                    assert told, lines
                    if seconds > LONGEST:
                        slow.append((guidance, lines))
        # A problem met for the first time is derived then, so what was slow is tried again.
        again = [min(taken(question, *one) for _ in range(2)) / slowness() for one in slow]
    assert not caplog.records, caplog.text
    assert all(seconds <= LONGEST for seconds in again), list(zip(slow, again, strict=True))


@pytest.mark.parametrize(
    ("guidance", "lines"),
    [
        (Guidance.LANDMARKS, [("", "0 N·m"), ("F_m", "250 N")]),
        (Guidance.LINES, [("M_sum", "0 N·m"), ("MA", "0")]),
        (Guidance.LINES, [("d_m", "0 m"), ("F_m", "250 N")]),
        (Guidance.LINES, [("d_m", "0 m"), ("F_m", "0.2*250 N")]),
        (Guidance.LINES, [("W_l", "0 N"), ("M_l", "12*3 N*m")]),
        (Guidance.BLANK, [("", "d_m = 0 m"), ("", "M_sum = 3 N·m"), ("", "F_m = 3/0.1 N")]),
        (Guidance.BLANK, [("", "2 equation = 5")]),
        (Guidance.BLANK, [("", "F_m = class"), ("", "class*2 = 3")]),
    ],
)
def test_a_zero_is_a_value_like_any_other(
    guidance: Guidance, lines: list[Typed], caplog: pytest.LogCaptureFixture
) -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=guidance)
    for typed in lines:
        assert not judge(working, typed)[0].settled
    assert not caplog.records, caplog.text


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
@pytest.mark.parametrize("text", ["F_m = equation", "equation = 0", "F_m = R_dir", "class = F_m"])
def test_a_line_without_a_number_is_no_symbol(guidance: Guidance, text: str) -> None:
    working = Working(SHELF.problems[PAIL].question("7"), guidance=guidance)
    assert working.write(text).outcome is Outcome.UNREAD


def test_a_line_follows_though_what_it_no_longer_rests_on_has_no_value() -> None:
    """Own values stand in for what they came from, so that a length of zero does no harm there."""
    working = Working(SHELF.problems[PAIL].question("7"))
    working.enter("d_m", "0 m")
    working.enter("F_m", "400 N")
    values = working.question.right
    reaction = -(400 - values["W_f"] - values["W_l"])
    assert working.enter("R_y", f"{reaction:.2f} N").outcome is Outcome.FOLLOWED


def test_no_failure_of_an_explanation_costs_a_verdict(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(explaining, "explain", fail)
    monkeypatch.setattr(explaining, "structure", fail)
    working = Working(SHELF.problems[PAIL].question("7"))
    wrong = {"W_l": "11.0 N", "M_l": "48.94*0.35*2 N·m", "equation": "F_m*d_m = W_l*d_l"}
    for key, text in wrong.items():
        verdict, told, _ = judge(working, (key, text))
        assert verdict.outcome is Outcome.WRONG, key
        assert explained(verdict, CATALOGUE) == Explained(), key
        assert "fault" not in told
    assert judge(working, ("W_f", "16.19 N"))[0].outcome is Outcome.RIGHT


def test_a_reason_is_looked_for_once_and_only_where_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    searched: list[str] = []
    whole = explaining.explain

    def explain(attempt: Attempt, catalogue: Catalogue) -> tuple[Explanation, ...]:
        searched.append(attempt.step.key)
        return whole(attempt, catalogue)

    monkeypatch.setattr(explaining, "explain", explain)
    working = Working(SHELF.problems[PAIL].question("7"))
    working.enter("M_l", "-1.0 N·m")
    working.enter("W_l", "5.000 N")  # M_l is judged again
    assert searched == []
    for _ in range(2):
        judge(working, ("W_l", "4.989 N"))
        assert explained(working.lines["W_l"].verdict, CATALOGUE).explanations
    assert searched == ["W_l"]
    working.explains = False
    working.enter("W_l", "4.988 N")
    assert explained(working.lines["W_l"].verdict, CATALOGUE) == Explained()


def test_an_equation_with_numbers_that_are_none_of_this_problem_is_unread(
    caplog: pytest.LogCaptureFixture,
) -> None:
    """It comes to the moment of the pail alone; that a slip fits does not make it wrong."""
    working = Working(SHELF.problems[PAIL].question("7"), guidance=Guidance.BLANK)
    verdict = working.write("F_m*0.046 = 3*2.71 + 4*2.25")
    assert (verdict.outcome, verdict.reason) == (Outcome.UNREAD, Reason("not_matched"))
    assert not working.lines
    assert not caplog.records


def test_a_line_that_fails_to_be_judged_costs_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise KeyError("W_f")

    working = Working(SHELF.problems[PAIL].question("7"))
    monkeypatch.setattr(judging, "judge_value", fail)
    verdict, told, _ = judge(working, ("W_f", "16.19 N"))
    assert verdict.outcome is Outcome.FAILED
    assert not verdict.counts
    assert "the fault is the program's" in told
    assert not working.lines
    assert not working.attempts
    monkeypatch.undo()
    assert judge(working, ("W_f", "16.19 N"))[0].outcome is Outcome.RIGHT


def test_every_line_of_words_is_without_a_symbol() -> None:
    question = SHELF.problems[PAIL].question("7")
    working = Working(question, guidance=Guidance.BLANK)
    words = [step.key for step in question.derivation.steps if not step.kind.is_number]
    assert words
    for key in words:
        assert working.write(f"F_m = 2*{key}").outcome is Outcome.UNREAD


def test_a_zero_that_follows_from_a_zero_earns_nothing() -> None:
    """Else a page of zeros would be right with the student's own earlier values."""
    working = Working(SHELF.problems[PAIL].question("7"))
    for key, text in {"W_f": "0 N", "W_l": "0 N"}.items():
        assert working.enter(key, text).outcome is Outcome.WRONG
    for key in ("M_f", "M_l", "M_sum"):
        verdict, told, _ = judge(working, (key, "0 N·m"))
        assert verdict.outcome is Outcome.UNREAD
        assert "an earlier line is zero" in told
    silent = Working(SHELF.problems[PAIL].question("7"), rules=Rules(tells=False))
    silent.enter("W_f", "0 N")
    assert silent.enter("M_f", "0 N·m").outcome is Outcome.WRONG


def test_the_last_hint_says_where_the_own_values_leave_no_value() -> None:
    working = Working(SHELF.problems[PAIL].question("7"))
    working.enter("d_l", "0.000 m")
    working.enter("AR", "0.2")
    last = hints(working, "AR", CATALOGUE)[-1].text
    assert "With your own d_l there is no value: change that first." in last
    working.enter("W_f", "12.0 N")
    last = hints(working, "M_f", CATALOGUE)[-1].text
    assert "(12.00 N × 0.1739 m)" in last
    assert "This uses your own W_f, which is not right yet." in last


def test_a_zero_beneath_what_was_written_does_not_count() -> None:
    """The sum follows from the two moments as they are written, whatever they came from."""
    working = Working(SHELF.problems[PAIL].question("7"))
    for key, text in {"W_f": "0 N", "M_f": "17.1 N m", "M_l": "-17.1 N m"}.items():
        working.enter(key, text)
    assert working.enter("M_sum", "0 N m").outcome is Outcome.FOLLOWED
