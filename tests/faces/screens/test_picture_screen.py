"""A free-body diagram drawn on the full screen, by keys and by clicks."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drill_screens import all_text, app_at, begin, drill_screen
from helpers.drills import SHELF, Disk, drill_file, let_pass
from helpers.pilots import press, settle
from helpers.screens import app_with, text_of, work_screen
from leverstep.bench.practice_choices import keep_choice
from leverstep.faces.screens.asides import AwayScreen, ConfirmScreen
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.help import HelpScreen
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.picture_screen import FreeBodyScreen, MadeDiagram
from leverstep.faces.screens.side_sheet import Sheet
from leverstep.free_body.body_picture import BodyPicture
from leverstep.working.rules import Pictures
from textual.geometry import Offset
from textual.pilot import Pilot
from textual.widgets import OptionList, Static

SIZES = pytest.mark.parametrize("size", [(80, 20), (80, 24), (120, 36)])


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The student draws the diagrams."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    keep_choice(Pictures.ASKED)


def picture_screen(pilot: Pilot[int]) -> FreeBodyScreen:
    assert isinstance(pilot.app.screen, FreeBodyScreen)
    return pilot.app.screen


def picture(pilot: Pilot[int]) -> BodyPicture:
    return picture_screen(pilot).picture.picture


def drawn(pilot: Pilot[int]) -> str:
    return str(picture_screen(pilot).query_one(MadeDiagram).content)


async def choose(pilot: Pilot[int], label: str) -> None:
    """Choose what begins so, with the arrows and Enter."""
    listed = picture_screen(pilot).query_one("#choices", OptionList)
    labels = [str(option.prompt)[4:].replace("\n    ", " ") for option in listed.options]
    place = next(n for n, told in enumerate(labels) if told.startswith(label))
    await press(pilot, "home", *["down"] * place, "enter")


@SIZES
async def test_a_whole_diagram_by_keys_then_the_lines(size: tuple[int, int]) -> None:
    app = app_with(SHELF)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        question = picture(pilot).question
        where = {one.key: one.label for one in picture(pilot).places}
        assert "A groom holds" in all_text(pilot)
        assert "F_m" not in drawn(pilot)
        for item in picture(pilot).needed:
            placing = picture(pilot).right_placing(item)
            candidate = picture(pilot).candidate(item)
            await choose(pilot, item if item == "the axis" else f"distance {item}"
                         if candidate is None else candidate.name)  # fmt: skip
            if placing.point:
                await choose(pilot, where[placing.point])
            if placing.pointing:
                way = picture(pilot).pointing_of(placing)
                assert way is not None
                await choose(pilot, way.label)
        assert picture(pilot).is_right
        assert "✓ weight of the pail" in all_text(pilot) or size[1] < 24
        assert "W_l" in drawn(pilot)
        await press(pilot, "f4")
        assert work_screen(pilot).bench is not None
        assert work_screen(pilot).bench.question.seed == question.seed  # type: ignore[union-attr]
        assert "The free-body diagram is complete and right." in all_text(pilot)


async def test_what_is_looked_at_is_drawn_and_nothing_is_kept_of_it() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        before = drawn(pilot)
        await choose(pilot, "weight of the pail")
        await press(pilot, "down", "down")
        assert drawn(pilot) != before
        assert "◆" in drawn(pilot)
        await press(pilot, "enter")
        assert "▲" in drawn(pilot)
        await press(pilot, "down")
        assert "▼" in drawn(pilot)
        await press(pilot, "escape", "backspace")
        assert picture(pilot).placed == {}
        assert "◆" not in drawn(pilot)


async def test_a_wrong_thing_is_told_hinted_and_taken_away() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "1", "1", "1")
        assert picture(pilot).wrong == {"decoy motion": 1}
        assert "✗ Not yet: the force of motion does not belong" in all_text(pilot)
        assert "✗ force of motion" in all_text(pilot)
        ask = "What acts on the forearm? A digit or ↑ ↓ and Enter chooses."
        assert ask in all_text(pilot), "what has no digit is chosen too"
        await press(pilot, "f2")
        told = " ".join(all_text(pilot).split())
        assert "The force of motion: what would exert it on the forearm?" in told
        await press(pilot, "f4")
        assert "8 things are missing; 1 thing is not right" in all_text(pilot)
        await press(pilot, "home", "delete")
        assert picture(pilot).placed == {}
        assert "Taken away: force of motion." in all_text(pilot)


async def test_what_is_placed_anew_is_taken_away_too() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "1", "delete")  # it is not drawn yet
        assert "at which point?" in all_text(pilot)
        await press(pilot, "1", "1", "1", "1", "delete")
        assert picture(pilot).placed == {}
        assert "Taken away: force of motion." in all_text(pilot)
        assert "What acts on the forearm?" in all_text(pilot)


async def test_what_stands_right_lets_the_light_go_on_and_a_lit_distance_is_drawn() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = picture_screen(pilot).query_one("#choices", OptionList)
        await choose(pilot, "distance d_l")
        assert listed.highlighted is not None
        lit = str(listed.get_option_at_index(listed.highlighted).prompt)
        assert "distance d_m" in lit
        assert "d_l" in drawn(pilot)
        assert "d_m" in drawn(pilot), "it is looked at"
        assert set(picture(pilot).placed) == {"d_l"}


async def test_a_click_chooses_too() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = picture_screen(pilot).query_one("#choices", OptionList)
        await pilot.click(listed, offset=(6, 0))
        await settle(pilot)
        assert "Force of motion: at which point?" in text_of(picture_screen(pilot), "#picture-ask")


async def test_a_click_in_the_picture_chooses_the_point_and_turns_the_arrow() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await choose(pilot, "weight of the pail")
        rows = drawn(pilot).splitlines()
        level = next(row for row, text in enumerate(rows) if text.count("┼") + text.count("◆") > 3)
        last = rows[level].rindex("┼")
        diagram = picture_screen(pilot).query_one(MadeDiagram)
        beside = diagram.content_region.offset - diagram.region.offset
        await pilot.click(diagram, offset=beside + Offset(last - 1, level + 1))
        await settle(pilot)
        assert "Weight of the pail: which way?" in text_of(picture_screen(pilot), "#picture-ask")
        rows = drawn(pilot).splitlines()
        level = next(row for row, text in enumerate(rows) if text.count("┼") + text.count("┷") > 3)
        column = rows[level].rindex("┷")
        await pilot.click(diagram, offset=beside + Offset(column + 1, len(rows) - 1))
        await settle(pilot)
        assert picture(pilot).placed["W_l"].is_right


async def test_skipping_goes_on_to_the_lines_and_leaving_home() -> None:
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "f3")
        assert work_screen(pilot).dialogue is not None
        assert "is skipped; the right one is shown" in all_text(pilot)
    app = app_with(SHELF, seed="b2")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "1", "1", "1", "escape")
        assert isinstance(app.screen, HomeScreen)


async def test_the_second_posture_has_its_own_before_its_lines() -> None:
    app = app_with(SHELF, "wrist-then-elbow")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert picture(pilot).question.problem.segment == "hand"
        await press(pilot, "f3")
        screen = work_screen(pilot)
        assert screen.dialogue is not None
        while screen.dialogue.picture is None:
            await press(pilot, "f3")
        await settle(pilot)
        assert picture(pilot).question.problem.segment == "forearm"


@pytest.mark.parametrize("size", [(80, 24), (120, 36)])
async def test_a_drill_may_show_no_diagram_at_all(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_at(drill_file(tmp_path, 'picture = "off"'), "s01", tmp_path)
    async with app.run_test(size=size) as pilot:
        screen = await begin(pilot)
        await press(pilot, "f9")
        sheet = screen.query_one(Sheet)
        assert (sheet.picture_columns, sheet.wants_picture) == (0, False)
        assert sheet.shows_statement
        assert "Anticlockwise moments are positive." in text_of(screen, "#ideal")
        assert "Diagram" not in all_text(pilot).splitlines()[-1]
        await press(pilot, *"1.65*9.81", "enter")
        assert (sheet.picture_columns, sheet.wants_picture) == (0, False)


async def test_without_a_diagram_a_statement_that_a_question_hides_comes_with_f5(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In place of the working's rows, which the same key gives back."""
    monkeypatch.setattr(DrillScreen, "least_worked", 13)
    app = app_at(drill_file(tmp_path, 'picture = "off"\npredict = true'), "s01", tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, "f9")
        sheet = screen.query_one(Sheet)
        for is_shown, key in ((False, "Statement"), (True, "Working"), (False, "Statement")):
            assert sheet.shows_statement is is_shown
            assert f"F5 {key}" in all_text(pilot).splitlines()[-1]
            assert ("A groom holds a full pail" in all_text(pilot)) is is_shown
            await press(pilot, "f5")


