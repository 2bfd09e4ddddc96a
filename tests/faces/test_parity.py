"""What one face tells, the other tells too: the same sittings, on the screen and in plain lines."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import drill_with
from helpers.pilots import settle
from leverstep.course.shelf import load_shelf
from leverstep.dialogue import sitting_result
from leverstep.dialogue.sitting_result import marked_now, result_of
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_line import read_account
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.handed import HandedScreen
from textual.containers import VerticalScroll
from textual.widgets import Static

SHELF = load_shelf()
RULES = [
    "",
    'feedback = "at the end"',
    'guidance = "blank"',
    'guidance = "landmarks"\nattempts = 1',
    'hints = "none"',
]


def handed(rules: str, folder: Path) -> Sitting:
    """Return a sitting with right, wrong, unread and unwritten lines, handed in."""
    sitting = Sitting.start(drill_with(rules), "s01", folder)
    bench = sitting.benches[1]
    for key, text in {"W_f": "16.19 N", "W_l": "11.0 N", "M_sum": "0 N·m", "F_m": "x"}.items():
        if bench.working.guidance.free:
            bench.write(f"{key} = {text}")
        else:
            bench.enter(key, text)
    sitting.hand_in()
    return sitting


def joined(text: str) -> str:
    """Return a text without the way it was wrapped and indented."""
    return " ".join(text.split())


@pytest.mark.parametrize("rules", RULES)
async def test_both_faces_tell_what_came_of_a_sitting(rules: str, tmp_path: Path) -> None:
    sitting = handed(rules, tmp_path)
    told = result_of(sitting, marked_now(sitting))
    assert told.total
    said: list[str] = []
    read_account(sitting, said.append)
    app = LeverstepApp(shelf=SHELF)
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        app.push_screen(HandedScreen(sitting, ""))
        await settle(pilot)
        shown = app.screen.query_one("#told", Static), app.screen.query_one("#lines", Static)
        assert app.screen.query_one(VerticalScroll)
        on_screen = joined(" ".join(str(part.content) for part in shown))
    in_lines = joined(" ".join(said))
    wanted = [told.handed_in, told.code, told.total]
    for task in told.tasks:
        wanted += [task.heading, *(one.told for one in task.lines if one.told)]
        wanted += [f"Not written: {task.unwritten}."] if task.unwritten else []
    assert len(wanted) > 6
    for sentence in wanted:
        assert joined(sentence) in in_lines
        assert joined(sentence) in on_screen


def test_what_was_handed_in_is_told_though_the_marks_can_not_be_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise KeyError("step")

    monkeypatch.setattr(sitting_result, "mark_record", fails)
    sitting = handed("", tmp_path)
    said: list[str] = []
    read_account(sitting, said.append)
    assert said[0].startswith("Handed in: ")
    assert sitting.code in said[1]
    assert not any("Under the rules" in line for line in said)
