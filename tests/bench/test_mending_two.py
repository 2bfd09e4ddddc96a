"""Two slips that are found and mended at a bench, one after the other, and one as ever."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import Bench
from leverstep.bench.mending import Mending
from leverstep.bench.practice import Practice
from leverstep.bench.record_lines import line_of
from leverstep.bench.replaying import keep_nothing
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.ending import ending
from leverstep.dialogue.mending_told import missing_told
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.erroneous.slip_questions import INTRODUCED, TWO_INTRODUCED
from leverstep.working.rules import Rules
from leverstep.working.verdict import Outcome

PAIL = SHELF.problems["elbow-full-pail"]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was chosen before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))


def started(folder: Path) -> PracticeDialogue:
    return PracticeDialogue(Practice.start(PAIL, "1", CATALOGUE, folder, slips_to_find=2))


def under(rules: Rules) -> WorkingDialogue:
    bench = Bench(PAIL.question("1"), CATALOGUE, keep_nothing, rules=rules, slips_to_find=2)
    return WorkingDialogue(bench)


def mending_of(dialogue: WorkingDialogue) -> Mending:
    assert dialogue.bench.mending is not None
    return dialogue.bench.mending


def choose(dialogue: WorkingDialogue, right: bool = True) -> str:
    question = dialogue.question
    assert question is not None
    keys = [answer.key for answer in question.answers]
    number = next(n for n, key in enumerate(keys, 1) if (key in question.right) is right)
    return dialogue.choose(number).told


def right_of(dialogue: WorkingDialogue, place: int) -> str:
    mending = mending_of(dialogue)
    return mending.erroneous.right_line(mending.slips[place].step).entry


def test_four_questions_come_first_then_each_line_and_all_between_follows(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    working, (first, second) = dialogue.working, mending_of(dialogue).slips
    assert dialogue.introduced == TWO_INTRODUCED
    assert (first.step.key, second.step.key) == ("d_f", "M_l")
    assert list(missing_told(dialogue.bench)["Still to find"]) == [
        "The line", "The slip", "The second line", "The second slip",
    ]  # fmt: skip
    assert choose(dialogue) == "Yes. All lines before it are right."
    assert not choose(dialogue).endswith("in turn.")
    assert dialogue.in_sight != "d_f"
    assert choose(dialogue) == "Yes. It does not follow from the lines before it."
    assert not working.lines
    assert choose(dialogue).endswith("Now mend the lines d_f and M_l, in turn.")
    assert dialogue.key_at_hand == "d_f"
    told = dialogue.enter(right_of(dialogue, 0)).told
    assert told.endswith("The lines after it follow now. Mend M_l next.")
    assert dialogue.key_at_hand == "M_l"
    assert working.lines["M_f"].verdict.outcome is Outcome.RIGHT
    assert "F_m" not in working.lines
    shown = dialogue.lines_shown
    assert shown["M_f"] == "M_f = −(15.21 × 0.1637) = −2.489 N·m"
    assert shown["M_l"] == "M_l = −(66.73 ÷ 0.3600) = −185.4 N·m"
    assert shown["M_sum"] == "M_sum = (−2.489) + (−185.4) = −187.9 N·m"
    told = dialogue.enter(right_of(dialogue, 1)).told
    assert told.endswith("The lines after it follow now: F_m = 589.2 N.")
    assert working.complete
    assert all(line.verdict.outcome is Outcome.RIGHT for line in working.lines.values())
    headline = "You found both lines, named both slips and mended them. Well done."
    assert ending(dialogue.bench).headline == headline


def test_what_was_not_found_is_told_of_each_slip(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    choose(dialogue, right=False)
    assert dialogue.choose(0).told == "It was: the fraction of another length."
    choose(dialogue)
    assert dialogue.choose(0).told == (
        "It was: divided by the arm. Now mend the lines d_f and M_l, in turn."
    )
    dialogue.enter(right_of(dialogue, 0))
    dialogue.enter(right_of(dialogue, 1))
    headline = "You found 1 of 2 lines and named 0 of 2 slips. Both are mended."
    assert ending(dialogue.bench).headline == headline


def test_the_line_of_the_other_slip_is_not_given_away() -> None:
    dialogue = under(Rules())
    question = dialogue.question
    assert question is not None
    assert question.told_of("M_l") in ("", "Not quite. A line before it is wrong already.")
    told = [answer.told for answer in question.answers if answer.key == "M_l"]
    assert told in ([], ["A line before it is wrong already."])


def test_one_that_is_spoilt_again_takes_back_what_followed(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    for _ in range(4):
        choose(dialogue)
    dialogue.enter(right_of(dialogue, 0))
    dialogue.enter(right_of(dialogue, 1))
    dialogue.go_to("d_f")
    dialogue.enter("0.9 m")
    assert not dialogue.working.complete
    assert not {"M_f", "F_m"} & dialogue.working.lines.keys()
    assert dialogue.key_at_hand == "d_f"
    dialogue.enter(right_of(dialogue, 0))
    assert dialogue.working.complete
    assert dialogue.working.stands("F_m")


def test_both_are_kept_in_one_line_and_gone_on_with_as_they_stood(tmp_path: Path) -> None:
    dialogue = started(tmp_path)
    path = dialogue.practice.place
    assert path is not None
    said = fields_in(path)[-1]
    assert (said["slip"], said["second"]) == ("fraction-of-another-length", "arm-divided")
    for right in (True, False, False, True):
        choose(dialogue, right)
    dialogue.enter(right_of(dialogue, 0))
    again = PracticeDialogue(Practice.resume(path, SHELF, CATALOGUE))
    assert again.bench.answers == dialogue.bench.answers
    assert again.lines_shown == dialogue.lines_shown
    assert again.working.lines.keys() == dialogue.working.lines.keys()
    assert again.key_at_hand == "M_l"
    again.enter(right_of(again, 1))
    assert again.working.complete


def test_where_nothing_is_told_the_lines_between_follow_from_what_was_written() -> None:
    dialogue = under(Rules(tells=False))
    for _ in range(4):
        choose(dialogue)
    dialogue.enter("0.2000 m")
    assert dialogue.key_at_hand == "M_l"
    assert dialogue.lines_shown["M_f"].endswith("= −3.041 N·m")
    dialogue.enter(right_of(dialogue, 1))
    assert "F_m" not in dialogue.working.lines
    assert "4187" in dialogue.lines_shown["F_m"]
    dialogue.go_to("d_f")
    dialogue.enter(right_of(dialogue, 0))
    assert dialogue.lines_shown["M_f"].endswith("= −2.489 N·m")
    assert [dialogue.working.stands(key) for key in ("d_f", "M_l")] == [True, True]


@pytest.mark.parametrize("tells", [True, False])
def test_a_second_line_that_follows_what_is_printed_is_never_called_wrong(tells: bool) -> None:
    question = SHELF.problems["elbow-two-flexors"].question("3")
    bench = Bench(question, CATALOGUE, keep_nothing, rules=Rules(tells=tells), slips_to_find=2)
    dialogue = WorkingDialogue(bench)
    for _ in range(4):
        choose(dialogue)
    early = dialogue.enter("F_m = 42.48 N")
    assert early.verdict is not None
    assert early.verdict.outcome is Outcome.UNREAD
    assert "F_m is asked for after the line at hand." in early.told
    assert dialogue.key_at_hand == "M_l"
    dialogue.enter(right_of(dialogue, 0))
    assert bench.working.attempts == {"M_l": 1}
    assert dialogue.key_at_hand == "F_m"
    dialogue.enter(right_of(dialogue, 1))
    assert bench.working.stands("F_m")


def test_where_no_try_is_left_the_second_is_asked_for_all_the_same() -> None:
    dialogue = under(Rules(attempts=1))
    for _ in range(4):
        choose(dialogue)
    dialogue.enter("0.2000 m")
    assert dialogue.key_at_hand == "M_l"
    dialogue.enter(right_of(dialogue, 1))
    assert dialogue.working.complete
    assert ending(dialogue.bench).headline.endswith("One is mended.")


def test_where_no_two_slips_show_there_is_one_and_that_is_said(tmp_path: Path) -> None:
    few = load_shelf([Path(__file__).parents[1] / "published"]).problems["band-in-pounds"]
    dialogue = PracticeDialogue(Practice.start(few, "1", CATALOGUE, tmp_path, slips_to_find=2))
    assert dialogue.introduced == INTRODUCED
    assert len(mending_of(dialogue).questions) == 2


def test_a_record_with_one_slip_is_taken_again_as_ever() -> None:
    """The lines are those of a record that was written before there were two."""
    bench = Bench(PAIL.question("1"), CATALOGUE, keep_nothing)
    slip = "fraction-of-another-length"
    change = "d_f__other_length__d_f__d_l"
    for fields in (
        {"kind": "slip to find", "slip": slip, "changes": {change: 1.0}},
        {"kind": "answer", "question": "slip:line", "answer": "W_l"},
        {"kind": "answer", "question": "slip:name", "answer": f"{slip} {change}=1"},
        {"kind": "entry", "step": "d_f", "text": "0.9 m"},
        {"kind": "entry", "step": "d_f", "text": "0.1637 m"},
    ):
        bench.replay(line_of(fields))
    before = {"W_f", "W_l", "L", "d_l", "d_m"}
    after = {"equation", "M_f", "M_l", "M_sum", "F_m", "MA", "AR", "class", "R_y", "R_dir"}
    assert bench.working.filled == before | after
    assert [step.key for step in bench.working.asked] == ["d_f"]
    assert bench.working.attempts == {"d_f": 2}
    assert WorkingDialogue(bench).lines_shown["R_y"] == "R_y = 15.21 + 66.73 − 589.2 = −507.2 N"
    assert ending(bench).headline == "The line was d_f, and you named its slip. It is mended now."


@pytest.mark.parametrize("second", [{}, {"second": "no-such-slip"}, {"second": 7}])
def test_a_line_that_names_no_second_slip_has_none_or_those_of_the_numbers(
    second: dict[str, object],
) -> None:
    bench = Bench(PAIL.question("1"), CATALOGUE, keep_nothing)
    said = {"slip": "load-left-out", "changes": {"M_sum__included__W_l__": 0.0}}
    bench.replay(line_of({"kind": "slip to find", **said, **second}))
    assert bench.mending is not None
    keys = ["d_f", "M_l"] if second.get("second") == "no-such-slip" else ["M_sum"]
    assert [one.step.key for one in bench.mending.slips] == keys
