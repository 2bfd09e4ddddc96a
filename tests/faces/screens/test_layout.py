"""The screen of a working: what is in sight at each line, in as little room as there may be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF
from helpers.material import CATALOGUE
from helpers.pilots import press, settle
from helpers.screens import app_with, enter, text_of, work_screen, wrong_entry
from helpers.step_lines import right_line
from helpers.terminals import F2, Terminal
from leverstep.bench.practice import Practice
from leverstep.course.problem import Problem, Question
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.dialogue.replies import Mark
from leverstep.faces.openings import Opening
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.given_strip import given_line
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.page_editor import PageEditor
from leverstep.faces.screens.pane import Pane, parted
from leverstep.faces.screens.paper import Paper, PaperHeading, PaperRow
from leverstep.faces.screens.room import Needs, Shares, shared
from leverstep.faces.screens.side_sheet import Diagram, Sheet
from leverstep.faces.screens.work import WorkScreen
from leverstep.faces.screens.written import NO_BREAK, row_starts, wrapped_lines
from leverstep.statics.step import Step
from leverstep.working.cautions import CAUTION_IN_SHORT
from leverstep.working.guidance import Guidance
from leverstep.working.page import givens, prompt_of
from leverstep.working.wording import ask, force_about
from textual.content import Content
from textual.pilot import Pilot
from textual.widgets import Input

NUMBER = re.compile(r"\d[\d.]*(?:[eE][+-]?\d+)?")
PROBLEMS = [*SHELF.problems.values()]
WIDE, NARROW = 77, 34
"""Columns of a line of the working across a screen of 80, and beside a picture there."""

MORE, BACK = "PgDn ↓", "PgUp ↑"


def lines_of(question: Question) -> Iterator[tuple[Step, str]]:
    """Yield each step with its right line, numbers put in."""
    for step in question.derivation.asked:
        yield step, right_line(question, step)


def rows_of(text: str, width: int) -> int:
    """Return the rows that a text takes."""
    return len(list(parted(Content(text), width)))


def statement_of(problem: Problem, question: Question, width: int) -> int:
    """Return the rows that a statement takes with the assumptions."""
    ideal = f"Assumptions: {'; '.join(problem.idealised)}."
    return rows_of(question.statement, width) + rows_of(ideal, width)


# Rows and their parts, of all problems.


def test_no_number_of_a_line_is_cut() -> None:
    """Neither beside the picture nor across the screen, with or without spaces."""
    for problem in PROBLEMS:
        question = problem.question("a1")
        for step, right in lines_of(question):
            worked = f"{prompt_of(step)} {right} = -1234.5678 N·m"
            for text, width in (
                (worked, NARROW),
                (worked.replace(" ", ""), NARROW),
                (worked, WIDE),
            ):
                drawn = [str(row) for row in PaperRow("", MARKS[Mark.RIGHT], text).drawn(width)]
                assert max(map(len, drawn)) <= width
                found = list(chain.from_iterable(map(NUMBER.findall, drawn)))
                assert found == NUMBER.findall(text), (problem.id, text)


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("12.5*9.81*2.2=269.8N", ["12.5*9.81", "  *2.2", "  =269.8N"]),
        ("3*1.25e-3*4.75E+6", ["3*1.25e-3", "  *4.75E+6"]),
        ("W_l = 18.0 lb × 2", ["W_l =", "  18.0 lb", "  × 2"]),
        ("a*-123.4567", ["a", "  *-123.45", "  67"]),
        ("日本語日本語日", ["日本語日本", "  語日"]),
        ("", []),
    ],
)  # fmt: skip
def test_where_a_line_is_parted(text: str, rows: list[str]) -> None:
    """Between words, else before a sign, and within a number only where a row can't hold it."""
    assert wrapped_lines(text, 10) == rows


def test_a_text_that_fits_is_in_one_row() -> None:
    assert row_starts("W_f = 1.40 kg", 13) == []
    assert row_starts("W_f = 1.40 kg", 12) == [6]