@pytest.mark.parametrize("guidance", ["lines", "blank"])
async def test_a_drill_turns_hands_in_and_is_left_from_a_diagram(
    tmp_path: Path, guidance: str
) -> None:
    path = drill_file(tmp_path, f'picture = "asked"\nminutes = 30\nguidance = "{guidance}"')
    app = app_at(path, "s01", tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        assert picture(pilot).question.problem.id == "plain-wheelbarrow"
        assert "30 min left" in text_of(picture_screen(pilot), "#progress")
        await press(pilot, "f9")
        assert picture(pilot).question.problem.id == "elbow-full-pail"
        await press(pilot, "escape")
        assert isinstance(app.screen, AwayScreen)
        await press(pilot, "enter")
        assert picture(pilot).question.problem.id == "elbow-full-pail"
        await press(pilot, "f10")
        assert isinstance(app.screen, ConfirmScreen)
        await press(pilot, "escape")
        picture_screen(pilot)
        await press(pilot, "f3")
        assert "gives up its marks, for good" in all_text(pilot)
        await press(pilot, "f3")
        drill_screen(pilot)
        await press(pilot, "f9", "f10", "enter")
        assert isinstance(app.screen, HandedScreen)
        assert "Free-body diagram of the forearm: 0 of 8 right." in text_of(app.screen, "#lines")


async def test_feedback_at_the_end_shows_no_verdict(tmp_path: Path) -> None:
    path = drill_file(tmp_path, 'picture = "asked"\nfeedback = "at the end"')
    app = app_at(path, "s01", tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        await press(pilot, "1", "1", "1", "2", "2", "2")
        assert len(picture(pilot).placed) == 2
        shown = all_text(pilot)
        assert not [sign for sign in ("✓", "✗", "Right", "Not yet") if sign in shown]
        assert shown.count("•") >= 2


async def test_the_choice_is_made_at_a_working_of_which_nothing_is_written() -> None:
    keep_choice(Pictures.GIVEN)
    app = app_with(SHELF)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        work_screen(pilot)
        await press(pilot, "ctrl+b")
        await settle(pilot)
        picture_screen(pilot)


@SIZES
async def test_nothing_is_cut_off_unseen_at_any_size(size: tuple[int, int]) -> None:
    app = app_with(SHELF, "ankle-then-knee")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = picture_screen(pilot)
        rows = {one.region.height for one in screen.query("#picture-ask").results(Static)}
        assert rows == {1}
        diagram, listed = screen.query_one(MadeDiagram), screen.query_one("#choices", OptionList)
        assert diagram.size.width >= 40
        assert min(diagram.size.height, listed.size.height) >= 8
        assert screen.query_one("#picture-statement").size.height >= 3


async def test_when_the_time_is_up_what_there_is_is_handed_in_from_a_diagram(
    tmp_path: Path,
) -> None:
    path = drill_file(tmp_path, 'picture = "asked"\nminutes = 30')
    app = app_at(path, "s01", tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        screen = app.screen_stack[-2]
        assert isinstance(screen, DrillScreen)
        await press(pilot, "1", "1", "1", "f1")
        assert isinstance(app.screen, HelpScreen)
        let_pass(screen.sitting, 30 * 60)
        screen.tick()
        await settle(pilot)
        assert isinstance(app.screen, HandedScreen)
        told = " ".join(text_of(app.screen, "#lines").split())
        assert "0 of 8 right, 1 thing too many, 1 wrong try." in told


async def test_what_the_disk_does_not_take_is_told_and_tried_again(
    tmp_path: Path, disk: Disk
) -> None:
    path = drill_file(tmp_path, 'picture = "asked"')
    app = app_at(path, "s01", tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "enter")
        disk.broken = [tmp_path]
        await press(pilot, "1", "1", "1")
        assert picture(pilot).placed == {}
        assert "Not saved" in all_text(pilot)
        disk.broken = []
        screen = app.screen_stack[-2]
        assert isinstance(screen, DrillScreen)
        screen.try_again()
        await settle(pilot)
        assert len(picture(pilot).placed) == 1
        assert "Not saved" not in all_text(pilot)
