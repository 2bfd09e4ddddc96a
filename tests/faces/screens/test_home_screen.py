"""The first screen: where to start or go on, what is marked, and how a problem is found."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers.drill_screens import all_text
from helpers.material import CATALOGUE, material
from helpers.pilots import press, settle
from helpers.screens import text_of, work_screen
from leverstep.bench.kept_workings import kept_workings
from leverstep.bench.practice import Practice
from leverstep.course.course_plan import Week
from leverstep.course.course_words import CourseWords
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.begun_before import BegunBeforeScreen
from leverstep.faces.screens.choices_listed import LIST_COLUMNS, Choices
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.searched_list import SearchedList
from leverstep.progress.problem_list import Suggested
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

PAIL = "elbow-pail-of-water"


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf()


def begun(shelf: Shelf, name: str = PAIL, seed: str = "7") -> Practice:
    practice = Practice.start(shelf.problems[name], seed, CATALOGUE)
    practice.enter(practice.working.steps[0].key, "1 N")
    return practice


def lines(pilot: Pilot[int]) -> list[str]:
    """Return what stands on each line of the list."""
    listed = pilot.app.screen.query_one("#choices", OptionList)
    return [str(option.prompt).strip() for option in listed.options]


async def test_who_is_new_finds_where_to_start_and_how_to_open_it(shelf: Shelf) -> None:
    """The problems fill the screen, and Enter is named at its foot."""
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert lines(pilot)[0] == "Start here"
        assert lines(pilot)[1].startswith("A crate on a bar")
        listed = app.screen.query_one("#choices", OptionList)
        assert listed.region.y <= 5
        assert listed.region.height >= 16
        assert all_text(pilot).splitlines()[-1].strip().startswith("Enter Open")
        assert text_of(app.screen, "#told").startswith("Asks for the effort")
        await press(pilot, "enter")
        assert work_screen(pilot).practice.question.problem.id == "plain-crowbar"


async def test_letters_search_and_escape_shows_all_again(shelf: Shelf) -> None:
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        whole = lines(pilot)
        await press(pilot, *"nutx")
        assert lines(pilot) == ["No problem matches; press Esc to show all"]
        assert text_of(app.screen, "#told") == ""
        await press(pilot, "enter", "ctrl+g", "backspace")
        assert text_of(app.screen, "#shown").startswith("Search: nut_")
        assert [line.split("  ")[0] for line in lines(pilot)] == [
            "Jaw",
            "A nut between the back teeth",
        ]
        await press(pilot, "escape")
        assert lines(pilot) == whole
        await press(pilot, *"nut", "enter")
        assert work_screen(pilot).practice.question.problem.id == "jaw-back-teeth"


async def test_the_title_that_is_typed_is_lit_though_another_problem_fits_too(shelf: Shelf) -> None:
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for title in (card.title for card in shelf.offered):
            await press(pilot, "escape")
            app.screen.query_one("#choices", SearchedList).post_message(
                SearchedList.TypedAhead(title)
            )
            await pilot.pause()
            lit = app.screen.query_one("#choices", OptionList).highlighted_option
            assert lit is not None
            assert lit.id is not None
            assert shelf.problems[lit.id].title == title


def test_every_title_stands_whole_on_its_line(shelf: Shelf) -> None:
    """Also where it is told why the problem is due, which takes what is left."""
    choices = Choices(shelf)
    listed = [str(option.prompt) for option in choices.options()]
    assert max(map(len, listed)) <= LIST_COLUMNS
    for card in shelf.offered:
        assert any(f"  {card.title} " in line for line in listed), card.title
    title = "A step held still, from the ankle to the knee"
    (problem,) = (card.id for card in shelf.offered if card.title == title)
    why = "for a slip that was made twice lately, and is due"
    choices.suggest((Suggested(problem, "", why, True),))
    due = [line for line in (str(one.prompt) for one in choices.options()) if title in line]
    assert [line[0] for line in due] == ["*", "*"], "above all problems, and among them"
    assert max(map(len, due)) <= LIST_COLUMNS


async def test_where_it_is_wide_the_problem_is_told_beside_the_list(shelf: Shelf) -> None:
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        assert app.screen.query_one("#beside").display
        assert "A level bar rests on a small block" in text_of(app.screen, "#about")
        await press(pilot, *"pulls from")
        assert "m_b 35 to 150 kg" in text_of(app.screen, "#about")


async def test_the_weeks_of_a_course_stand_in_place_of_joints(shelf: Shelf) -> None:
    planned = replace(shelf, weeks=(Week("Week 1: levers", ("plain-seesaw",)),))
    app = LeverstepApp(material(planned))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert lines(pilot)[1].startswith("Two children and a helping hand")
        assert lines(pilot)[2] == "Week 1: levers"
        assert "Elbow" not in lines(pilot)


async def test_joints_and_levels_stand_in_the_words_of_the_course(shelf: Shelf) -> None:
    words = CourseWords({"ankle": "Block 1: the foot"}, {"1": "first steps"})
    app = LeverstepApp(material(replace(shelf, words=words)))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Block 1: the foot" in lines(pilot)
        assert any(line.endswith("first steps  SI") for line in lines(pilot))
        await press(pilot, "f4")
        assert "Level: first steps" in text_of(app.screen, "#shown")


async def test_what_is_due_and_begun_is_marked_and_comes_first(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    due = Suggested("plain-seesaw", "for a slip (due today)", "a slip", True)
    monkeypatch.setattr("leverstep.progress.suggested.suggested_now", lambda *_: (due,))
    begun(shelf)
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        head, first, due_head, due_line, *rest = lines(pilot)
        assert head.startswith("Go on with")
        assert first.startswith("… A pail of water")
        assert "0 of 16 done   today " in first
        assert due_head == "Due for review"
        assert due_line.startswith("* Two children")
        assert due_line.endswith(" a slip")
        assert [one for one in rest if one.startswith("… A pail of water") and "begun" in one]
        assert [one for one in rest if one.startswith("* Two children") and " due " in one]


async def test_a_working_is_taken_off_the_list_seen_again_and_gone_on_with(shelf: Shelf) -> None:
    practice = begun(shelf)
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, "delete")
        assert kept_workings(shelf).unfinished == ()
        assert lines(pilot)[:2] == ["Go on with", "More are kept: Enter shows them"]
        await press(pilot, "home", "enter")
        assert lines(pilot)[1].endswith("off the list")
        await press(pilot, "home", "enter")
        assert work_screen(pilot).practice.place == practice.place
        await press(pilot, "escape")
        assert len(kept_workings(shelf).unfinished) == 1


async def test_one_title_stands_once_among_those_to_go_on_with(shelf: Shelf) -> None:
    """Earlier workings of the problem are a line away."""
    begun(shelf)
    begun(shelf)
    async with LeverstepApp(material(shelf)).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        head, first, more, *_ = lines(pilot)
        assert head.startswith("Go on with")
        assert first.startswith("… A pail of water")
        assert more == "More are kept: Enter shows them"
        await press(pilot, "home", "down", "enter")
        assert [line.startswith("… A pail of water") for line in lines(pilot)[1:3]] == [True, True]


async def test_a_field_that_nothing_can_be_typed_for_is_not_there(shelf: Shelf) -> None:
    """It is neither seen nor reached with Tab, and says why."""
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Own body none for this problem" in all_text(pilot)
        await press(pilot, "tab", "tab", *"5")
        assert app.screen.query_one("#own", Input).value == ""
        await press(pilot, "escape", *"pulls from", "tab", "tab", *"5")
        assert app.screen.query_one("#own", Input).value == "5"
        assert text_of(app.screen, "#guidance").startswith("m_b 35 to 150 kg; L 20 to 34 cm")


@pytest.mark.parametrize("key", ["enter", "f7", "escape"])
async def test_the_same_numbers_again_are_asked_about(shelf: Shelf, key: str) -> None:
    practice = begun(shelf)
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Numbers  as you began it" in all_text(pilot)
        listed = app.screen.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index(PAIL)
        await settle(pilot)
        await press(pilot, "tab", *"7", "enter", "enter")
        assert isinstance(app.screen, BegunBeforeScreen)
        assert "0 of 16 done" in all_text(pilot)
        await press(pilot, key)
        if key == "escape":
            assert isinstance(app.screen, HomeScreen)
            return
        opened = work_screen(pilot).practice
        assert opened.question.seed == "7"
        assert (opened.place == practice.place) == (key == "enter")
        assert len(opened.working.lines) == (key == "enter")
