"""Marks after a drill was due, and under the exceptions for single students."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drill_sittings import BEGUN, END, SHELF, entry, record, right_entries, small_drill
from helpers.drills import drill_text
from helpers.material import CATALOGUE
from leverstep.bench.replaying import keep_nothing
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import rules_in_words
from leverstep.documents.text import text
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import Drill, TaskForm, Withdrawn
from leverstep.drill.drill_file import drill_of
from leverstep.drill.exceptions import EXCEPTIONS, exceptions_of
from leverstep.faces.commands.cli import main
from leverstep.marking.collecting import Student, by_student
from leverstep.marking.marking import Marked, mark_record
from leverstep.reports.account import account
from leverstep.reports.pages import student_page

RIGHT = right_entries(small_drill().tasks("s1")[0].question)
LATE = "late = {{ due = 2027-03-01T10:00:00Z, grace = 10{} }}"


def worked(drill: Drill, hours: float, student: str = "s1") -> Marked:
    """Return the marks of who got all right, with the last entry so many hours after it was due."""
    last = BEGUN + timedelta(hours=1 + hours)
    right = right_entries(drill.tasks(student)[0].question)
    lines = [{**entry(key, text), "time": last.isoformat()} for key, text in right.items()]
    after = {**END, "time": (last + timedelta(days=30)).isoformat()}
    return mark_record(drill, CATALOGUE, "one.jsonl", record(drill, student, [*lines, after]))


@pytest.mark.parametrize(
    ("hours", "rules", "days", "marks"),
    [
        (-1, "", 0, "10"),
        (1 / 6, "", 0, "10"),  # the grace
        (1 / 6 + 0.001, "", 1, "9"),
        (24.1, "", 1, "9"),
        (24.2, "", 2, "8"),
        (30 * 24, "", 30, "0"),
        (30 * 24, ", floor = 0.5", 30, "5"),
        (24.2, ", per_day = 0.25", 2, "5"),
        (1, ", per_day = 0.333", 1, "6.67"),
        (1, ", per_day = 0", 1, "10"),
    ],
)
def test_each_day_begun_after_the_grace_costs_its_share(
    hours: float, rules: str, days: int, marks: str
) -> None:
    """What counts is the last entry: it was handed in a month after that."""
    one = worked(small_drill(LATE.format(rules)), hours)
    assert (one.days_late, one.total) == (days, Fraction(marks))


@pytest.mark.parametrize("late", ["x?", "same", ""])
def test_what_bears_no_marks_is_not_late(late: str) -> None:
    """An entry that can't be read, the same one again, and a hint cost nobody a day."""
    drill = small_drill(LATE.format(""))
    (key, typed), *_ = RIGHT.items()
    lines = [entry(name, text) for name, text in RIGHT.items()]
    after = entry(key, typed if late == "same" else late) if late else {"kind": "hint", "step": key}
    days = (BEGUN + timedelta(hours=50)).isoformat()
    one = mark_record(
        drill,
        CATALOGUE,
        "one.jsonl",
        record(drill, "s1", [*lines, {"task": 1, **after, "time": days}]),
    )
    assert (one.days_late, one.total) == (0, 10)


def test_an_answer_that_earns_marks_may_be_late() -> None:
    plain = small_drill(LATE.format(""))
    drill = replace(plain, items=(replace(plain.items[0], form=TaskForm.FIND_SLIP),))
    bench = benches_of(drill, CATALOGUE, drill.tasks("s1"), keep_nothing)[0]
    assert bench.mending is not None
    (right,) = bench.mending.questions[0].right
    answer = {"kind": "answer", "task": 1, "question": bench.mending.questions[0].key}
    late = (BEGUN + timedelta(hours=50)).isoformat()
    for given, days in ((right, 3), ("", 0)):
        lines = [{**answer, "answer": given, "time": late}]
        one = mark_record(drill, CATALOGUE, "one.jsonl", record(drill, "s1", lines))
        assert (one.days_late, one.total > 0) == (days, bool(given))


def test_a_drill_that_is_never_due_knows_no_lateness() -> None:
    one = worked(small_drill(), 1000)
    assert (one.days_late, one.lost_late, one.total) == (0, 0, 10)


def test_times_that_make_no_sense_are_not_late() -> None:
    drill = small_drill(LATE.format(""))
    lines = [{**entry(key, text), "time": "soon"} for key, text in RIGHT.items()]
    one = mark_record(drill, CATALOGUE, "one.jsonl", record(drill, "s1", lines))
    assert one.total == 10
    assert "some of its times make no sense" in one.remarks


