"""An item of a drill may have rules of its own; those of the drill hold for all others."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.both_faces import Step, in_lines, on_the_screen
from helpers.drill_sittings import END, SHELF, entry, hint, record, right_entries
from helpers.material import CATALOGUE
from leverstep.bench.bench import TAKEN
from leverstep.bench.replaying import keep_nothing
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import rules_in_words
from leverstep.drill.allowance import Allowance
from leverstep.drill.benches import benches_of, rules_of
from leverstep.drill.drill import Drill, Feedback, Hints
from leverstep.drill.drill_file import drill_of
from leverstep.drill.exceptions import allowed_told
from leverstep.marking.marking import Marked, mark_record
from leverstep.reports.changes import unlike_rules
from leverstep.sheets.handout import of_drill
from leverstep.sheets.sheet import worksheets
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Reasons

HINT = Step("hint", ("f2",))
HEAD = 'id = "r"\ntitle = "Rules"\nhints = "at a cost"\nattempts = 3\n[marking]\nwrong_try = 0.1\n'
ITEM = '[[item]]\nproblem = "plain-seesaw"\n'


def drill(*rules: str, head: str = HEAD) -> Drill:
    """Return a drill of as many items of one problem, each with some rules."""
    items = (f"{ITEM}{rule}\n" for rule in rules)
    return drill_of("".join((head, *items)), SHELF.problems, "r.toml")


def marked(one: Drill, *lines: dict[str, object]) -> Marked:
    return mark_record(one, CATALOGUE, "one.jsonl", record(one, "s1", [*lines, END]))


def share(found: Marked, task: int, key: str) -> Fraction:
    return next(line.share for line in found.lines if (line.task, line.step) == (task, key))


ALL_RULES = (
    'guidance = "blank"\nfeedback = "at the end"\nhints = "none"\nreasons = "at once"\n'
    "attempts = 1\ntolerance = 0.05\ncalculator = false\n"
    "marking = { wrong_try = 0.5, hint = [0, 0, 0, 1], follow_through = 0 }"
)


def test_a_task_is_under_the_rules_of_its_item_and_else_of_the_drill() -> None:
    one = drill("", ALL_RULES)
    assert one.at(1) is one
    own = one.at(2)
    assert (own.guidance, own.feedback, own.hints) == (Guidance.BLANK, Feedback.END, Hints.NONE)
    assert (own.reasons, own.attempts, own.calculator) == (Reasons.AT_ONCE, 1, False)
    assert (own.scheme.wrong_try, own.scheme.hint[-1]) == (Fraction(1, 2), 1)
    assert own.scheme.follow_through == 0
    first, second = one.tasks("s1")
    assert first.question.problem.tolerance != second.question.problem.tolerance == Fraction(1, 20)
    benches = benches_of(one, CATALOGUE, (first, second), keep_nothing)
    assert [bench.working.rules for bench in benches] == [rules_of(one), rules_of(own)]
    assert [bench.working.guidance for bench in benches] == [Guidance.LINES, Guidance.BLANK]


def test_what_the_marking_of_an_item_leaves_out_is_as_in_the_drill() -> None:
    own = drill("marking = { follow_through = 0.5 }").at(1)
    assert (own.scheme.wrong_try, own.scheme.follow_through) == (Fraction(1, 10), Fraction(1, 2))
    assert own.scheme.hint == drill("").scheme.hint


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ('feedback = "later"', '"each line"'),
        ('hints = "dear"', '"free"'),
        ("attempts = 0", "a whole number from 1 to 100"),
        ("tolerance = 1", "a number from 0.0001 to 0.1"),
        ("calculator = 1", "true or false"),
        ("marking = 1", "expected a table"),
        ("marking = { hint = [0.1] }", "a share from 0 to 1, or 4 of them"),
        ('marking = { counts = "last" }', "unknown key"),
        ('guidance = "blnk"', 'did you mean "blank"'),
        ('guidance = "blank"\nopen = 3', 'guidance = "fading" beside it'),
        ('guidance = "blank"\nform = "find the slip"', "one of the two"),
        ("minutes = 5", "it in the lines above the first [[item]], for all items"),
        ("sure = true", "it in the lines above the first [[item]], for all items"),
        ('units = "named"', "it in the lines above the first [[item]], for all items"),
    ],
)
def test_what_is_wrong_is_told(rule: str, said: str) -> None:
    head = HEAD.replace("[marking]", 'minutes = 9\nsure = false\nunits = "asked"\n[marking]')
    with pytest.raises(FileError) as caught:
        drill(rule, head=head)
    assert said in str(caught.value.faults[0])


def test_tries_and_hints_cost_what_the_item_says() -> None:
    one = drill("", "marking = { wrong_try = 0.5, hint = 0.125 }", 'hints = "free"', "attempts = 1")
    lines = []
    for task in one.tasks("s1"):
        right, number = right_entries(task.question)["W_c"], task.number
        lines += [hint("W_c", number), entry("W_c", "9999 N", number), entry("W_c", right, number)]
    found = marked(one, *lines)
    assert share(found, 1, "W_c") == 1 - Fraction(1, 10) - Fraction(1, 4)
    assert share(found, 2, "W_c") == 1 - Fraction(1, 2) - Fraction(1, 8)
    assert share(found, 3, "W_c") == 1 - Fraction(1, 10)
    assert share(found, 4, "W_c") == 0


def test_lines_asked_for_are_those_of_the_item_on_paper_too() -> None:
    one = drill("", 'guidance = "blank"')
    found = marked(one)
    first, second = ([line for line in found.lines if line.task == task] for task in (1, 2))
    assert len(second) < len(first)
    told = [str(block) for block in worksheets(of_drill(one, {}))]
    assert sum("To be found:" in block for block in told) == 1


def test_a_task_that_tells_nothing_helps_no_other() -> None:
    """A habit or a clean conversion that is told of would say what was right there."""
    head = HEAD.replace("[marking]", 'conversions = "until clean"\n[marking]')
    one = drill("", 'feedback = "at the end"', "", head=head)
    told, hidden, also = benches_of(one, CATALOGUE, one.tasks("s1"), keep_nothing)
    assert told.habits is also.habits
    assert told.conversions is also.conversions
    assert hidden.habits is not told.habits
    assert hidden.conversions is not told.conversions
    assert not hidden.to_fill


def test_an_exception_of_tries_holds_where_the_item_has_its_own() -> None:
    allowance = Allowance("agreed", attempts=5)
    one = replace(drill("", "attempts = 1"), allowances={"s1": allowance})
    own = one.for_student("s1")
    assert [own.at(task).attempts for task in (1, 2)] == [5, 5]
    assert allowed_told(one, "s1") == ("a line may be tried 5 times",)
    alone = drill("attempts = 1", head='id = "r"\ntitle = "Rules"\n')
    alone = replace(alone, allowances={"s1": allowance})
    assert alone.for_student("s1").at(1).attempts == 5
    assert allowed_told(alone, "s1") == ("a line may be tried 5 times",)


def test_students_are_told_what_is_otherwise_in_which_tasks() -> None:
    one = drill("", 'feedback = "at the end"', 'feedback = "at the end"', "attempts = 1")
    told = list(rules_in_words(one, None, "press F10", "press Esc"))
    otherwise = [rule for rule in told if "it is otherwise" in rule]
    assert [rule.partition(":")[0] for rule in otherwise] == [
        "In tasks 2 and 3 it is otherwise",
        "In task 4 it is otherwise",
    ]
    assert "There are no hints." in otherwise[0]
    assert otherwise[0].endswith("once you have handed in.")
    assert "A line may be tried once; a wrong entry can't be changed." in otherwise[1]
    assert "hint" not in otherwise[1]


def test_students_are_told_how_far_they_are_led_where_that_is_otherwise() -> None:
    one = drill("", 'guidance = "blank"', 'guidance = "landmarks"', 'guidance = "fading"')
    told = list(rules_in_words(one, None, "press F10", "press Esc"))
    otherwise = [rule for rule in told if "it is otherwise" in rule]
    assert otherwise[0].startswith("In task 2 it is otherwise: The page is blank")
    assert otherwise[1].startswith("In task 3 it is otherwise: Only the main results are asked")
    assert len(otherwise) == 2


def test_drills_differ_in_rules_where_their_items_do() -> None:
    assert unlike_rules(drill(""), drill("")) == []
    assert unlike_rules(drill(""), drill('guidance = "blank"')) == ["guidance"]
    assert unlike_rules(drill("attempts = 3"), drill("")) == []
    assert unlike_rules(drill(""), drill("marking = { wrong_try = 1 }")) == ["marking"]


async def test_both_faces_tell_what_the_item_says(tmp_path: Path) -> None:
    """What a hint costs there, how many tries are left, and nothing where nothing is to be told."""
    one = drill("attempts = 2\nmarking = { hint = 0.5 }", 'feedback = "at the end"')
    wrong = Step("W_c = 9999 N")
    first = [HINT, wrong]
    second = [Step("next"), wrong]
    lines = in_lines(one, tmp_path / "lines", [*first, *second])
    screen = await on_the_screen(one, tmp_path / "screen", first)
    for heard in (lines, screen):
        assert "50 % of this line's marks" in " ".join(heard[1].told)
        assert "1 try is left." in " ".join(heard[2].told)
    assert TAKEN in " ".join(lines[4].told)
    assert "left" in " ".join(lines[4].told)
