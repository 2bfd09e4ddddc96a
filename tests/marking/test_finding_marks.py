"""What finding a slip earns in a drill, by replay of the record alone, and how it is told."""

from __future__ import annotations

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
from leverstep.dialogue.sitting_result import marked_now, result_of
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import Drill, TaskForm
from leverstep.drill.drill_file import drill_of
from leverstep.drill.sitting import Sitting
from leverstep.erroneous.slip_questions import INTRODUCED
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.tables import marks_columns
from leverstep.questions.choice_question import QuestionSort
from leverstep.reports.account import account
from leverstep.reports.gathering import ClassFigures

TEXT = """
id = "slips"
title = "Slips"
{rules}

[[item]]
problem = "elbow-full-pail"
form = "find the slip"
marks = 9

[[item]]
problem = "plain-seesaw"
"""


def drill(rules: str = "") -> Drill:
    return drill_of(TEXT.format(rules=rules), SHELF.problems, "slips.toml")


def begun(folder: Path, rules: str = "") -> SittingDialogue:
    return SittingDialogue(Sitting.start(drill(rules), CATALOGUE, "s01", folder))


def choose(dialogue: SittingDialogue, right: bool) -> None:
    question = dialogue.working.question
    assert question is not None
    keys = [answer.key for answer in question.answers]
    dialogue.choose(next(n for n, k in enumerate(keys, 1) if (k in question.right) is right))


def mend(dialogue: SittingDialogue, place: int = 0) -> None:
    mending = dialogue.working.bench.mending
    assert mending is not None
    dialogue.enter(mending.erroneous.right_line(mending.slips[place].step).entry)


TWO = TEXT.replace("marks = 9", "slips = 2\nmarks = 12")


def begun_with_two(folder: Path, rules: str = "") -> SittingDialogue:
    drill = drill_of(TWO.format(rules=rules), SHELF.problems, "slips.toml")
    return SittingDialogue(Sitting.start(drill, CATALOGUE, "s01", folder))


def marked(dialogue: SittingDialogue) -> Marked:
    sitting = dialogue.sitting
    return mark_record(sitting.drill, CATALOGUE, "a.jsonl", read_bytes(sitting.place))


def test_the_form_is_read_and_another_is_a_fault() -> None:
    assert [item.form for item in drill().items] == [TaskForm.FIND_SLIP, TaskForm.WORKING]
    with pytest.raises(FileError) as told:
        drill_of(TEXT.replace("find the slip", "find it").format(rules=""), SHELF.problems, "a")
    assert 'did you mean "find the slip"?' in str(told.value)


@pytest.mark.parametrize(
    ("line", "slip", "mends", "marks"),
    [
        (True, True, True, 9),
        (True, False, True, 6),
        (False, True, True, 6),
        (False, False, True, 3),
        (True, True, False, 6),
        (False, False, False, 0),
    ],
)
def test_line_slip_and_mending_earn_a_third_each(
    tmp_path: Path, line: bool, slip: bool, mends: bool, marks: int
) -> None:
    dialogue = begun(tmp_path)
    assert dialogue.working.introduced == INTRODUCED
    choose(dialogue, line)
    choose(dialogue, slip)
    if mends:
        mend(dialogue)
    dialogue.hand_in()
    found = marked(dialogue)
    assert found.marks[0] == marks
    assert [one.is_right for one in found.findings] == [line, slip]
    assert sum(one.task == 1 for one in found.lines) == 1
    told = next(account(dialogue.sitting.drill, found, CATALOGUE))
    shown = [one.marks or 0 for one in told.lines] + [one.marks for one in told.beside]
    assert sum(shown, Fraction(0)) == marks


def test_a_wrong_try_costs_a_share_of_the_mending_alone(tmp_path: Path) -> None:
    dialogue = begun(tmp_path, "\n[marking]\nwrong_try = 0.5")
    for _ in range(2):
        choose(dialogue, right=True)
    mending = dialogue.working.bench.mending
    assert mending is not None
    dialogue.enter(mending.erroneous.line(mending.erroneous.step.key).entry)
    mend(dialogue)
    dialogue.hand_in()
    assert marked(dialogue).marks[0] == Fraction(15, 2)


