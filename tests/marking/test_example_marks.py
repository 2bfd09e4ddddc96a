"""A drill in which the first lines of a task are shown: what is asked, earned, told and printed."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.record import read_bytes
from leverstep.bench.replaying import keep_nothing
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import rules_in_words
from leverstep.dialogue.preview import preview
from leverstep.dialogue.sitting_dialogue import SittingDialogue
from leverstep.documents.blocks import Lines, Table
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.tables import marks_columns
from leverstep.questions.choice_question import QuestionSort
from leverstep.sheets.handout import of_drill, with_reasons
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import worksheets
from leverstep.working.guidance import Guidance
from leverstep.working.writing import worked_line

TEXT = """
id = "examples"
title = "Examples"
{rules}

[[item]]
problem = "elbow-full-pail"
guidance = "fading"
open = {opened}
marks = 6

[[item]]
problem = "plain-seesaw"
"""


def drill(rules: str = "", opened: int = 3) -> Drill:
    return drill_of(TEXT.format(rules=rules, opened=opened), SHELF.problems, "examples.toml")


def begun(folder: Path, rules: str = "") -> SittingDialogue:
    return SittingDialogue(Sitting.start(drill(rules), CATALOGUE, "s01", folder))


def marked(dialogue: SittingDialogue, rules: str = "") -> Marked:
    return mark_record(drill(rules), CATALOGUE, "r", read_bytes(dialogue.sitting.place))


def read_all(dialogue: SittingDialogue, right: bool = True) -> int:
    """Read the lines that are shown; return of how many of them it was asked why."""
    asked = 0
    while (question := dialogue.working.question) is not None:
        is_why = question.sort is QuestionSort.WHY
        asked += is_why
        fits = (n for n, a in enumerate(question.answers, 1) if (a.key == "because") is right)
        dialogue.choose(next(fits) if is_why else 1)
    return asked


def work_all(dialogue: SittingDialogue) -> None:
    working = dialogue.working.working
    while (step := working.current()) is not None:
        dialogue.enter(worked_line(working.question, step, working.question.right))


def test_the_last_lines_share_the_marks_and_no_shown_line_earns_or_costs(tmp_path: Path) -> None:
    dialogue = begun(tmp_path, 'hints = "at a cost"')
    bench = dialogue.working.bench
    read_all(dialogue)
    dialogue.hint("W_f")
    dialogue.enter("W_f = 3 N")
    work_all(dialogue)
    found = marked(dialogue, 'hints = "at a cost"')
    assert [line.step for line in found.lines if line.task == 1] == [
        step.key for step in bench.working.steps[-3:]
    ]
    assert (found.marks[0], found.hints) == (Fraction(6), 0)
    assert {line.share for line in found.lines if line.task == 1} == {Fraction(1)}


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', 'conversions = "given"'])
def test_what_is_taken_again_comes_to_the_same(rules: str, tmp_path: Path) -> None:
    dialogue = begun(tmp_path, rules)
    asked = read_all(dialogue, right=False)
    assert asked > 2
    work_all(dialogue)
    first = dialogue.sitting.benches[0]
    place = dialogue.sitting.place
    again = Sitting.resume(place, drill(rules), CATALOGUE, tmp_path).benches[0]
    assert again.answers == first.answers
    assert again.reasoned == first.reasoned
    assert {k: one.text for k, one in again.working.lines.items()} == {
        k: one.text for k, one in first.working.lines.items()
    }
    assert (again.working.asked, again.working.filled) == (
        first.working.asked, first.working.filled,
    )  # fmt: skip
    found = marked(dialogue, rules)
    assert [one.when for one in found.answers] == [Guidance.FADING] * asked
    assert not any(one.right for one in found.answers)
    assert found.marks[0] == 6
    kinds = [line["kind"] for line in fields_in(place)]
    assert kinds.count("answer") == len(first.working.steps) - 3


def test_the_reasons_are_counted_in_the_table_of_marks(tmp_path: Path) -> None:
    dialogue = begun(tmp_path)
    asked = read_all(dialogue)
    student = Student("s01", "", marked(dialogue), (marked(dialogue),), ())
    columns = marks_columns(drill())
    told = {name: columns[name](student) for name in ("reasons", "reasons right")}
    assert told == {"reasons": str(asked), "reasons right": str(asked)}
    plain = drill_of(
        'id = "a"\ntitle = "A"\n[[item]]\nproblem = "plain-seesaw"', SHELF.problems, "a.toml"
    )
    assert "reasons" not in marks_columns(plain)


def test_students_are_told_and_the_preview_says_which_lines_are_asked_for() -> None:
    rules = " ".join(rules_in_words(drill(), None, "press F10", "press Esc"))
    assert "In task 1 the first lines are shown to you" in rules
    assert "diagram" not in rules
    drawn = " ".join(rules_in_words(drill('picture = "asked"'), None, "press F10", "press Esc"))
    assert "they carry no marks, and no diagram is drawn." in drawn
    told = "\n".join(preview(drill(), CATALOGUE))
    assert "Asked for: class, R_y, direction. They share the 6 marks evenly; the 13 before" in told
    assert "Asked for: every line." in told


def test_on_paper_the_first_lines_are_printed_and_the_last_have_room() -> None:
    blocks = list(worksheets(of_drill(drill(), {})))
    printed = next(block for block in blocks if isinstance(block, Table))
    room = next(block for block in blocks if isinstance(block, Lines))
    assert sum(bool(cell) for row in printed.rows for cell in row) == 13
    assert [line.prompt for line in room.lines] == ["class:", "R_y =", "direction:"]
    assert "shared equally by 3 lines" in str(list(answer_key(of_drill(drill(), {}))))


def test_with_more_lines_open_than_there_are_all_are_asked_for() -> None:
    (bench, _) = benches_of(
        drill(opened=40), CATALOGUE, drill(opened=40).tasks("s01"), keep_nothing
    )
    assert bench.fading is None
    assert bench.working.guidance is Guidance.LINES
    assert bench.working.asked == bench.working.steps


WHOLE = TEXT.replace("marks = 6\n", "").format(rules="{rules}", opened=0)


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', "sense = true\npredict = true"])
def test_an_item_that_is_shown_whole_asks_nothing_but_why_and_has_no_marks(
    rules: str, tmp_path: Path
) -> None:
    whole = drill_of(WHOLE.format(rules=rules), SHELF.problems, "examples.toml")
    dialogue = SittingDialogue(Sitting.start(whole, CATALOGUE, "s01", tmp_path))
    assert dialogue.sitting.open_tasks == (1, 2)
    asked = 0
    while (question := dialogue.working.question) is not None:
        asked += question.sort is QuestionSort.WHY
        dialogue.choose(1)
    assert asked > 2
    assert dialogue.working.working.asked == ()
    assert dialogue.sitting.open_tasks == (2,)
    place = dialogue.sitting.place
    again = Sitting.resume(place, whole, CATALOGUE, tmp_path)
    assert again.open_tasks == (2,)
    dialogue.sitting.hand_in()
    found = mark_record(whole, CATALOGUE, "r", read_bytes(place))
    assert (found.marks, whole.marks) == ((0, 0), 10)
    assert not [line for line in found.lines if line.task == 1]
    assert [one.when for one in found.answers].count(Guidance.FADING) == asked
    told = " ".join(rules_in_words(whole, None, "press F10", "press Esc"))
    assert "In task 1 the whole working is shown to you, line by line" in told
    assert "There are no marks for that." in told
    assert "Asked for: nothing. Every line is shown" in "\n".join(preview(whole, CATALOGUE))


def test_on_paper_a_working_that_is_shown_whole_has_no_lines_to_fill() -> None:
    whole = of_drill(drill_of(WHOLE.format(rules=""), SHELF.problems, "examples.toml"), {})
    blocks = list(worksheets(whole))
    printed = next(block for block in blocks if isinstance(block, Table))
    assert sum(bool(cell) for row in printed.rows for cell in row) == 16
    assert sum(isinstance(block, Lines) for block in blocks) == 1, "those of the seesaw"
    assert "Why direction is so" not in str(list(answer_key(whole)))
    with_its_reason = with_reasons(whole, CATALOGUE)
    assert "Why direction is so: " in str(list(answer_key(with_its_reason)))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (WHOLE.format(rules="").partition('[[item]]\nproblem = "plain-seesaw"')[0],
         "item: no task has marks; expected one task at least that has marks"),
        (WHOLE.format(rules="").replace("open = 0", "open = 0\nweights = { F_m = 3 }"),
         "item[1].weights: found beside open = 0; expected no marks where every line is shown"),
    ],
)  # fmt: skip
def test_marks_where_nothing_is_asked_for_are_a_fault(text: str, told: str) -> None:
    with pytest.raises(FileError, match=re.escape(told)):
        drill_of(text, SHELF.problems, "examples.toml")


def test_no_diagram_is_drawn_where_lines_are_shown() -> None:
    rules = 'picture = "asked"'
    shown, other = benches_of(drill(rules), CATALOGUE, drill(rules).tasks("s01"), keep_nothing)
    assert not shown.picture_work.pictures
    assert other.picture_work.pictures


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"fading"', '"faded"', "item[1].guidance: found 'faded'"),
        ('"fading"', '"blank"', 'item[1].open: found alone; expected guidance = "fading"'),
        ("open = 3", "open = -1", "item[1].open: found -1; expected a whole number from 0 to 99"),
        ("open = 3", "open = 0", "item[1].marks: found beside open = 0; expected no marks where"),
        ('guidance = "fading"', "", 'item[1].open: found alone; expected guidance = "fading"'),
        ("open = 3", 'form = "find the slip"', 'guidance: found beside form = "find the slip"'),
        ('title = "Examples"', 'title = "E"\nguidance = "fading"', "guidance: found 'fading'"),
    ],
)
def test_what_can_not_be_is_a_fault(old: str, new: str, told: str) -> None:
    text = TEXT.format(rules="", opened=3).replace(old, new)
    with pytest.raises(FileError) as error:
        drill_of(text, SHELF.problems, "examples.toml")
    assert told in str(error.value)
