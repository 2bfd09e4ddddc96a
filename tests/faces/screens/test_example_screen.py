"""A worked example on the full screen: Enter goes on, a digit gives the reason, then one's own."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import enter, right_entry, text_of, work_screen
from leverstep.faces.openings import Opening, open_practice
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.choice_panel import ChoicePanel
from leverstep.faces.screens.desk import Desk
from leverstep.questions.choice_question import QuestionSort
from leverstep.working.guidance import Guidance

SIZES = pytest.mark.parametrize("size", [(80, 20), (80, 24), (120, 36)], ids=["low", "80", "120"])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


def app(read_before: bool = True) -> LeverstepApp:
    """Return the program at an example, the first of its kind unless one was read before."""
    if read_before:
        opening = Opening(SHELF.problems["elbow-full-pail"], "1", guidance=Guidance.FADING)
        practice = open_practice(opening, material(SHELF))
        while (question := practice.to_answer) is not None:
            practice.answer(question, "")
    opening = Opening(SHELF.problems["elbow-full-pail"], "7", guidance=Guidance.FADING)
    return LeverstepApp(material(SHELF), opening)


@SIZES
async def test_each_line_is_read_and_the_last_are_typed(size: tuple[int, int]) -> None:
    async with app().run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        panel, bench = screen.query_one(ChoicePanel), screen.practice
        assert bench is not None
        assert bench.fading is not None
        assert text_of(screen, "#told").startswith("The first 14 lines are shown")
        for number in range(1, 15):
            question = screen.question
            assert question is not None
            assert text_of(screen, "#asks") == question.asks
            assert panel.region.bottom <= size[1] - 1, "no row of it is cut off"
            assert f"line {number} of 16" in all_text(pilot)
            is_why = question.sort is QuestionSort.WHY
            place = [one.key for one in question.answers].index("because") + 1 if is_why else 0
            await press(pilot, str(place) if is_why else "enter")
            if is_why:
                told = "#told" if number < 14 else "#said"
                assert text_of(screen, told).startswith("Yes. That is the reason.")
        assert not panel.display
        assert screen.query_one(Desk).entry.has_focus
        await enter(pilot, right_entry(screen, bench.working.steps[14]))
        assert [*bench.working.attempts] == ["R_y"]


async def test_the_first_of_its_kind_is_read_to_its_end() -> None:
    async with app(read_before=False).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert text_of(screen, "#told").startswith("The whole working is shown, line by line")
        for number in range(1, 17):
            question = screen.question
            assert question is not None
            assert f"line {number} of 16" in all_text(pilot)
            await press(pilot, "1" if question.sort is QuestionSort.WHY else "enter")
        assert screen.question is None
        await settle(pilot)
        shown = all_text(pilot)
        assert "You have read the whole working. The next of its kind leaves the" in shown
        assert "every line read" in shown
        assert screen.has_class("-ended")
        await press(pilot, "f10")
        assert "You have read the whole working." in all_text(pilot)
        await press(pilot, "end")
        assert "= shown" in all_text(pilot)
        assert "filled in" not in all_text(pilot)


async def test_enter_at_a_reason_says_what_to_press() -> None:
    async with app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await press(pilot, "enter")
        assert "press a digit, 1 to 3" in text_of(screen, "#choice-keys")
        assert screen.practice is not None
        assert not screen.practice.answers
        await press(pilot, "2")
        assert "press a digit" not in text_of(screen, "#choice-keys")


async def test_keys_typed_ahead_are_each_for_the_line_that_stands_then() -> None:
    async with app().run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        bench = screen.practice
        assert bench is not None
        await press(pilot, "2", "enter", "f3", "enter")
        assert bench.answers == {
            "shown:W_f": "because",
            "shown:W_l": "on",
            "shown:L": "",
            "shown:d_l": "on",
        }
        await press(pilot, "9", "x", "enter")
        assert len(bench.answers) == 5