def test_what_was_never_begun_earns_nothing_and_the_other_task_is_as_ever(tmp_path: Path) -> None:
    dialogue = begun(tmp_path)
    dialogue.hand_in()
    found = marked(dialogue)
    assert found.marks == (0, 0)
    assert not any(one.answered for one in found.findings)
    assert sum(one.task == 2 for one in found.lines) > 10


def test_the_slip_is_in_the_record_and_gone_on_with(tmp_path: Path) -> None:
    dialogue = begun(tmp_path)
    kinds = [(fields["kind"], fields.get("task")) for fields in fields_in(dialogue.sitting.place)]
    assert kinds == [("drill", None), ("slip to find", 1)]
    choose(dialogue, right=False)
    sitting = dialogue.sitting
    again = SittingDialogue(Sitting.resume(sitting.place, sitting.drill, CATALOGUE))
    assert again.working.question == dialogue.working.question
    assert again.working.lines_shown == dialogue.working.lines_shown


def test_where_verdicts_wait_nothing_is_told_before_the_end(tmp_path: Path) -> None:
    dialogue = begun(tmp_path, 'feedback = "at the end"')
    choose(dialogue, right=False)
    latest = dialogue.working.latest
    assert latest is not None
    assert not latest.told
    choose(dialogue, right=False)
    mend(dialogue)
    working = dialogue.working.working
    mending = dialogue.working.bench.mending
    assert mending is not None
    assert set(working.lines) - working.filled == {mending.erroneous.step.key}
    after = working.steps[-1].key
    assert after not in working.lines
    dialogue.hand_in()
    assert marked(dialogue).marks[0] == 3
    (first, _) = result_of(dialogue.sitting, marked_now(dialogue.sitting)).tasks
    made = mending.slips[0].made.slip
    wrong = mending.erroneous.line(mending.erroneous.step.key).text
    assert first.after[:2] == (
        f"The line: not found. It was: {wrong}.",
        f"The slip: not found. It was: {made.name}. Remember: {made.reason}",
    )
    told = next(account(dialogue.sitting.drill, marked(dialogue), CATALOGUE))
    assert tuple(one.told for one in told.beside) == first.after[:2]
    assert [one.step.key for one in first.lines] == [marked(dialogue).lines[0].step]


def test_a_preview_names_the_line_and_the_slip() -> None:
    told = list(preview(drill(), CATALOGUE, "s01"))
    assert any(line.endswith("Your record is in the folder that is named here.") for line in told)
    bench = benches_of(drill(), CATALOGUE, drill().tasks("s01"), keep_nothing)[0]
    assert bench.mending is not None
    working = bench.mending.erroneous
    assert f"  First wrong: {working.line(working.step.key).text}" in told
    assert sum(line.startswith("  The slip: ") for line in told) == 1


def test_students_are_told_in_which_tasks_before_they_begin() -> None:
    told = " ".join(rules_in_words(drill(), None, "press F10", "press Esc"))
    assert "In task 1 you find the slip in somebody else's working" in told


def test_the_table_and_the_class_report_say_what_was_found(tmp_path: Path) -> None:
    dialogue = begun(tmp_path)
    choose(dialogue, right=True)
    choose(dialogue, right=False)
    dialogue.hand_in()
    found, of_drill = marked(dialogue), dialogue.sitting.drill
    student = Student("s01", "", found, (found,), ())
    columns = marks_columns(of_drill)
    assert columns["lines found"](student) == "1"
    assert columns["slips found"](student) == "0"
    figures = ClassFigures(of_drill, CATALOGUE)
    figures.add(student)
    told = {one.sort: (one.answered, one.right) for one in figures.figures().answers}
    assert told == {QuestionSort.LINE: (1, 1), QuestionSort.SLIP: (1, 0)}


def test_a_drill_without_such_an_item_has_no_such_columns() -> None:
    plain = TEXT.replace('form = "find the slip"\n', "").format(rules="")
    columns = marks_columns(drill_of(plain, SHELF.problems, "plain.toml"))
    assert not [name for name in columns if name.endswith(" found")]