def test_givens_with_g_are_in_the_strip_of_every_problem() -> None:
    """Each whole on its row, as the problem has it."""
    for problem in PROBLEMS:
        question = problem.question("a1")
        rows = [str(row) for row in parted(Content(given_line(question)), 78)]
        assert max(map(len, rows)) <= 78
        assert len(rows) <= 2, problem.id
        for part in (*givens(question), *(factor.text for factor in question.factors[:1])):
            assert any(part.replace(" ", NO_BREAK) in row for row in rows), (problem.id, part)


@pytest.mark.parametrize(
    ("name", "share"),
    [
        ("hip-one-leg-stance", "W_u 0.84 of the body"),
        ("elbow-full-teapot", "W_f 0.0138 of the body"),
        ("ankle-tiptoe-one-foot", "G_g 1 of the body"),
    ],
)
def test_a_share_of_the_body_that_is_told_is_in_the_strip(name: str, share: str) -> None:
    """Its line rests on it; one that is to be looked up in a table is not told away."""
    assert share.replace(" ", NO_BREAK) in given_line(SHELF.problems[name].question("a1"))
    looked_up = given_line(SHELF.problems["elbow-both-attachments"].question("a1"))
    assert "of\u00a0the\u00a0body" not in looked_up


def test_the_strip_has_the_g_of_the_drill() -> None:
    problem = SHELF.problems["plain-wheelbarrow"]
    accepted = {name: values[1:] for name, values in problem.question("1").accepted.items()}
    question = problem.question("1", accepted=accepted)
    assert given_line(question).endswith("g\u00a0=\u00a09.8\u00a0m/s²")


@pytest.mark.parametrize("size", [(80, 20), (80, 23), (80, 24), (120, 36)])
def test_the_rows_go_to_all_or_to_what_is_wanted(size: tuple[int, int]) -> None:
    """At every line of every problem, however much is said: no row is left over, none is missing.

    The working always has some, what is said has what it needs or four, a picture eight.
    """
    width = size[0] - 2
    for problem in PROBLEMS:
        question = problem.question("a1")
        rows = size[1] - 4 - rows_of(given_line(question), width)
        stated = statement_of(problem, question, width)
        for asked in {
            rows_of(f"{ask(question, step)}.", width) for step in question.derivation.asked
        }:
            for said in (1, 2, 4, 12):
                for is_drawn in (False, True):
                    shares = shared(rows, Needs(stated, said, asked, 2), is_drawn)
                    assert asked + shares.statement + shares.worked + shares.said == rows
                    assert min(said, 4) <= shares.said <= said
                    assert shares.worked >= (8 if shares.is_drawn else 2)
                    assert shares.is_drawn is (is_drawn or size[1] == 36), problem.id
                    assert shares.is_drawn or shares.statement >= min(stated, 4)
                    if size[1] == 36:
                        assert shares.statement == stated, "all is in sight at once"


def test_where_a_statement_has_no_room_the_working_has_it_all() -> None:
    assert shared(5, Needs(9, 0, 0, 5), is_drawn=False) == Shares(0, 5, 0, is_drawn=False)
    assert shared(7, Needs(9, 0, 0, 2), is_drawn=True) == Shares(5, 2, 0, is_drawn=False)
    wanted = shared(12, Needs(9, 0, 3, 9), is_drawn=False, has_picture=False, is_stated=True)
    assert wanted == Shares(9, 0, 0, is_drawn=False)


# On the screen.


def seen(pilot: Pilot[int]) -> list[str]:
    """Return the rows of the screen."""
    return all_text(pilot).replace(NO_BREAK, " ").split("\n")


def flat(rows: list[str]) -> str:
    """Return rows as one text."""
    return " ".join(" ".join(rows).split())


def hold_frame(rows: list[str], question: Question, step: Step) -> None:
    """Hold a screen to what is always in sight: the givens with g, the prompt, and the caution."""
    told = flat(rows[1:4])
    for part in (*givens(question), *(factor.text for factor in question.factors[:1])):
        assert part in told, (question.problem.id, step.key, part)
    assert rows[-2].startswith(f" {prompt_of(step)} "), (question.problem.id, step.key, rows[-2])
    assert any(CAUTION_IN_SHORT in row for row in rows)


def paper_on(rows: list[str], screen: WorkScreen) -> list[str]:
    """Return what the screen shows of the paper."""
    place = screen.query_one(Paper).content_region
    return [row[place.x : place.right] for row in rows[place.y : place.bottom]]


