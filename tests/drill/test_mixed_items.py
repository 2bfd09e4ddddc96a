"""Mixed sets in drills: an item that becomes as many ordinary ones as it draws problems."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drill_sittings import END, SHELF, entry, record, right_entries
from helpers.material import CATALOGUE
from helpers.source import ROOT, TESTS
from leverstep.course.faults import FileError
from leverstep.course.listing import ASKED
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.preview import preview
from leverstep.drill.drill import Drill, TaskForm
from leverstep.drill.drill_file import drill_of
from leverstep.drill.mixed_items import MOST_DRAWN, SHORT
from leverstep.faces.commands.cli import main
from leverstep.marking.marking import Marked, mark_record
from leverstep.sheets.handout import of_drill
from leverstep.sheets.key import answer_key

HEAD = 'id = "week-5"\ntitle = "Week 5"\n'
SEESAW = '[[item]]\nproblem = "plain-seesaw"\n'
MIXED = "[[item]]\nmixed = 4\nmarks = 5\n"


def drill(*items: str, head: str = HEAD, shelf: object = SHELF.problems) -> Drill:
    return drill_of("".join((head, *items)), shelf, "week-5.toml")  # type: ignore[arg-type]


def names(one: Drill) -> list[str]:
    return [item.problem.id for item in one.items if item.is_drawn]


def written_out(one: Drill) -> str:
    """Return the items of a drill, each by the name of its problem."""
    return "".join(
        f'[[item]]\nproblem = "{item.problem.id}"\nmarks = {item.marks}\n'
        + (f'id = "{item.id}"\n' if item.id else "")
        for item in one.items
    )


BETWEEN = drill(SEESAW, MIXED, SEESAW)


def all_right(one: Drill) -> bytes:
    """Return the record of who got every line of a drill right."""
    lines = [
        entry(key, typed, task.number)
        for task in one.tasks("s1")
        for key, typed in right_entries(task.question).items()
    ]
    return record(one, "s1", [*lines, END])


def marked(one: Drill, data: bytes) -> Marked:
    return mark_record(one, CATALOGUE, "one.jsonl", data)


def test_it_becomes_so_many_ordinary_items_in_its_place() -> None:
    assert [item.is_drawn for item in BETWEEN.items] == [False, *[True] * 4, False]
    assert [item.count for item in BETWEEN.items] == [1] * 6
    assert [float(item.marks) for item in BETWEEN.items] == [10, 5, 5, 5, 5, 10]
    assert BETWEEN.marks == 40
    assert list(BETWEEN.labels) == [f"{place}.1" for place in range(1, 7)]


@pytest.mark.parametrize("ident", ["a", "b", "week-5"])
def test_its_problems_are_short_offered_and_of_different_kinds_and_joints(ident: str) -> None:
    one = drill("[[item]]\nmixed = 6\n", head=HEAD.replace("week-5", ident))
    problems = [item.problem for item in one.items]
    assert len({problem.asks for problem in problems}) == 6
    assert len({problem.joint for problem in problems}) > 3
    for problem in problems:
        assert not problem.retired
        assert len(problem.question("7").derivation.asked) <= SHORT


def test_a_kind_comes_again_only_once_every_kind_was_there() -> None:
    one = drill(f"[[item]]\nmixed = {MOST_DRAWN}\n")
    kinds = [item.problem.asks for item in one.items]
    assert set(kinds[: len(ASKED)]) == set(ASKED)
    assert len(set(names(one))) == MOST_DRAWN


def test_slips_may_be_found_in_each_of_its_problems() -> None:
    one = drill(MIXED + 'form = "find the slip"\nslips = 2\n')
    assert [(item.form, item.slips) for item in one.items] == [(TaskForm.FIND_SLIP, 2)] * 4
    assert names(one) == names(drill(MIXED))


def test_all_students_have_the_same_problems_with_numbers_of_their_own() -> None:
    first, second = BETWEEN.tasks("s1"), BETWEEN.tasks("s2")
    for one, other, item in zip(first, second, BETWEEN.items, strict=True):
        assert one.question.problem.id == other.question.problem.id == item.problem.id
    assert any(
        one.question.numbers != other.question.numbers
        for one, other in zip(first[1:5], second[1:5], strict=True)
    )
    fixed = drill(f'{MIXED}numbers = "fixed"\n')
    for one, other in zip(fixed.tasks("s1"), fixed.tasks("s2"), strict=True):
        assert one.question.numbers == other.question.numbers


def test_the_draw_follows_from_the_drill_and_the_item_alone() -> None:
    named = f'{MIXED}id = "warm-up"\n'
    one = drill(named)
    assert [item.id for item in one.items] == [f"warm-up-{place}" for place in (1, 2, 3, 4)]
    assert names(drill(SEESAW, named)) == names(one)
    assert names(drill(named.replace("= 4", "= 6")))[:4] == names(one)
    assert names(drill(named, head=HEAD.replace("week-5", "week-6"))) != names(one)
    assert names(drill(named.replace("warm-up", "at-the-end"))) != names(one)


@pytest.mark.parametrize("more", ["", 'id = "warm-up"\n'])
def test_a_file_with_the_problems_written_out_sets_the_same_tasks(more: str) -> None:
    one = drill(SEESAW, MIXED + more, SEESAW.replace("\n", '\nid = "6"\n', 1))
    plain = drill(written_out(one))
    assert not names(plain)
    assert plain.labels == one.labels
    for task, other in zip(one.tasks("s1"), plain.tasks("s1"), strict=True):
        assert task.question.givens_written == other.question.givens_written


def test_it_is_narrowed_to_kinds_joints_and_levels() -> None:
    narrowed = 'kinds = ["effort", "net moment"]\njoints = ["knee", "ankle"]\nlevels = [1, 2]\n'
    items = drill(f"{MIXED}{narrowed}").items
    assert {item.problem.asks for item in items} == {"effort", "net moment"}
    assert {item.problem.joint for item in items} == {"knee", "ankle"}
    assert {item.problem.difficulty for item in items} <= {1, 2}


def test_a_library_of_the_teacher_changes_nothing() -> None:
    """Who sits the drill may not have it."""
    beside = load_shelf(own=[TESTS / "problems"])
    assert beside.own
    assert names(drill(SEESAW, MIXED, SEESAW, shelf=beside.problems)) == names(BETWEEN)


@pytest.mark.parametrize(
    ("item", "key", "said"),
    [
        ("mixed = 0\n", "mixed", "a whole number from 1 to 20"),
        ("mixed = 2.5\n", "mixed", "a whole number from 1 to 20"),
        ('mixed = 9\njoints = ["finger"]\n', "mixed", "expected at most 5"),
        ('mixed = 3\njoints = ["fingers"]\n', "joints", 'did you mean "finger"'),
        ('mixed = 3\nkinds = ["efort"]\n', "kinds", 'did you mean "effort"'),
        ("mixed = 3\nlevels = [0]\n", "levels", "some of 1, 2 and 3"),
        ("mixed = 3\nlevels = 2\n", "levels", "some of 1, 2 and 3"),
        ('mixed = 3\nproblem = "plain-seesaw"\n', "problem", "found beside mixed"),
        ("mixed = 3\ncount = 2\n", "count", "found beside mixed"),
        ('mixed = 3\npair = "plain-seesaw"\n', "pair", "found beside mixed"),
        ('problem = "plain-seesaw"\njoints = ["knee"]\n', "joints", "found alone"),
        ('mixed = 12\nid = "a-rather-long-name"\n', "id", 'with "-12" behind them'),
    ],
)
def test_what_is_wrong_with_it_is_told(item: str, key: str, said: str) -> None:
    with pytest.raises(FileError) as caught:
        drill(SEESAW, f"[[item]]\n{item}")
    first = caught.value.faults[0]
    assert first.key == f"item[2].{key}"
    assert said in str(first)


@pytest.mark.parametrize("taken", ["3", "warm-up-2"])
def test_no_other_item_has_the_id_or_the_place_of_one_of_its_problems(taken: str) -> None:
    named = 'id = "warm-up"\n' if taken == "warm-up-2" else ""
    other = SEESAW.replace("\n", f'\nid = "{taken}"\n', 1)
    with pytest.raises(FileError, match=f'"{taken}" is that of item 1 too'):
        drill(MIXED + named, other)


def test_a_whole_set_that_is_right_has_all_marks_and_so_has_the_file_with_it_written_out() -> None:
    data = all_right(BETWEEN)
    found = marked(BETWEEN, data)
    assert (found.total, found.remarks) == (40, ())
    assert list(found.marks) == [10, 5, 5, 5, 5, 10]
    plain = marked(drill(written_out(BETWEEN)), data)
    assert plain.marks == found.marks
    assert not plain.absent


def test_where_another_problem_is_drawn_nobody_is_judged_by_it() -> None:
    """As a later version may, which has other problems: the record is one of another drill."""
    gone = names(BETWEEN)[3]
    fewer = {ident: SHELF.problems[ident] for ident in SHELF.problems if ident != gone}
    later = drill(SEESAW, MIXED, SEESAW, shelf=fewer)
    assert names(later)[:3] == names(BETWEEN)[:3]
    assert later.digest != BETWEEN.digest
    found = marked(later, all_right(BETWEEN))
    assert found.absent == {5}
    assert list(found.marks) == [10, 5, 5, 5, 0, 10]
    assert {line.task for line in found.lines} == {1, 2, 3, 4, 6}
    assert any("not in the drill when it was sat: task 5" in one for one in found.remarks)


def test_without_a_set_a_drill_is_named_by_its_text_alone() -> None:
    plain = drill(SEESAW)
    assert replace(plain, items=BETWEEN.items[5:]).digest == plain.digest
    assert replace(plain, items=BETWEEN.items[:2]).digest != plain.digest


def test_each_of_the_set_may_be_withdrawn_once_it_is_written_out() -> None:
    text = written_out(BETWEEN).split("[[item]]\n")
    text[3] += 'withdrawn = "full marks"\n'
    mended = drill("[[item]]\n".join(text))
    found = marked(mended, record(BETWEEN, "s1", [END]))
    assert [float(one) for one in found.marks] == [0, 0, 5, 0, 0, 0]
    assert drill(f'{SEESAW}{MIXED}withdrawn = "no marks"\n').marks == Fraction(10)


def test_preview_and_key_have_its_tasks() -> None:
    told = "\n".join(preview(BETWEEN, CATALOGUE, "s1"))
    key = repr(list(answer_key(of_drill(BETWEEN, {"s1": ""}))))
    for item in BETWEEN.items[1:5]:
        assert f"Drawn for a mixed set: {item.problem.id}" in told
        assert item.problem.title in key
    assert told.count("Drawn for") == 4


def test_vetting_names_what_was_drawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "week-5.toml"
    path.write_text(f'{HEAD}[[item]]\nmixed = 2\nkinds = ["support"]\n', encoding="utf-8")
    one = drill_of(path.read_text("utf-8"), SHELF.problems, path.name)
    assert main(["vet", str(path)]) == 0
    told = capsys.readouterr().out
    first, second = names(one)
    assert f"remark: mixed: drawn are task 1 {first} and task 2 {second}" in told


def test_the_guide_names_its_keys() -> None:
    guide = (ROOT / "problems" / "DRILLS.md").read_text(encoding="utf-8")
    for key in ("mixed", "kinds", "joints", "levels"):
        assert f"`{key} = " in guide
    assert f"up to {MOST_DRAWN}" in guide.replace("\n", " ")
