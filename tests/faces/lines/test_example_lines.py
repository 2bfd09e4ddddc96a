"""A worked example by ear: each line is read with its reason, or asked why it is so."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from helpers.drills import SHELF, right_entry
from helpers.material import CATALOGUE, material
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import keep_choice
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.openings import Opening, open_practice
from leverstep.progress.history import History, read_history
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Conversions

SEESAW = SHELF.problems["plain-seesaw"]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def heard(practice: Practice, typed: Callable[[str], str]) -> list[str]:
    """Return what is said while something is typed at each prompt, "" for the end."""
    said: list[str] = []

    def listen(prompt: str) -> str:
        said.append(f"> {prompt}")
        return typed(prompt)

    PracticeLine(PracticeDialogue(practice), said.append, listen).run()
    return said


def opened(seed: str) -> Practice:
    opening = Opening(SEESAW, seed, guidance=Guidance.FADING, anew=True)
    return open_practice(opening, material(SHELF))


def work_out(practice: Practice) -> None:
    """Read all that is shown, and write all else right."""
    while practice.is_reading and (question := practice.to_answer) is not None:
        practice.answer(question, question.answers[0].key)
    for step in practice.working.asked:
        practice.enter(step.key, right_entry(practice, step))


def test_the_first_of_its_kind_is_read_to_its_end_and_the_next_leaves_two_lines() -> None:
    practice = opened("1")
    total = len(practice.working.steps)
    said = heard(practice, lambda prompt: "" if prompt.startswith("Enter") else _skip(prompt))
    shown = "The whole working is shown, line by line, each with its reason: you only read."
    assert shown in said
    for number in range(1, total + 1):
        assert sum(line.startswith(f"Line {number} of {total}, the ") for line in said) == 1
    assert any(line.endswith("That was the last line.") for line in said)
    end = "You have read the whole working. The next of its kind leaves the last lines to you."
    assert end in said
    assert len(opened("2").working.asked) == 2


def test_one_that_is_left_before_its_end_is_shown_whole_again() -> None:
    practice = opened("1")
    question = practice.to_answer
    assert question is not None
    practice.answer(question, "")
    assert len(opened("2").working.asked) == 1
    assert opened("2").fading is not None


def test_lines_are_read_one_by_one_and_then_the_last_are_asked_for() -> None:
    work_out(opened("0"))
    practice = opened("1")
    total, asked = len(practice.working.steps), practice.working.asked

    def typed(prompt: str) -> str:
        if prompt == "Enter goes on: ":
            return ""
        if prompt == "1 to 3: ":
            return "skip"
        raise EOFError

    said = heard(practice, typed)
    assert (
        f"The first {total - 2} lines are shown, each with its reason; the last 2 are yours."
        in (said)
    )
    for number in range(1, total - 1):
        assert sum(line.startswith(f"Line {number} of {total}, the ") for line in said) == 1
    reasons = [line for line in said if line.startswith("The reason: ")]
    assert len(reasons) == said.count("> 1 to 3: ") > 1
    assert said.count("> Enter goes on: ") + len(reasons) == total - 2
    assert any(
        f"From here on the lines are yours, beginning with {asked[0].key}." in s for s in said
    )
    assert f"> {asked[0].key}: " in said


def test_what_else_is_typed_at_a_line_to_read_does_nothing() -> None:
    practice = opened("1")
    replies = iter(["1", "7", "lines", "why", ""])

    def typed(prompt: str) -> str:
        return next(replies, None) or ("" if prompt.startswith("Enter") else _end())

    said = heard(practice, typed)
    assert said.count("Enter goes on.") == 2
    assert any("Shown to you. A mass is not a force" in line for line in said)


def test_the_lines_do_not_tell_the_reason_while_it_is_asked_for() -> None:
    practice = opened("1")
    while (question := practice.to_answer) is not None and question.is_read:
        practice.answer(question, question.answers[0].key)
    assert question is not None
    replies = iter(["lines", "skip", "lines"])
    said = heard(practice, lambda _: next(replies, None) or _end())
    passed = said.index(f"The reason: {question.truth}")
    told = [n for n, line in enumerate(said) if f"Shown to you. {question.truth}" in line]
    assert told
    assert min(told) > passed


def test_records_are_read_once_for_all_that_a_practice_takes_from_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    read: list[History] = []

    def reads(*given: Any) -> History:
        read.append(read_history(*given))
        return read[-1]

    monkeypatch.setattr("leverstep.progress.history.read_history", reads)
    keep_choice(Conversions.UNTIL_CLEAN)
    practice = opened("1")
    assert (len(read), practice.working.rules.conversions) == (1, Conversions.UNTIL_CLEAN)
    assert practice.fading is not None


def _end() -> str:
    raise EOFError


def _skip(prompt: str) -> str:
    return "skip" if prompt == "1 to 3: " else _end()


def test_the_next_of_its_kind_has_more_lines_open_and_the_third_all() -> None:
    shown = []
    for seed in ("0", "1", "2", "3"):
        practice = opened(seed)
        shown.append(len(practice.working.steps) - len(practice.working.asked))
        work_out(practice)
        assert practice.working.complete
    total = len(practice.working.steps)
    assert shown == [total - 1, total - 2, total // 2, 0], "the last is to be done until it is read"
    dialogue = PracticeDialogue(opened("4"))
    assert dialogue.example_told == (
        "You did problems of this kind without a slip: every line is yours now."
    )


def test_a_working_with_a_slip_or_a_hint_opens_no_more() -> None:
    work_out(opened("0"))
    practice = opened("1")
    practice.hint(practice.working.asked[0].key)
    work_out(practice)
    assert len(opened("2").working.asked) == 2


def test_no_other_practice_is_told_or_asked_any_more(tmp_path: Path) -> None:
    practice = Practice.start(SEESAW, "1", CATALOGUE, tmp_path)
    assert (practice.fading, practice.to_answer) == (None, None)
    said = heard(practice, lambda _: _end())
    of_lines = [line for line in said if not line.startswith("Also shown: ")]  # in the picture
    assert not [line for line in of_lines if "shown" in line or "yours" in line]
    prompts = [line for line in said if line.startswith("> ")]
    assert prompts == [f"> {practice.working.steps[0].key}: "]