async def all_said(pilot: Pilot[int]) -> str:
    """Return all that is said, as it is read by turning its pages, which repeat a row or two."""
    screen = work_screen(pilot)
    answer = next(pane for pane in screen.query(Pane) if pane.scrolled.id == "answer")
    parts: dict[int, str] = {}
    while answer.scrolled.scroll_y:
        await press(pilot, "pageup")
    while True:
        rows, place = seen(pilot), answer.scrolled.region
        shown = [row[place.x : place.right].rstrip() for row in rows[place.y : place.bottom]]
        parts |= dict(enumerate(shown, int(answer.scrolled.scroll_y)))
        sign = rows[place.bottom - 1][place.right :].strip()
        assert (sign == "") is (answer.needs(screen.size.width - 2) <= place.height)
        if sign != MORE:
            return flat([*parts.values()])
        await press(pilot, "pagedown")


async def test_at_a_wrong_line_of_every_problem_nothing_is_lost() -> None:
    """With two hints: givens, prompt, whole numbers; what is cut off says so, and can be read.

    In 24 rows, and from the middle of all problems on in 20.
    """
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen, clipped = work_screen(pilot), {20: 0, 24: 0}
        for place, problem in enumerate(PROBLEMS):
            if place == len(PROBLEMS) // 2:
                await pilot.resize_terminal(80, 20)
            step = at_a_wrong_line(screen, problem, place)
            await settle(pilot)
            hold_wrong_line(pilot, step)
            clipped[screen.size.height] += any(sign in all_text(pilot) for sign in (MORE, BACK))
            if place % 8 == 0:
                told = await all_said(pilot)
                assert all(flat([one]) in told for one in text_of(screen, "#said").split("\n"))
        assert clipped[20] > clipped[24]


def at_a_wrong_line(screen: WorkScreen, problem: Problem, place: int) -> Step:
    """Show a problem worked up to some line, which is wrong, with two hints; return that."""
    practice = Practice(problem.question("a1"), CATALOGUE, None)
    screen.dialogue = dialogue = PracticeDialogue(practice)
    lines = list(lines_of(practice.question))
    numbers = [n for n, (step, _) in enumerate(lines) if n and step.kind.is_number]
    at = numbers[place % len(numbers)]
    for step, right in lines[:at]:
        practice.enter(step.key, right)
    dialogue.enter(wrong_entry(lines[at][0]))
    dialogue.hint()
    dialogue.hint()
    screen.paint()
    return lines[at][0]


def hold_wrong_line(pilot: Pilot[int], step: Step) -> None:
    """Hold what the screen shows of a wrong line: it is whole, and no number in it is cut."""
    screen, shown = work_screen(pilot), seen(pilot)
    assert screen.practice is not None
    question = screen.practice.question
    hold_frame(shown, question, step)
    on_paper = paper_on(shown, screen)
    (row,) = (row for row in screen.query_one(Paper).rows if isinstance(row, PaperRow) and row.here)
    (first,) = (place for place, line in enumerate(on_paper) if line.startswith("✗▸ "))
    assert flat([row.text]) in flat(on_paper[first:]), question.problem.id
    assert set(NUMBER.findall(row.text)) <= set(chain(*map(NUMBER.findall, on_paper[first:])))


async def test_the_picture_of_every_problem_is_there_at_its_first_showing() -> None:
    """At 80 × 24, by F5 after the statement was read on, without another key; all of it."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen, read_on = work_screen(pilot), 0
        diagram, statement = screen.query_one(Diagram), screen.query_one("#statement")
        for problem in PROBLEMS:
            diagram.update("")
            screen.dialogue = PracticeDialogue(Practice(problem.question("a1"), CATALOGUE, None))
            screen.paint()
            await pilot.pause()
            assert not diagram.display, problem.id
            read_on += statement.max_scroll_y > 0
            await pilot.press("pagedown", "f5")
            await pilot.pause()
            drawn = [row.rstrip() for row in str(diagram.content).split("\n")]
            place = diagram.content_region
            rows = [row[place.x : place.right].rstrip() for row in seen(pilot)]
            assert "●" in "".join(drawn), problem.id
            assert rows[place.y : place.bottom][: len(drawn)] == drawn, problem.id
        assert read_on > 0


async def test_the_picture_comes_by_itself_and_what_was_chosen_stays() -> None:
    """After the first line that is done, not after a wrong one; F5 changes it for good."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        sheet, diagram = screen.query_one(Sheet), screen.query_one(Diagram)
        await enter(pilot, "1.40 N")
        assert (sheet.shows_statement, diagram.display) == (True, False)
        assert "A groom holds a full pail still" in all_text(pilot)
        await enter(pilot, "13.73 N")
        assert (sheet.shows_statement, diagram.display) == (False, True)
        assert "[W_l]" in all_text(pilot)
        assert "F5 Statement" in seen(pilot)[-1]
        await press(pilot, "f5")
        assert "F5 Diagram" in seen(pilot)[-1]
        await enter(pilot, "80.08 N")
        assert (sheet.shows_statement, diagram.display) == (True, False)
        await press(pilot, "f5")
        assert (sheet.shows_statement, diagram.display) == (False, True)


