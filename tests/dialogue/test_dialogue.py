"""The dialogue of a working and of a sitting, driven without any face."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_with, let_pass, right_entry, wrong_entry
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.practice import Practice
from leverstep.dialogue.ending import ending
from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.notice import handed_in
from leverstep.dialogue.replies import NO_HINTS, DialogueAnswer, Mark, Reply, Trouble, Unkept, Way
from leverstep.dialogue.sitting_dialogue import AGAIN, TOO_LATE, SittingDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.working.guidance import FOR_ALL, Guidance
from leverstep.working.rules import Rung
from leverstep.working.verdict import Outcome

BARROW = SHELF.problems["plain-wheelbarrow"]


def talk(folder: Path, guidance: Guidance = Guidance.LINES) -> WorkingDialogue:
    """Return the dialogue of a new practice, always with the same numbers."""
    return WorkingDialogue(Practice.start(BARROW, "1", CATALOGUE, folder, guidance=guidance))


def sitting_talk(folder: Path, rules: str = "") -> SittingDialogue:
    return SittingDialogue(Sitting.start(drill_with(rules), CATALOGUE, "s01", folder / "r"))


def answer(reply: Reply) -> DialogueAnswer:
    assert isinstance(reply, DialogueAnswer)
    return reply


def unkept(reply: Reply) -> Unkept:
    assert isinstance(reply, Unkept)
    return reply


# A working.


def test_what_is_asked_follows_the_guidance(tmp_path: Path) -> None:
    asked = {guidance: talk(tmp_path, guidance).asked for guidance in Guidance}
    lines, landmarks, blank, fading = (one for one in asked.values() if one is not None)
    assert (lines.key, lines.place) == ("W_s", "Line 1 of 15")
    assert lines.asks == "Weight of the soil, in newtons."
    assert (landmarks.key, landmarks.place) == ("", "M_sum")
    assert landmarks.aside == "Any other line may be written with its symbol."
    assert (blank.key, blank.place) == ("", "")
    assert blank.asks == "Still to find: F_h, MA, AR, class, R_y, direction."
    # A first example is shown whole; its last line is to be done until it is read.
    assert (fading.key, fading.place) == ("R_dir", "Line 15 of 15")


def test_a_right_line_gives_way_to_the_next_and_a_wrong_one_does_not(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    wrong = dialogue.enter("54 N")
    assert (wrong.key, wrong.name, wrong.typed, wrong.mark) == ("W_s", "W_s", "54 N", Mark.WRONG)
    assert wrong.told == "Not yet. The slip is in this line. A hint tells more."
    assert (wrong.moves_on, dialogue.progress) == (False, "line 1 of 15")
    assert dialogue.enter("54 N").mark is Mark.SAME
    unread = dialogue.enter("hello")
    assert (unread.mark, unread.moves_on) == (Mark.UNREAD, False)
    right = dialogue.enter("529.7 N")
    assert (right.told, right.mark, right.moves_on) == ("Right.", Mark.RIGHT, True)
    assert dialogue.progress == "line 2 of 15"


@pytest.mark.parametrize(
    ("typed", "told", "mark"),
    [
        ("W_b = 98.1 N", "Right. That is W_b. W_s is still asked for.", Mark.RIGHT),
        ("class: second", "Right. That is the class. W_s is still asked for.", Mark.RIGHT),
        (
            "W_b = 10.0 N",
            "Not yet. That is W_b. The slip is in this line. A hint tells more. "
            "W_s is still asked for.",
            Mark.WRONG,
        ),
        (
            "barrow = 98.1 N",
            "Right. barrow is taken as W_b, the weight of the barrow. W_s is still asked for.",
            Mark.RIGHT,
        ),
        ("g = 9.81", "Right, and not asked for. W_s is still asked for.", Mark.KEPT),
        (
            "W_b = 2*5 = 98.1 N",
            "Not judged: the two sides of the equals sign are not equal. That is W_b. "
            "For example: 123.4 N. W_s is still asked for.",
            Mark.UNREAD,
        ),
    ],
)
def test_another_line_is_named_and_the_one_asked_for_is_still(
    typed: str, told: str, mark: Mark, tmp_path: Path
) -> None:
    dialogue = talk(tmp_path)
    said = dialogue.enter(typed)
    assert (said.told, said.mark, said.name, said.moves_on) == (told, mark, "", False)
    assert said.is_elsewhere is (mark not in (Mark.WRONG, Mark.UNREAD))
    assert dialogue.asked is not None
    assert dialogue.asked.key == "W_s"


def test_a_hint_is_for_the_other_line_that_was_just_written_wrong(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    assert dialogue.hinted == "W_s"
    dialogue.enter("W_b = 10.0 N")
    assert [dialogue.hint().key for _ in range(2)] == ["W_b", "W_b"]
    dialogue.enter("54 N")
    assert dialogue.hint().key == "W_s"
    dialogue.enter("W_b = 98.1 N")
    assert dialogue.hinted == "W_s"
    dialogue.enter("529.7 N")
    assert dialogue.hinted == "d_s"


def test_what_stands_or_can_not_be_read_as_another_line_is_named_too(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    dialogue.enter("W_b = 98.1 N")
    again = dialogue.enter("W_b = 98.1 N")
    assert again.told == "That is W_b, as it is written already. W_s is still asked for."
    unread = dialogue.enter("d_s = 0.45")
    assert unread.told.startswith("Not judged: the unit is missing")
    assert "That is d_s. For example: 0.205 m" in unread.told
    assert unread.told.endswith("W_s is still asked for.")
    assert (unread.mark, unread.is_elsewhere) == (Mark.UNREAD, False)


@pytest.mark.parametrize("typed", ["W_b = 147.2 N", "W_b = 15.0 N"])
def test_hidden_verdicts_tell_of_another_line_only_that_it_is_saved(
    typed: str, tmp_path: Path
) -> None:
    dialogue = sitting_talk(tmp_path, 'feedback = "at the end"')
    said = answer(dialogue.enter(typed))
    saved = "Saved. That is W_b. Results are shown at the end. W_s is still asked for."
    assert (said.told, said.mark, said.is_elsewhere) == (saved, Mark.TAKEN, True)
    assert said.changes == ()


def test_all_hints_are_given_and_a_new_entry_has_its_own(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    given = [dialogue.hint().hint for _ in Rung]
    assert [one.heading for one in given if one] == [f"Hint {n} of 4 for W_s" for n in range(1, 5)]
    assert list(dialogue.hints_told.on("W_s")) == [
        replace(one, is_new=False) for one in given if one
    ]
    last = dialogue.hint()
    assert (last.hint, last.told) == (None, "There is no further hint for W_s.")
    assert last.way is Way.HINTS
    assert dialogue.bench.hints_given.count == 4


def test_a_skipped_line_is_open_at_the_end_and_comes_round(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    skipped = dialogue.skip()
    assert (skipped.told, skipped.way) == ("W_s is skipped for now.", Way.BACK)
    assert line_mark(dialogue.working, "W_s") is Mark.SKIPPED
    assert dialogue.come_round() == ""
    for _ in dialogue.working.steps[1:]:
        dialogue.skip()
    assert dialogue.asked is None
    end = ending(dialogue.bench)
    assert end.headline.startswith("0 of 15 lines are right. Still open: W_s, ")
    assert end.account.startswith("No line was written, and no hint was asked for.")
    assert dialogue.come_round().startswith("Still open: W_s, W_b, ")
    assert dialogue.at_hand is dialogue.working.steps[0]


def test_a_line_that_is_done_stays_where_it_is_skipped(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    dialogue.enter("529.7 N")
    dialogue.go(-1)
    assert dialogue.chosen == "W_s"
    assert dialogue.skip().told == "W_s stays as it is."
    assert (dialogue.chosen, dialogue.working.left) == ("", set())


def test_who_goes_about_is_told_where_there_is_no_other_line(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    told = [dialogue.go(way).told for way in (-1, 0, 1)]
    assert told == [
        "This is the first line.",
        "This is the line to be done.",
        "There is no line after this one yet.",
    ]
    free = talk(tmp_path / "free", Guidance.BLANK)
    assert free.go(-1).told == "No line is written yet."


def test_who_goes_back_over_the_line_to_be_done_is_at_it(tmp_path: Path) -> None:
    """A line that was right and is so no more is asked for again, before those after it."""
    dialogue = talk(tmp_path)
    for step in dialogue.working.steps[:3]:
        dialogue.enter(right_entry(dialogue.bench, step))
    dialogue.go_to("W_s")
    dialogue.enter("54 N")
    dialogue.go_to("W_b")
    assert dialogue.before == ""
    dialogue.go(-1)
    assert (dialogue.chosen, dialogue.at_hand) == ("", dialogue.working.steps[0])


def test_lines_that_changed_are_told_as_data_and_in_a_sentence(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    dialogue.enter("600 N")
    dialogue.skip()
    while (step := dialogue.at_hand) is not None and step.key != "M_s":
        dialogue.enter(right_entry(dialogue.bench, step))
    assert dialogue.enter("-600 N * 0.425 m").mark is Mark.FOLLOWED
    dialogue.go_to("W_s")
    mended = dialogue.enter("529.7 N")
    (changed,) = mended.changes
    assert (changed.key, changed.name, changed.outcome) == ("M_s", "M_s", Outcome.WRONG)
    told = "Lines that use W_s were checked again: M_s is not right any more."
    assert mended.changed == told
    assert mended.key not in {one.key for one in mended.changes}


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
def test_a_free_line_is_named_and_the_hints_are_for_it(guidance: Guidance, tmp_path: Path) -> None:
    dialogue = talk(tmp_path, guidance)
    wrong = dialogue.enter("W_s = 54 N")
    assert (wrong.key, wrong.is_free) == ("W_s", True)
    assert dialogue.hinted == dialogue.in_sight == "W_s"
    given = dialogue.hint().hint
    assert given is not None
    assert given.key == "W_s"
    assert dialogue.enter("W_s = 529.7 N").moves_on
    assert dialogue.hinted == "W_b"


def test_a_formula_in_symbols_is_right_and_no_line_yet(tmp_path: Path) -> None:
    dialogue = talk(tmp_path, Guidance.BLANK)
    formula = dialogue.enter("M_s = -W_s*d_s")
    assert (formula.mark, formula.moves_on) == (Mark.RIGHT, False)
    assert dialogue.working.lines == {}


def test_the_end_tells_how_it_went_and_what_was_found(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    for step in dialogue.working.steps:
        assert dialogue.enter(right_entry(dialogue.bench, step)).moves_on, step.key
    end = ending(dialogue.bench)
    assert end.headline == "All 15 lines are right. Well done."
    assert end.account == "15 entries on 15 lines, with 0 hints. Everything is saved."
    assert end.results[0].startswith("Force of the hands, in newtons: ")
    assert not end.is_open


def test_practice_goes_on_where_nothing_can_be_kept_and_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", "utf-8")
    dialogue = talk(tmp_path / "file" / "practice")
    assert dialogue.unsaved.startswith("Not saved: ")
    assert dialogue.enter("529.7 N").mark is Mark.RIGHT
    assert not ending(dialogue.bench).account.endswith("saved.")


# A sitting.


@pytest.mark.parametrize("guidance", FOR_ALL)
def test_where_verdicts_wait_no_answer_tells_right_from_wrong(
    guidance: Guidance, tmp_path: Path
) -> None:
    rules = f'feedback = "at the end"\nguidance = "{guidance}"'
    seen = []
    for number, entry_of in enumerate((right_entry, lambda _, step: wrong_entry(step))):
        dialogue = sitting_talk(tmp_path / str(number), rules)
        working = dialogue.working
        step = working.working.step("d_s")
        if guidance is Guidance.LINES:
            working.go_to("d_s")
        text = entry_of(working.bench, step)
        came = answer(dialogue.enter(text if guidance is Guidance.LINES else f"d_s = {text}"))
        told = (came.key, came.told, came.mark, came.changes, came.moves_on)
        stands = (working.standing("d_s"), working.opened("d_s"))
        seen.append((told, stands, working.progress, working.hinted))
        assert came.mark is Mark.TAKEN
    assert seen[0] == seen[1]


def test_the_tries_that_are_left_are_told_and_a_closed_line_is_not_tried(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path, "attempts = 1")
    came = answer(dialogue.enter("1.00 N"))
    assert (came.mark, came.moves_on) == (Mark.CLOSED, True)
    assert came.told.endswith("No tries are left for this line.")
    assert dialogue.working.closed_told("W_s") == "W_s can't be changed: no tries are left for it."
    assert answer(dialogue.hint("W_s")).told == "No tries are left for W_s, so there is no hint."
    assert answer(dialogue.hint()).hint is not None


@pytest.mark.parametrize(
    ("rules", "cost"),
    [
        ('hints = "at a cost"', "25 % of this line's marks"),
        ('hints = "at a cost"\nguidance = "blank"', "25 % of the marks of F_h"),
        ('hints = "free"', ""),
    ],
)
def test_each_hint_tells_its_cost_the_earlier_ones_as_past(
    rules: str, cost: str, tmp_path: Path
) -> None:
    dialogue = sitting_talk(tmp_path, rules)
    given = answer(dialogue.hint()).hint
    assert given is not None
    assert (given.number, given.cost) == (1, cost)
    working = dialogue.working
    assert working.hints_told.in_sight("W_s", working.latest) == (given,)
    answer(dialogue.hint())
    hints = working.hints_told.in_sight("W_s", working.latest)
    told = [one.heading.partition(" for W_s")[2] for one in hints]
    assert told == [cost and f", which cost {cost}", cost and f", costs {cost}"]


def test_a_hint_is_offered_only_for_what_is_still_to_be_found(tmp_path: Path) -> None:
    """A drill has no line to charge it to; practice charges nothing."""
    dialogue = sitting_talk(tmp_path, 'hints = "at a cost"\nguidance = "blank"')
    practice = talk(tmp_path, Guidance.BLANK)
    for one in (dialogue, practice):
        bench = one.bench if isinstance(one, WorkingDialogue) else one.working.bench
        found = right_entry(bench, bench.working.step("F_h"))
        assert answer(one.enter(f"F_h = {found}")).mark is Mark.RIGHT
        assert answer(one.enter("M_s = 1.25 N*m")).mark is Mark.WRONG
    refused = answer(dialogue.hint("M_s"))
    assert refused.told == "Nothing that is still to be found rests on M_s, so there is no hint."
    assert (refused.hint, dialogue.working.bench.hints_given.count) == (None, 0)
    assert dialogue.working.hinted not in ("", "M_s")
    assert answer(dialogue.hint()).hint is not None
    assert answer(practice.hint()).key == "M_s"


def test_there_is_no_hint_where_the_rules_have_none(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path, 'hints = "none"')
    assert answer(dialogue.hint()).told == NO_HINTS
    assert dialogue.working.bench.hints_given.count == 0


def test_the_tasks_are_turned_to_and_each_keeps_its_lines(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path)
    dialogue.enter("1.00 N")
    first = dialogue.working
    dialogue.turn(-1)
    assert (dialogue.place, dialogue.working.latest) == (1, None)
    assert not dialogue.turn_to(2)
    dialogue.turn(1)
    assert dialogue.working is first
    assert list(first.working.lines) == ["W_s"]


def test_what_is_not_on_the_disk_waits_and_says_when_it_is_tried_again(
    tmp_path: Path, disk: Disk
) -> None:
    dialogue = sitting_talk(tmp_path)
    right = right_entry(dialogue.working.bench, dialogue.working.working.steps[0])
    disk.broken.append(tmp_path / "r")
    for _ in range(2):
        came = unkept(dialogue.enter(right))
        assert (came.trouble, came.again, came.stays) == (Trouble.DISK, AGAIN, "")
        assert came.told.endswith("the disk is full. Your entry is judged as soon as it is.")
        assert dialogue.waits
        assert not dialogue.working.working.lines
    disk.broken.clear()
    assert answer(dialogue.try_again(right)).mark is Mark.RIGHT
    assert (dialogue.waits, dialogue.unkept) == (False, None)
    disk.broken.append(tmp_path / "r")
    dialogue.working.go(-1)
    assert unkept(dialogue.enter("1.00 N")).stays == "Until then W_s stays as it was."


def other_text(dialogue: SittingDialogue) -> str:
    del dialogue
    return "2.00 N"


def other_task(dialogue: SittingDialogue) -> str:
    dialogue.turn(1)
    return "1.00 N"


@pytest.mark.parametrize("changes", [other_text, other_task])
def test_what_was_changed_meanwhile_is_not_entered_by_itself(
    changes: Callable[[SittingDialogue], str], tmp_path: Path, disk: Disk
) -> None:
    dialogue = sitting_talk(tmp_path)
    disk.broken.append(tmp_path / "r")
    dialogue.enter("1.00 N")
    typed = changes(dialogue)
    assert "the disk is full" in unkept(dialogue.try_again(typed)).told
    disk.broken.clear()
    assert answer(dialogue.try_again(typed)).told.startswith("The record can be written again.")
    assert not any(bench.working.lines for bench in dialogue.sitting.benches)


def test_what_waits_goes_on_in_another_folder(tmp_path: Path, disk: Disk) -> None:
    dialogue = sitting_talk(tmp_path)
    disk.broken.append(tmp_path / "r")
    dialogue.enter("1.00 N")
    assert unkept(dialogue.move(tmp_path / "r" / "x")).trouble is Trouble.DISK
    moved = answer(dialogue.move(tmp_path / "stick"))
    assert moved.moved == f"The record is now at {dialogue.sitting.place}."
    assert moved.mark is Mark.WRONG
    assert dialogue.sitting.place.is_relative_to(tmp_path / "stick")
    disk.broken.append(tmp_path / "full")
    failed = answer(dialogue.move(tmp_path / "full"))
    assert failed.told.startswith("Kept in the old folder; the new one failed: ")


def test_a_second_window_is_told_of_and_nothing_is_tried_again(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path)
    Sitting.resume(dialogue.sitting.place, dialogue.sitting.drill, CATALOGUE)
    came = unkept(dialogue.enter("1.00 N"))
    assert (came.trouble, came.again, came.heading) == (Trouble.ELSEWHERE, None, "Not taken")
    assert not dialogue.working.working.lines


def test_when_the_time_is_up_an_entry_is_too_late_and_it_is_handed_in(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path, "minutes = 30")
    assert dialogue.warning_due() == ""
    let_pass(dialogue.sitting, 1500)
    assert dialogue.warning_due() == "5 minutes are left."
    assert dialogue.warning_due() == ""
    let_pass(dialogue.sitting, 300)
    late = answer(dialogue.enter("1.00 N"))
    assert (late.told, late.is_late) == (TOO_LATE, True)
    assert dialogue.is_to_hand_in
    answer(dialogue.hand_in())
    assert dialogue.sitting.ended
    assert not dialogue.is_to_hand_in
    kinds = [line["kind"] for line in fields_in(dialogue.sitting.place)]
    assert kinds == ["drill", "end"]


def test_lines_that_were_filled_in_are_not_counted_as_handed_in(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path, 'conversions = "given"')
    answer(dialogue.hand_in())
    assert all(bench.working.lines for bench in dialogue.sitting.benches)
    assert ": 0 lines in " in handed_in(dialogue.sitting)


def test_handing_in_waits_for_the_disk_too(tmp_path: Path, disk: Disk) -> None:
    dialogue = sitting_talk(tmp_path)
    disk.broken.append(tmp_path / "r")
    assert "It is handed in as soon as it is." in unkept(dialogue.hand_in()).told
    disk.broken.clear()
    dialogue.turn(1)
    answer(dialogue.try_again("typed meanwhile"))
    assert dialogue.sitting.ended


def test_who_leaves_is_told_what_is_kept_and_the_clock_stands_still(tmp_path: Path) -> None:
    dialogue = sitting_talk(tmp_path, "minutes = 30")
    told = dialogue.leave(Path("levers.toml"))
    assert told[0] == "You have left Levers; it is not handed in yet."
    assert not dialogue.sitting.stopwatch.runs
