"""The dialogue of a free-body diagram, driven without any face."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_with
from helpers.material import CATALOGUE
from leverstep.bench.bench import TAKEN
from leverstep.bench.practice import Practice
from leverstep.bench.practice_choices import PracticeChoices, choices_kept
from leverstep.dialogue.lookback import look_back
from leverstep.dialogue.picture_choices import ChoiceStep, PictureChoices
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.replies import DialogueAnswer, Mark, Reply, Unkept
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.free_body.placing import Placing
from leverstep.working.rules import Pictures, Reasons


def talk(folder: Path, name: str = "elbow-full-pail", **chosen: object) -> WorkingDialogue:
    choices = PracticeChoices(pictures=Pictures.ASKED, **chosen)  # type: ignore[arg-type]
    return WorkingDialogue(
        Practice.start(SHELF.problems[name], "7", CATALOGUE, folder, choices=choices)
    )


def picture_of(dialogue: WorkingDialogue) -> PictureDialogue:
    picture = dialogue.picture
    assert picture is not None
    return picture


def draw_right(picture: PictureDialogue) -> None:
    for item in picture.picture.needed:
        answer = picture.place(picture.picture.right_placing(item))
        assert answer.mark in (Mark.RIGHT, Mark.TAKEN)


def answer(reply: Reply) -> DialogueAnswer:
    assert isinstance(reply, DialogueAnswer)
    return reply


def test_the_picture_comes_before_the_first_line_and_is_hidden_until_then(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    picture = picture_of(dialogue)
    assert dialogue.hidden_pictures == ("",)
    assert "Draw the free-body diagram of the forearm first" in picture.asks
    draw_right(picture)
    done = picture.finish()
    assert done.moves_on
    assert done.told == (
        "The free-body diagram is complete and right. The joint reaction at the elbow is still to "
        "be found."
    )
    assert dialogue.picture is None
    assert dialogue.hidden_pictures == ()
    assert dialogue.enter("1.65*9.81 N").mark is Mark.RIGHT


def test_each_posture_has_its_picture_before_its_first_line(tmp_path: Path) -> None:
    dialogue = talk(tmp_path, "wrist-then-elbow")
    picture_of(dialogue).skip()
    assert dialogue.picture is None
    assert dialogue.hidden_pictures == ("2",)
    for step in dialogue.working.steps:
        if step.mark == "2":
            break
        dialogue.skip()
    later = picture_of(dialogue)
    assert later.picture.question.problem.segment == "forearm"
    draw_right(later)
    assert later.finish().moves_on


def test_without_the_choice_there_is_no_picture(tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems["elbow-full-pail"], "7", CATALOGUE, tmp_path)
    dialogue = WorkingDialogue(practice)
    assert dialogue.picture is None
    assert dialogue.hidden_pictures == ()


@pytest.mark.parametrize("reasons", list(Reasons))
def test_a_wrong_placing_says_where_and_the_slip_when_that_is_asked(
    tmp_path: Path, reasons: Reasons
) -> None:
    picture = picture_of(talk(tmp_path, reasons=reasons))
    wrong = picture.place(Placing("F_m", "d_m", "down"))
    assert wrong.mark is Mark.WRONG
    assert "its direction is not right" in wrong.told
    assert ("an arrow turned round" in wrong.told) == (reasons is Reasons.AT_ONCE)
    hints = [picture.hint() for _ in range(5)]
    given = [one.hint for one in hints if one.hint is not None]
    assert [one.number for one in given] == [1, 2, 3, 4, 1]
    assert "an arrow turned round" in given[1].text
    assert given[3].text == "Force of the elbow flexors: 4.6 cm from the elbow, straight up."
    assert "elbow flexors" not in given[4].text  # what comes after it is left out


def test_hints_end_where_all_are_given_on_each_thing(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path))
    for item in ("F_m", "decoy motion"):
        picture.place(Placing(item, "d_m", "down"))
    things = len(picture.picture.missing) + 2
    given = [picture.hint().hint for _ in range(4 * things)]
    assert None not in given
    assert picture.hint().told == "There are no further hints on what is drawn, or left out."
    assert max(Counter(picture.picture.given).values()) == 4


def test_the_same_again_is_no_try(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path))
    picture.place(Placing("F_m", "d_m", "down"))
    again = picture.place(Placing("F_m", "d_m", "down"))
    assert again.told == "Force of the elbow flexors stands there already."
    assert picture.picture.wrong == {"F_m": 1}


BROOM = "shoulder-level-broom"
"""Its deltoid pulls up and to the left, at alpha to the horizontal arm."""


def test_what_is_drawn_again_right_is_no_slip(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path, BROOM))
    one = Placing("F_m", "d_m", "horizontal alpha up left")
    other = Placing("F_m", "d_m", "segment alpha axis above")
    assert picture.place(one).mark is Mark.RIGHT
    assert picture.place(other).told == "Force of the deltoid is drawn already, and right."
    assert picture.picture.wrong["F_m"] == 0
    assert picture.place(Placing("F_m", "d_m", "up")).mark is Mark.WRONG
    assert picture.picture.placed["F_m"].placing == one


def test_an_angle_is_asked_back_for_where_the_quarter_is_right(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path, BROOM))
    asked = picture.place_words("deltoid at 2, up and to the left")
    assert asked.told.startswith("Up and to the left is the right side: at which angle?")
    assert (asked.mark, picture.picture.placed) == (Mark.OPEN, {})
    assert picture.place_words("deltoid at 2, up and to the right").mark is Mark.WRONG
    assert picture.place_words("W_l at 4, down and to the left").mark is Mark.WRONG


def test_a_point_that_is_not_meant_is_not_suggested(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path, BROOM))
    assert picture.place_words("W_l at the hand, down").told == (
        "Not taken: No point of the list is called the hand. Say how far from the shoulder it "
        "lies, or its number in the list."
    )


def test_a_slip_that_is_behind_several_things_left_out_is_counted(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path, reasons=Reasons.AT_ONCE))
    draw_right(picture)
    for item in ("the axis", "d_l", "d_m"):
        picture.take_away_words(item)
    assert picture.finish().told == (
        "Not complete yet: 3 things are missing: the axis not marked and a distance left out "
        "(twice)."
    )


def test_a_picture_that_is_not_whole_stays_open(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    picture = picture_of(dialogue)
    draw_right(picture)
    picture.take_away("the reaction")
    picture.place(Placing("decoy motion", "axis", "up"))
    told = picture.finish().told
    assert told == ("Not complete yet: 1 thing is missing; 1 thing is not right: force of motion.")
    assert dialogue.picture is not None
    picture.take_away_words("force of motion")
    picture.place_words("joint reaction at the elbow, unknown yet")
    assert picture.hint().told == "All is there, and right."
    assert picture.finish().moves_on


def test_words_that_say_nothing_cost_nothing(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path))
    for told in (picture.place_words("hm"), picture.take_away_words("hm")):
        assert told.mark in (Mark.UNREAD, Mark.OPEN)
        assert "No force of the list is called hm." in told.told
    assert picture.take_away("W_l").told == "Weight of the pail is not drawn."
    assert (picture.picture.placed, picture.picture.wrong) == ({}, {})


def test_where_verdicts_wait_nothing_tells_right_from_wrong(tmp_path: Path) -> None:
    rules = 'feedback = "at the end"\npicture = "asked"'
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path)
    dialogue = SittingDialogue(sitting)
    dialogue.turn_to(1)
    picture = picture_of(dialogue.working)
    right, wrong = Placing("W_l", "d_l", "down"), Placing("W_l", "d_m", "up")
    answers = [answer(dialogue.draw(lambda one=one: picture.place(one))) for one in (right, wrong)]
    assert {one.mark for one in answers} == {Mark.TAKEN}
    assert all(TAKEN in one.told for one in answers)
    assert picture.hint().told == "There are no hints in this drill."
    asked = answer(dialogue.draw(picture.finish))
    assert "so far, 1 thing is drawn" in asked.told
    assert (asked.mark, asked.moves_on) == (Mark.OPEN, False)
    dialogue.draw(lambda: picture.place(right))
    assert not answer(dialogue.draw(picture.finish)).moves_on, "something else was done between"
    done = answer(dialogue.draw(picture.finish))
    assert done.told.startswith(TAKEN)
    assert (done.mark, done.moves_on) == (Mark.TAKEN, True)
    assert dialogue.working.picture is None


def test_what_the_disk_does_not_take_waits_and_is_drawn_then(tmp_path: Path, disk: Disk) -> None:
    sitting = Sitting.start(drill_with('picture = "asked"'), CATALOGUE, "s01", tmp_path)
    dialogue = SittingDialogue(sitting)
    dialogue.turn_to(1)
    picture = picture_of(dialogue.working)
    disk.broken = [tmp_path]
    reply = dialogue.draw(lambda: picture.place(Placing("W_l", "d_l", "down")))
    assert isinstance(reply, Unkept)
    assert reply.again is not None
    assert picture.picture.placed == {}
    disk.broken = []
    told = answer(dialogue.try_again())
    assert told.mark is Mark.RIGHT
    assert set(picture.picture.placed) == {"W_l"}


def test_the_choice_is_kept_and_takes_effect_where_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    problem = SHELF.problems["elbow-full-pail"]
    dialogue = PracticeDialogue(Practice.start(problem, "7", CATALOGUE))
    dialogue.enter("1.65*9.81 N")
    assert dialogue.change_pictures().told.startswith("From the next problem on, you draw")
    assert dialogue.picture is None
    assert choices_kept().pictures is Pictures.ASKED
    assert dialogue.change_pictures().told.endswith("no free-body diagram is shown.")
    unseen = PracticeDialogue(Practice.start(problem, "9", CATALOGUE, choices=choices_kept()))
    assert (unseen.has_pictures, unseen.picture) == (False, None)
    assert dialogue.has_pictures, "it stays where it was shown"
    assert dialogue.change_pictures().told.endswith("the free-body diagram is given.")
    fresh = PracticeDialogue(Practice.start(problem, "8", CATALOGUE))
    assert fresh.change_pictures().told.startswith("You draw the free-body diagram now")
    assert fresh.picture is not None


@pytest.mark.parametrize(
    "name", ["elbow-full-pail", "ankle-forward-lean", "elbow-both-attachments", "elbow-stiff-brace",
             "elbow-full-teapot", "knee-kneecap", "ankle-then-knee"],
)  # fmt: skip
def test_choices_lead_to_every_right_thing_and_back(tmp_path: Path, name: str) -> None:
    dialogue = talk(tmp_path, name)
    picture = picture_of(dialogue)
    choosing = PictureChoices(picture)
    for item in picture.picture.needed:
        wanted = picture.picture.right_placing(item)
        placing = chosen(choosing, wanted)
        assert placing == wanted
        assert choosing.step is ChoiceStep.ITEM
        picture.place(placing)
        marks = {one.key: one.mark for one in choosing.choices}
        assert marks[item] is Mark.RIGHT
    assert picture.finish().moves_on


def chosen(choosing: PictureChoices, wanted: Placing) -> Placing:
    """Choose what leads to a placing, trying each way that slants."""
    placing = choosing.choose(wanted.item)
    if placing is None and choosing.step is ChoiceStep.POINT:
        assert choosing.tried(wanted.point) == Placing(wanted.item, wanted.point)
        placing = choosing.choose(wanted.point)
    if placing is not None:
        return placing
    assert choosing.step is ChoiceStep.WAY
    if wanted.pointing in [one.key for one in choosing.choices]:
        assert choosing.tried(wanted.pointing) == wanted
        placing = choosing.choose(wanted.pointing)
    else:
        assert choosing.choose(choosing.choices[-2].key) is None
        for line in choosing.choices:
            assert choosing.choose(line.key) is None
            if wanted.pointing in [one.key for one in choosing.choices]:
                placing = choosing.choose(wanted.pointing)
                break
            assert choosing.back()
    assert placing is not None
    return placing


def test_going_back_comes_to_the_first_choice(tmp_path: Path) -> None:
    choosing = PictureChoices(picture_of(talk(tmp_path)))
    assert not choosing.back()
    choosing.choose("W_l")
    choosing.choose("d_l")
    assert choosing.asks == "Weight of the pail: which way?"
    assert choosing.back()
    assert choosing.asks == "Weight of the pail: at which point?"
    assert choosing.back()
    assert not choosing.back()
    assert choosing.asks.startswith("What acts on the forearm?")


def test_after_what_stands_the_next_thing_that_does_not_is_looked_at(tmp_path: Path) -> None:
    picture = picture_of(talk(tmp_path))
    choosing = PictureChoices(picture)
    assert choosing.next_to("W_l") == "W_l"
    picture.place(Placing("W_l", "d_l", "up"))
    assert choosing.next_to("W_l") == "W_l", "it may be taken away"
    picture.place(Placing("W_l", "d_l", "down"))
    assert choosing.next_to("W_l") == "decoy other body"
    keys = [one.key for one in choosing.choices]
    picture.place(Placing(keys[-1]))
    assert choosing.next_to(keys[-1]) == keys[0]
    assert choosing.tried("d_l") == Placing("d_l")
    assert choosing.tried("W_l") is None


def test_slips_in_a_diagram_are_looked_back_on(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    picture = picture_of(dialogue)
    for _ in range(2):
        picture.place(Placing("W_l", "d_l", "up"))
        picture.take_away("W_l")
    picture.skip()
    assert look_back(dialogue.bench).remembered == (
        "Slip: a weight that does not point straight down, in the diagram of the forearm. "
        "Remember: A weight points straight down, however the forearm lies.",
    )


def test_a_diagram_with_marks_is_skipped_only_when_that_is_said_twice(tmp_path: Path) -> None:
    sitting = Sitting.start(drill_with('picture = "asked"'), CATALOGUE, "s01", tmp_path)
    dialogue = SittingDialogue(sitting)
    working = dialogue.working
    asked = picture_of(working).skip()
    assert "gives up its marks, for good" in asked.told
    assert not asked.moves_on
    picture_of(working).place_words("nonsense")
    assert not picture_of(working).skip().moves_on, "something else was done between"
    assert picture_of(working).skip().moves_on
    assert working.picture is None
