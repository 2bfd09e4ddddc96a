"""The glossary, the calculator and the tour on the full screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drill_screens import all_text
from helpers.drills import SHELF, drill_with
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import app_with, text_of, work_screen
from leverstep.course.phrases import capital
from leverstep.dialogue.first_start import is_first_start
from leverstep.drill.sitting import Sitting
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.calculator_screen import CalculatorScreen
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.entrances import Touring
from leverstep.faces.screens.glossary_screen import GlossaryScreen
from leverstep.faces.screens.help import HelpScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.page_screen import PageScreen
from leverstep.faces.screens.tour_screen import TourScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.working.guidance import Guidance
from textual.widgets import Input


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing was practised before."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))


async def test_the_glossary_opens_at_the_term_of_the_line_and_has_all_others() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+l")
        assert isinstance(app.screen, GlossaryScreen)
        assert text_of(app.screen, "#term").startswith("Mass and weight\n")
        assert "All terms" in all_text(pilot)
        assert "│  axial and transverse  " in all_text(pilot), "a long name is parted between words"
        assert "│    component  " in all_text(pilot), "and goes on farther in than a name begins"
        await press(pilot, "end")
        last = max(CATALOGUE.terms, key=str.casefold)
        assert text_of(app.screen, "#term").startswith(f"{capital(last)}\n")
        assert (
            all(row in text_of(app.screen, "#term") for row in CATALOGUE.terms["moment"].picture)
            is False
        )
        await press(pilot, "pagedown", "ctrl+l")
        work_screen(pilot)
        await press(pilot, "f1")
        assert isinstance(app.screen, HelpScreen)
        assert "Ctrl+L terms" in all_text(pilot)
        await press(pilot, "ctrl+l")
        assert isinstance(app.screen, GlossaryScreen)
        await press(pilot, "escape")
        assert isinstance(app.screen, HelpScreen)


async def test_the_calculator_knows_the_working_and_puts_its_result_into_the_line() -> None:
    app = app_with(SHELF, seed="7")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        entry = screen.query_one("#entry", Input)
        await press(pilot, "1", "ctrl+r")
        assert isinstance(app.screen, CalculatorScreen)
        assert "m_f 1.65 kg" in text_of(app.screen, "#known")
        await press(pilot, "f2")
        assert isinstance(app.screen, CalculatorScreen), "there is no result yet"
        await press(pilot, *"d", "underscore", *"l*2", "enter")
        assert "d_l has no value yet." in text_of(app.screen, "#results")
        assert app.screen.query_one("#sum", Input).value == "d_l*2", "it stays to be mended"
        await press(pilot, "ctrl+u", "m", "underscore", *"f*g", "enter")
        assert "16.1865 N" in text_of(app.screen, "#results")
        await press(pilot, "escape")
        assert entry.value == "1", "closed without a result"
        await press(pilot, "backspace", "ctrl+r")
        assert "16.1865 N" in text_of(app.screen, "#results"), "what was worked out is still there"
        await press(pilot, "f2")
        assert app.screen is screen
        assert entry.value == "16.1865 N"
        await press(pilot, "enter")
        assert "W_f" in screen.practice.working.lines
        assert screen.practice.working.lines["W_f"].verdict.settled


async def test_on_a_page_the_result_goes_to_the_cursor() -> None:
    opening = Opening(SHELF.problems["elbow-full-pail"], "7", guidance=Guidance.BLANK)
    app = LeverstepApp(material(SHELF), opening)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, PageScreen)
        screen.editor.insert("W_f = ")
        await press(pilot, "ctrl+r", "m", "underscore", *"f*g", "enter", "f2")
        assert screen.editor.lines[0] == "W_f = 16.1865 N"
        assert screen.focused is screen.editor


async def test_a_drill_may_do_without_a_calculator_and_has_the_glossary(tmp_path: Path) -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for rules in ("calculator = false", ""):
            folder = tmp_path / (rules or "with")
            sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)
            screen = DrillScreen(sitting, Path("levers.toml"), app.visit)
            app.push_screen(screen)
            await settle(pilot)
            assert ("Ctrl+R" in text_of(screen, "#said")) == (not rules)
            await press(pilot, "ctrl+d")
            assert app.screen is screen, "no tour in the middle of a drill"
            await press(pilot, "ctrl+r")
            assert isinstance(app.screen, CalculatorScreen) == (not rules)
            await press(pilot, "ctrl+l")
            assert isinstance(app.screen, GlossaryScreen)
            await press(pilot, "escape")
            sitting.pause()


async def test_the_tour_lies_over_the_problems_at_first_and_leads_to_one_of_them() -> None:
    app = LeverstepApp(material(SHELF), Touring())
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        tour = app.screen
        assert isinstance(tour, TourScreen)
        assert "9.81 m/s²" in all_text(pilot), "no number is parted from its unit"
        await press(pilot, "9", "enter")
        assert text_of(tour, "#progress") == "Step 2 of 6"
        assert text_of(tour, "#said").startswith("9\nNot judged: the unit is missing")
        await press(pilot, "ctrl+l")
        assert text_of(app.screen, "#term").startswith("Moment\n")
        await press(pilot, "ctrl+l")
        await press(pilot, "enter")
        assert text_of(tour, "#said").startswith("Type: ")
        assert text_of(tour, "#progress") == "Step 2 of 6"
        await press(pilot, "enter", "f2")
        assert "Hint 1" in text_of(tour, "#said")
        await press(pilot, *["enter"] * 4)
        assert text_of(tour, "#progress") == "Step 6 of 6"
        assert is_first_start()
        await press(pilot, "enter")
        screen = work_screen(pilot)
        assert screen.practice is not None
        assert not screen.practice.working.lines
        assert not is_first_start()


async def test_the_tour_is_skipped_at_once_and_can_be_taken_from_the_help() -> None:
    app = LeverstepApp(material(SHELF), Touring())
    async with app.run_test(size=(80, 20)) as pilot:
        await settle(pilot)
        await press(pilot, "escape")
        assert isinstance(app.screen, HomeScreen)
        assert not is_first_start()
        await press(pilot, "f1", "ctrl+d")
        assert isinstance(app.screen, TourScreen)
        await press(pilot, "escape")
        app.push_screen(WorkScreen(Opening(SHELF.problems["plain-crowbar"], "1"), app.visit))
        await settle(pilot)
        screen = app.screen
        await press(pilot, "ctrl+d", *["enter"] * 10)
        assert "Enter goes back" in text_of(app.screen, "#guide")
        await press(pilot, "enter")
        assert app.screen is screen
