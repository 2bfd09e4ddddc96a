"""The terminal's cursor, which braille displays follow, lies where the focus is."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from helpers.drills import SHELF
from helpers.every_screen import MAKE
from helpers.material import material
from helpers.pilots import press, settle
from leverstep.faces.screens.app import LeverstepApp
from textual.command import CommandList
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, TextArea


@asynccontextmanager
async def shown(name: str, folder: Path) -> AsyncIterator[Pilot[int]]:
    """Run the program with a screen shown."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        app.push_screen(MAKE[name](folder))
        await settle(pilot)
        yield pilot


def text_at_cursor(pilot: Pilot[int]) -> str:
    """Return what stands on the screen from the cursor on."""
    x, y = pilot.app.cursor_position
    row = pilot.app.screen._compositor.render_strips()[y].text
    return row[x:]


async def test_in_a_list_it_lies_on_the_first_letter_of_the_lit_row():
    """Wherever the list is scrolled to, and after the list has changed."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        assert text_at_cursor(pilot).startswith("leverstep")
        await settle(pilot)
        listed = app.screen.query_one("#choices", OptionList)
        for key in ("down", "down", "end", "up", "pageup", "home", "f3"):
            await press(pilot, key)
            lit = str(listed.highlighted_option.prompt).strip()
            assert lit
            assert text_at_cursor(pilot).startswith(lit[:40]), key


async def test_in_a_field_it_lies_on_the_caret():
    """At the beginning, in the middle and behind the last letter."""
    async with shown("work", Path()) as pilot:
        assert text_at_cursor(pilot).startswith("for example")
        pilot.app.screen.query_one("#entry", Input).value = "12.5*9.81 N"
        for key, rest in (("home", "12.5*9.81 N "), ("right", "2.5*9.81 N "), ("end", "  ")):
            await press(pilot, key)
            assert text_at_cursor(pilot).startswith(rest)
        x, y = pilot.app.cursor_position
        assert pilot.app.screen._compositor.render_strips()[y].text[:x].endswith("9.81 N")


async def test_on_a_page_it_lies_on_the_caret_of_the_line_at_hand():
    """Behind its margin, and on the row where a long line goes on."""
    async with shown("page", Path()) as pilot:
        await press(pilot, *"W_f = 13.73 N", "enter", *"third")
        for key, rest in (("home", "third"), ("up", "W_f = 13.73 N"), ("end", " "), ("down", " ")):
            await press(pilot, key)
            assert text_at_cursor(pilot).startswith(rest), key
        await press(pilot, *"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx1")
        x, y = pilot.app.cursor_position
        rows = [strip.text for strip in pilot.app.screen._compositor.render_strips()]
        assert rows[y][:x].endswith("xxx1")
        assert "third" in rows[y - 1]


async def test_in_the_palette_it_goes_to_the_row_that_is_chosen():
    """From the field to the rows once one goes down."""
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "ctrl+p")
        await settle(pilot)
        assert text_at_cursor(pilot).startswith("What would you like to do?")
        await press(pilot, "down")
        lit = app.screen.query_one(CommandList).highlighted_option
        assert text_at_cursor(pilot).strip() == str(lit.prompt).split("\n")[0] == "Drill"


async def test_it_lies_on_text_or_in_a_field_everywhere(tmp_path):
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for name, make in MAKE.items():
            app.push_screen(make(tmp_path))
            await settle(pilot)
            is_field = isinstance(app.screen.focused, Input | TextArea)
            assert text_at_cursor(pilot)[0] != " " or is_field, name
            await press(pilot, "f1")
            assert text_at_cursor(pilot).startswith("Keys here"), name
            await press(pilot, "f1")
            app.pop_screen()
