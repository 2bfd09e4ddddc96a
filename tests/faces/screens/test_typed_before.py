"""What was typed at a line before comes back: by the arrows on the screen, by a word in lines."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import drill_with
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import PAIL, app_with, enter, work_screen
from leverstep.bench.practice import Practice
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.practice_dialogue import PracticeDialogue
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_line import DrillLines
from leverstep.faces.lines.practice_line import PracticeLine
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.keys import deeds
from textual.widgets import Input

SHELF = load_shelf()


async def test_the_arrows_bring_back_what_was_typed_at_this_line() -> None:
    """With the caret behind it; the other way ends at what was half typed."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        field = work_screen(pilot).query_one("#entry", Input)
        await press(pilot, "up")
        assert field.value == ""
        for text in ("2 N", "3 N", "hello"):
            await enter(pilot, text)
        field.value = "12.5*"
        for key, wanted in (
            ("up", "hello"), ("up", "3 N"), ("up", "2 N"), ("up", "2 N"), ("down", "3 N"),
            ("down", "hello"), ("down", "12.5*"), ("down", "12.5*"),
        ):  # fmt: skip
            await press(pilot, key)
            assert (field.value, field.cursor_position) == (wanted, len(wanted))
        await enter(pilot, "13.73 N")
        await press(pilot, "up")
        assert field.value == ""


async def test_a_symbol_that_stands_before_the_field_does_not_stand_in_it_too() -> None:
    """Neither where an entry is not right, nor where it is brought back."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        field = work_screen(pilot).query_one("#entry", Input)
        for typed, left in (("W_f = 1,40 N", "1,40 N"), ("hello = 2", "hello = 2")):
            await enter(pilot, typed)
            assert field.value == left
        field.value = ""
        await press(pilot, "up", "up")
        assert field.value == "1,40 N"
        screen = work_screen(pilot)
        assert screen.practice.working.lines["W_f"].text == "W_f = 1,40 N", "it is kept as typed"


async def test_keys_that_come_in_one_piece_are_done_in_their_order() -> None:
    """What is brought back is mended and entered by the keys that follow at once."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await enter(pilot, "1.373 N")
        await enter(pilot, "hello")
        await pilot.press("up", *["left"] * 6, "3", "enter")
        await settle(pilot)
        assert screen.practice.working.lines["W_f"].text == "13.373 N"


async def test_from_line_to_line_lead_tab_and_shift_tab() -> None:
    """And where there is no field, as at the end, the arrow."""
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = work_screen(pilot)
        await enter(pilot, "13.73 N")
        await enter(pilot, "80.08 N")
        keys = {deed.ident: deed.keys for deed in deeds(screen)}
        assert keys["line.earlier"] == ("↑",)
        assert keys["work.before"] == ("Shift+Tab",)
        seen = []
        for key in ("shift+tab", "shift+tab", "shift+tab", "tab", "tab", "tab"):
            await press(pilot, key)
            seen.append(screen.step_at_hand.key)
        assert seen == ["W_l", "W_f", "W_f", "W_l", "L", "L"]
        for step in screen.practice.working.steps:
            screen.practice.leave(step.key)
        screen.paint()
        await settle(pilot)
        keys = {deed.ident: deed.keys for deed in deeds(screen)}
        assert keys["work.before"] == ("Shift+Tab", "↑")
        assert not {"line.earlier", "line.later"} & set(keys)


class Talk:
    """A student who types some lines into plain lines, and hears what is said."""

    def __init__(self, practice: Practice, typed: list[str]) -> None:
        self.said: list[str] = []
        self._typed = iter([*typed, "stop"])
        PracticeLine(
            PracticeDialogue(practice), self.said.append, lambda _: next(self._typed)
        ).run()

    def after(self, said: str) -> list[str]:
        """Return what was said after a line."""
        return self.said[self.said.index(said) + 1 :]


def test_plain_lines_tell_them_by_number_and_enter_one_again(tmp_path: Path) -> None:
    practice = Practice.start(SHELF.problems[PAIL], "a1", CATALOGUE, tmp_path)
    typed = ["earlier", "2 N", "13.73", "earlier", "earlier 3", "earlier 99999", "earlier 2"]
    talk = Talk(practice, typed)
    assert "Nothing was typed at this line before." in talk.said
    assert talk.after("1: 13.73")[0] == "2: 2 N"
    assert talk.said.count("What was typed before is numbered 1 to 2.") == 2
    assert practice.working.lines["W_f"].text == "2 N"
    assert practice.working.attempts["W_f"] == 1, "it stands there already"


@pytest.mark.parametrize("rules", ["", 'feedback = "at the end"', 'guidance = "landmarks"'])
async def test_both_faces_bring_back_the_same_in_a_drill(rules: str, tmp_path: Path) -> None:
    typed = ["hello", "hello again", "hello"]
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path / "screen")
    app = LeverstepApp(material(SHELF))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = DrillScreen(sitting, Path("levers.toml"), app.visit)
        app.push_screen(screen)
        await settle(pilot)
        field = screen.query_one("#entry", Input)
        for text in typed:
            field.value = text
            await press(pilot, "enter")
        field.value = ""
        seen = []
        for _ in typed:
            await press(pilot, "up")
            seen.append(field.value)
        sitting.pause()
    assert seen == ["hello", "hello again", "hello again"]
    other = Sitting.start(drill_with(rules), CATALOGUE, "s01", tmp_path / "lines")
    said: list[str] = []
    answers = iter([*typed, "earlier", "stop"])
    DrillLines(other, said.append, lambda _: next(answers), tmp_path, lambda _: None).run()
    assert [line for line in said if line[:3] in ("1: ", "2: ", "3: ")] == [
        "1: hello",
        "2: hello again",
    ]
