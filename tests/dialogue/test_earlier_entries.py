"""What was typed at a line before, as the dialogue tells it and as it is gone through."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import Disk, drill_with
from helpers.material import CATALOGUE
from helpers.screens import PAIL
from leverstep.bench.bench import Bench
from leverstep.bench.practice import Practice
from leverstep.bench.replaying import keep_nothing
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.earlier_entries import EarlierEntries
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.working.guidance import Guidance

SHELF = load_shelf()
WRONG = ("1.40 N", "hello", "2 N", "1.40 N")


def working(guidance: Guidance = Guidance.LINES) -> WorkingDialogue:
    """Return the dialogue of a pail in the hand, of which nothing is kept."""
    question = SHELF.problems[PAIL].question("a1")
    return WorkingDialogue(Bench(question, CATALOGUE, keep_nothing, guidance))


def test_each_text_is_told_once_the_latest_first() -> None:
    """Right or wrong, or not read at all; another line has its own."""
    dialogue = working()
    assert dialogue.earlier_entries == ()
    for text in WRONG:
        dialogue.enter(text)
    assert dialogue.earlier_entries == ("1.40 N", "2 N", "hello")
    dialogue.enter("13.73 N")
    assert dialogue.earlier_entries == ()
    dialogue.go(-1)
    assert dialogue.earlier_entries == ("13.73 N", "1.40 N", "2 N", "hello")


def test_what_is_taken_as_another_line_is_told_at_both() -> None:
    dialogue = working()
    dialogue.enter("W_l = 8.1 N")
    assert dialogue.earlier_entries == ("W_l = 8.1 N",)
    dialogue.go_to("W_l")
    assert dialogue.earlier_entries == ("W_l = 8.1 N",)
    dialogue.go_to("d_f")
    assert dialogue.earlier_entries == ()


def test_where_any_line_may_be_written_all_that_was_written_so_is_told() -> None:
    """And at a line that was gone to, what was taken as that line."""
    dialogue = working(Guidance.LANDMARKS)
    for text in ("W_f = 13.73 N", "hello", "W_l = 8.1 N"):
        dialogue.enter(text)
    assert dialogue.earlier_entries == ("W_l = 8.1 N", "hello", "W_f = 13.73 N")
    dialogue.go_to("W_f")
    dialogue.enter("13.7 N")
    assert dialogue.earlier_entries == ("W_l = 8.1 N", "hello", "W_f = 13.73 N")
    dialogue.go_to("W_f")
    assert dialogue.earlier_entries == ("13.7 N", "W_f = 13.73 N")


def test_at_the_end_there_is_no_line_and_nothing_to_tell() -> None:
    for guidance in (Guidance.LINES, Guidance.BLANK):
        dialogue = working(guidance)
        dialogue.enter("W_f = 13.73 N")
        for step in dialogue.working.asked:
            dialogue.bench.leave(step.key)
        assert dialogue.at_hand is None
        assert dialogue.earlier_entries == ()


def test_it_is_there_again_when_a_working_is_gone_on_with(tmp_path: Path) -> None:
    """From the record; signs in it that are not shown are shown as ?."""
    practice = Practice.start(SHELF.problems[PAIL], "a1", CATALOGUE, tmp_path)
    for text in ("2 N", "hello \x1b[2J"):
        practice.enter("W_f", text)
    again = Practice.resume(practice.place, SHELF, CATALOGUE)
    assert PracticeDialogue(again).earlier_entries == ("hello ?[2J", "2 N")


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', "attempts = 2"])
def test_each_task_of_a_drill_has_its_own(rules: str, tmp_path: Path) -> None:
    dialogue = SittingDialogue(Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path))
    dialogue.enter("hello")
    dialogue.enter("54 N")
    key = dialogue.working.bench.working.steps[0].key
    dialogue.working.go_to(key)
    assert dialogue.working.earlier_entries == ("54 N", "hello")
    dialogue.turn(1)
    assert dialogue.working.earlier_entries == ()


def test_what_could_not_be_written_was_not_entered(tmp_path: Path, disk: Disk) -> None:
    dialogue = SittingDialogue(Sitting.start(drill_with(""), CATALOGUE, "s01", tmp_path))
    disk.broken[:] = [tmp_path]
    dialogue.enter("54 N")
    assert dialogue.working.earlier_entries == ()
    disk.broken.clear()
    dialogue.try_again("54 N")
    assert dialogue.working.earlier_entries == ("54 N",)


def test_one_goes_back_to_the_first_and_forward_to_what_is_half_typed() -> None:
    earlier = EarlierEntries()
    earlier.offer(("c", "b", "a"))
    ways = [(1, "c"), (1, "b"), (1, "a"), (1, "a"), (-1, "b"), (-1, "c"), (-1, "hal"), (-1, "hal")]
    text = "hal"
    for way, wanted in ways:
        text = earlier.beside(text, way)
        assert text == wanted


def test_one_that_stands_in_the_field_is_not_brought_back_once_more() -> None:
    earlier = EarlierEntries()
    earlier.offer(("c", "b"))
    assert earlier.beside("c", 1) == "b"
    assert earlier.beside("b", -1) == "c"


def test_one_that_was_changed_is_half_typed_itself() -> None:
    earlier = EarlierEntries()
    earlier.offer(("c", "b"))
    assert earlier.beside("x", 1) == "c"
    assert earlier.beside("c1", 1) == "c"
    assert earlier.beside("c", 1) == "b"
    assert [earlier.beside("b", -1), earlier.beside("c", -1)] == ["c", "c1"]


def test_nothing_of_another_line_comes_back() -> None:
    earlier = EarlierEntries()
    earlier.offer(("b",))
    assert earlier.beside("", 1) == "b"
    earlier.offer(())
    assert earlier.beside("b", 1) == "b"
    assert earlier.beside("b", -1) == "b"
