"""The mouse: what it does in place of a key, and that no deed needs it."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from helpers.drills import SHELF
from helpers.every_screen import MAKE
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import app_with, enter, right_entry, text_of, work_screen
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.footer import FooterKey
from leverstep.faces.screens.help import HelpScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.paper import Paper, PaperRow
from leverstep.faces.screens.work import WorkScreen
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input, OptionList


async def click_text(pilot: Pilot[int], text: str) -> None:
    """Click the first letter of a text, wherever it stands on the screen."""
    rows = [strip.text for strip in pilot.app.screen._compositor.render_strips()]
    y, x = next((y, row.index(text)) for y, row in enumerate(rows) if text in row)
    await pilot.click(offset=(x, y))
    await settle(pilot)


async def click_line(pilot: Pilot[int], key: str) -> None:
    """Scroll to the last row of characters of a line of the working, and click it."""
    paper = pilot.app.screen.query_one(Paper)
    place = len(paper._keys) - 1 - paper._keys[::-1].index(key)
    paper.scroll_to(y=place, animate=False)
    await settle(pilot)
    await pilot.click("#written", offset=(14, place))
    await settle(pilot)


async def test_a_problem_is_opened_with_a_click() -> None:
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await click_text(pilot, "A sandbag on the toes")
        assert isinstance(app.screen, WorkScreen)
        assert app.screen.opening.problem.title == "A sandbag on the toes"


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_a_line_of_the_working_is_gone_to_with_a_click(size: tuple[int, int]) -> None:
    """What is typed next goes there; a line that no key leads to is left alone."""
    app = app_with(SHELF, "elbow-tilted-forearm")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        first, second, third, fourth, *_ = screen.practice.working.asked
        for step in (first, second):
            await enter(pilot, right_entry(screen, step))
        assert screen.step_at_hand is third
        await click_line(pilot, first.key)
        assert screen.step_at_hand is first
        here = [
            row.key
            for row in screen.query_one(Paper).rows
            if isinstance(row, PaperRow) and row.here
        ]
        assert here == [first.key]
        assert isinstance(screen.focused, Input)
        await press(pilot, "end", "9")
        assert screen.query_one("#entry", Input).value.endswith("9")
        await click_line(pilot, fourth.key)
        assert screen.step_at_hand is first
        await click_line(pilot, "")  # a heading
        assert screen.step_at_hand is first
        await click_line(pilot, second.key)
        assert screen.step_at_hand is second
        await click_line(pilot, third.key)
        assert (screen.step_at_hand, screen.dialogue.chosen) == (third, "")


async def every_screen(
    pilot: Pilot[int], folder: Path
) -> AsyncIterator[tuple[str, Screen[object]]]:
    """Yield what each screen there is is called, and the screen, opened over the one before."""
    await settle(pilot)
    for name, make in MAKE.items():
        (folder / name).mkdir()
        screen = make(folder / name)
        pilot.app.push_screen(screen)
        await settle(pilot)
        yield name, screen


async def test_every_key_of_the_footer_can_be_clicked(tmp_path: Path) -> None:
    """The help stands for all: it opens and closes. Elsewhere a click runs the key's action."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(120, 36)) as pilot:
        async for name, screen in every_screen(pilot, tmp_path):
            ran: list[tuple[str, object]] = []

            async def note(action: str, node: object, ran: list[tuple[str, object]] = ran) -> bool:
                ran.append((action, node))
                return True

            keys = list(screen.query(FooterKey))
            with pytest.MonkeyPatch.context() as patch:
                patch.setattr(app, "run_action", note)
                for key in keys:
                    await pilot.click(key)
            assert ran == [(key.deed.action, key.deed.node) for key in keys], name
            if keys:
                await click_text(pilot, "F1 Help")
                assert isinstance(app.screen, HelpScreen), name
                await press(pilot, "f1")
                assert app.screen is screen, name


async def test_nothing_needs_a_mouse(tmp_path: Path) -> None:
    """Every key at the foot is a key, and every field and list is reached with Tab, or at once."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        async for name, screen in every_screen(pilot, tmp_path):
            assert all(key.deed.keys and key.deed.keys[0] for key in screen.query(FooterKey)), name
            there = screen.query("Input, OptionList").results()
            fields = {field for field in there if field.focusable and field.region.area}
            reached = {screen.focused}
            for _ in fields:
                if not isinstance(screen, WorkScreen):
                    await press(pilot, "tab")
                reached.add(screen.focused)
            assert fields <= reached, name
            listed = any(isinstance(field, OptionList) for field in fields)
            assert isinstance(screen, HomeScreen) <= listed, name


async def test_a_click_leaves_what_is_typed_where_it_is() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "4", "2")
        await click_text(pilot, "F2 Hint")
        assert "Hint 1" in text_of(app.screen, "#said")
        await press(pilot, "3")
        assert app.screen.query_one("#entry", Input).value == "423"
