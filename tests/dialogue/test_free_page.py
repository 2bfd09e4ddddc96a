"""A page that is written freely: which lines are entered, and what each shows, without any face."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_with
from helpers.material import CATALOGUE
from helpers.records import texts_in
from leverstep.bench.practice import Practice
from leverstep.dialogue.free_page import MOST_LINES, REPLACED, FreePage, refusal
from leverstep.dialogue.replies import Mark, Trouble, Unkept
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.working.guidance import Guidance

PAIL = SHELF.problems["elbow-full-pail"]
RIGHT = {"W_f": "W_f = 13.73 N", "W_l": "W_l = 80.08 N", "M_sum": "M_sum = -32.91 N·m"}


class Desk:
    """A page and who answers what is left of it, with all that was entered from it."""

    def __init__(self, dialogue: WorkingDialogue, answering: Answering | None = None) -> None:
        self.dialogue = dialogue
        self.page = FreePage(dialogue)
        self.entered: list[str] = []
        self.answering: Answering = answering or dialogue

    def write(self, *texts: str, row: int | None = None) -> list[str]:
        """Write the page anew, the cursor in a row; return what is entered for that."""
        self.page.write(texts, row)
        before = len(self.entered)
        while (text := self.page.next_due()) is not None:
            self.entered.append(text)
            self.page.take(self.answering.enter(text))
        return self.entered[before:]

    def told(self) -> str:
        """Return what is told now."""
        answer = self.page.told
        return "" if answer is None else answer.told


def practice(folder: Path) -> Practice:
    return Practice.start(PAIL, "a1", CATALOGUE, folder, guidance=Guidance.BLANK)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(WorkingDialogue(practice(tmp_path)))


def test_what_was_not_read_stands_on_the_page_again_and_what_was_is_an_entry(
    tmp_path: Path,
) -> None:
    first = Desk(WorkingDialogue(practice(tmp_path)))
    lines = ("W_f = 13.73 N", "pan = 1,65*9,81 = 16,19 N", "M_l = 41*cos(3")
    first.write(*lines, row=None)
    assert first.entered == list(lines)
    assert first.page.half_typed == list(lines[1:])
    again = FreePage(first.dialogue, first.page.half_typed)
    assert again.texts == list(lines)
    assert again.marks[0] is Mark.RIGHT


def sitting_desk(folder: Path, rules: str = "") -> Desk:
    dialogue = SittingDialogue(
        Sitting.start(drill_with(f'guidance = "blank"\n{rules}'), CATALOGUE, "s01", folder)
    )
    return Desk(dialogue.working, dialogue)


def kept(place: Path | None) -> list[object]:
    """Return the texts of the lines of a record, in their order."""
    assert place is not None
    return texts_in(place)


# Which lines are entered.


def test_a_line_is_entered_once_the_cursor_has_left_it_changed(desk: Desk) -> None:
    assert desk.write("W_f = 13", row=0) == []
    assert desk.write(RIGHT["W_f"], row=0) == []
    assert desk.page.marks == [Mark.OPEN]
    assert desk.write(RIGHT["W_f"], "", row=1) == [RIGHT["W_f"]]
    assert desk.page.marks == [Mark.RIGHT, Mark.OPEN]
    assert desk.write(RIGHT["W_f"], "", row=0) == []
    assert desk.write(RIGHT["W_f"] + "  ", "", row=1) == [], "spaces behind it say nothing"


def test_several_lines_that_come_at_once_are_entered_in_their_order(desk: Desk) -> None:
    assert desk.write(*RIGHT.values(), row=2) == list(RIGHT.values())[:2]
    assert desk.write(*RIGHT.values(), row=None) == [RIGHT["M_sum"]]
    assert desk.page.marks == [Mark.RIGHT] * 3


def test_an_earlier_line_that_is_changed_takes_the_place_of_its_entry(
    desk: Desk, tmp_path: Path
) -> None:
    desk.write("W_f = 1.40 N", RIGHT["W_l"], "", row=2)
    assert desk.page.marks == [Mark.WRONG, Mark.RIGHT, Mark.OPEN]
    assert desk.write(RIGHT["W_f"], RIGHT["W_l"], "", row=0) == []
    assert desk.page.marks[0] is Mark.OPEN, "what was told of it is about another text"
    assert desk.write(RIGHT["W_f"], RIGHT["W_l"], "", row=1) == [RIGHT["W_f"]]
    assert desk.page.marks == [Mark.RIGHT, Mark.RIGHT, Mark.OPEN]
    assert desk.dialogue.working.lines["W_f"].text == RIGHT["W_f"]
    (record,) = tmp_path.glob("*.jsonl")
    assert kept(record) == ["W_f = 1.40 N", RIGHT["W_l"], RIGHT["W_f"]]


def test_lines_keep_what_came_of_them_wherever_they_are_moved(desk: Desk) -> None:
    desk.write("W_f = 1.40 N", RIGHT["W_l"], "", row=2)
    above = ("", "W_f = 1.40 N", "", RIGHT["W_l"], "")
    assert desk.write(*above, row=2) == []
    assert desk.page.marks == [Mark.OPEN, Mark.WRONG, Mark.OPEN, Mark.RIGHT, Mark.OPEN]
    assert desk.write("", "W_f = 1.40 N", "", "", row=3) == [], "cut here"
    assert desk.write(RIGHT["W_l"], "W_f = 1.40 N", "", "", row=0) == [], "and put in above"
    assert desk.page.marks == [Mark.RIGHT, Mark.WRONG, Mark.OPEN, Mark.OPEN]


def test_a_new_line_is_no_line_that_was_emptied_and_taken_away(desk: Desk) -> None:
    desk.write(RIGHT["W_f"], RIGHT["W_l"], "", row=2)
    desk.write("", RIGHT["W_l"], "", row=0)
    desk.write(RIGHT["W_l"], "", row=1)
    desk.write(RIGHT["W_l"], "", "", row=2)
    assert desk.page.key == ""
    assert desk.page.off_page == "No longer on the page, but still kept: W_f."


def test_a_line_that_is_taken_away_and_put_back_is_not_entered_again(desk: Desk) -> None:
    desk.write(RIGHT["W_f"], RIGHT["W_l"], "", row=2)
    assert desk.page.off_page == ""
    assert desk.write(RIGHT["W_l"], "", row=1) == []
    assert desk.page.off_page == "No longer on the page, but still kept: W_f."
    assert desk.dialogue.working.stands("W_f")
    assert desk.write(RIGHT["W_l"], "", RIGHT["W_f"], row=None) == []
    assert desk.page.marks == [Mark.RIGHT, Mark.OPEN, Mark.RIGHT]
    assert desk.page.off_page == ""


def test_a_line_that_was_replaced_meanwhile_is_entered_when_it_is_put_back(desk: Desk) -> None:
    desk.write("W_f = 1.40 N", "", row=1)
    desk.write("", row=0)
    desk.write(RIGHT["W_f"], "", row=1)
    assert desk.write(RIGHT["W_f"], "W_f = 1.40 N", row=None) == ["W_f = 1.40 N"]
    assert desk.page.marks == [Mark.OPEN, Mark.WRONG]


def test_an_emptied_line_enters_nothing_and_its_entry_is_told_of(desk: Desk) -> None:
    desk.write(RIGHT["W_f"], "", row=1)
    assert desk.write("", "", row=0) == []
    assert desk.page.off_page == "", "it is only being written anew"
    assert desk.write("", "", row=1) == []
    assert desk.page.off_page == "No longer on the page, but still kept: W_f."
    assert desk.write("", RIGHT["W_f"], row=None) == [RIGHT["W_f"]]
    assert (desk.page.marks, desk.page.off_page) == ([Mark.OPEN, Mark.RIGHT], "")


def test_what_is_changed_while_it_is_entered_is_entered_once_more(desk: Desk) -> None:
    page = desk.page
    page.write(["W_f = 1.40 N", ""], 1)
    assert page.next_due() == "W_f = 1.40 N"
    page.write([RIGHT["W_f"], ""], 0)
    page.take(desk.dialogue.enter("W_f = 1.40 N"))
    assert page.next_due() is None, "the cursor is on it"
    assert page.marks == [Mark.OPEN, Mark.OPEN]
    assert desk.write(RIGHT["W_f"], "", row=1) == [RIGHT["W_f"]]


# What each line shows.


def test_the_line_at_the_cursor_is_told_once_the_cursor_is_moved(desk: Desk) -> None:
    desk.write("W_f = 1.40 N", RIGHT["W_l"], "", row=2)
    assert (desk.told(), desk.page.key) == ("Right.", "")
    desk.write("W_f = 1.40 N", RIGHT["W_l"], "", row=0)
    assert desk.told() == "Not yet. The slip is in this line. A hint tells more."
    assert (desk.page.key, desk.page.key_to_mend) == ("W_f", "W_f")
    desk.write("W_f = 1.40 N", RIGHT["W_l"], "", row=1)
    assert (desk.told(), desk.page.key, desk.page.key_to_mend) == ("Right.", "W_l", "")
    desk.page.take(desk.dialogue.hint("W_f"))
    assert desk.page.told is desk.dialogue.latest
    desk.dialogue.say("A word.")
    assert desk.told() == "A word."


def test_a_line_shows_how_it_stands_now_and_not_as_it_was_told(desk: Desk) -> None:
    desk.write("W_f = 20 N", "", row=1)
    follows = "M_f = -3.61 N·m"
    desk.write("W_f = 20 N", follows, "", row=2)
    assert desk.page.marks[:2] == [Mark.WRONG, Mark.FOLLOWED]
    desk.write(RIGHT["W_f"], follows, "", row=2)
    assert desk.page.marks[:2] == [Mark.RIGHT, Mark.WRONG]
    assert "M_f is not right any more" in str(desk.page.told and desk.page.told.changed)
    desk.write(RIGHT["W_f"], follows, "", row=1)
    assert desk.told().startswith("Not yet")


def test_the_note_on_a_size_goes_once_the_other_sense_is_taken(desk: Desk) -> None:
    size, signed = "M_f = 2.482 N m", "M_l = +30.43 N m"
    desk.write(size, "", row=1)
    assert "in this problem's sense of rotation M_f is −2.482" in desk.told()
    desk.write(size, signed, "", row=2)
    assert "you take clockwise as positive" in desk.told()
    desk.write(size, signed, "", row=0)
    assert desk.page.marks == [Mark.RIGHT, Mark.RIGHT, Mark.OPEN]
    assert "sense of rotation" not in desk.told()


def test_of_two_lines_about_one_quantity_the_later_one_stands(desk: Desk) -> None:
    desk.write("W_f = 1.40 N", RIGHT["W_f"], "", row=2)
    assert desk.page.marks == [Mark.OPEN, Mark.RIGHT, Mark.OPEN]
    desk.write("W_f = 1.40 N", RIGHT["W_f"], "", row=0)
    assert (desk.told(), desk.page.key) == (REPLACED, "")
    desk.write("W_f = 1.40 N", RIGHT["W_f"], RIGHT["W_f"], "", row=3)
    assert desk.page.marks == [Mark.OPEN, Mark.RIGHT, Mark.SAME, Mark.OPEN]
    assert desk.told() == "That is the line already here. It is right."


def test_a_remark_has_no_mark_and_what_is_not_read_a_question_mark(desk: Desk) -> None:
    texts = ("we look at the moments first", "F_m = blue", "F_m = (W_f*d_f + W_l*d_l)/d_m", "")
    assert desk.write(*texts, row=3) == list(texts[:3])
    assert desk.page.marks == [Mark.OPEN, Mark.UNREAD, Mark.RIGHT, Mark.OPEN]
    assert desk.dialogue.working.lines == {}
    desk.write(*texts, row=0)
    assert desk.told() == "Noted: there is nothing to check in this line."


def test_one_line_that_says_two_things_stands_for_both(desk: Desk) -> None:
    both = "R = 577.8 N down"
    desk.write("up", "", row=1)
    assert desk.write("up", both, "", row=2) == [both]
    assert set(desk.dialogue.working.lines) > {"R_dir"}
    assert desk.page.marks == [Mark.OPEN, Mark.RIGHT, Mark.OPEN]
    desk.write(both, "", row=1)
    assert desk.page.off_page == ""
    desk.write("", "", row=1)
    assert desk.page.off_page.startswith("No longer on the page, but still kept: ")
    assert desk.page.off_page.count(",") == len(desk.dialogue.working.lines)


def test_a_line_that_was_skipped_shows_it_until_it_is_right(desk: Desk) -> None:
    wrong = "F_m = 10 N"
    desk.write(wrong, "", row=1)
    desk.page.take(desk.dialogue.skip())
    assert (desk.page.marks[0], desk.told()) == (Mark.SKIPPED, "F_m is skipped for now.")
    desk.write("F_m = 671.6 N", "", row=1)
    assert desk.page.marks[0] is Mark.RIGHT


# Going on, and drills.


def test_who_comes_back_finds_the_lines_as_they_stand(desk: Desk, tmp_path: Path) -> None:
    """In the order in which they were first written; to leave them again enters nothing new."""
    said = "weight of the pail: 18/2.205*9.81 = 80.08 N"
    desk.write("third", said, "W_f = 1.40 N", "F_m = blue", "0 = -32.91 + 0.049*F_m", "", row=5)
    desk.write("third", said, RIGHT["W_f"], "F_m = blue", "0 = -32.91 + 0.049*F_m", "", row=5)
    (record,) = tmp_path.glob("*.jsonl")
    again = Desk(WorkingDialogue(Practice.resume(record, SHELF, CATALOGUE)))
    page = ["class: third", said, RIGHT["W_f"], "0 = -32.91 + 0.049*F_m", ""]
    assert again.page.texts == page
    assert again.page.marks == [*[Mark.RIGHT] * 4, Mark.OPEN]
    assert again.page.off_page == ""
    assert again.write(*page, row=2) == []
    assert again.told() == "Right."
    for row, text in enumerate(page[:-1]):
        again.write(*page[:row], f"{text} x", *page[row + 1 :], row=None)
        assert again.write(*page, row=None) == [text]
    assert set(again.page.marks[:4]) <= {Mark.RIGHT, Mark.SAME}


def test_where_verdicts_are_hidden_a_page_tells_only_what_is_saved(tmp_path: Path) -> None:
    seen = []
    for text in ("W_s = 402.2 N", "W_s = 490.5 N"):
        desk = sitting_desk(tmp_path / text[6:11], 'feedback = "at the end"\nattempts = 3')
        texts = (text, "M_s = -199.1 N·m", "x", "")
        desk.write(*texts, row=3)
        looks: list[object] = [*desk.page.marks]
        for row in range(3):
            desk.write(*texts, row=row)
            looks += [desk.told(), desk.page.key, desk.page.key_to_mend]
        desk.write("W_s = 7.77 N", *texts[1:], row=3)
        desk.write("W_s = 7.77 N", *texts[1:], row=1)
        seen.append([*looks, desk.told(), *desk.page.marks])
    assert seen[0] == seen[1]
    assert seen[0][:4] == [Mark.TAKEN, Mark.TAKEN, Mark.UNREAD, Mark.OPEN]


def test_a_line_whose_tries_are_used_stays_as_it_is(tmp_path: Path) -> None:
    desk = sitting_desk(tmp_path, "attempts = 1")
    desk.write("W_s = 54 N", "", row=1)
    assert desk.page.marks == [Mark.CLOSED, Mark.OPEN]
    desk.write("W_s = 55 N", "", row=1)
    assert desk.page.marks == [Mark.UNREAD, Mark.OPEN]
    assert desk.told().startswith("Not judged: all tries for this line are used up.")
    assert desk.page.off_page == "No longer on the page, but still kept: W_s."


def test_what_can_not_be_kept_waits_and_is_followed_by_the_others(
    tmp_path: Path, disk: Disk
) -> None:
    desk = sitting_desk(tmp_path)
    sitting = desk.answering
    assert isinstance(sitting, SittingDialogue)
    disk.broken.append(tmp_path)
    texts = ("W_s = 54 N", "W_b = 98.1 N", "")
    assert desk.write(*texts, row=2) == ["W_s = 54 N"]
    assert desk.page.marks == [Mark.UNKEPT, Mark.OPEN, Mark.OPEN]
    assert (desk.page.waits, desk.page.waiting) == (True, "W_s = 54 N")
    desk.page.take(sitting.try_again(desk.page.waiting))
    assert desk.page.waits, "the disk is broken still"
    disk.broken.clear()
    desk.page.take(sitting.try_again(desk.page.waiting))
    assert desk.page.marks[0] is Mark.WRONG
    assert desk.write(*texts, row=2) == ["W_b = 98.1 N"]
    assert kept(sitting.sitting.place) == list(texts[:2])


@pytest.mark.parametrize("now", [("W_s = 55 N", ""), ("",)], ids=["changed", "taken away"])
def test_what_waits_and_is_changed_is_not_entered_as_it_was(
    now: tuple[str, ...], tmp_path: Path, disk: Disk
) -> None:
    desk = sitting_desk(tmp_path)
    sitting = desk.answering
    assert isinstance(sitting, SittingDialogue)
    disk.broken.append(tmp_path)
    desk.write("W_s = 54 N", "", row=1)
    desk.page.write(now, 0)
    assert (desk.page.waits, desk.page.waiting) == (False, "")
    disk.broken.clear()
    desk.page.take(sitting.try_again(desk.page.waiting))
    assert kept(sitting.sitting.place) == []
    assert desk.write(*now, row=None) == [text for text in now if text]


def test_what_is_never_kept_blocks_nothing_after_it(desk: Desk) -> None:
    desk.page.write(["W_f = 1.40 N", RIGHT["W_l"], ""], 2)
    assert desk.page.next_due() == "W_f = 1.40 N"
    desk.page.take(Unkept(Trouble.NEVER, "The record is full."))
    assert desk.page.marks[0] is Mark.UNKEPT
    assert desk.page.next_due() == RIGHT["W_l"]
    desk.page.take(desk.dialogue.enter(RIGHT["W_l"]))
    desk.page.write(desk.page.texts, 0)
    assert desk.told() == "Not taken: The record is full."


def test_a_hint_that_waits_for_the_disk_leaves_the_page_alone(tmp_path: Path, disk: Disk) -> None:
    desk = sitting_desk(tmp_path)
    disk.broken.append(tmp_path)
    desk.page.take(desk.answering.hint())
    assert not desk.page.waits
    disk.broken.clear()
    assert desk.write("W_s = 54 N", "", row=1) == ["W_s = 54 N"]


# What is too much.


def test_a_long_line_and_a_long_page_are_refused_in_a_sentence() -> None:
    assert refusal(["x" * LONGEST_ENTRY], MOST_LINES) == ""
    assert refusal(["x" * (LONGEST_ENTRY + 1)], 1) == (
        "Nothing is taken: a line may have at most 120 characters."
    )
    assert refusal([""], 10_000) == "Nothing is taken: a page may have at most 200 lines."


def test_a_page_of_all_lines_there_may_be_is_followed_soon(desk: Desk) -> None:
    texts = [f"note {number} of what we think" for number in range(MOST_LINES)]
    desk.page.write(texts, 0)
    desk.page.write([*texts[: MOST_LINES // 2], "new", *texts[MOST_LINES // 2 : -1]], 0)
    assert desk.page.texts[MOST_LINES // 2] == "new"
    assert desk.page.opened()[-1] == ""


def test_a_right_line_stays_marked_where_another_right_one_stands_in_its_place(desk: Desk) -> None:
    """Two balances of one page are both true, though the working has one line for them."""
    desk.write("W_f = 13.7 N", RIGHT["W_f"], "", row=2)
    assert desk.page.marks == [Mark.RIGHT, Mark.RIGHT, Mark.OPEN]
    desk.write("W_f = 13.7 N", RIGHT["W_f"], "", row=0)
    assert (desk.told(), desk.page.key) == (f"Right. {REPLACED}", "")
