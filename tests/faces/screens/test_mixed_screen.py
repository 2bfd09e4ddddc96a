"""A mixed set on the full screen: gone through, left and come back to, and told at its end."""

from __future__ import annotations

import pytest
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import app_with, right_entry, text_of, work_screen
from leverstep.bench.practice import records_there_are
from leverstep.bench.practice_choices import keep_choice
from leverstep.course.shelf import load_shelf
from leverstep.faces.openings import Opening, set_at_hand
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.help import ReadScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.keys import deeds
from leverstep.faces.screens.lookback_screen import LookBackScreen
from leverstep.faces.screens.picture_screen import FreeBodyScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.progress.mixed_set import MixedSet, set_kept
from leverstep.working.rules import Pictures
from textual.pilot import Pilot
from textual.widgets import Static

SHELF = load_shelf()
SIZES = pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])


pytestmark = pytest.mark.usefixtures("home_in_use")


def kept() -> MixedSet:
    mixed = set_kept(SHELF)
    assert mixed is not None
    return mixed


async def finish(pilot: Pilot[int]) -> WorkScreen:
    """Bring the working in sight to its end."""
    screen = work_screen(pilot)
    bench = screen.bench
    assert bench is not None
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(screen, step))
    screen.paint()
    await settle(pilot)
    return screen


def heading_of(screen: WorkScreen) -> str:
    return text_of(screen, "#heading")


@SIZES
async def test_a_set_is_gone_through_from_the_problems_and_told_at_its_end(
    size: tuple[int, int],
) -> None:
    """One key opens it, one leads from each problem to the next."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+n")
        count = len(kept().problems)
        for place in range(count):
            screen = await finish(pilot)
            title = SHELF.problems[kept().problems[place].ident].title
            assert heading_of(screen) == f"Problem {place + 1} of {count}: {title}"
            assert "the next problem of your mixed set" in text_of(screen, "#onward")
            assert kept().behind == place
            await press(pilot, "ctrl+n")
        there = app.screen
        assert isinstance(there, ReadScreen)
        told = str(there.query(Static).first().content)
        assert told.startswith(f"Your mixed set: {count} of {count} problems worked to the end, ")
        assert "\n\nWent well: " in told
        assert "\n\nNext: " in told
        assert len(records_there_are()) == count
        assert set_kept(SHELF) is None
        await press(pilot, "escape")
        assert isinstance(app.screen, HomeScreen)


async def test_a_set_is_left_and_come_back_to_where_it_was() -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+n")
        await finish(pilot)
        await press(pilot, "escape", "ctrl+n", "9", "enter", "escape")
        assert isinstance(app.screen, HomeScreen)
        assert kept().behind == 1
        await press(pilot, "ctrl+n")
        screen = work_screen(pilot)
        assert heading_of(screen).startswith("Problem 2 of 5: ")
        assert screen.practice is not None
        assert len(records_there_are()) == 2


async def test_a_problem_is_passed_on_from_and_the_summary_tells_it_so() -> None:
    """From a line that is open, too."""
    set_at_hand(material(SHELF), 2)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+n", "ctrl+n")
        assert heading_of(work_screen(pilot)).startswith("Problem 2 of 2: ")
        await press(pilot, "ctrl+n")
        assert isinstance(app.screen, ReadScreen)
        told = str(app.screen.query(Static).first().content)
        assert told.startswith("Your mixed set: 0 of 2 problems worked to the end.")
        assert "Not worked: " in told


async def test_the_next_problem_follows_from_a_diagram_that_is_drawn_too() -> None:
    keep_choice(Pictures.ASKED)
    set_at_hand(material(SHELF), 3)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f12")
        drawn = 0
        for number in range(2, 4):
            drawn += isinstance(app.screen, FreeBodyScreen)
            await press(pilot, "ctrl+n")
            told = [one for one in app.screen_stack if isinstance(one, WorkScreen)]
            assert heading_of(told[-1]).startswith(f"Problem {number} of 3: ")
            assert len(told) == 1
        assert drawn


async def test_elsewhere_no_diagram_leads_to_a_next_problem() -> None:
    keep_choice(Pictures.ASKED)
    app = LeverstepApp(material(SHELF), Opening(SHELF.problems["elbow-full-pail"], "7"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+n")
        assert isinstance(app.screen, FreeBodyScreen)
        assert "picture.next" not in {deed.ident for deed in deeds(app.screen)}


async def test_looking_back_leads_on_in_the_set() -> None:
    set_at_hand(material(SHELF), 2)
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+n")
        await finish(pilot)
        await press(pilot, "f10")
        assert isinstance(app.screen, LookBackScreen)
        following = SHELF.problems[kept().problems[1].ident].title
        ways = " ".join(text_of(app.screen, "#ways").split())
        assert f"{following} (" in ways
        assert "the next of your mixed set" in ways
        await press(pilot, "ctrl+n")
        assert heading_of(work_screen(pilot)) == f"Problem 2 of 2: {following}"


async def test_a_problem_that_is_opened_as_ever_knows_of_no_set() -> None:
    """Its keys and headings are as without any set, while one is kept too."""
    set_at_hand(material(SHELF), 2)
    before = kept()
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        assert not heading_of(screen).startswith("Problem")
        assert "numbers" in text_of(screen, "#progress")
        assert not screen.check_action("go_on", ("next",))
        await finish(pilot)
        assert "another kind of problem" in text_of(screen, "#onward")
        assert kept() == before