def test_marks_that_all_have_stay_whole() -> None:
    drill = small_drill(LATE.format(""))
    items = [drill.items[0], replace(drill.items[0], withdrawn=Withdrawn.FULL_MARKS)]
    assert worked(replace(drill, items=tuple(items)), 24.2).marks == (8, 10)


def test_a_page_says_at_each_task_what_lateness_took() -> None:
    drill = small_drill(LATE.format(""))
    marked = worked(drill, 24.2)
    (task,) = account(drill, marked, CATALOGUE)
    assert (sum(line.marks or 0 for line in task.lines), task.lost_late, task.marks) == (10, 2, 8)
    page = text(tuple(student_page(drill, marked, iter([task]))))
    assert "Together that is 10; 2 of it are lost for being late." in page
    by_hand = replace(marked, by_hand=frozenset({1}))
    assert [one.lost_late for one in account(drill, by_hand, CATALOGUE)] == [0]


def test_students_read_what_being_late_costs() -> None:
    rules = tuple(
        rules_in_words(small_drill(LATE.format(", floor = 0.5")), None, "press F10", "press Esc")
    )
    (told,) = (one for one in rules if one.startswith("It is due on 01 March 2027"))
    assert told.endswith(
        ", and 10 minutes of grace. Each day begun after that costs 10 % of the marks, down to "
        "50 % of them."
    )


def excepted(text: str, rules: str) -> Drill:
    drill = small_drill(rules)
    return replace(drill, allowances=exceptions_of(text, drill))


def one(more: str, ident: str = "s1") -> str:
    return f'[[student]]\nid = "{ident}"\nreason = "was ill"\n{more}\n'


@pytest.mark.parametrize(
    ("rules", "more", "hours", "marks"),
    [
        ("closes = 2027-03-01T10:00:00Z", "closes = 2027-03-01T12:00:00Z", 1, 10),
        ("closes = 2027-03-01T10:00:00Z", "attempts = 3", 1, 0),
        (LATE.format(""), "due = 2027-03-02T10:00:00Z", 20, 10),
        ('minutes = 30\nclock = "wall"', "minutes = 120", 0, 10),
        ('minutes = 30\nclock = "wall"', "factor = 1.5", 0, 0),
    ],
)
def test_marking_goes_by_the_rules_of_each_student(
    rules: str, more: str, hours: float, marks: int
) -> None:
    drill = excepted(one(more), rules)
    assert worked(drill, hours).total == marks
    assert worked(drill, hours, "s2").total < 10


WHO = one("marks = { 1 = 3.5, 2 = 0 }") + one("excused = true", "s2") + one("factor = 2", "s3")


