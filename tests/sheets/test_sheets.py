"""Sheets and keys for paper: what stands on them is what the derivation says, in every format."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.classes import CLASS, HOSTILE, Leaf, class_drill
from helpers.documents import check_latex, check_markdown
from helpers.drills import drill_file, drill_with
from leverstep.course.decimals import number
from leverstep.course.shelf import load_shelf
from leverstep.diagram.described import positive_sense
from leverstep.diagram.tex_text import tex_text
from leverstep.documents.blocks import (
    Block,
    Heading,
    Lines,
    Listing,
    NewPage,
    Posed,
    RuledLine,
    SheetHead,
    Space,
    Table,
    Whole,
    Words,
)
from leverstep.documents.formats import FORMATS
from leverstep.faces.commands.cli import main
from leverstep.free_body.body_picture import pictures_of
from leverstep.marking.shares import marks_each
from leverstep.sheets.handout import Handout, of_drill, of_problems
from leverstep.sheets.key import answer_key
from leverstep.sheets.sheet import worksheets
from leverstep.sheets.sheet_files import document
from leverstep.working.cautions import CAUTION
from leverstep.working.guidance import FOR_ALL, Guidance, led_to
from leverstep.working.page import given_and_taken, givens, line_name, prompt_of
from leverstep.working.rules import Pictures
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working
from leverstep.working.writing import value_text, worked_line

SHELF = load_shelf()


def sheet_of(name: str, guidance: Guidance = Guidance.LINES) -> Handout:
    return of_problems([SHELF.problems[name]], guidance, "3", {})


def tables(parts: Iterator[Block]) -> Iterator[tuple[str, Table]]:
    """Yield each table of a key with the heading above it."""
    for part in parts:
        if isinstance(part, Whole):
            heading = next(b.text for b in part.blocks if isinstance(b, Heading))
            yield from ((heading, block) for block in part.blocks if isinstance(block, Table))


@pytest.mark.parametrize("name", sorted(SHELF.problems))
@pytest.mark.parametrize("guidance", FOR_ALL)
def test_a_sheet_has_room_for_what_is_asked_for_and_nothing_else(
    name: str, guidance: Guidance
) -> None:
    handout = sheet_of(name, guidance)
    (task,) = handout.copies[0].tasks
    question = task.question
    asked = led_to(question.derivation.asked, guidance)
    parts = list(worksheets(handout))
    lines = [line for part in parts if isinstance(part, Lines) for line in part.lines]
    ruled = sum(part.count for part in parts if isinstance(part, Space))
    if guidance is Guidance.BLANK:
        (listing,) = (part for part in parts if isinstance(part, Listing))
        assert listing.items == tuple(f"{line_name(s)}: {ask(question, s)}" for s in asked)
        assert lines == []
    else:
        assert lines == [RuledLine(ask(question, step), prompt_of(step)) for step in asked]
    assert (ruled >= 4) is (guidance is not Guidance.LINES)
    posed, *later = (part for part in parts if isinstance(part, Posed))
    assert posed.statement == question.statement
    assert posed.given == given_and_taken(question)
    views = question.views
    for part, view in zip((posed, *later), views, strict=True):
        named = f"{view.introduced}. " if later else ""
        assert part.sense == f"{named}{positive_sense(view)}"
        assert not later or view.problem.segment in part.sense
    assert not any(part.given or part.statement for part in later)
    written = " ".join(part.text for part in parts if isinstance(part, Words))
    assert all(one in written for one in question.problem.idealised)


@pytest.mark.parametrize("name", sorted(SHELF.problems))
def test_the_limits_of_a_key_are_accepted_as_they_stand_and_values_beyond_are_not(
    name: str,
) -> None:
    handout = sheet_of(name)
    question = handout.copies[0].tasks[0].question
    values = question.graph.values(question.numbers, {})
    named = question.problem.constants_set.get("g", (question.accepted["g"][0],))
    of_each_gravity = [question.graph.values(question.numbers, {"g": g}) for g in named]
    _, (_, table) = tables(answer_key(handout))
    steps = question.derivation.asked
    working = Working(question)
    assert [row[0] for row in table.rows] == [line_name(step) for step in steps]
    assert [row[1] for row in table.rows] == [worked_line(question, s, values) for s in steps]
    for step, row in zip(steps, table.rows, strict=True):
        if not step.kind.is_number:
            assert row[2] == ""
            continue
        low, high = row[2].split(" to ")
        unit = high.removeprefix(re.match(r"[−\d.]+", high).group())
        for typed in (f"{low}{unit}", high, value_text(step, values[step.key])):
            assert working.enter(step.key, typed).outcome is Outcome.RIGHT, typed
        tolerance = float(question.problem.tolerance)
        sizes = [one[step.key] for one in of_each_gravity]
        for beyond in (1 - 3 * tolerance, 1 + 3 * tolerance):
            furthest = (min if beyond < 1 else max)(sizes, key=abs)
            typed = f"{furthest * beyond:.6g}{unit}"
            assert working.enter(step.key, typed).outcome is not Outcome.RIGHT, typed


def test_each_of_several_postures_is_named_beside_its_picture() -> None:
    """The statement stands once; no posture is told of as if it were the only one."""
    posed = [one for one in worksheets(sheet_of("lumbar-near-and-far")) if isinstance(one, Posed)]
    assert [one.sense.partition(".")[0] for one in posed] == [
        "First the base of the trunk with the parcel near",
        "Then the base of the trunk with the parcel far",
    ]
    assert [bool(one.statement) for one in posed] == [True, False]
    (alone,) = (one for one in worksheets(sheet_of("elbow-stiff-brace")) if isinstance(one, Posed))
    assert alone.sense == "Anticlockwise moments are positive."


def test_a_drill_without_diagrams_has_none_on_paper_but_says_which_moments_are_positive() -> None:
    handout = of_drill(drill_with('picture = "off"'), {})
    blocks = list(worksheets(handout))
    assert not [one for one in blocks if isinstance(one, Posed)]
    words = [one.text for one in blocks if isinstance(one, Words)]
    for task in handout.copies[0].tasks:
        assert task.question.statement in words
        assert positive_sense(task.question) in words
    given = next(text for text in words if text.startswith("Given: "))
    question = handout.copies[0].tasks[0].question
    assert given == f"Given: {' · '.join((*givens(question), 'g = 9.81 m/s²'))}."


def test_a_diagram_that_is_asked_for_has_room_on_paper_and_the_key_says_what_belongs_there() -> (
    None
):
    handout = of_drill(drill_with('picture = "asked"'), {})
    blocks = list(worksheets(handout))
    assert not [one for one in blocks if isinstance(one, Posed)]
    words = [one.text for one in blocks if isinstance(one, Words)]
    asked = [one for one in words if one.startswith("Draw the free-body diagram of the ")]
    questions = [task.question for copy in handout.copies for task in copy.tasks]
    assert len(asked) == sum(len(pictures_of(question)) for question in questions)
    wholes = [one for one in answer_key(handout) if isinstance(one, Whole)]
    told = [one.text for whole in wholes for one in whole.blocks if isinstance(one, Words)]
    (first, *_) = (one for one in told if one.startswith("Free-body diagram of the "))
    axis = questions[0].problem.axis
    assert f"the axis: the {axis}" in first
    assert f": the {axis}, direction unknown yet" in first


def test_the_lines_after_several_diagrams_to_draw_have_a_page_of_their_own() -> None:
    handout = replace(sheet_of("ankle-then-knee"), pictures=Pictures.ASKED)
    blocks = list(worksheets(handout))
    turned = next(n for n, one in enumerate(blocks) if isinstance(one, NewPage))
    before, after = blocks[:turned], blocks[turned:]
    drawn = [one for one in before if isinstance(one, Words) and "free-body" in one.text]
    assert len(drawn) == 2
    assert [one for one in after if isinstance(one, Lines)]
    assert not [one for one in before if isinstance(one, Lines)]
    assert isinstance(after[1], SheetHead)


def test_each_students_numbers_are_those_of_the_drill() -> None:
    drill = class_drill()
    handout = of_drill(drill, {})
    assert [copy.student for copy in handout.copies] == list(CLASS)
    assert [copy.whose for copy in handout.copies] == [
        "Ida Example (s01)",
        "Odo Example (s02)",
        "s03",
    ]
    written = {form: document(handout, form, False) for form in FORMATS}
    for copy in handout.copies:
        for task, expected in zip(copy.tasks, drill.tasks(copy.student), strict=True):
            assert task.question.exact == expected.question.exact
            assert task.marks == expected.marks
            assert task.question.statement in written["html"].replace("&#x27;", "'")
            assert tex_text(task.question.statement) in written["tex"]
    assert len({copy.tasks[0].question.statement for copy in handout.copies}) == 3
    posed = [part for part in worksheets(handout) if isinstance(part, Posed)]
    assert len(posed) == 6


def test_only_the_named_student_gets_a_sheet_and_spelling_does_not_matter() -> None:
    drill = class_drill()
    (copy,) = of_drill(drill, {" S02 ": ""}).copies
    assert (copy.student, copy.name) == ("s02", "Odo Example")
    assert copy.tasks[0].question.exact == drill.tasks("s02")[0].question.exact


def test_fixed_numbers_are_the_same_for_all_and_have_one_working_in_the_key() -> None:
    handout = of_drill(class_drill(fixed=True), {})
    assert handout.is_alike
    assert len({copy.tasks[0].question.statement for copy in handout.copies}) == 1
    assert sum(isinstance(part, NewPage) for part in answer_key(handout)) == 1
    rows = [row[0] for _, table in tables(answer_key(handout)) for row in table.rows]
    assert rows.count("everyone") == 2
    for_anyone = of_drill(replace(class_drill(fixed=True), students={}), {})
    assert [copy.whose for copy in for_anyone.copies] == [""]
    assert for_anyone.copies[0].tasks[1].question.exact == (
        handout.copies[0].tasks[1].question.exact
    )


def test_problems_by_student_have_the_numbers_of_the_id() -> None:
    barrow = SHELF.problems["plain-wheelbarrow"]
    handout = of_problems([barrow], Guidance.LINES, "", {"S01": "Ida"})
    assert handout.copies[0].tasks[0].question.exact == barrow.question("s01").exact
    assert not any("mark" in h for h, _ in tables(answer_key(handout)))


@pytest.mark.parametrize("guidance", FOR_ALL)
def test_the_key_shares_the_marks_of_a_task_among_the_lines_asked_for(guidance: Guidance) -> None:
    drill = class_drill(f'guidance = "{guidance}"')
    handout = of_drill(drill, {"s01": ""})
    marked = [(h, t) for h, t in tables(answer_key(handout)) if t.columns[-1] == "Marks"]
    assert len(marked) == 2
    for (heading, table), task in zip(marked, drill.tasks("s01"), strict=True):
        asked = led_to(task.question.derivation.asked, guidance)
        each = marks_each(task, len(asked))
        assert each * len(asked) == task.marks
        assert heading.endswith(f"({float(task.marks):g} marks)")
        given = {row[0] for row in table.rows if row[3]}
        assert given == {line_name(step) for step in asked}
        assert {row[3] for row in table.rows if row[3]} == {number(each)}


def test_the_answers_for_quick_marking_are_those_of_each_student() -> None:
    drill = class_drill()
    quick = [t for _, t in tables(answer_key(of_drill(drill, {}))) if t.columns[0] == "Student"]
    assert len(quick) == 2
    for place, table in enumerate(quick):
        assert [row[0] for row in table.rows] == ["Ida Example (s01)", "Odo Example (s02)", "s03"]
        for student, row in zip(CLASS, table.rows, strict=True):
            question = drill.tasks(student)[place].question
            values = question.graph.values(question.numbers, {})
            steps = led_to(question.derivation.asked, Guidance.LANDMARKS)
            assert table.columns[1:] == tuple(line_name(step) for step in steps)
            assert row[1:] == tuple(value_text(step, values[step.key]) for step in steps)


def test_a_drills_tolerance_and_constants_stand_in_its_key() -> None:
    drill = class_drill("tolerance = 0.02\n[constants]\ng = [9.8, 10]")
    written = document(of_drill(drill, {"s01": ""}), "html", True)
    assert "Accepted within 2 %, with g = 9.8 or 10 m/s²" in written
    assert "× 9.8 m/s²" in written


@pytest.mark.parametrize("key", [False, True])
def test_every_problem_is_a_page_that_needs_nothing_else(key: bool) -> None:
    handout = of_problems(SHELF.problems.values(), Guidance.LINES, "1", {})
    leaf = Leaf()
    shown = document(handout, "html", key)
    leaf.feed(shown)
    assert CAUTION in leaf.said
    assert "@media screen { .caution { display: block;" in shown
    pictures = sum(len(problem.postures) for problem in SHELF.problems.values())
    assert shown.count("<svg") == (0 if key else pictures)


@pytest.mark.parametrize("key", [False, True])
@pytest.mark.parametrize("hostile", HOSTILE)
def test_names_and_titles_are_never_markup(hostile: str, key: bool) -> None:
    drill = class_drill()
    bare = hostile.translate({ord(brace): "" for brace in "{}"})  # which stand for numbers there
    problem = replace(
        drill.items[0].problem, title=hostile, statement=bare, idealised=(hostile,),
        segment=hostile, axis=hostile, names=dict.fromkeys(drill.items[0].problem.names, hostile),
    )  # fmt: skip
    items = (replace(drill.items[0], problem=problem), *drill.items[1:])
    drill = replace(drill, title=hostile, items=items, students={hostile: hostile, "b": hostile})
    handout = replace(of_drill(replace(drill, students={}), {"a": hostile, "b": hostile}))
    Leaf().feed(document(handout, "html", key))
    written = document(handout, "md", key)
    check_markdown(written)
    tex = document(handout, "tex", key)
    check_latex(tex)
    assert "\\input" not in tex
    assert "^^" not in tex
    for text in (written, tex):
        assert all(character.isprintable() or character == "\n" for character in text)


def test_the_tables_of_a_key_stand_straight_in_markdown() -> None:
    written = document(of_drill(class_drill(), {}), "md", True)
    tables_of = [part for part in written.split("\n\n") if part.startswith("|")]
    assert len(tables_of) == 2 + 2 * len(CLASS)
    for told in tables_of:
        lines = told.splitlines()
        assert re.fullmatch(r"\|( -{2,}[-:] \|)+", lines[1])
        assert {len(line) for line in lines} == {len(lines[0])}


def test_text_for_latex_is_escaped_wholly() -> None:
    assert tex_text(r"\a{b}$%#&_^~") == (r"\ensuremath{\backslash}a\{b\}\$\%\#\&\_\^{}\~{}")
    assert tex_text("35° −2 × γ_m") == (
        r"35\ensuremath{^{\circ}} \ensuremath{-}2 \ensuremath{\times} \ensuremath{\gamma}\_m"
    )
    assert tex_text("Zoë Çelik, Škoda, naïf Øre ß") == (
        r"Zo\"{e} \c{C}elik, \v{S}koda, na\"{\i}f \O{}re \ss{}"
    )
    assert tex_text("漢\u202e\x00\n") == "????"
    assert tex_text("--?`") == r"-{}-{}?{\char96}"
    assert tex_text("e\u0301") == r"\'{e}"


def test_no_sign_of_what_ships_is_lost_in_latex() -> None:
    handout = of_problems(SHELF.problems.values(), Guidance.LINES, "1", {})
    parts = [*worksheets(handout), *answer_key(handout)]
    heads = [part for part in parts if isinstance(part, SheetHead)]
    assert len(heads) == len(SHELF.problems)
    told = [
        words
        for part in parts
        if isinstance(part, Posed)
        for words in (part.statement, *part.given, part.sense)
    ]
    told += [f"{l.asks} {l.prompt}" for p in parts if isinstance(p, Lines) for l in p.lines]  # noqa: E741
    told += [cell for _, t in tables(iter(parts)) for row in t.rows for cell in row]
    told += [label.text for p in parts if isinstance(p, Posed) for label in p.fine.labels]
    assert len(told) > 2000
    assert [one for one in told if "?" in tex_text(one).replace("?", "", one.count("?"))] == []


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(["sheet", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_the_command_writes_a_new_file_and_never_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "levers.html"
    call = ["elbow-full-pail", "plain-seesaw", "--seed", "7", "--out", str(path)]
    assert run(capsys, *call) == (0, f"{path} has been written.\n", "")
    before = path.read_bytes()
    Leaf().feed(before.decode())
    assert run(capsys, *call, "--key") == (
        2,
        "",
        f"{path}: it already exists; expected the path of a new file\n",
    )
    assert path.read_bytes() == before


@pytest.mark.parametrize("form", FORMATS)
def test_a_file_is_of_the_format_that_it_ends_in(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Unless one is named; what ends in none of them is a page of HTML."""
    for ending, named in ((form, ()), (form.upper(), ()), ("out", ("--format", form))):
        path = tmp_path / f"{len(named)}.{ending}"
        code, _, _ = run(capsys, "plain-seesaw", *named, "--out", str(path))
        _, printed, _ = run(capsys, "plain-seesaw", "--format", form)
        assert code == 0
        assert path.read_text("utf-8").rstrip() == printed.rstrip()
        path.unlink()
    run(capsys, "plain-seesaw", "--out", str(tmp_path / "bare"))
    assert (tmp_path / "bare").read_text("utf-8").startswith("<!DOCTYPE")
    (tmp_path / "bare").unlink()