def test_two_slips_are_read_and_refused_where_none_are_sought() -> None:
    two = drill_of(TWO.format(rules=""), SHELF.problems, "slips.toml")
    assert [item.slips_to_find for item in two.items] == [2, 0]
    assert [item.slips_to_find for item in drill().items] == [1, 0]
    for line, told in (
        ("slips = 3", "slips: found 3; expected"),
        ('slips = 2\nform = "working"', 'slips: found alone; expected form = "find the slip"'),
    ):
        text = TEXT.replace('form = "find the slip"', line) if "form" in line else TEXT
        text = text.replace("marks = 9", line) if "form" not in line else text
        with pytest.raises(FileError) as refused:
            drill_of(text.format(rules=""), SHELF.problems, "slips.toml")
        assert told in str(refused.value)


@pytest.mark.parametrize(
    ("found", "mended", "marks"),
    [
        ((True, True, True, True), 2, 12),
        ((True, False, True, True), 2, 10),
        ((True, True, False, False), 1, 6),
        ((False, False, False, True), 0, 2),
    ],
)
def test_two_slips_earn_a_sixth_for_each_line_slip_and_mending(
    tmp_path: Path, found: tuple[bool, ...], mended: int, marks: int
) -> None:
    dialogue = begun_with_two(tmp_path)
    for right in found:
        choose(dialogue, right)
    for place in range(mended):
        mend(dialogue, place)
    dialogue.hand_in()
    came = marked(dialogue)
    assert came.marks[0] == marks
    assert [one.is_right for one in came.findings] == list(found)
    assert [one.told.partition(":")[0] for one in came.findings] == [
        "The first line", "The first slip", "The second line", "The second slip",
    ]  # fmt: skip
    told = next(account(dialogue.sitting.drill, came, CATALOGUE))
    shown = [one.marks or 0 for one in told.lines] + [one.marks for one in told.beside]
    assert sum(shown, Fraction(0)) == marks
    assert len(told.beside) == 4


def test_two_slips_wait_for_the_end_and_are_marked_alike_when_gone_on_with(tmp_path: Path) -> None:
    dialogue = begun_with_two(tmp_path, 'feedback = "at the end"')
    for right in (True, True, False, True):
        choose(dialogue, right)
        latest = dialogue.working.latest
        assert latest is not None
        assert not latest.told.startswith(("Yes", "Not"))
    mend(dialogue)
    sitting = dialogue.sitting
    again = SittingDialogue(Sitting.resume(sitting.place, sitting.drill, CATALOGUE))
    assert again.working.lines_shown == dialogue.working.lines_shown
    assert again.working.key_at_hand == dialogue.working.key_at_hand
    mend(again, 1)
    again.hand_in()
    assert marked(again).marks[0] == 10
    (first, _) = result_of(again.sitting, marked_now(again.sitting)).tasks
    assert [one.partition(":")[0] for one in first.after[:4]] == [
        "The first line", "The first slip", "The second line", "The second slip",
    ]  # fmt: skip
    assert len(first.lines) == 2
    columns = marks_columns(again.sitting.drill)
    student = Student("s01", "", marked(again), (marked(again),), ())
    assert [columns[name](student) for name in ("lines found", "slips found")] == ["1", "2"]


def test_preview_and_rules_tell_of_both_slips() -> None:
    two = drill_of(TWO.format(rules=""), SHELF.problems, "slips.toml")
    told = list(preview(two, CATALOGUE, "s01"))
    bench = benches_of(two, CATALOGUE, two.tasks("s01"), keep_nothing)[0]
    assert bench.mending is not None
    working = bench.mending.erroneous
    first, second = (working.line(one.step.key).text for one in working.slips)
    assert f"  First wrong: {first}" in told
    assert f"  Wrong by a second slip: {second}" in told
    assert sum(line.startswith("  The slip: ") for line in told) == 2
    rules = " ".join(rules_in_words(two, None, "press F10", "press Esc"))
    assert "In task 1 you find two slips in somebody else's working" in rules
    assert "find the slip" not in rules
