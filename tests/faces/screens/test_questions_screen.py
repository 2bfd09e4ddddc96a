"""Questions beside the lines on the full screen: a digit answers; then the field has its turn."""

from __future__ import annotations

from pathlib import Path
from time import sleep

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF, Disk, drill_with
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import app_with, enter, right_entry, text_of, work_screen, write_line
from leverstep.bench.bench import Bench
from leverstep.course.places import put_by_word
from leverstep.drill.sitting import Sitting
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.choice_panel import ChoicePanel, answer_rows
from leverstep.faces.screens.closing import Closing
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.lookback_screen import LookBackScreen
from leverstep.faces.screens.thinking_screen import ThinkingScreen
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.questions.expectations import expectations
from leverstep.working.cautions import CAUTION_IN_SHORT
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from textual.events import Key

SIZES = pytest.mark.parametrize("size", [(80, 20), (80, 24), (120, 36)], ids=["low", "80", "120"])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before, and it is asked what to expect."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    put_by_word("thinking", "predict")


@SIZES
async def test_a_digit_answers_and_after_the_last_one_the_field_has_the_focus(
    size: tuple[int, int],
) -> None:
    app = app_with(SHELF)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        panel = screen.query_one(ChoicePanel)
        asked = expectations(SHELF.problems["elbow-full-pail"].question("a1"))
        for number, question in enumerate(asked, 1):
            assert panel.display
            assert not screen.query_one(Desk).display
            assert text_of(screen, "#asks") == f"{number} of 5. {question.asks}"
            shown = all_text(pilot)
            assert all(f"{n} {one.text}" in shown for n, one in enumerate(question.answers, 1))
            assert CAUTION_IN_SHORT in shown
            assert panel.region.bottom <= size[1] - 1, "no row of it is cut off"
            await press(pilot, "9")
            await press(pilot, "2")
        assert not panel.display
        assert screen.query_one(Desk).entry.has_focus
        assert text_of(screen, "#said").startswith("Kept. At the end you are told")
        await enter(pilot, right_entry(screen, screen.practice.working.steps[0]))
        assert len(screen.practice.working.lines) == 1


async def test_f3_passes_a_question_over_and_no_hint_or_other_line_is_offered() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await press(pilot, "f2", "shift+tab", "f3")
        assert text_of(screen, "#asks").startswith("2 of 5")
        assert list(screen.practice.answers.values()) == [""]
        assert "F2 Hint" not in all_text(pilot)
        assert screen.practice.hints_given.count == 0


