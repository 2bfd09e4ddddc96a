"""Banks: an item draws one of several problems for each student, and is marked by that one."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.classes import figures_of
from helpers.drill_sittings import END, SHELF, entry, record, right_entries
from helpers.material import CATALOGUE
from leverstep.bench.contents import contents
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import rules_in_words
from leverstep.dialogue.preview import preview
from leverstep.documents.text import text as in_text
from leverstep.drill.banks import banks_told
from leverstep.drill.drill import Drill, Task
from leverstep.drill.drill_file import drill_of
from leverstep.drill.fitting import misfits
from leverstep.marking.as_shown import BY_RECORD, UNKNOWN
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.tables import marks_columns, steps_columns
from leverstep.reports.account import account
from leverstep.reports.class_report import class_report
from leverstep.reports.measures import LineSums
from leverstep.sheets.handout import of_drill
from leverstep.sheets.key import answer_key

SEESAW, PAIL, BARROW = "plain-seesaw", "elbow-pail-of-water", "plain-wheelbarrow"
COMMON = f'[[item]]\nid = "common"\nproblem = "{BARROW}"\n'


def bank(*names: str, more: str = "") -> str:
    return f'[[item]]\nid = "bank"\nany = {list(names)}\n{more}\n'.replace("'", '"')


def drill(*items: str) -> Drill:
    return drill_of("".join(('id = "b"\ntitle = "Banks"\n', *items)), SHELF.problems, "b.toml")


BOTH = drill(COMMON, bank(SEESAW, PAIL))
STUDENTS = [f"s{number}" for number in range(40)]


def lines_of(tasks: tuple[Task, ...]) -> list[dict[str, object]]:
    return [
        entry(key, typed, task.number)
        for task in tasks
        for key, typed in right_entries(task.question).items()
    ]


def all_right(one: Drill, student: str = "s1") -> bytes:
    return record(one, student, [*lines_of(one.tasks(student)), END], items=list(one.labels))


def marked(one: Drill, data: bytes) -> Marked:
    return mark_record(one, CATALOGUE, "one.jsonl", data)


WRONG = {"M_sum": "1 N m", "MA": "77"}


def with_wrong(line: dict[str, object]) -> dict[str, object]:
    return {**line, "text": WRONG.get(str(line["step"]), line["text"])}


def had(one: Drill, problem: str) -> str:
    """Return a student who has a problem in the last task."""
    return next(who for who in STUDENTS if one.tasks(who)[-1].drawn == problem)


def test_each_student_has_one_of_the_bank_whatever_the_order_and_what_else_is_in_it() -> None:
    drawn = {who: BOTH.tasks(who)[1].drawn for who in STUDENTS}
    assert min(Counter(drawn.values())[one] for one in (SEESAW, PAIL)) > 10
    turned, wider = drill(COMMON, bank(PAIL, SEESAW)), drill(bank(SEESAW, PAIL, BARROW), COMMON)
    for who, problem in drawn.items():
        assert turned.tasks(who)[1].drawn == problem
        assert wider.tasks(who)[0].drawn in (problem, BARROW)
        assert BOTH.tasks(f" {who.upper()} ")[1].drawn == problem
    assert all(task.drawn == "" for who in STUDENTS for task in BOTH.tasks(who)[:1])


def test_copies_of_an_item_are_different_problems_as_long_as_there_are_some() -> None:
    one = drill(bank(SEESAW, PAIL, more="count = 3"))
    for who in STUDENTS:
        drawn = [task.drawn for task in one.tasks(who)]
        assert set(drawn[:2]) == {SEESAW, PAIL}
        assert drawn[2] == drawn[0]


def test_fixed_numbers_are_those_of_everyone_who_has_the_problem() -> None:
    one = drill(bank(SEESAW, PAIL, more='numbers = "fixed"'))
    tasks = [one.tasks(who)[0] for who in STUDENTS]
    assert len({(task.drawn, str(task.question.givens_written)) for task in tasks}) == 2


def test_a_bank_may_be_found_by_joint_level_and_what_is_asked() -> None:
    one = drill('[[item]]\nany = { joints = ["elbow"], levels = [2], kinds = ["effort"] }\n')
    assert len(one.items[0].bank) > 1
    for problem in one.items[0].bank:
        assert (problem.joint, problem.difficulty, problem.asks) == ("elbow", 2, "effort")
    fewer = {ident: SHELF.problems[ident] for ident in SHELF.problems}
    fewer.pop(one.items[0].bank[0].id)
    assert drill_of(one.text, fewer, "b.toml").digest != one.digest


@pytest.mark.parametrize(
    ("item", "said"),
    [
        ('any = ["plain-seesaw"]', "found 1; expected 2 to 50 problems"),
        ('any = ["plain-seesaw", "plain-seesaw"]', "twice; expected each problem once"),
        ('any = ["plain-seesaw", "plain-sesaw"]', 'did you mean "plain-seesaw"'),
        ("any = 3", "expected a list of texts"),
        ('any = { joint = ["elbow"] }', 'did you mean "joints"'),
        ('any = { joints = ["elbows"] }', 'did you mean "elbow"'),
        ('any = ["plain-seesaw", "plain-wheelbarrow"]\nproblem = "plain-seesaw"', "beside any"),
        ('any = ["plain-seesaw", "plain-wheelbarrow"]\npair = "plain-seesaw"', "beside any"),
        ('any = ["plain-seesaw", "plain-wheelbarrow"]\nmixed = 3', "found beside mixed"),
        (
            'any = ["plain-seesaw", "elbow-pail-of-water"]\nweights = { F_m = 3 }',
            'plain-seesaw does not ask for it (did you mean "F_h"?)',
        ),
        ('problem = "plain-seesaw"\nfaulty = ["plain-seesaw"]', "a problem of any"),
        (
            'any = ["plain-seesaw", "plain-wheelbarrow"]\nfaulty = ["plain-sesaw"]',
            'did you mean "plain-seesaw"',
        ),
        (
            'any = ["plain-seesaw", "plain-wheelbarrow"]\n'
            'faulty = ["plain-wheelbarrow", "plain-seesaw"]',
            "found all of them",
        ),
        ('problem = "plain-seesaw"\nweights = { F_h = 0 }', "a number from 0.01 to 100"),
        ('problem = "plain-seesaw"\nweights = 3', "expected a table"),
        (
            'problem = "plain-seesaw"\nform = "find the slip"\nweights = { F_h = 3 }',
            'found beside form = "find the slip"',
        ),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told(item: str, said: str) -> None:
    with pytest.raises(FileError) as caught:
        drill(f"[[item]]\n{item}\n")
    assert any(said in str(fault) for fault in caught.value.faults)


@pytest.mark.parametrize("problem", [SEESAW, PAIL])
def test_a_record_is_marked_by_the_problem_that_was_shown(problem: str) -> None:
    who = had(BOTH, problem)
    found = marked(BOTH, all_right(BOTH, who))
    assert (found.total, found.remarks, found.drawn) == (20, (), {2: problem})
    assert {line.problem for line in found.lines if line.task == 2} == {problem}
    assert {line.problem for line in found.lines if line.task == 1} == {""}


def test_it_is_so_when_the_bank_is_changed_later() -> None:
    """Put in beside it, that draws another for this student: it was not shown."""
    who = next(s for s in STUDENTS if drill(bank(SEESAW, PAIL, BARROW)).tasks(s)[0].drawn == BARROW)
    data = all_right(BOTH, who)
    wider = drill(COMMON, bank(SEESAW, PAIL, BARROW))
    found = marked(wider, data)
    assert found.marks == (10, 10)
    assert found.drawn == {2: BOTH.tasks(who)[1].drawn}
    assert any(remark == f"{BY_RECORD} task 2" for remark in found.remarks)
    first = contents(data).first
    assert list(misfits(BOTH, who, [first])) == [""]
    assert "different numbers" in next(misfits(wider, who, [first]))


def test_a_problem_taken_out_of_the_bank_is_marked_with_the_old_file_alone() -> None:
    """Without it nobody knows what was right: no line is judged by another problem."""
    who = had(BOTH, PAIL)
    data = all_right(BOTH, who)
    later = drill(COMMON, bank(SEESAW, "knee-seated-extension"))
    found = marked(later, data)
    assert found.marks == (10, 0)
    assert {line.task for line in found.lines} == {1}
    assert f"{UNKNOWN} task 2" in found.remarks
    assert found.drawn == {}
    told = [task.unknown for task in account(later, found, CATALOGUE)]
    assert told == [False, True]
    with_old = replace(later, sat_with=(BOTH,))
    proved = marked(with_old, data)
    assert proved.marks == (10, 10)
    assert not any(UNKNOWN in remark or BY_RECORD in remark for remark in proved.remarks)


def test_who_makes_up_another_problem_is_judged_by_the_own() -> None:
    who = had(BOTH, PAIL)
    other = drill(COMMON, bank(SEESAW, BARROW)).tasks(had(BOTH, SEESAW))
    shown = [
        {"problem": task.question.problem.id, "givens": task.question.givens_written}
        for task in (BOTH.tasks(who)[0], other[1])
    ]
    found = marked(BOTH, record(BOTH, who, [*lines_of(other[1:]), END], tasks=shown))
    assert found.drawn == {2: PAIL}
    assert found.total < 10
    assert any("other numbers were shown for task 2" in remark for remark in found.remarks)


def test_weights_share_out_the_marks() -> None:
    one = drill(f'[[item]]\nproblem = "{SEESAW}"\nmarks = 10\nweights = {{ F_h = 3, class = 0.5 }}')
    (task,) = one.tasks("s1")
    lines = [line for line in lines_of((task,)) if line["step"] != "F_h"]
    found = marked(one, record(one, "s1", [*lines, END]))
    whole = len(found.lines) - 2 + Fraction(7, 2)
    assert found.total == round(10 * (whole - 3) / whole, 2)
    assert marked(one, all_right(one)).total == 10
    told = " ".join(rules_in_words(one, None, "press F10", "press Esc"))
    assert "share its marks by what they count: F_h 3 and class 0.5, any other line 1." in told
    key = str(list(answer_key(of_drill(one, {}))))
    assert "shared by what they count" in key
    assert f"'{float(round(30 / whole, 2)):g}'" in key


def test_a_weight_may_name_what_kind_of_line_it_is_for() -> None:
    """So that problems of unlike symbols can be of one bank."""
    one = drill(bank(SEESAW, PAIL, more="weights = { effort = 4 }"))
    for problem in (SEESAW, PAIL):
        found = marked(one, all_right(one, had(one, problem)))
        assert sorted(line.weight for line in found.lines)[-2:] == [1, 4]
        assert found.total == 10


def test_tables_say_which_problem_stood_there() -> None:
    who = had(BOTH, PAIL)
    found = marked(BOTH, all_right(BOTH, who))
    columns = marks_columns(BOTH)
    student = Student(who, "", found, (found,), ())
    assert columns["problem 2"](student) == PAIL
    assert "problem 1" not in columns
    steps = steps_columns(BOTH)["problem"]
    assert {steps(found, one) for one in found.entries} == {"", PAIL}
    assert "problem" not in steps_columns(drill(COMMON))


def test_figures_of_unlike_problems_are_never_mixed() -> None:
    """W_c of the seesaw is no line of the pail; and the rest of a line is the same for all."""
    students = []
    for number, who in enumerate(STUDENTS):
        tasks = BOTH.tasks(who)
        lines = lines_of(tasks)
        if number % 2:
            lines = [with_wrong(line) for line in lines]
        one = marked(BOTH, record(BOTH, who, [*lines, END]))
        students.append(Student(who, "", one, (one,), ()))
    figures = figures_of(BOTH, students)
    counts = Counter(BOTH.tasks(who)[1].drawn for who in STUDENTS)
    titles = {SHELF.problems[name].title: counts[name] for name in counts}
    assert {one.problem: one.students for one in figures.banks} == titles
    of_bank = [line for line in figures.lines if line.task == 2]
    assert {line.problem for line in of_bank} == titles.keys()
    assert all(line.tried == titles[line.problem] for line in of_bank)
    assert all(line.tried == 40 for line in figures.lines if line.task == 1)
    told = in_text(class_report(figures))
    assert "Task 2: one of 2 problems" in told
    for title in titles:
        assert f"Task 2: {title}" in told


def test_discrimination_counts_no_line_of_another_bank() -> None:
    """By hand: the rest is the common lines and the other lines of the same problem."""
    two = drill(COMMON, bank(SEESAW, PAIL), bank(SEESAW, PAIL).replace('"bank"', '"second"'))
    sums: dict[str, LineSums] = {}
    students = []
    for number, who in enumerate(STUDENTS[:24]):
        tasks = two.tasks(who)
        wrong = {(task, key) for task in (1, 2, 3) for key in WRONG
                 if (number * 7 + task * 3 + len(key)) % 4 == 0}  # fmt: skip
        lines = [
            with_wrong(line) if (line["task"], line["step"]) in wrong else line
            for line in lines_of(tasks)
        ]
        one = marked(two, record(two, who, [*lines, END]))
        students.append(Student(who, "", one, (one,), ()))
        right = {line.place: line.first_right for line in one.lines}
        for place, is_right in right.items():
            if place.task == 2 and place.step == "M_sum":
                rest = sum(r for p, r in right.items() if p.task in (1, 2)) - is_right
                sums.setdefault(place.problem, LineSums()).add(is_right, rest)
    figures = figures_of(two, students)
    found = {
        line.problem: line.discrimination
        for line in figures.lines
        if (line.task, line.key) == (2, "M_sum")
    }
    assert found == {
        SHELF.problems[name].title: one.discrimination if one.tried >= 8 else None
        for name, one in sums.items()
    }
    assert any(found.values())


def test_preview_vetting_and_the_key_say_what_was_drawn() -> None:
    told = "\n".join(preview(BOTH, CATALOGUE, had(BOTH, PAIL)))
    assert f"Drawn from a bank: {PAIL}, of {SEESAW} and {PAIL}" in told
    assert f"task 2, {SEESAW}:" in told
    assert "In task 2 others may have a different problem from yours." in told
    (remark,) = banks_told(BOTH)
    assert remark.startswith(f"task 2 is one of these, with so many lines: {SEESAW} (")
    key = str(list(answer_key(of_drill(BOTH, dict.fromkeys(STUDENTS[:6], "")))))
    for name in (SEESAW, PAIL):
        assert key.count(SHELF.problems[name].title) > 1


def test_a_faulty_problem_is_withdrawn_for_those_who_had_it() -> None:
    """It is drawn as before; the others are marked as ever, and its lines are in no table."""
    one = drill(COMMON, bank(SEESAW, PAIL, more=f'faulty = ["{PAIL}"]'))
    unlucky, other = had(BOTH, PAIL), had(BOTH, SEESAW)
    students = []
    for who in (unlucky, other):
        assert one.tasks(who)[1].question.numbers == BOTH.tasks(who)[1].question.numbers
        found = marked(one, record(one, who, [*lines_of(one.tasks(who)[:1]), END]))
        students.append(Student(who, "", found, (found,), ()))
    assert [student.counted.marks for student in students if student.counted] == [(10, 10), (10, 0)]
    first, second = (list(account(one, each.sittings[0], CATALOGUE))[1] for each in students)
    assert "you have full marks for it" in first.withdrawn
    assert second.withdrawn == ""
    figures = figures_of(one, students)
    title = SHELF.problems[PAIL].title
    assert {line.problem for line in figures.lines if line.task == 2}.isdisjoint({title})
    told = f"Withdrawn from task 2, with full marks: {title}."
    assert told in in_text(class_report(figures))
    assert told in list(rules_in_words(one, None, "press F10", "press Esc"))
