"""A worked example at a bench: its first lines are shown and read, the last are the student's."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, right_entry
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import Bench
from leverstep.bench.kept_workings import kept_workings
from leverstep.bench.practice import Practice, reread
from leverstep.bench.practice_choices import PracticeChoices
from leverstep.bench.record_lines import (
    AnswerLine,
    EntryLine,
    HintLine,
    PracticeBegun,
    fields_of,
    line_of,
)
from leverstep.bench.replaying import keep_nothing
from leverstep.dialogue.ending import ending
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import EXPECTED
from leverstep.questions.choice_question import QuestionSort
from leverstep.working.guidance import FIRST_OPEN, Guidance, lines_open
from leverstep.working.page import on_page, outcomes
from leverstep.working.rules import Conversions, Pictures, Rules, Rung, Thinking
from leverstep.working.verdict import Outcome

PAIL = SHELF.problems["elbow-full-pail"]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was chosen before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def begun(folder: Path, stage: int = 1) -> Practice:
    return Practice.start(
        PAIL, "1", CATALOGUE, folder, guidance=Guidance.FADING, stage=stage
    )  # fmt: skip


def example(shown: int, rules: Rules | None = None) -> Bench:
    return Bench(PAIL.question("1"), CATALOGUE, keep_nothing, rules=rules, shown=shown)


def read(bench: Bench) -> None:
    """Read all lines that are shown, and choose the first answer at each."""
    while bench.is_reading and (question := bench.to_answer) is not None:
        bench.answer(question, question.answers[0].key)


@pytest.mark.parametrize(
    ("lines", "opened"), [(16, [0, 2, 8, 16, 16]), (5, [0, 2, 3, 5, 5]), (2, [0, 2, 2, 2, 2])]
)
def test_each_clean_working_leaves_more_lines_open(lines: int, opened: list[int]) -> None:
    assert [lines_open(lines, stage) for stage in range(5)] == opened


def test_the_first_lines_come_one_by_one_then_the_last_are_asked_for(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    working, fading = practice.working, practice.fading
    assert fading is not None
    steps, keys = working.steps, [*fading.lines]
    assert working.asked == steps[-FIRST_OPEN:]
    assert keys == [step.key for step in steps[:-FIRST_OPEN]]
    for place, key in enumerate(keys, 1):
        assert [*working.lines] == keys[:place] == [k for k in keys if k in working.filled]
        question = practice.to_answer
        assert question is not None
        assert question.asks.startswith(f"Line {place} of {len(steps)}, the ")
        assert fading.lines[key] in question.asks
        practice.answer(question, question.answers[0].key)
    assert practice.to_answer is None
    assert working.current() is steps[-FIRST_OPEN]


def test_a_first_example_is_shown_whole_and_asks_nothing_but_why(tmp_path: Path) -> None:
    practice = begun(tmp_path, stage=0)
    working, fading = practice.working, practice.fading
    assert fading is not None
    assert fading.is_whole
    dialogue = PracticeDialogue(practice)
    assert dialogue.example_told == (
        "The whole working is shown, line by line, each with its reason: you only read."
    )
    sorts, told = [], ""
    while (question := dialogue.question) is not None:
        assert not practice.is_read_whole
        sorts.append(question.sort)
        told = dialogue.choose(1).told
    assert len(sorts) == len(working.steps)
    assert {*sorts} == {QuestionSort.WHY, QuestionSort.READ}
    assert told.endswith("That was the last line.")
    assert working.complete
    assert working.asked == ()
    end = ending(practice)
    assert end.headline == (
        "You have read the whole working. The next of its kind leaves the last lines to you."
    )
    assert end.account.startswith("Everything is saved. 16 lines were shown to you. You knew ")
    assert any(result.endswith(" N.") for result in end.results)
    path = practice.place
    assert path is not None
    assert fields_in(path)[-1]["kind"] == "end"
    again = Practice.resume(path, SHELF, CATALOGUE)
    assert again.is_read_whole
    assert again.working.complete
    assert again.enter("W_f", "3 N").outcome is not Outcome.RIGHT
    assert again.hint("W_f") is None


def test_an_example_shown_whole_is_done_only_once_it_is_read(tmp_path: Path) -> None:
    practice = begun(tmp_path, stage=0)
    for _ in practice.working.steps[1:]:
        assert {step.key for step in on_page(practice.working)} == set(practice.working.lines)
        question = practice.to_answer
        assert question is not None
        practice.answer(question, "")
    path = practice.place
    assert path is not None
    assert not practice.is_read_whole
    assert "end" not in [one["kind"] for one in fields_in(path)]
    assert not Practice.resume(path, SHELF, CATALOGUE).is_read_whole


def test_a_shown_line_is_right_and_neither_judged_hinted_nor_charged(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    read(practice)
    dialogue, working = PracticeDialogue(practice), practice.working
    assert {outcomes(working)[key] for key in working.filled} == {Outcome.RIGHT}
    assert dialogue.hint("W_f").told == "W_f is shown, with its reason: it needs no hint."
    assert practice.hint("W_f") is None
    assert practice.enter("R_y", "W_f = 3 N").outcome is Outcome.UNREAD
    assert (working.attempts, practice.hints_given.count, practice.hints_given.charged) == (
        {},
        0,
        {},
    )
    assert practice.replay(HintLine(step="W_f")) is None
    assert (practice.hints_given.given, practice.hints_given.charged) == ({}, {})
    practice.hint("R_y")
    assert practice.hints_given.charged == {"R_y": [Rung.LOOK]}


def test_a_record_taken_again_gives_the_same(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    for _ in range(3):
        question = practice.to_answer
        assert question is not None
        practice.answer(question, question.answers[-1].key)
    path = practice.place
    assert path is not None
    again = Practice.resume(path, SHELF, CATALOGUE)
    assert (again.to_answer, again.answers) == (practice.to_answer, practice.answers)
    read(again)
    again.hint("R_y")
    for step in again.working.asked:
        again.enter(step.key, right_entry(again, step))
    once_more = reread(path, SHELF, CATALOGUE)
    for one in (again, once_more):
        assert one.working.complete
        assert one.answers == again.answers
        assert one.reasoned == again.reasoned != ()
        assert one.hints_given.charged == again.hints_given.charged
        assert {key: line.text for key, line in one.working.lines.items()} == {
            key: line.text for key, line in again.working.lines.items()
        }
    told = fields_in(path)
    shown = len(practice.working.steps) - FIRST_OPEN
    assert (told[0]["guidance"], told[0]["shown"]) == ("fading", shown)


def test_an_example_half_read_is_gone_on_with_and_is_no_problem_done(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    question = practice.to_answer
    assert question is not None
    practice.answer(question, "")
    assert [one.problem for one in kept_workings(SHELF, tmp_path).unfinished] == [PAIL]
    read(practice)
    for step in practice.working.asked:
        practice.enter(step.key, right_entry(practice, step))
    kept = kept_workings(SHELF, tmp_path)
    assert (kept.unfinished, kept.done) == ((), frozenset())


def test_with_every_line_open_it_is_a_working_like_any(tmp_path: Path) -> None:
    practice = begun(tmp_path, stage=3)
    assert (practice.fading, practice.to_answer) == (None, None)
    assert practice.working.asked == practice.working.steps
    path = practice.place
    assert path is not None
    assert "shown" not in fields_in(path)[0]


def test_an_entry_before_all_is_read_has_the_rest_shown_at_once() -> None:
    bench = example(14)
    bench.replay(EntryLine(step="R_y", text="1 N"))
    assert (len(bench.working.filled), bench.to_answer) == (14, None)
    assert bench.replay(AnswerLine(question="shown:W_f", answer="because")) is None
    assert bench.answers == {"shown:W_f": "because"}


def test_lines_that_convert_are_shown_not_filled_in_and_no_diagram_is_drawn(tmp_path: Path) -> None:
    bench = example(3, Rules(conversions=Conversions.GIVEN))
    left = [s.key for s in bench.working.steps[3:] if s.key in PAIL.converted]
    assert left
    assert [*bench.to_fill] == left
    assert begun(tmp_path).begin_pictures() is False
    assert begun(tmp_path).working.rules.pictures is Pictures.GIVEN


def test_whatever_a_record_says_is_shown_one_line_is_asked_for() -> None:
    assert len(example(10**9).working.asked) == 1
    assert example(-3).fading is None
    said = fields_of(PracticeBegun(shown=3))
    for odd in ("all", 2.5, True, None):
        line = line_of({**said, "shown": odd})
        assert isinstance(line, PracticeBegun)
        assert line.shown is None


def test_where_the_reasons_fail_all_lines_are_shown_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fails(*_: object) -> None:
        raise ArithmeticError("a fault of ours")

    monkeypatch.setattr("leverstep.bench.fading.why_questions", fails)
    bench = example(14)
    bench.prepare()
    assert (len(bench.working.filled), bench.to_answer) == (14, None)


def test_no_reason_is_made_before_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []
    monkeypatch.setattr("leverstep.bench.fading.why_questions", lambda *_: made.append("") or ())
    bench = example(14)
    bench.replay(AnswerLine(question="shown:W_f", answer="because"))
    bench.replay(EntryLine(step="R_y", text="1 N"))
    assert (made, len(bench.working.filled)) == ([], 14)


def test_the_end_tells_what_was_shown_and_which_reasons_were_known(tmp_path: Path) -> None:
    practice = begun(tmp_path)
    asked = 0
    while (question := practice.to_answer) is not None:
        is_why = question.sort is QuestionSort.WHY
        asked += is_why
        practice.answer(question, "because" if is_why else question.answers[0].key)
    for step in practice.working.asked:
        practice.enter(step.key, right_entry(practice, step))
    end = ending(practice)
    assert end.headline == "All 2 lines asked for are right. Well done."
    assert end.account.endswith(
        f"shown to you. You knew {asked} of {asked} reasons that were asked for."
    )
    assert "filled in" not in end.account
    assert [line.standing for line in look_back(practice).lines] == ["shown"] * 14 + ["right"] * 2


def test_what_is_expected_is_asked_first_and_each_answer_is_told_of_itself(tmp_path: Path) -> None:
    choices = PracticeChoices(thinking=frozenset({Thinking.PREDICT}))
    practice = Practice.start(
        PAIL, "1", CATALOGUE, tmp_path, guidance=Guidance.FADING, choices=choices, stage=1
    )
    dialogue = PracticeDialogue(practice)
    told = [dialogue.choose(1).told for _ in practice.expectations]
    assert told == [*[""] * (len(told) - 1), EXPECTED]
    question = dialogue.question
    assert question is not None
    assert question.sort is QuestionSort.WHY
    assert dialogue.choose(1).told.startswith(("Yes. That is the reason.", "Not quite. "))
    assert practice.sensed == ()
