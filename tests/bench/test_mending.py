"""A slip that is found and mended at a bench: asked, kept, judged, and taken again as it was."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import Bench
from leverstep.bench.kept_workings import unfinished
from leverstep.bench.practice import Practice
from leverstep.bench.record_lines import line_of
from leverstep.bench.replaying import keep_nothing
from leverstep.dialogue.ending import ending
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.erroneous.slip_questions import INTRODUCED
from leverstep.working.verdict import Outcome

PAIL = SHELF.problems["elbow-full-pail"]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was chosen before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def started(folder: Path, ident: str = "elbow-full-pail", seed: str = "1") -> PracticeDialogue:
    problem = SHELF.problems[ident]
    return PracticeDialogue(Practice.start(problem, seed, CATALOGUE, folder, slips_to_find=1))


def number_of(dialogue: WorkingDialogue, right: bool = True) -> int:
    question = dialogue.question
    assert question is not None
    keys = [answer.key for answer in question.answers]
    return next(n for n, key in enumerate(keys, 1) if (key in question.right) is right)


def right_of(dialogue: WorkingDialogue) -> str:
    """Return what is right on the line that is to be mended."""
    mending = dialogue.bench.mending
    assert mending is not None
    return mending.erroneous.right_line(mending.erroneous.step).entry


def test_both_questions_come_first_then_one_line_and_all_follows(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    mending, working = dialogue.bench.mending, dialogue.working
    assert mending is not None
    assert dialogue.introduced == INTRODUCED
    assert dialogue.lines_shown.keys() == {step.key for step in working.steps}
    assert not working.lines
    told = dialogue.choose(number_of(dialogue)).told
    assert told == "Yes. All lines before it are right."
    assert not working.lines
    named = dialogue.choose(number_of(dialogue)).told
    assert named.endswith("Now mend the line d_f.")
    assert dialogue.question is None
    assert dialogue.key_at_hand == mending.erroneous.step.key == "d_f"
    before = [step.key for step in working.steps[: working.steps.index(mending.erroneous.step)]]
    assert list(working.lines) == before
    wrong = dialogue.enter(mending.erroneous.line("d_f").entry)
    assert wrong.verdict is not None
    assert wrong.verdict.outcome is Outcome.WRONG
    mended = dialogue.enter(right_of(dialogue))
    assert mended.told.startswith("Right. ")
    assert "The lines after it follow now: F_m = 589.2 N." in mended.told
    assert working.complete
    assert set(working.lines) == {step.key for step in working.steps}
    assert all(line.verdict.outcome is Outcome.RIGHT for line in working.lines.values())
    assert "616.8" not in " ".join(dialogue.lines_shown.values())
    assert ending(dialogue.bench).headline == (
        "You found the line d_f, named its slip and mended it. Well done."
    )


def test_what_was_not_found_is_told_and_mended_all_the_same(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    missed = dialogue.choose(number_of(dialogue, right=False)).told
    assert missed == "Not quite. W_l is right. It is 5, d_f."
    passed = dialogue.choose(0).told
    assert passed == "It was: the fraction of another length. Now mend the line d_f."
    dialogue.enter(right_of(dialogue))
    headline = ending(dialogue.bench).headline
    assert headline == "The line was d_f, the slip was not the one you named. It is mended now."


def test_a_line_that_is_spoilt_again_takes_back_what_followed(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    for _ in range(2):
        dialogue.choose(number_of(dialogue))
    dialogue.enter(right_of(dialogue))
    assert dialogue.working.complete
    dialogue.go_to("d_f")
    dialogue.enter("0.9 m")
    assert not dialogue.working.complete
    assert "F_m" not in dialogue.working.lines
    assert "616.8" in dialogue.lines_shown["F_m"]


def test_it_is_kept_line_by_line_and_gone_on_with_as_it_stood(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    path = dialogue.practice.place
    assert path is not None
    assert [fields["kind"] for fields in fields_in(path)] == ["practice", "slip to find"]
    assert not {"second", "second_changes"} & fields_in(path)[-1].keys()
    dialogue.choose(number_of(dialogue, right=False))
    dialogue.choose(number_of(dialogue))
    dialogue.enter("0.9 m")
    again = Practice.resume(path, SHELF, CATALOGUE)
    assert again.answers == dialogue.bench.answers
    assert again.working.lines.keys() == dialogue.working.lines.keys()
    assert again.mending is not None
    assert PracticeDialogue(again).lines_shown == dialogue.lines_shown
    PracticeDialogue(again).enter(right_of(dialogue))
    assert again.working.complete
    kinds = [fields["kind"] for fields in fields_in(path)]
    assert kinds == ["practice", "slip to find", "answer", "answer", "entry", "entry", "end"]


def test_one_that_is_begun_is_on_the_list_from_its_first_answer_on(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    assert not unfinished(SHELF, tmp_path)
    dialogue.choose(number_of(dialogue))
    assert [one.path for one in unfinished(SHELF, tmp_path)] == [dialogue.practice.place]


def test_the_slip_of_a_record_stands_whatever_the_numbers_would_give_now() -> None:
    bench = Bench(PAIL.question("1"), CATALOGUE, keep_nothing)
    other = {"kind": "slip to find", "slip": "load-left-out",
             "changes": {"M_sum__included__W_l__": 0.0}}  # fmt: skip
    bench.replay(line_of(json.loads(json.dumps(other))))
    assert bench.mending is not None
    assert bench.mending.erroneous.step.key == "M_sum"


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"slip": "no-such-slip", "changes": {}},
        {"slip": 7, "changes": []},
        {"slip": "load-left-out", "changes": {"M_sum__included__W_l__": "0"}},
    ],
)
def test_a_line_that_names_no_slip_has_that_of_the_numbers(said: dict[str, object]) -> None:
    bench = Bench(PAIL.question("1"), CATALOGUE, keep_nothing)
    bench.replay(line_of({"kind": "slip to find", **said}))
    assert bench.mending is not None
    assert bench.mending.erroneous.step.key == "d_f"


def test_the_lines_are_worked_without_it_unless_it_is_chosen(tmp_path: Path) -> None:
    plain = PracticeDialogue(Practice.start(PAIL, "1", CATALOGUE, tmp_path))
    assert plain.question is None
    assert plain.introduced == ""
    assert not plain.lines_shown