@pytest.mark.parametrize("form", FORMATS)
def test_the_same_call_gives_the_same_sheets_and_another_seed_others(
    form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    call = ["plain-seesaw", "--format", form, "--seed"]
    first, again, other = (run(capsys, *call, seed) for seed in ("7", "7", "8"))
    assert first == again != other
    assert first[0] == other[0] == 0
    assert ("<!DOCTYPE" in first[1]) is (form == "html")


def test_a_drill_goes_by_its_own_roster_or_by_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = drill_file(tmp_path)
    _, own, _ = run(capsys, str(path), "--format", "md")
    assert own.count("# Levers\n") == 4
    assert "Ida Example (s01)" in own
    assert "Odo Example (s02)" in own
    roster = tmp_path / "group.csv"
    roster.write_text("ID;Name\ns02;Odo E.\n", encoding="utf-8-sig")
    _, group, _ = run(capsys, str(path), "--format", "md", "--roster", str(roster))
    assert group.count("# Levers\n") == 2
    assert "Odo E. (s02)" in group
    _, one, _ = run(capsys, str(path), "--format", "md", "--student", "S02")
    assert one == group.replace("Odo E.", "Odo Example")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["plain-seesow", "--seed", "1"], "plain-seesow: no problem has this name (did you mean"),
        (["DRILL", "plain-seesaw"], "DRILL: a drill beside something else; expected a drill alone"),
        (["DRILL", "--seed", "1"], "DRILL: a drill has numbers and guidance of its own; expected"),
        (["DRILL", "--guidance", "blank"], "DRILL: a drill has numbers and guidance of its own"),
        (["DRILL", "--student", "x9"], "levers: x9: not on the roster; expected a student who may"),
        (
            ["plain-seesaw", "--roster", "none.csv"],
            "--roster: none.csv: there is no such file; expected a CSV file with",
        ),
    ],
)
def test_a_call_that_does_not_go_together_says_so(
    arguments: list[str], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(drill_file(tmp_path))
    code, out, err = run(capsys, *(one.replace("DRILL", path) for one in arguments))
    assert (code, out) == (2, "")
    assert err.startswith(told.replace("DRILL", path))


def test_where_nobody_is_named_one_sheet_is_for_whoever_gets_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    drill = drill_with()
    (copy,) = of_drill(drill, {}).copies
    assert copy.whose == ""
    assert [task.marks for task in copy.tasks] == [6, 4]
    assert of_drill(drill, {"anyone": ""}).copies[0].whose == "anyone"
    named = run(capsys, "plain-seesaw", "--seed", "1", "--format", "md")
    assert run(capsys, "plain-seesaw", "--format", "md") == named


def test_a_roster_that_names_nobody_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = tmp_path / "empty.csv"
    empty.write_text("id,name\n", encoding="utf-8")
    assert run(capsys, "plain-seesaw", "--roster", str(empty)) == (
        2,
        "",
        f"--roster: {empty.name}: nobody is on it; expected a row for each student\n",
    )


def test_the_example_of_the_help_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["sheet", "--help"])
    (example,) = re.findall("example: leverstep (.*)", " ".join(capsys.readouterr().out.split()))
    monkeypatch.chdir(tmp_path)
    assert main(example.split()) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["levers.html"]


def test_marks_that_do_not_divide_are_shared_exactly() -> None:
    task = replace(class_drill().tasks("s01")[0], marks=Fraction(10))
    assert marks_each(task, 7) == Fraction(10, 7)


def test_a_folder_that_is_not_there_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "none" / "levers.html"
    told = f"{path}: there is no folder {path.parent}; expected the path of a new file\n"
    assert run(capsys, "elbow-full-pail", "--out", str(path)) == (2, "", told)