async def test_the_picture_comes_too_where_the_line_asked_for_is_a_sum() -> None:
    """As between landmarks: the first line of the student's own about a force brings it."""
    app = app_with(SHELF, "elbow-stiff-brace", "7")
    app.opening = replace(app.opening, guidance=Guidance.LANDMARKS)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        sheet = work_screen(pilot).query_one(Sheet)
        await enter(pilot, "W_f = 12.3 N")
        assert sheet.shows_statement
        await enter(pilot, "W_f = 17.66 N")
        assert work_screen(pilot).step_at_hand.key == "M_sum"
        assert not sheet.shows_statement
        assert "C_b" in flat(seen(pilot)[2:16])


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_forces_found_stand_below_a_picture_beside_which_their_lines_go_out_of_sight(
    size: tuple[int, int],
) -> None:
    """None that is wrong or still to be found; where all lines are in sight they are enough."""
    async with app_with(SHELF).run_test(size=size) as pilot:
        await settle(pilot)
        await enter(pilot, "13.73 N")
        assert ("Found: W_f 13.73 N" in flat(seen(pilot))) is (size == (80, 24))
        await enter(pilot, "8.08 N")
        assert "W_l 8.08" not in flat(seen(pilot))
        await enter(pilot, "80.08 N")
        told = "Found: W_f 13.73 N · W_l 80.08 N"
        assert (told in flat(seen(pilot))) is (size == (80, 24))


async def test_at_the_end_the_posture_that_was_worked_last_stays_in_the_picture() -> None:
    """And the title has all the room that the numbers leave it."""
    app = app_with(SHELF, "elbow-then-shoulder")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert screen.dialogue is not None
        assert SHELF.problems["elbow-then-shoulder"].title in seen(pilot)[0]
        bench = screen.dialogue.bench
        for step, right in lines_of(bench.question):
            bench.enter(step.key, right)
        screen.paint()
        await settle(pilot)
        assert screen.step_at_hand is None
        rows = [row.text for row in screen.query_one(Paper).rows if isinstance(row, PaperHeading)]
        assert rows.count("First the forearm") == rows.count("Then the upper arm") == 1
        assert rows[0] == "First the forearm"
        assert "W_u" in flat(seen(pilot)[3:12])
        assert SHELF.problems["elbow-then-shoulder"].title in seen(pilot)[0]


