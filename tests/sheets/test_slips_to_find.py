"""Somebody else's working on paper: its lines with the slip, room to mend it, and the key."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, drill_file
from helpers.material import CATALOGUE
from leverstep.documents.blocks import Block, Lines, Posed, Space, Table, Whole, Words
from leverstep.drill.drill_file import drill_of
from leverstep.erroneous.erroneous_working import erroneous_working, told_of_slip
from leverstep.erroneous.slip_questions import INTRODUCED, TWO_INTRODUCED
from leverstep.faces.commands.cli import main
from leverstep.sheets.handout import Handout, of_drill, of_problems, with_reasons
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import worksheets
from leverstep.working.guidance import Guidance
from leverstep.working.page import line_name

DRILL = """
id = "slips"
title = "Slips"

[[item]]
problem = "elbow-full-pail"
form = "find the slip"
marks = 9

[[item]]
problem = "plain-seesaw"
"""


SHOWN = 'problem = "elbow-pail-of-water"\nguidance = "fading"\nopen = 1'


def handout_of(ident: str, slips: int = 1) -> Handout:
    handout = of_problems([SHELF.problems[ident]], Guidance.LINES, "1", {}, slips)
    return with_reasons(handout, CATALOGUE)


def words_in(blocks: list[Block]) -> str:
    texts = []
    for block in blocks:
        parts = block.blocks if isinstance(block, Whole) else (block,)
        texts += [part.text for part in parts if isinstance(part, Words)]
    return " ".join(texts)


def test_the_diagram_of_somebody_elses_working_is_given_though_others_are_drawn() -> None:
    drill = drill_of(
        DRILL.replace("[[item]]", 'picture = "asked"\n[[item]]', 1), SHELF.problems, "d"
    )
    handout = with_reasons(of_drill(drill, {}), CATALOGUE)
    blocks = list(worksheets(handout))
    assert sum(isinstance(one, Posed) for one in blocks) == 1
    assert words_in(blocks).count("Draw the free-body diagram of the board") == 1


def test_the_whole_working_is_printed_with_room_for_three_answers() -> None:
    for card in SHELF.offered:
        parts = list(worksheets(handout_of(card.id)))
        working = erroneous_working(SHELF.problems[card.id].question("1"), CATALOGUE)
        assert working is not None
        (table,) = (part for part in parts if isinstance(part, Table))
        columns = [[row[n] for row in table.rows] for n in range(len(table.columns))]
        printed = [text for column in columns for text in column if text]
        assert printed == [line.text for line in working.lines], card.id
        (lines,) = (part for part in parts if isinstance(part, Lines))
        assert len(lines.lines) == 3
        assert INTRODUCED in words_in(parts)
        assert "Why is that line wrong as it stood" in words_in(parts)
        assert [part.count for part in parts if isinstance(part, Space)] == [3]
        said = words_in(parts) + " ".join(line.asks for line in lines.lines)
        assert working.slips[0].made.slip.name not in said, "the sheet does not tell"


def test_the_key_names_line_and_slip_and_has_the_right_working() -> None:
    told = words_in(list(answer_key(handout_of("elbow-full-pail"))))
    assert "The first line that is wrong: d_f. The slip: the fraction of another length." in told
    made = erroneous_working(SHELF.problems["elbow-full-pail"].question("1"), CATALOGUE)
    assert made is not None
    assert f"The reason, in whatever words: {made.slips[0].made.slip.reason}" in told


def test_where_the_first_lines_are_shown_the_reason_of_the_last_is_asked_for_in_words() -> None:
    drill = drill_of(DRILL.replace('problem = "plain-seesaw"', SHOWN), SHELF.problems, "slips.toml")
    handout = with_reasons(of_drill(drill, {"s01": ""}), CATALOGUE)
    parts = list(worksheets(handout))
    task = handout.copies[0].tasks[1]
    name = line_name(task.question.derivation.asked[task.shown - 1])
    assert f"Why is the last of them, {name}, as it is?" in words_in(parts)
    assert [part.count for part in parts if isinstance(part, Space)] == [3, 2]
    reason = handout.reasons[task.question]
    assert reason
    assert reason not in words_in(parts), "the sheet does not tell"
    assert f"Why {name} is so: {reason}" in words_in(list(answer_key(handout)))


def test_quick_marking_gives_line_and_slip_and_only_lines_that_are_asked_for() -> None:
    shown = DRILL.replace('problem = "plain-seesaw"', SHOWN)
    drill = drill_of(shown, SHELF.problems, "slips.toml")
    parts = list(answer_key(with_reasons(of_drill(drill, {"s01": ""}), CATALOGUE)))
    slip, faded = [part.blocks[1] for part in parts if isinstance(part, Whole)][:2]
    assert isinstance(slip, Table)
    assert isinstance(faded, Table)
    assert slip.columns == ("Student", "First wrong line", "Slip", "Mended")
    made = erroneous_working(drill.tasks("s01")[0].question, CATALOGUE)
    assert made is not None
    assert slip.rows[0][1:3] == (made.step.key, told_of_slip(made.question, made.slips[0].made))
    assert faded.columns == ("Student", "direction")


def test_in_a_drill_only_such_an_item_is_printed_so_and_marked_by_thirds() -> None:
    drill = drill_of(DRILL, SHELF.problems, "slips.toml")
    handout = with_reasons(of_drill(drill, {"s01": ""}), CATALOGUE)
    parts = list(worksheets(handout))
    assert words_in(parts).count(INTRODUCED) == 1
    assert "Line, slip and mending: 3 marks each; the reason bears none" in words_in(
        list(answer_key(handout))
    )


def test_a_problem_to_be_worked_is_printed_as_ever() -> None:
    parts = list(worksheets(handout_of("elbow-full-pail", 0)))
    assert not any(isinstance(part, Table) for part in parts)


def test_the_command_writes_it_for_problems_and_says_that_a_drill_decides(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call = ["sheet", "elbow-full-pail", "--seed", "1", "--find-slip", "--format", "md"]
    assert main(call) == 0
    assert "616.8 N" in capsys.readouterr().out
    assert main(["sheet", str(drill_file(tmp_path)), "--find-slip"]) == 2
    assert "a drill says itself where a slip is to be found" in capsys.readouterr().err
    assert main([*call[:4], "--slips", "2", "--format", "md"]) == 0
    assert TWO_INTRODUCED in capsys.readouterr().out.replace("\n", " ")
    assert main(["sheet", str(drill_file(tmp_path)), "--slips", "2"]) == 2
    assert "no --find-slip and no --slips" in capsys.readouterr().err


def test_two_slips_have_room_for_both_and_the_key_names_both() -> None:
    handout = handout_of("elbow-full-pail", 2)
    parts = list(worksheets(handout))
    (lines,) = (part for part in parts if isinstance(part, Lines))
    assert [line.prompt for line in lines.lines] == ["line:", "slip:", "mended:"] * 2
    assert TWO_INTRODUCED in words_in(parts)
    assert "Why are both lines wrong as they stood" in words_in(parts)
    told = words_in(list(answer_key(handout)))
    assert "The first line that is wrong: d_f. The slip: the fraction of another length." in told
    assert "The line with the second slip: M_l. The slip: divided by the arm." in told
    drill = drill_of(DRILL.replace("marks = 9", "slips = 2"), SHELF.problems, "slips.toml")
    key = list(answer_key(with_reasons(of_drill(drill, {"s01": ""}), CATALOGUE)))
    quick = next(part.blocks[1] for part in key if isinstance(part, Whole))
    assert isinstance(quick, Table)
    found = ("First wrong line", "Slip", "Mended", "Second line", "Slip", "Mended")
    assert quick.columns == ("Student", *found)
    assert len(quick.rows[0]) == len(quick.columns)
    assert "Each line, slip and mending: 1.67 marks" in words_in(key)
