"""A slip found and mended on the full screen: a digit answers, then the line is typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import enter, text_of, work_screen
from leverstep.erroneous.slip_questions import INTRODUCED, TWO_INTRODUCED
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.choice_panel import ChoicePanel
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.paper import Paper, PaperRow

SIZES = pytest.mark.parametrize("size", [(80, 20), (80, 24), (120, 36)], ids=["low", "80", "120"])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


def rows(paper: Paper) -> dict[str, str]:
    return {row.key: row.text for row in paper.rows if isinstance(row, PaperRow)}


async def test_a_key_opens_it_from_the_list_and_from_the_end_of_a_working() -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "escape", "ctrl+f")
        await settle(pilot)
        screen = work_screen(pilot)
        practice = screen.practice
        assert practice is not None
        assert practice.mending is not None
        mending = practice.mending
        await press(pilot, "f3", "f3")
        await enter(pilot, mending.erroneous.right_line(mending.erroneous.step).entry)
        await press(pilot, "f7")
        await settle(pilot)
        again = work_screen(pilot).practice
        assert again is not None
        assert again is not practice
        assert again.mending is not None
        assert again.question.problem is practice.question.problem


@SIZES
async def test_the_working_of_somebody_else_is_searched_and_mended(size: tuple[int, int]) -> None:
    opening = Opening(SHELF.problems["elbow-full-pail"], "1", slips_to_find=1)
    app = LeverstepApp(material(SHELF), opening)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        panel, paper = screen.query_one(ChoicePanel), screen.query_one(Paper)
        assert text_of(screen, "#told") == INTRODUCED
        assert panel.region.bottom <= size[1] - 1
        assert rows(paper)["F_m"] == "F_m = |−27.76| ÷ 0.04500 = 616.8 N"
        shown = all_text(pilot)
        assert "d_f = 0.682 × 0.3600 = 0.2455 m" in shown
        assert "find the slip" in shown
        await press(pilot, "5")
        assert text_of(screen, "#told") == "Yes. All lines before it are right."
        assert "d_f = 0.682 × 0.3600 = 0.2455 m" in all_text(pilot)
        await press(pilot, "1")
        assert not panel.display
        assert screen.query_one(Desk).entry.has_focus
        assert text_of(screen, "#said").endswith("Now mend the line d_f.")
        assert rows(paper)["F_m"] == "F_m = |−27.76| ÷ 0.04500 = 616.8 N"
        await enter(pilot, "0.682*24 cm")
        assert rows(paper)["F_m"] == "F_m = |−26.51| ÷ 0.04500 = 589.2 N"
        assert "You found the line d_f, named its slip and mended it." in all_text(pilot)


async def test_two_slips_are_searched_and_mended_one_after_the_other() -> None:
    opening = Opening(SHELF.problems["elbow-full-pail"], "1", slips_to_find=2)
    app = LeverstepApp(material(SHELF), opening)
    async with app.run_test(size=(80, 20)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        panel, paper = screen.query_one(ChoicePanel), screen.query_one(Paper)
        assert text_of(screen, "#told") == TWO_INTRODUCED
        assert "find the slips" in all_text(pilot)
        await press(pilot, "5", "1")
        assert "A second slip was made on a line after d_f." in all_text(pilot)
        assert panel.region.bottom <= 19
        await press(pilot, "1", "1")
        assert text_of(screen, "#said").endswith("Now mend the lines d_f and M_l, in turn.")
        await enter(pilot, "0.682*24 cm")
        assert rows(paper)["M_sum"] == "M_sum = (−2.489) + (−185.4) = −187.9 N·m"
        await enter(pilot, "-66.73*0.36 N m")
        assert rows(paper)["F_m"] == "F_m = |−26.51| ÷ 0.04500 = 589.2 N"
        assert "You found both lines, named both slips and mended them." in all_text(pilot)


async def test_a_key_opens_two_slips_from_the_list() -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "escape", "ctrl+e")
        await settle(pilot)
        practice = work_screen(pilot).practice
        assert practice is not None
        assert practice.slips_to_find == 2
