"""What is half typed comes back, however the program ends, and is no part of the record."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from time import sleep

import pytest
from helpers.drill_screens import app_at, begin
from helpers.drills import SHELF, drill_file
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import PAIL, app_with, enter, text_of, work_screen
from helpers.terminals import Terminal
from leverstep.bench.record import read_record
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.half_typed import KEPT_AFTER
from leverstep.working.guidance import Guidance
from textual.widgets import Input


@pytest.mark.parametrize("leaves", ["escape", "ctrl+q"])
async def test_a_line_half_typed_comes_back_in_its_field(leaves: str, home: Path) -> None:
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "13.73 N")
        await press(pilot, *"12.5 lb")
        await press(pilot, leaves)
    (record,) = (home / "practice").glob("*.jsonl")
    assert "12.5 lb" not in record.read_text("utf-8")
    app = LeverstepApp(material(SHELF), Opening(SHELF.problems[PAIL], path=record))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        field = app.screen.query_one("#entry", Input)
        assert (text_of(app.screen, "#prompt"), field.value) == ("W_l =", "12.5 lb")
        await press(pilot, *"s")
        assert field.value == "12.5 lbs", "it is typed on, and not typed over"
        assert list(work_screen(pilot).practice.working.lines) == ["W_f"]


async def test_a_text_of_a_note_is_put_only_where_there_is_such_a_line(home: Path) -> None:
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, *"1")
    (note,) = (home / "notes").iterdir()
    there = note.read_text("utf-8")
    assert '"step": "W_f"' in there
    (record,) = (home / "practice").glob("*.jsonl")
    for hostile in (there.replace("W_f", "__class__"), there.replace('"task": 0', '"task": 7')):
        note.write_text(hostile, "utf-8")
        app = LeverstepApp(material(SHELF), Opening(SHELF.problems[PAIL], path=record))
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert app.screen.query_one("#entry", Input).value == ""


async def test_a_line_that_was_entered_is_not_called_half_typed(home: Path) -> None:
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await enter(pilot, "W_f = 99 N")
        await press(pilot, "ctrl+q")
    (note,) = (home / "notes").iterdir()
    assert '"typed": []' in note.read_text("utf-8")


@pytest.mark.parametrize("leaves", ["escape", "ctrl+q"])
async def test_lines_of_a_page_that_could_not_be_read_come_back(leaves: str, home: Path) -> None:
    opening = Opening(SHELF.problems[PAIL], "7", guidance=Guidance.BLANK)
    async with LeverstepApp(material(SHELF), opening).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, *"pan = 1.65*9.81 = 16.19 N", "enter", *"M_l = 41*cos(3", leaves)
    (record,) = (home / "practice").glob("*.jsonl")
    again = Opening(SHELF.problems[PAIL], path=record)
    async with LeverstepApp(material(SHELF), again).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        page = work_screen(pilot).page
        assert page is not None
        assert page.texts == ["pan = 1.65*9.81 = 16.19 N", "M_l = 41*cos(3", ""]


async def test_the_lines_of_two_tasks_come_back_each_in_its_own(tmp_path: Path) -> None:
    path = drill_file(tmp_path)
    async with app_at(path).run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, *"12.", "f9", *"34.", "ctrl+q")
    async with app_at(path).run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        field = screen.query_one("#entry", Input)
        assert field.value == "12."
        await press(pilot, "f9")
        assert field.value == "34."
        assert not any(bench.working.lines for bench in screen.sitting.benches)


def test_a_program_that_is_killed_loses_at_most_a_moment_of_typing(tmp_path: Path) -> None:
    """In a field, and on the page of a blank sheet."""
    home = tmp_path / "killed"
    for guidance in (Guidance.LINES, Guidance.BLANK):
        call = ("practise", "plain-crowbar", "--seed", "7", "--guidance", guidance, "--anew")
        with Terminal(*call, home=home) as terminal:
            terminal.shows("newtons" if guidance is Guidance.LINES else "Still to find")
            terminal.settle()
            terminal.types("W_l = 98", "98")
            sleep(KEPT_AFTER + 0.4)
            os.kill(terminal.pid, signal.SIGKILL)
        with Terminal("practise", "plain-crowbar", "--go-on", home=home) as terminal:
            terminal.shows("W_l = 98" if guidance is Guidance.BLANK else "98")
    records = [read_record(path) for path in (home / "practice").iterdir()]
    assert [[line.kind for line in record] for record in records] == [["practice"]] * 2