@pytest.mark.parametrize("rows", [20, 22, 24])
@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
async def test_at_the_end_no_picture_is_cut(rows: int, guidance: Guidance) -> None:
    """It is drawn for the rows that the closing panel leaves, or is not there."""
    app = app_with(SHELF, "ankle-then-knee", "3")
    app.opening = replace(app.opening, guidance=guidance)
    async with app.run_test(size=(80, rows)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert screen.dialogue is not None
        bench = screen.dialogue.bench
        *steps, last = bench.working.steps
        for step in steps:
            bench.enter(step.key, right_line(bench.question, step))
        screen.paint()
        await settle(pilot)
        await enter(pilot, f"{prompt_of(last)} {right_line(bench.question, last)}")
        assert screen.step_at_hand is None
        diagram = screen.query_one(Diagram)
        sheet = screen.query_one(Sheet)
        if sheet.has_class("-drawn"):
            drawn = str(diagram.content).split("\n")
            assert diagram.size.height >= 8
            assert "A_x ◀" in "".join(drawn[: diagram.size.height])
        else:
            assert not diagram.display
        is_offered = "F5" in seen(pilot)[-1]
        assert is_offered is (sheet.has_class("-drawn") or sheet.shows_statement)
        if is_offered:
            await press(pilot, "f5")
            assert sheet.has_class("-drawn") or sheet.shows_statement


@pytest.mark.parametrize("name", ["elbow-muscle-arm", "ankle-then-knee"])
async def test_where_all_is_in_sight_headings_give_way_to_the_last_lines(name: str) -> None:
    """As long as that shows all of them, whatever is said; else the headings stay."""
    async with app_with(SHELF, name).run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        paper = work_screen(pilot).query_one(Paper)
        asked = [row for row in paper.rows if isinstance(row, PaperRow)]
        has_headings = "The reaction" in flat(paper_on(seen(pilot), work_screen(pilot)))
        assert has_headings is (name == "ankle-then-knee")
        assert (paper.max_scroll_y == 0) is not has_headings
        assert len(asked) > 12
        before = [flat([row]) for row in paper_on(seen(pilot), work_screen(pilot))]
        await press(pilot, "f2", "f2")
        now = [flat([row]) for row in paper_on(seen(pilot), work_screen(pilot))]
        assert now == before[: len(now)]


async def test_why_a_working_cannot_be_opened_is_in_sight() -> None:
    """And what is said without anything that was done, as by the clock of a drill."""
    app = app_with(SHELF)
    app.opening = Opening(SHELF.problems["elbow-full-pail"], "a1", own=("d_l = 900 cm",))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "d_l" in flat(seen(pilot)[-6:-3])
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert screen.dialogue is not None
        screen.dialogue.say(" ".join(["Time runs."] * 12) + " Hurry.")
        screen.remark(screen.dialogue)
        await settle(pilot)
        assert seen(pilot)[-4].rstrip().endswith("Hurry.")
        desk, long = screen.query_one(Desk), Content("The newest. " + "And so on. " * 90)
        desk.say([Content("Before it. " * 20), long], is_last_new=True)
        screen.share()
        await settle(pilot)
        assert " The newest. And so on. " in all_text(pilot), "what is new is read from its start"
        assert "Before it." not in all_text(pilot)


async def test_the_words_of_a_mark_stand_beside_the_line_at_hand() -> None:
    """As long as the field has what was marked; the margin has the sign alone."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "1.40 N")
        assert seen(pilot)[-2].rstrip().endswith("✗ not yet")
        assert "✗▸ W_f = 1.40 N" in all_text(pilot)
        await press(pilot, "end", "7")
        assert "not yet" not in seen(pilot)[-2]
        await press(pilot, "backspace")
        assert seen(pilot)[-2].rstrip().endswith("✗ not yet")
        await enter(pilot, "13.73 N")
        assert "ok" not in seen(pilot)[-2]
        await press(pilot, "shift+tab")
        assert seen(pilot)[-2].rstrip().endswith("✓ ok")


async def test_each_mark_has_a_sign_that_is_not_that_of_another_meaning() -> None:
    """What is right, what follows, what is not right and what is not judged differ as signs."""
    told = (Mark.RIGHT, Mark.FOLLOWED, Mark.WRONG, Mark.SKIPPED, Mark.UNREAD, Mark.TAKEN)
    assert len({MARKS[mark].sign for mark in told}) == len(told)
    assert all(len(mark.sign) <= 1 for mark in MARKS.values())
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for mark in (Mark.RIGHT, Mark.FOLLOWED, Mark.WRONG, Mark.SKIPPED):
            assert f"{MARKS[mark].text} " in work_screen(pilot).help_text


def told(pilot: Pilot[int]) -> list[str]:
    """Return the rows that tell something: all but those of open lines, and empty ones."""
    return [row for row in seen(pilot) if row.strip() and "······" not in row]


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
async def test_a_terminal_drawn_small_and_large_again_loses_nothing(guidance: Guidance) -> None:
    """Neither what is typed, nor where the cursor was, nor how far was scrolled."""
    app = app_with(SHELF, "knee-net-moment")
    app.opening = Opening(SHELF.problems["knee-net-moment"], "a1", guidance=guidance)
    async with app.run_test(size=(80, 20)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        statement = screen.query_one("#statement")
        await press(pilot, *"12.5 *9", "left", "left", "pagedown")

        def stands() -> tuple[object, ...]:
            if guidance is Guidance.BLANK:
                page = screen.query_one(PageEditor)
                return page.text, page.cursor_location, statement.scroll_offset
            entry = screen.query_one("#entry", Input)
            return entry.value, entry.cursor_position, statement.scroll_offset

        before, shown = stands(), told(pilot)
        assert statement.scroll_offset.y > 0
        for size in ((10, 3), (1, 1), (30, 60)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        await pilot.resize_terminal(80, 20)
        await settle(pilot)
        assert stands() == before
        assert told(pilot) == shown


async def test_a_long_line_of_a_page_is_parted_before_a_sign() -> None:
    """As on paper; the cursor goes through its rows, and is where it was when it is changed."""
    app = app_with(SHELF)
    app.opening = Opening(SHELF.problems["elbow-full-pail"], "a1", guidance=Guidance.BLANK)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        page = work_screen(pilot).query_one(PageEditor)
        await press(pilot, *"W_f=13.73N", "enter")
        assert page.size.width == 36
        page.insert("M_l=-(18.0/2.205*9.81)*0.38012345678=-30.43N")
        await settle(pilot)
        at = page.region
        rows = [row[at.x + 4 : at.right] for row in seen(pilot)[at.y : at.bottom]]
        assert [row.split()[0] for row in rows[:3]] == [
            "W_f=13.73N",
            "M_l=-(18.0/2.205*9.81)",
            "*0.38012345678=-30.43N",
        ]
        await press(pilot, "up")
        assert page.cursor_location[0] == 1
        await press(pilot, "home", "delete")
        assert page.lines[1].startswith("_l=-(18.0")


# In a terminal.

Sizes = tuple[tuple[int, int], ...]
SIZES: Sizes = ((20, 80), (24, 80), (36, 120))
HINTED = 4
"""Of so many lines a hint is asked for at one."""


@pytest.mark.parametrize("name", ["knee-kneecap", "shoulder-raised-arm-bag", "elbow-hand-barrow"])
def test_a_whole_problem_in_a_terminal_of_each_size(name: str, tmp_path: Path) -> None:
    """At every line all that matters is in sight at each size; at some with a hint asked for."""
    question, sizes = SHELF.problems[name].question("a1"), SIZES
    with Terminal(
        "practise", name, "--seed", "a1", home=tmp_path, quiet=0.02, size=sizes[-1]
    ) as terminal:
        written = ""
        for place, (step, right) in enumerate(lines_of(question)):
            said = [" ✓ "] if place else [""]
            for row in (*said, " Hint 1 of ") if place % HINTED == 0 else said:
                if "Hint" in row:
                    terminal.sends(F2)
                sizes = sizes[::-1]  # so that it has the first of them already
                hold_at_each_size(terminal, sizes, question, step, row, written)
            terminal.sends(f"{right}\r")
            written = right
        terminal.stands(lambda rows: any("Well done." in row for row in rows))


def hold_at_each_size(
    terminal: Terminal, sizes: Sizes, question: Question, step: Step, said: str, written: str
) -> None:
    """Hold the screen to what must be in sight at a line, with a row above the field that is said.

    The terminal has the first size. The picture is there where the line is about a force, but for
    the first of all; the line `written` before it stands on the paper with no number cut or parted.
    """
    is_first = step is question.derivation.asked[0]
    wants_picture = not is_first and force_about(question, step) is not None

    def is_whole(rows: list[str]) -> bool:
        has_picture = any("●" in row for row in rows)
        is_said = any(row.startswith(said) for row in rows[-7:-2])
        is_asked = rows[-2].startswith(f" {prompt_of(step)} ")
        on_paper = NUMBER.findall(" ".join(row.rpartition("│")[2] for row in rows[2:-5]))
        is_written = set(NUMBER.findall(written)) <= set(on_paper)
        return is_asked and is_said and is_written and (has_picture or not wants_picture)

    for size in sizes:
        if size != sizes[0]:
            terminal.turns_to(*size)
        hold_frame(terminal.stands(is_whole), question, step)
