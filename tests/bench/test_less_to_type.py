"""Lines that only convert are filled in, and a bare number is taken in the unit of its line."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_sittings import right_entry, small_drill
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices, choices_kept, keep_choice
from leverstep.bench.record import read_bytes, read_record
from leverstep.bench.record_lines import FillLine
from leverstep.dialogue.ending import ending
from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.replies import Mark, Way
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.sitting_result import result_of
from leverstep.drill.sitting import Sitting
from leverstep.marking.marking import mark_record
from leverstep.progress.conversions_practised import conversions_practised
from leverstep.progress.history import History, history_kept
from leverstep.progress.replay import practised
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions, Rules, Units
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

PAIL = SHELF.problems["elbow-full-pail"]
CENTIMETRES = ["L", "d_l", "d_m"]
FILLED = PracticeChoices(conversions=Conversions.GIVEN)


def work(bench: Bench, most: int | None = None) -> None:
    """Enter right lines one after the other, at most so many."""
    while (step := bench.working.current()) is not None and most != 0:
        verdict = bench.enter(step.key, right_entry(bench.question, step))
        assert verdict.settled, (step.key, verdict)
        most = None if most is None else most - 1


def start(folder: Path, choices: PracticeChoices, guidance: Guidance = Guidance.LINES) -> Practice:
    return Practice.start(PAIL, "7", CATALOGUE, folder, guidance=guidance, choices=choices)


# Which lines are filled in, and how they stand.


@pytest.mark.parametrize("problem", sorted(SHELF.problems))
def test_only_lines_that_convert_may_be_filled_in(problem: str) -> None:
    """Each stands right with its value, is asked for no more, and leaves the working the same."""
    question = SHELF.problems[problem].question("1")
    working = Working(question)
    asked = working.asked
    for key in working.to_fill:
        step = working.step(key)
        assert step.kind.name in ("distance", "force")
        assert "{g}" not in step.written
        working.fill(key)
        assert working.stands(key)
        assert working.values()[key] == question.right[key]
    assert [s.key for s in asked] == [
        s.key for s in working.steps if s in working.asked or s.key in working.filled
    ]
    assert working.values() == question.right


def test_all_are_filled_in_where_they_are_given(tmp_path: Path) -> None:
    practice = start(tmp_path, FILLED)
    working = practice.working
    assert sorted(working.filled) == sorted(CENTIMETRES)
    assert not working.attempts
    assert [line_mark(working, key) for key in CENTIMETRES] == [Mark.FILLED] * 3
    dialogue = PracticeDialogue(practice)
    assert dialogue.filled_told() == "Filled in for you: L, d_l, d_m."
    assert dialogue.standing("L") == "Filled in for you: 0.2550 m."
    assert dialogue.closed_told("L") == "L is filled in for you."
    refused = practice.enter("L", "0.3 m")
    assert (refused.outcome, working.own_values("d_f")["L"]) == (Outcome.UNREAD, 0.255)
    assert practice.tell(refused) == "Not judged: L is filled in for you."
    work(practice)
    assert working.complete
    assert "3 lines were filled in for you." in ending(practice).account
    assert set(CENTIMETRES).isdisjoint(working.attempts)


def test_on_a_blank_sheet_nothing_is_filled_in(tmp_path: Path) -> None:
    assert not start(tmp_path, FILLED, Guidance.BLANK).working.filled
    assert start(tmp_path, FILLED, Guidance.LANDMARKS).working.filled


def test_what_was_filled_in_stays_when_it_is_gone_on_with(tmp_path: Path) -> None:
    """So it does under another choice, which holds for what comes after."""
    practice = start(tmp_path, FILLED)
    assert practice.place is not None
    kept = [line.step for line in read_record(practice.place) if isinstance(line, FillLine)]
    assert kept == list(practice.working.filled & set(kept)) or set(kept) == set(CENTIMETRES)
    again = Practice.resume(practice.place, SHELF, CATALOGUE)
    assert again.working.filled == set(CENTIMETRES)
    assert again.working.rules.conversions is Conversions.ASKED
    work(again)
    (worked,) = practised(practice.place, SHELF, CATALOGUE)
    assert worked.finished
    assert {entry.step for entry in worked.entries}.isdisjoint(CENTIMETRES)


# Until they are converted cleanly.


def test_a_unit_that_was_converted_cleanly_is_filled_in(tmp_path: Path) -> None:
    """Three in a row at the first try; what is known goes on to the next working."""
    practice = start(tmp_path, PracticeChoices(conversions=Conversions.UNTIL_CLEAN))
    dialogue = PracticeDialogue(practice)
    work(practice)
    assert not practice.working.filled
    known = conversions_practised(History(()), SHELF)
    assert not known.knows("cm")
    (tmp_path / "practice").mkdir()
    assert practice.place is not None
    practice.place.rename(tmp_path / "practice" / practice.place.name)
    history = history_kept(SHELF, CATALOGUE, datetime.now(UTC), tmp_path)
    known = conversions_practised(history, SHELF)
    assert known.knows("cm")
    assert not known.knows("in")
    after = Practice.start(
        PAIL, "8", CATALOGUE, tmp_path, conversions=known,
        choices=PracticeChoices(conversions=Conversions.UNTIL_CLEAN),
    )  # fmt: skip
    assert after.working.filled == set(CENTIMETRES)
    assert dialogue.filled_told() == ""


@pytest.mark.parametrize("way", ["wrong", "hint"])
def test_a_wrong_try_or_a_hint_begins_the_count_anew(tmp_path: Path, way: str) -> None:
    practice = start(tmp_path, PracticeChoices(conversions=Conversions.UNTIL_CLEAN))
    for key in CENTIMETRES:
        if key == "d_l" and way == "hint":
            practice.hint(key)
        if key == "d_l" and way == "wrong":
            assert practice.enter(key, "9.99 m").outcome is Outcome.WRONG
        assert practice.enter(key, practice.question.written(_given(practice, key))).settled
    assert not practice.conversions.knows("cm")


def _given(practice: Practice, key: str):  # type: ignore[no-untyped-def]
    return next(one for one in practice.question.givens if one.key == f"given_{key}")


# In a drill.


def drill_sat(folder: Path, rules: str, count: int = 2) -> tuple[Sitting, bytes]:
    """Return a sitting of a drill, all right, and its record."""
    drill = small_drill(rules, problem="elbow-full-pail", count=count, marks=10)
    sitting = Sitting.start(drill, CATALOGUE, "s01", folder)
    for bench in sitting.benches:
        work(bench)
    sitting.hand_in()
    return sitting, read_bytes(sitting.place)


@pytest.mark.parametrize(
    ("rules", "filled"),
    [
        ("", [0, 0]),
        ('conversions = "given"', [3, 3]),
        ('conversions = "until clean"', [0, 3]),
        ('conversions = "given"\nfeedback = "at the end"', [3, 3]),
        ('conversions = "until clean"\nfeedback = "at the end"', [0, 0]),  # it would tell
    ],
)
def test_filled_lines_carry_no_marks_and_marking_finds_the_same(
    tmp_path: Path, rules: str, filled: list[int]
) -> None:
    sitting, data = drill_sat(tmp_path, rules)
    assert [len(bench.working.filled) for bench in sitting.benches] == filled
    marked = mark_record(sitting.drill, CATALOGUE, "r", data)
    assert [int(marks) for marks in marked.marks] == [10, 10]
    lines = [len([one for one in marked.lines if one.task == task]) for task in (1, 2)]
    steps = len(sitting.benches[0].working.steps)
    assert lines == [steps - number for number in filled]
    assert not marked.remarks
    told = [line for task in result_of(sitting, marked).tasks for line in task.lines]
    assert sum(one.told.startswith("Filled in for you: ") for one in told) == sum(filled)


def test_a_record_can_fill_in_nothing_in_a_drill(tmp_path: Path) -> None:
    sitting = Sitting.start(small_drill(problem="elbow-full-pail"), CATALOGUE, "s01", tmp_path)
    bench = sitting.benches[0]
    bench.replay(FillLine(step="L", task=1))
    assert not bench.working.filled


def test_a_sitting_that_goes_on_has_the_same_lines_filled_in(tmp_path: Path) -> None:
    drill = small_drill('conversions = "until clean"', problem="elbow-full-pail", count=2)
    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    work(sitting.benches[0])
    again = Sitting.resume(sitting.place, drill, CATALOGUE)
    filled = [bench.working.filled for bench in again.benches]
    assert filled == [bench.working.filled for bench in sitting.benches] == [set(), {*CENTIMETRES}]


def test_it_is_told_that_a_line_is_filled_in_where_verdicts_are_not(tmp_path: Path) -> None:
    rules = 'conversions = "given"\nfeedback = "at the end"'
    drill = small_drill(rules, problem="elbow-full-pail")
    dialogue = SittingDialogue(Sitting.start(drill, CATALOGUE, "s01", tmp_path)).working
    assert dialogue.standing("L").startswith("Filled in for you: 0.2")
    assert line_mark(dialogue.working, "L") is Mark.FILLED


# Units.


@pytest.mark.parametrize(
    ("key", "text"),
    [("W_f", "16.19"), ("W_l", "11.0/2.205*9.81"), ("L", "0.255"), ("W_f", "W_f = 16,19")],
)
def test_a_bare_number_is_taken_in_the_unit_that_is_named(key: str, text: str) -> None:
    question = PAIL.question("7")
    assert Working(question).enter(key, text).outcome is Outcome.UNREAD
    working = Working(question, rules=Rules(units=Units.NAMED))
    verdict = working.enter(key, text)
    assert verdict.outcome is Outcome.RIGHT
    assert working.lines[key].text == f"{text} {working.step(key).unit}"
    assert working.enter(key, text).outcome is Outcome.SAME


@pytest.mark.parametrize("problem", sorted(SHELF.problems))
def test_every_right_number_may_be_bare(problem: str) -> None:
    question = SHELF.problems[problem].question("1")
    working = Working(question, rules=Rules(units=Units.NAMED))
    for step in working.steps:
        if step.kind.is_number:
            verdict = working.enter(step.key, f"{question.right[step.key]:.6g}")
            assert verdict.outcome is Outcome.RIGHT, step.key


def test_a_unit_that_is_written_counts_as_written() -> None:
    working = Working(PAIL.question("7"), rules=Rules(units=Units.NAMED))
    assert working.enter("L", "25.5 cm").outcome is Outcome.RIGHT
    assert working.enter("d_l", "35.0").outcome is Outcome.WRONG
    assert working.enter("W_f", "1.65 kg").outcome is Outcome.WRONG


def test_practice_offers_it_once_and_keeps_the_choice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    dialogue = PracticeDialogue(start(tmp_path, choices_kept()))
    assert [dialogue.enter(text).way for text in ("16.19", "16.2")] == [Way.UNITS, None]
    told = dialogue.change_units().told
    assert told.startswith("From now on, a number without a unit is taken")
    assert dialogue.enter("16.19").mark is Mark.RIGHT
    assert choices_kept().units is Units.NAMED
    dialogue.change_units()
    assert choices_kept().units is Units.ASKED


def test_a_bare_number_is_read_again_as_it_was_taken(tmp_path: Path) -> None:
    """Whatever is chosen by then; what comes after goes by that."""
    practice = start(tmp_path, PracticeChoices(units=Units.NAMED))
    assert practice.enter("W_f", "16.19").settled
    practice.follow(Units.ASKED)
    assert practice.enter("W_l", "48.94").outcome is Outcome.UNREAD
    assert practice.place is not None
    for units in (Units.ASKED, Units.NAMED, Units.NAMED, Units.ASKED):
        choices = PracticeChoices(units=units)
        again = Practice.resume(practice.place, SHELF, CATALOGUE, choices=choices)
        assert list(again.working.lines) == ["W_f"]
        assert again.working.rules.units is units
    (worked,) = practised(practice.place, SHELF, CATALOGUE)
    assert [entry.step for entry in worked.entries] == ["W_f"]


def test_what_is_filled_in_is_a_choice_that_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    dialogue = PracticeDialogue(start(tmp_path, choices_kept()))
    assert "once you got 3 in a row" in dialogue.change_conversions().told
    assert dialogue.change_conversions().told.endswith("Filled in for you: L, d_l, d_m.")
    assert choices_kept().conversions is Conversions.GIVEN
    keep_choice(Conversions.ASKED)
    assert choices_kept() == PracticeChoices()
