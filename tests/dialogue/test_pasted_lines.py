"""Several lines pasted where one is asked for, and that symbols would have done."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_with
from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.dialogue.entries_told import MOST_SYMBOLS_TOLD
from leverstep.dialogue.pasted_lines import enter_lines, lines_of
from leverstep.dialogue.replies import DialogueAnswer, Mark, Unkept
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.dialogue.symbols_told import in_symbols
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.drill.sitting import Sitting
from leverstep.working.guidance import Guidance

PAIL = SHELF.problems["elbow-full-pail"]


def talk(folder: Path, guidance: Guidance = Guidance.LINES) -> WorkingDialogue:
    return WorkingDialogue(Practice.start(PAIL, "7", CATALOGUE, folder, guidance=guidance))


def pasted(dialogue: WorkingDialogue, text: str) -> DialogueAnswer:
    reply = enter_lines(dialogue, dialogue, lines_of(text))
    assert isinstance(reply, DialogueAnswer)
    assert dialogue.latest == reply
    return reply


def test_each_line_is_entered_as_if_it_were_typed(tmp_path: Path) -> None:
    """Also one that says itself which it is; what is no line of the working is passed over."""
    dialogue = talk(tmp_path)
    answer = pasted(dialogue, "16.19 N\n\n  W_l = 48.94 N\r\n0.255 m\nd_l = 35.0 cm\n4.6 cm\n")
    assert list(dialogue.working.lines) == ["W_f", "W_l", "L", "d_l", "d_m"]
    assert answer.mark is Mark.RIGHT
    assert answer.told.endswith("5 lines of 5 pasted are entered.")
    assert dialogue.key_at_hand == "d_f"


@pytest.mark.parametrize("slip", ["47.0 N", "forty nine", "48.94"])
def test_the_first_that_is_not_right_or_not_read_is_the_last(tmp_path: Path, slip: str) -> None:
    dialogue = talk(tmp_path)
    answer = pasted(dialogue, f"16.19 N\n{slip}\n0.255 m\n0.35 m")
    assert answer.told.endswith(". 2 lines of 4 pasted are entered. The other 2 are not taken.")
    assert set(dialogue.working.lines) <= {"W_f", "W_l"}
    assert dialogue.key_at_hand == "W_l"


def test_nothing_is_entered_after_the_last_line(tmp_path: Path) -> None:
    dialogue = talk(tmp_path, Guidance.LANDMARKS)
    lines = [
        f"{s.key} = {PAIL.question('7').right[s.key]:.5g} {s.unit}" for s in _numbers(dialogue)
    ]
    answer = pasted(dialogue, "\n".join([*lines, "third", "direction: down", "W_f = 1 N"]))
    assert dialogue.at_hand is None
    assert answer.told.endswith("The other 1 is not taken.")


def _numbers(dialogue: WorkingDialogue):  # type: ignore[no-untyped-def]
    return [step for step in dialogue.working.steps if step.kind.is_number]


def test_a_page_that_is_too_long_is_refused_whole(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    assert "at most 200 lines" in pasted(dialogue, "16.19 N\n" * 201).told
    assert not dialogue.working.lines


def test_in_a_drill_a_wrong_line_costs_its_try_and_the_others_none(tmp_path: Path) -> None:
    drill = drill_with("attempts = 2")
    dialogue = SittingDialogue(Sitting.start(drill, CATALOGUE, "s01", tmp_path))
    reply = enter_lines(dialogue, dialogue.working, ("1.23 N", "1.24 N", "1.25 N"))
    assert isinstance(reply, DialogueAnswer)
    assert "1 try is left. 1 line of 3 pasted is entered. The other 2 are not taken." in reply.told
    assert sum(dialogue.working.working.attempts.values()) == 1


def test_a_line_that_cannot_be_kept_waits_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(monkeypatch)
    dialogue = SittingDialogue(Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path))
    disk.broken = [tmp_path]
    reply = enter_lines(dialogue, dialogue.working, ("1.23 N", "1.24 N"))
    assert isinstance(reply, Unkept)
    assert reply.told.endswith("0 lines of 2 pasted are entered. The other 2 are not taken.")
    assert not dialogue.working.working.lines


# Symbols.


def test_that_symbols_would_have_done_is_said_twice_at_most(tmp_path: Path) -> None:
    dialogue = talk(tmp_path)
    dialogue.working.leave("equation")
    told = [
        dialogue.enter(text).told
        for text in (
            "1.65 kg*9.81 m/s^2",  # the given has a symbol too, but no line
            "48.94 N", "25.5 cm", "35.0 cm", "4.6 cm", "0.682 * 25.5 / 100 m",
            "-(16.19*0.1739) N m", "-(48.94*0.350) N m", "-2.815 N m - 17.13 N m",
        )
    ]  # fmt: skip
    said = [text.partition("You may also type ")[2] for text in told]
    assert [text for text in said if text] == ["-W_f*d_f.", "-W_l*d_l."]
    assert MOST_SYMBOLS_TOLD == 2
    assert dialogue.working.stands("M_sum")


@pytest.mark.parametrize("text", ["-W_f*d_f", "-2.815 N m", "-W_f*0.682*0.255 m"])
def test_it_is_not_said_of_symbols_or_of_a_short_line(tmp_path: Path, text: str) -> None:
    dialogue = talk(tmp_path)
    dialogue.working.leave("equation")
    for line in ("16.19 N", "48.94 N", "25.5 cm", "35.0 cm", "4.6 cm", "0.1739 m"):
        dialogue.enter(line)
    answer = dialogue.enter(text)
    assert answer.mark is Mark.RIGHT
    assert "You may" not in answer.told


@pytest.mark.parametrize("problem", sorted(SHELF.problems))
def test_what_is_said_to_do_does(problem: str) -> None:
    """Each line that can be typed in symbols is right so."""
    question = SHELF.problems[problem].question("1")
    practice = Practice(question, CATALOGUE, None)
    for step in practice.working.steps:
        if step.kind.is_number:
            typed = in_symbols(practice.working, step)
            text = f"{question.right[step.key]:.6g} {step.unit}".strip()
            assert practice.enter(step.key, typed or text).settled, (step.key, typed)