def test_exceptions_stand_with_their_reason_in_tables_report_and_page(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "all.csv").write_text("id,name\ns1,Ida\ns2,Odo\ns3,Una\ns4,Eve\n", "utf-8")
    due = "late = { due = 2027-03-01T09:00:01Z }"
    text = drill_text(f'roster = "all.csv"\nminutes = 45\n{due}')
    (tmp_path / "levers.toml").write_text(text, "utf-8")
    (tmp_path / EXCEPTIONS).write_text(WHO + one("marks = { 2 = 4 }", "s4"), "utf-8")
    drill = replace(small_drill(), text=text, id="levers")
    for student in ("s1", "s2", "s3"):
        (tmp_path / f"{student}.jsonl").write_bytes(
            record(drill, student, [entry("W_s", "1 N"), END])
        )
    call = ["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path), "--pages", "--out"]
    assert main([*call, str(tmp_path / "out")]) == 0
    with (tmp_path / "out" / "marks.csv").open(encoding="utf-8", newline="") as file:
        ida, odo, una, eve = csv.DictReader(file)
    assert (ida["task 1"], ida["task 2"], ida["total"]) == ("3.5", "0", "3.5")
    assert "task 1 by hand: 3.5, not 0, task 2 by hand: 0, not 0 (was ill)" in ida["remarks"]
    assert (odo["total"], odo["remarks"].endswith("exception: excused (was ill)")) == ("", True)
    assert "1 day late: 10 % of the marks are lost" in una["remarks"]
    assert una["remarks"].endswith("exception: 90 minutes (was ill)")
    assert (eve["total"], eve["remarks"]) == (
        "4", "no record; exception: task 2 by hand: 4 (was ill)"
    )  # fmt: skip
    told = capsys.readouterr().out.splitlines()[-1]
    assert told.startswith("3 students sat, 3 handed in. Excused: 1.")
    report = (tmp_path / "out" / "report.html").read_text("utf-8")
    assert "Late, and exceptions" in report
    found = (tmp_path / "out").rglob("s*-*.html")
    pages = {path.name[:2]: path.read_text("utf-8") for path in found}
    assert sorted(pages) == ["s1", "s3"], "of who has a record"
    assert pages["s1"].count("The marks of this task were set by hand.") == 2
    assert "Your last entry came 1 day after it was due: 10 % of the marks are lost." in pages["s3"]
    assert not any("was ill" in page for page in pages.values())


def drill_of_ids(*idents: str, withdrawn: str = "") -> Drill:
    """Return a drill with an item for each id; "" has none."""
    problems = {"barrow": "plain-wheelbarrow", "pail": "elbow-pail-of-water"}
    named = [
        f'[[item]]\nproblem = "{problems.get(one, "plain-seesaw")}"\n'
        + (f'id = "{one}"\n' if one else "")
        + ("count = 2\n" if one == "twice" else "")
        + (f'withdrawn = "{withdrawn}"\n' if one == "pail" and withdrawn else "")
        for one in idents
    ]
    return drill_of(f'id = "levers"\ntitle = "L"\n{"".join(named)}', SHELF.problems, "levers.toml")


def with_marks(drill: Drill, marks: str) -> Drill:
    return replace(drill, allowances=exceptions_of(one(f"marks = {{ {marks} }}"), drill))


def of_s1(drill: Drill, data: bytes) -> Student:
    (student,) = by_student(drill, [mark_record(drill, CATALOGUE, "one.jsonl", data)])
    return student


def test_marks_by_hand_go_with_the_id_of_an_item_wherever_it_stands() -> None:
    before = drill_of_ids("pail", "barrow")
    data = record(before, "s1", [], items=list(before.labels))
    now = drill_of_ids("new", "barrow", "pail")
    student = of_s1(with_marks(now, "pail = 7.5"), data)
    assert student.counted is not None
    assert student.counted.marks == (0, 0, Fraction("7.5"))
    assert not any("by hand" in remark for remark in student.remarks)
    student = of_s1(with_marks(now, "1 = 7.5"), data)
    assert student.counted is not None
    assert student.counted.marks == (Fraction("7.5"), 0, 0)
    assert student.remarks[-1] == (
        "marks by hand for task 1 are for Two children and a helping hand, as the drill is "
        "numbered now; it was not there when it was sat"
    )
    (*_, odd) = of_s1(with_marks(now, "3 = 7.5"), data).remarks
    assert odd.endswith("it was task 1 when it was sat")
    assert not any("by hand" in said for said in of_s1(with_marks(now, "2 = 1"), data).remarks)


def test_an_id_goes_before_a_number_and_a_copy_is_named_with_its_own() -> None:
    numbered = with_marks(drill_of_ids("new", "1", "2"), "2 = 7.5").allowances["s1"]
    assert (numbered.marks, numbered.numbered) == ({3: Fraction("7.5")}, frozenset())
    copies = drill_of_ids("", "twice")
    assert with_marks(copies, '"twice.2" = 3').allowances["s1"].marks == {3: 3}
    with pytest.raises(FileError, match=r"found task 'twice'; expected one of its copies, as in "):
        with_marks(copies, "twice = 3")
    with pytest.raises(FileError, match="a task from 1 to 3, or the id of an item"):
        with_marks(copies, "4 = 3")
    assert with_marks(copies, "thrice = 3").allowances["s1"].passed == ("thrice",)
    with pytest.raises(FileError, match="task 3 is there twice"):
        with_marks(copies, '3 = 1, "twice.2" = 3')


@pytest.mark.parametrize(("rule", "marks"), [("no marks", 0), ("full marks", 10)])
def test_a_task_with_marks_by_hand_can_be_withdrawn(rule: str, marks: int) -> None:
    now = with_marks(drill_of_ids("barrow", "pail", withdrawn=rule), "1 = 4, 2 = 7.5")
    data = record(drill_of_ids("barrow", "pail"), "s1", [])
    student = of_s1(now, data)
    assert student.counted is not None
    assert (student.counted.marks, student.counted.by_hand) == ((4, marks), {1})
    assert "task 2 by hand: not 7.5, since it has been withdrawn (was ill)" in student.notes[0]
    (absent,) = by_student(replace(now, students={"s1": "Ida"}), [])
    assert absent.counted is not None
    assert absent.counted.marks == (4, marks)
    alone = with_marks(drill_of_ids("barrow", "pail", withdrawn="no marks"), "2 = 7.5")
    (absent,) = by_student(replace(alone, students={"s1": "Ida"}), [])
    assert absent.counted is None