async def test_keys_answer_in_their_order_however_fast_and_those_behind_are_for_the_field(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    kept = Bench.answer

    def kept_slowly(bench: Bench, question: ChoiceQuestion, answer: str) -> None:
        sleep(0.05)
        kept(bench, question, answer)

    monkeypatch.setattr(Bench, "answer", kept_slowly)
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        practice = screen.practice
        entry = right_entry(screen, practice.working.steps[0])
        for sign in "2x1":
            app.post_message(Key(sign, sign))
        app.simulate_key("f3")
        for sign in f"52{entry}":
            app.post_message(Key(sign, sign))
        app.simulate_key("enter")
        await settle(pilot)
        asked = expectations(practice.question)
        digits = (2, 1, 0, 5, 2)
        wanted = [
            one.answers[digit - 1].key if digit else ""
            for one, digit in zip(asked, digits, strict=True)
        ]
        assert [practice.answers[one.key] for one in asked] == wanted
        assert [line.verdict.outcome for line in practice.working.lines.values()] == [Outcome.RIGHT]


async def test_a_digit_that_no_answer_has_is_told() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await press(pilot, "8")
        assert text_of(screen, "#told") == "The answers are 1 to 3."
        assert screen.practice.answers == {}


async def test_what_came_of_it_is_shown_where_a_student_looks_back() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        practice = screen.practice
        for number, key in enumerate("22152", 1):
            await press(pilot, key)
            assert len(practice.answers) == number
        for step in practice.working.asked:
            await enter(pilot, right_entry(screen, step))
        assert practice.working.current() is None
        await press(pilot, "f10")
        assert isinstance(app.screen, LookBackScreen)
        told = text_of(app.screen, "#remembered")
        assert told.startswith("What you expected\n")
        assert told.index("You expected that.") < told.index("Slips, and what to remember")


@SIZES
async def test_whether_it_makes_sense_is_asked_in_the_place_of_the_end(
    size: tuple[int, int],
) -> None:
    put_by_word("thinking", "sense")
    app = app_with(SHELF)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        practice = screen.practice
        for step in practice.working.asked:
            await enter(pilot, right_entry(screen, step))
        assert practice.working.current() is None
        panel, closing = screen.query_one(ChoicePanel), screen.query_one(Closing)
        for question in practice.sense_questions:
            assert panel.display
            assert not closing.display
            assert question.asks in text_of(screen, "#asks")
            assert panel.region.bottom <= size[1] - 1, "no row of it is cut off"
            shown = " ".join(all_text(pilot).split())
            assert all(f"{n} {one.text}" in shown for n, one in enumerate(question.answers, 1))
            await press(pilot, "1")
            told = question.told_of(question.answers[0].key)
            last = "#told" if panel.display else "#account"
            assert told in text_of(screen, last)
        assert closing.display
        assert "F10     look back" in text_of(screen, "#onward")
        await press(pilot, "1")
        assert len(practice.answers) == 2


async def test_how_sure_is_asked_with_the_line_in_sight_and_the_verdict_comes_after() -> None:
    put_by_word("thinking", "sure")
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        panel, desk = screen.query_one(ChoicePanel), screen.query_one(Desk)
        await enter(pilot, "17.77 N")
        assert text_of(screen, "#asks") == "How sure are you of this line? 17.77 N"
        assert "1 a guess   2 fairly sure   3 sure" in all_text(pilot)
        assert panel.has_focus
        await press(pilot, "3")
        assert desk.display
        assert desk.entry.has_focus
        assert desk.entry.value == "17.77 N", "it can be mended"
        assert text_of(screen, "#said").startswith("✗ Not yet")
        await enter(pilot, right_entry(screen, screen.practice.working.steps[0]))
        await press(pilot, "f3")
        assert desk.entry.value == ""
        assert [one.sure for one in screen.practice.sureness] == [3]
        while (step := screen.practice.working.current()) is not None:
            await enter(pilot, right_entry(screen, step))
            await press(pilot, "2")
        await press(pilot, "f10")
        told = text_of(app.screen, "#remembered")
        assert "Sure, but not right: W_f. Look at these first." in told
        assert "you were sure of an entry here that was not right" in text_of(app.screen, "#lines")


async def test_f12_switches_it_off_and_the_line_is_asked_for() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await press(pilot, "f12")
        assert isinstance(app.screen, ThinkingScreen)
        assert "1  on   before the first line" in text_of(app.screen, "#thinking")
        await press(pilot, "1")
        assert "1  off  before the first line" in text_of(app.screen, "#thinking")
        await press(pilot, "escape")
        assert app.screen is screen
        assert screen.query_one(Desk).display
        assert screen.query_one(Desk).entry.has_focus
        assert text_of(screen, "#said") == "From now on, you are not asked what you expect."


async def test_on_a_blank_sheet_the_page_has_its_turn_after_the_questions() -> None:
    opening = Opening(SHELF.problems["elbow-full-pail"], "a1", guidance=Guidance.BLANK)
    app = LeverstepApp(material(SHELF), opening)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        for key in "2215":
            await press(pilot, key)
        assert screen.query_one(ChoicePanel).display
        await press(pilot, "2")
        assert screen.focused is screen.editor


async def test_each_task_of_a_drill_asks_and_an_answer_waits_for_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk(monkeypatch)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        sitting = Sitting.start(drill_with("predict = true"), CATALOGUE, "s01", tmp_path / "r")
        screen = DrillScreen(sitting, Path("levers.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        assert text_of(screen, "#asks").startswith("1 of 5")
        disk.broken.append(tmp_path / "r")
        app.simulate_key("2")
        app.simulate_key("3")
        await settle(pilot)
        assert text_of(screen, "#asks").startswith("1 of 5")
        assert "the disk is full" in text_of(screen, "#told")
        assert any("type it again" in note.message for note in app._notifications)
        disk.broken.clear()
        await press(pilot, "2")
        assert text_of(screen, "#asks").startswith("2 of 5")
        assert "disk" not in text_of(screen, "#told")
        await press(pilot, "f9")
        assert text_of(screen, "#asks").startswith("1 of 5")
        sitting.pause()


def test_no_answer_is_cut_in_two() -> None:
    *_, size, _ = expectations(SHELF.problems["elbow-full-pail"].question("a1"))
    rows = list(answer_rows(size, 60))
    assert all(len(row) <= 60 for row in rows)
    told = [part for row in rows for part in row.split("   ")]
    assert told == [f"{n} {one.text}" for n, one in enumerate(size.answers, 1)]


async def test_on_a_blank_sheet_it_is_told_how_a_line_says_how_sure_one_is() -> None:
    opening = Opening(SHELF.problems["elbow-full-pail"], "a1", guidance=Guidance.BLANK)
    app = LeverstepApp(material(SHELF), opening)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await press(pilot, "f12", "3")
        row = text_of(app.screen, "#thinking").split("\n")[2]
        assert row == "3  on   with each line, how sure you are; here, end a line with #1, #2 or #3"
        assert "here, end a line with #1, #2 or #3." in screen.dialogue.latest.told
        await press(pilot, "escape")
        await write_line(screen, "W_f = 54 N #3")
        await settle(pilot)
        practice = screen.practice
        assert practice is not None
        assert [(one.step, one.sure, one.right) for one in practice.sureness] == [("W_f", 3, False)]
        assert practice.working.lines["W_f"].text == "W_f = 54 N"
