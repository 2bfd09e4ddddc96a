"""A task that was found faulty after the sitting is withdrawn, and the others stay as they were."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers.classes import figures_of
from helpers.drill_sittings import entry, record, right_entries
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import rules_in_words
from leverstep.documents.text import text as in_text
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.withdrawn import withdrawn_told
from leverstep.marking.collecting import Student
from leverstep.marking.marking import Marked, mark_record
from leverstep.reports.account import account
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Figures, Help

TEXT = """
id = "levers"
title = "Levers"

[[item]]
problem = "plain-seesaw"
marks = 4
{first}

[[item]]
problem = "elbow-pail-of-water"
marks = 6
{second}
"""


def drill(first: str = "", second: str = "") -> Drill:
    return drill_of(TEXT.format(first=first, second=second), SHELF.problems, "levers.toml")


def sat() -> bytes:
    """Return the record of who sat it before any task was withdrawn: the second one all right."""
    before = drill()
    question = before.tasks("s1")[1].question
    return record(
        before, "s1", [entry(key, text, 2) for key, text in right_entries(question).items()]
    )


def marked(one: Drill) -> Marked:
    return mark_record(one, CATALOGUE, "one.jsonl", sat())


@pytest.mark.parametrize(
    ("first", "second", "marks", "most"),
    [
        ("", "", (0, 6), 10),
        ('withdrawn = "no marks"', "", (0, 6), 6),
        ('withdrawn = "full marks"', "", (4, 6), 10),
        ("", 'withdrawn = "no marks"', (0, 0), 4),
        ("", 'withdrawn = "full marks"', (0, 6), 10),
    ],
)
def test_a_withdrawn_task_earns_nothing_or_all_and_the_others_what_they_did(
    first: str, second: str, marks: tuple[int, int], most: int
) -> None:
    one = drill(first, second)
    assert marked(one).marks == marks
    assert one.marks == most
    assert not any("other numbers" in remark for remark in marked(one).remarks)


def test_the_numbers_of_no_task_change() -> None:
    before, after = (one.tasks("s1") for one in (drill(), drill('withdrawn = "no marks"')))
    assert [t.question.numbers for t in before] == [t.question.numbers for t in after]


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ("no marks", "Task 1 has been withdrawn: it earns no marks."),
        ("full marks", "Task 1 has been withdrawn: everybody has full marks for it."),
    ],
)
def test_it_is_told_in_the_rules_and_on_the_page(rule: str, told: str) -> None:
    one = drill(f'withdrawn = "{rule}"')
    assert told in tuple(rules_in_words(one, None, "press F10", "press Esc"))
    first, second = account(one, marked(one), CATALOGUE)
    assert (first.withdrawn, second.withdrawn) == (told, "")


def test_not_all_tasks_are_withdrawn() -> None:
    with pytest.raises(FileError, match="every task has been withdrawn"):
        drill('withdrawn = "no marks"', 'withdrawn = "no marks"')
    with pytest.raises(FileError, match='"no", "no marks"'):
        drill("withdrawn = true")


def test_a_task_with_full_marks_for_all_is_so_for_who_wrote_nothing() -> None:
    one = drill('withdrawn = "full marks"')
    empty = mark_record(one, CATALOGUE, "one.jsonl", record(replace(one), "s2", []))
    assert empty.marks == (4, 0)


@pytest.mark.parametrize("rule", ["no marks", "full marks"])
def test_a_withdrawn_task_is_in_no_table_of_the_class_report(rule: str) -> None:
    first, second = (task.question for task in drill().tasks("s1"))
    turned = right_entries(first)["M_c"].lstrip(
        "-\N{MINUS SIGN}"
    )  # the sign of its sense is left out
    lines = [entry("M_c", turned, 1)]
    lines += [entry(key, typed, 2) for key, typed in right_entries(second).items()]

    def figures(text: str) -> Figures:
        one = drill(text)
        sitting = mark_record(one, CATALOGUE, "one.jsonl", record(drill(), "s1", lines))
        return figures_of(one, [Student(name, "", sitting, (sitting,), ()) for name in "ab"])

    before, after = figures(""), figures(f'withdrawn = "{rule}"')
    assert {line.task for line in before.lines} == {1, 2}
    assert {line.task for line in after.lines} == {2}
    assert {one.example[0] for one in before.slips} == {1}
    assert before.teach
    assert (after.slips, after.teach) == ((), ())
    shown = in_text(class_report(after))
    assert (
        shown.split("Line by line")[1].count(withdrawn_told(drill(f'withdrawn = "{rule}"'), 1)) == 1
    )


def test_nobody_needs_help_with_a_task_that_was_withdrawn() -> None:
    first, second = (task.question for task in drill().tasks("s1"))
    wrong = entry(first.derivation.asked[0].key, "1.23 N", 1)
    right = [entry(key, text, 2) for key, text in right_entries(second).items()]

    def helped(rule: str) -> tuple[Help, ...]:
        one = drill(rule)
        sitting = mark_record(one, CATALOGUE, "one.jsonl", record(drill(), "s1", [wrong, *right]))
        return figures_of(one, [Student("s1", "", sitting, (sitting,), ())]).help

    ((_, places),) = helped("")[0].open
    assert [task for task, _ in places] == [1]
    assert helped('withdrawn = "no marks"') == helped('withdrawn = "full marks"') == ()
