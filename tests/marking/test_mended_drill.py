"""A drill that was changed after it was sat: each task is marked by the numbers that were shown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.classes import figures_of
from helpers.drill_sittings import END, entry, record, right_entries
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.course.faults import FileError
from leverstep.documents.text import text as in_text
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of, with_earlier
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.marking.as_shown import BY_RECORD, OTHER_NUMBERS
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.odd_records import OTHER_VERSION
from leverstep.marking.outputs import Outputs
from leverstep.reports.account import account
from leverstep.reports.class_report import class_report
from leverstep.reports.pages import ABSENT_TOLD, BY_RECORD_TOLD, StudentPages

SEESAW = SHELF.problems["plain-seesaw"].path
assert SEESAW is not None
PROBLEM = SEESAW.read_text("utf-8").replace('"plain-seesaw"', '"own-seesaw"')
NARROWED = PROBLEM.replace("from = 65, to = 85", "from = 70, to = 71")


def item(problem: str, ident: str = "", more: str = "") -> str:
    named = f'id = "{ident}"\n' if ident else ""
    return f'[[item]]\nproblem = "{problem}"\nmarks = 10\n{named}{more}\n'


def drill(*items: str, problem: str = PROBLEM) -> Drill:
    """Return a drill of some items, with the seesaw as its own problem."""
    own = f"[problems]\nown-seesaw = '''\n{problem}'''"
    text = "".join(('id = "mended"\ntitle = "Mended"\n', *items, own))
    return drill_of(text, SHELF.problems, "mended.toml")


OWN, PAIL, PULLEY = item("own-seesaw"), item("elbow-pail-of-water"), item("plain-wheelbarrow")


def all_right(one: Drill, student: str = "s1") -> bytes:
    """Return the record of who got every line of a drill right."""
    lines = [
        entry(key, typed, task.number)
        for task in one.tasks(student)
        for key, typed in right_entries(task.question).items()
    ]
    items = {"items": list(one.labels)} if one.names_items else {}
    return record(one, student, [*lines, END], **items)


def marked(one: Drill, data: bytes) -> Marked:
    return mark_record(one, CATALOGUE, "one.jsonl", data)


def test_ids_of_items_keep_the_numbers_wherever_an_item_stands() -> None:
    """An item without one is called by its place, so that the old place as an id keeps them too."""
    before = {task.question.problem.id: task for task in drill(OWN, PAIL).tasks("s1")}
    moved = drill(PULLEY.replace("marks", 'id = "new"\nmarks'), item("elbow-pail-of-water", "2"),
                  item("own-seesaw", "1"))  # fmt: skip
    after = {task.question.problem.id: task for task in moved.tasks("s1")}
    for name, task in before.items():
        assert after[name].question.givens_written == task.question.givens_written
    assert moved.labels == ("new.1", "2.1", "1.1")
    assert drill(item("own-seesaw", more="count = 2"), PAIL).labels == ("1.1", "1.2", "2.1")


@pytest.mark.parametrize(
    ("items", "told"),
    [
        ((item("own-seesaw", "no spaces"),), "item[1].id: found 'no spaces'; expected up to 20"),
        ((item("own-seesaw", "a"), item("own-seesaw", "a")), '"a" is that of item 1 too'),
        ((item("own-seesaw", "2"), OWN), 'item[2].id: "2" is that of item 1 too; expected an id'),
        ((item("own-seesaw").replace("marks", "id = 2\nmarks"),), "item[1].id: found 2"),
    ],
)
def test_ids_of_items_that_are_none_or_taken_are_told(items: tuple[str, ...], told: str) -> None:
    with pytest.raises(FileError) as caught:
        drill(*items)
    assert told in str(caught.value)


def test_a_record_names_the_items_only_where_the_drill_does(tmp_path: Path) -> None:
    for one, named in (
        (drill(OWN, PAIL), None),
        (drill(item("own-seesaw", "s"), PAIL), ["s.1", "2.1"]),
    ):
        (first, *_) = fields_in(Sitting.start(one, CATALOGUE, "s1", tmp_path / str(named)).place)
        assert first.get("items") == named


BEFORE = drill(OWN, PAIL)
CHANGED: dict[str, tuple[Drill, tuple[int, ...], tuple[str, ...]]] = {
    "a range is narrowed": (
        drill(OWN, PAIL, problem=NARROWED), (10, 10), (f"{BY_RECORD} task 1",),
    ),
    "an item is added before the others": (
        drill(PULLEY, OWN, PAIL), (0, 10, 10),
        (f"{BY_RECORD} tasks 2 and 3", "not in the drill when it was sat: task 1"),
    ),
    "the others keep their ids": (
        drill(item("plain-wheelbarrow", "n"), item("own-seesaw", "1"),
              item("elbow-pail-of-water", "2")),
        (0, 10, 10), ("not in the drill when it was sat: task 1",),
    ),
    "an item is deleted": (
        drill(PAIL), (10,),
        (f"{BY_RECORD} task 1", "no more in the drill, and not marked: task 1 of the record"),
    ),
    "items change places": (drill(PAIL, OWN), (10, 10), (f"{BY_RECORD} tasks 1 and 2",)),
}  # fmt: skip


@pytest.mark.parametrize("how", CHANGED)
def test_what_was_right_by_the_numbers_shown_is_so_after_the_drill_was_changed(how: str) -> None:
    now, marks, remarks = CHANGED[how]
    one = marked(now, all_right(BEFORE))
    assert one.marks == marks
    assert one.remarks == (OTHER_VERSION, *remarks)
    assert len(tuple(account(now, one, CATALOGUE))) == len(marks), "its page can be made"


def test_tasks_of_one_problem_are_told_apart_by_what_the_record_calls_them() -> None:
    first, second = item("own-seesaw", "a"), item("own-seesaw", "b")
    before = drill(first, second)
    question = before.tasks("s1")[1].question
    lines = [entry(key, typed, 2) for key, typed in right_entries(question).items()]
    data = record(before, "s1", lines, items=list(before.labels))
    now = drill(second, first, problem=NARROWED)
    assert marked(now, data).marks == (10, 0)


def shown_as(change: Mapping[str, str], problem: str = "own-seesaw") -> bytes:
    """Return the record of one task that says it was shown with some other givens."""
    question = BEFORE.tasks("s1")[0].question
    tasks = [{"problem": problem, "givens": {**question.givens_written, **change}}]
    lines = [entry(key, typed) for key, typed in right_entries(question).items()]
    return record(BEFORE, "s1", lines, tasks=tasks)


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        *(({"given_m_c": typed}, "own-seesaw") for typed in (
            "30 kg", "30", "lb", " lb", "-30 lb", "0 lb", "nan lb", "1e3 lb", "٣ lb", "30/0 lb",
            "1.5/2 lb",
            f"{'9' * 5000} lb", "0.001 lb",  # so light that no hand is needed
        )),
        ({"more": "5 m"}, "own-seesaw"),
        ({}, "elbow-pail-of-water"),
    ],
)  # fmt: skip
def test_numbers_that_can_t_have_been_shown_do_not_count(
    change: Mapping[str, str], problem: str
) -> None:
    question = BEFORE.tasks("s1")[0].question
    key = next(one for one in question.givens_written if one.endswith("m_c"))
    change = {key if name == "given_m_c" else name: said for name, said in change.items()}
    one = marked(drill(OWN, problem=NARROWED), shown_as(change, problem))
    assert one.recorded == {}
    assert one.remarks == (OTHER_VERSION, f"{OTHER_NUMBERS} task 1")
    assert one.total < 10


def test_the_numbers_of_somebody_else_win_no_marks_without_a_remark() -> None:
    """Where the record names the file as it is, they win none; else a remark says what was done."""
    other = all_right(BEFORE, "s2")
    for now, remark in ((BEFORE, OTHER_NUMBERS), (drill(OWN, PAIL, problem=NARROWED), BY_RECORD)):
        data = (
            record(BEFORE, "s2", [], student="s1")
            if now is BEFORE
            else other.replace(b'"s2"', b'"s1"')
        )
        one = marked(now, data)
        assert any(said.startswith(remark) for said in one.remarks)


def test_with_the_old_file_only_the_numbers_that_it_draws_count() -> None:
    now = replace(drill(OWN, PAIL, problem=NARROWED), sat_with=(BEFORE,))
    honest = marked(now, all_right(BEFORE))
    assert (honest.marks, honest.remarks) == ((10, 10), (OTHER_VERSION,))
    forged = record(BEFORE, "s2", [], student="s1")
    assert f"{OTHER_NUMBERS} tasks 1 and 2" in marked(now, forged).remarks
    deleted = replace(drill(PAIL), sat_with=(BEFORE,))
    assert marked(deleted, all_right(BEFORE)).marks == (10,)


def test_a_record_that_names_a_file_which_nobody_has_wins_nothing_by_its_numbers() -> None:
    """Where the old file is given, a made-up one does not count, whatever its numbers."""
    now = replace(drill(OWN, PAIL, problem=NARROWED), sat_with=(BEFORE,))
    data = all_right(BEFORE, "s2").replace(b'"s2"', b'"s1"')
    one = marked(now, data.replace(BEFORE.digest.encode(), b"0" * 64))
    assert one.recorded == {}
    assert f"{OTHER_NUMBERS} tasks 1 and 2" in one.remarks


def test_with_the_old_file_no_record_says_which_task_is_which() -> None:
    before = drill(item("own-seesaw", "a"), item("own-seesaw", "b"))
    narrowed = drill(item("own-seesaw", "a"), item("own-seesaw", "b"), problem=NARROWED)
    now = replace(narrowed, sat_with=(before,))
    second = before.tasks("s1")[1]
    lines = [entry(key, typed, 2) for key, typed in right_entries(second.question).items()]
    for items in (["a.1", "b.1"], ["b.1", "a.1"]):
        assert marked(now, record(before, "s1", lines, items=items)).marks == (0, 10)


HOSTILE: tuple[object, ...] = (
    None, 5, "x", [], [None], [{}] * 900, [{"problem": "own-seesaw"}] * 2, [{"problem": 5}],
    [{"problem": "own-seesaw", "givens": {}}], [{"problem": "own-seesaw", "givens": {"L": 5}}],
    [{"problem": "own-seesaw", "givens": {"\udcff": "\x00"}}] * 3, {"a": []},
)  # fmt: skip


@pytest.mark.parametrize("hostile", HOSTILE, ids=lambda one: repr(one)[:30])
def test_whatever_a_record_says_was_shown_it_is_marked(hostile: object) -> None:
    now = replace(drill(PAIL, OWN, PAIL, problem=NARROWED), sat_with=(drill(OWN),))
    for digest in (BEFORE.digest, drill(OWN).digest):
        for items in (hostile, ["1.1"], ["1.1", "1.1", "2.1"]):
            first = {"digest": digest, "tasks": hostile, "items": items}
            data = record(BEFORE, "s1", [entry("W_c", "5 N", 1), entry("W_c", "5 N", 3)], **first)
            one = marked(now, data)
            assert (one.student, len(one.marks), one.recorded) == ("s1", 3, {})
            assert one.remarks


def page_of(now: Drill, data: bytes, folder: Path) -> str:
    """Return the page of the student of a record."""
    one = marked(now, data)
    with Outputs(folder) as out:
        StudentPages(now, CATALOGUE, out).add(Student("s1", "", one, (one,), one.remarks))
    (page,) = (folder / "students").glob("*.html")
    return page.read_text("utf-8")


def test_a_page_says_by_which_numbers_only_where_that_is_not_sure(tmp_path: Path) -> None:
    """With the old file at hand it is sure, also for tasks that were only moved."""
    moved, data = drill(PAIL, OWN), all_right(BEFORE)
    assert page_of(moved, data, tmp_path / "a").count(BY_RECORD_TOLD) == 2
    proved = replace(moved, sat_with=(BEFORE,))
    assert BY_RECORD_TOLD not in page_of(proved, data, tmp_path / "b")


def test_a_task_that_was_put_in_later_is_held_against_nobody(tmp_path: Path) -> None:
    now = CHANGED["the others keep their ids"][0]
    one = marked(now, all_right(BEFORE))
    assert {line.task for line in one.lines} == {2, 3}
    page = page_of(now, all_right(BEFORE), tmp_path)
    assert page.count(ABSENT_TOLD) == 1
    assert "not written" not in page
    figures = figures_of(now, [Student("s1", "", one, (one,), one.remarks)])
    assert {line.task for line in figures.lines} == {2, 3}
    assert figures.help == ()
    assert "It was not in the drill when anybody sat it." in in_text(class_report(figures))
    small = drill(item("plain-wheelbarrow", "n").replace("10", "90"), item("own-seesaw", "1"))
    half = marked(small, all_right(drill(OWN)))
    assert figures_of(small, [Student("s1", "", half, (half,), ())]).help == (), "all of its 10"


def test_the_old_file_must_be_one_of_the_same_drill(tmp_path: Path) -> None:
    old = tmp_path / "old.toml"
    old.write_text(BEFORE.text.replace('"mended"', '"another"'), "utf-8")
    with pytest.raises(FileError, match="it is the drill 'another'; expected an earlier version"):
        with_earlier(BEFORE, old, SHELF.problems)
    old.write_text(BEFORE.text, "utf-8")
    assert with_earlier(drill(PAIL), old, SHELF.problems).sat_with[0].digest == BEFORE.digest


def test_the_page_and_the_report_say_by_which_numbers_it_was_marked(tmp_path: Path) -> None:
    now = drill(OWN, PAIL, problem=NARROWED)
    one = marked(now, all_right(BEFORE))
    student = Student("s1", "", one, (one,), one.remarks)
    with Outputs(tmp_path) as out:
        StudentPages(now, CATALOGUE, out).add(student)
    (page,) = (tmp_path / "students").glob("*.html")
    shown = BEFORE.tasks("s1")[0].question.givens_written.values()
    assert all(given in page.read_text("utf-8") for given in shown)
    assert page.read_text("utf-8").count(BY_RECORD_TOLD) == 1
    said = " ".join(in_text(class_report(figures_of(now, [student]))).split())
    assert "They are what the record says was shown" in said
    assert f"{BY_RECORD} task 1" in said


def test_the_command_marks_with_the_old_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paths = {name: tmp_path / f"{name}.toml" for name in ("old", "new", "one")}
    paths["old"].write_text(BEFORE.text, "utf-8")
    paths["new"].write_text(drill(OWN, PAIL, problem=NARROWED).text, "utf-8")
    (tmp_path / "one.jsonl").write_bytes(all_right(BEFORE))
    call = ["drill", "mark", str(paths["new"]), str(tmp_path / "one.jsonl"), "--out"]
    assert main([*call, str(tmp_path / "a")]) == 0
    assert BY_RECORD in (tmp_path / "a" / "marks.csv").read_text("utf-8")
    assert main([*call, str(tmp_path / "b"), "--sat-with", str(paths["old"])]) == 0
    assert BY_RECORD not in (tmp_path / "b" / "marks.csv").read_text("utf-8")
    assert main([*call, str(tmp_path / "c"), "--sat-with", str(paths["one"])]) == 2
    assert "one.toml" in capsys.readouterr().err
