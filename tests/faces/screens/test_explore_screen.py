"""The screen on which a number is changed, driven by its keys."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
from helpers.material import CATALOGUE, material
from helpers.pilots import settle
from helpers.step_lines import right_line
from leverstep.bench.practice import Practice
from leverstep.course.shelf import Shelf, load_shelf
from leverstep.explore.answers import ANSWERS
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.chart import Chart, GivenList
from leverstep.faces.screens.entrances import Exploring
from leverstep.faces.screens.explore import ExploreScreen
from leverstep.faces.screens.footer import FooterKey
from leverstep.faces.screens.home import HomeScreen
from leverstep.faces.screens.keys import deeds
from leverstep.faces.screens.side_sheet import Diagram
from leverstep.faces.screens.work import WorkScreen
from leverstep.working.cautions import CAUTION
from textual.pilot import Pilot
from textual.widgets import OptionList, Static

PAIL = "elbow-full-pail"
SIZES = [(80, 24), (120, 36)]


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf()


def exploring(shelf: Shelf, name: str = PAIL, over: str = "") -> LeverstepApp:
    problem = shelf.problems[name]
    return LeverstepApp(
        material(shelf), Exploring(problem.title, lambda: problem.question("7"), over)
    )


def screen_of(pilot: Pilot[int]) -> ExploreScreen:
    assert isinstance(pilot.app.screen, ExploreScreen)
    return pilot.app.screen


def shown(pilot: Pilot[int], name: str) -> str:
    return str(screen_of(pilot).query_one(name, Static).content)


def painted(pilot: Pilot[int], name: str) -> list[str]:
    """Return the lines of a text as they are painted, wrapped for their room."""
    widget = screen_of(pilot).query_one(name, Static)
    return [widget.render_line(row).text for row in range(widget.size.height)]


def row_of(pilot: Pilot[int], sign: str) -> str:
    """Return the row of a given in the list."""
    rows = shown(pilot, "#givens").splitlines()
    return next(row for row in rows if sign in row.split())


def result_of(pilot: Pilot[int], sign: str) -> list[str]:
    """Return value, unit and change of a result."""
    rows = shown(pilot, "#results").splitlines()
    return next(row.split()[1:] for row in rows if row.startswith(f"{sign} "))


async def test_the_keys_change_a_given_and_its_results_follow(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        assert "›x d_l     35.0 cm " in row_of(pilot, "d_l")
        assert result_of(pilot, "F_m") == ["434", "N", "same"]
        await pilot.press("right")
        assert "36.0 cm*" in row_of(pilot, "d_l")
        assert result_of(pilot, "F_m") == ["444", "N", "×", "1.02"]
        await pilot.press("pageup", "left")
        assert "45.0 cm*" in row_of(pilot, "d_l")
        await pilot.press("shift+left", "ctrl+left")
        assert "25.0 cm*" in row_of(pilot, "d_l")
        await pilot.press("home")
        assert "35.0 cm " in row_of(pilot, "d_l")
        assert result_of(pilot, "F_m") == ["434", "N", "same"]


async def test_a_change_stops_at_the_ends_of_its_span(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        await pilot.press(*["pagedown"] * 12)
        assert "5.0 cm*" in row_of(pilot, "d_l")
        assert "from 5.0 cm to 90.0 cm in steps of 1" in shown(pilot, "#said").replace("\n", " ")


@pytest.mark.parametrize("size", SIZES, ids=["80", "120"])
async def test_the_plot_is_drawn_for_its_room_and_says_what_it_shows(shelf, size):
    app = exploring(shelf, "hip-one-leg-stance", "theta")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        chart = screen_of(pilot).query_one(Chart)
        lines = str(chart.content).splitlines()
        assert len(lines) <= chart.size.height
        assert all(len(line) <= chart.size.width for line in lines)
        text = " ".join(line.strip() for line in lines)
        assert "F_m" in lines[0]
        assert "θ (°)" in text
        assert "the line of action of F_m passes through the hip" in text
        assert "Off the scale" in text
        assert shown(pilot, "#caution") == CAUTION


@pytest.mark.parametrize(("name", "value"), [("TERM", "linux"), ("LEVERSTEP_ASCII", "1")])
async def test_plain_characters_draw_it_where_there_are_no_others(shelf, name, value, monkeypatch):
    """The font of a console has no braille dots; the user may ask for it elsewhere."""
    monkeypatch.setenv(name, value)
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        text = shown(pilot, "#chart")
        assert text.isascii()
        assert text.startswith("#@# F_m  .X. R (N)")
        assert "@ X now" in text
        await pilot.press("f5")
        assert str(screen_of(pilot).query_one(Diagram).content).split("Given")[0].isascii()


async def test_any_given_may_be_held_on_the_axis(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        assert "d_l (cm)" in shown(pilot, "#chart")
        await pilot.press("down", "f3")
        assert row_of(pilot, "d_m").startswith("›x d_m")
        assert row_of(pilot, "d_l").startswith("   d_l")
        assert "d_m (cm)" in shown(pilot, "#chart")


async def test_the_plot_turns_to_the_ratios_and_to_the_diagram(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        screen = screen_of(pilot)
        await pilot.press("f4")
        assert shown(pilot, "#chart").startswith("━●━ MA  ╍◆╍ AR")
        await pilot.press("f5")
        assert screen.query_one(Diagram).display
        assert not screen.query_one(Chart).display
        await pilot.press("right")
        await pilot.pause()
        assert "36.0 cm" in str(screen.query_one(Diagram).content)
        await pilot.press("f5", "f4")
        assert shown(pilot, "#chart").startswith("━●━ F_m  ╍◆╍ R (N)")


async def test_a_prediction_comes_before_the_plot_and_the_truth_after(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        screen = screen_of(pilot)
        await pilot.press("right", "f2", "f2")
        asked = screen.standing.asked
        assert shown(pilot, "#said").startswith(asked.asks)
        for number, answer in enumerate(ANSWERS, 1):
            rows = [row for row in painted(pilot, "#said") if f"{number} {answer}" in row]
            assert len(rows) == 1, "no answer is parted in the smallest window"
        names = {key.deed.name for key in screen.query(FooterKey)}
        assert not names & {answer.capitalize() for answer in ANSWERS}
        assert {"Question", "Back", "Help", "Quit"} <= names
        keys = {deed.keys[0]: deed.name for deed in deeds(screen)}
        assert [keys[str(number)] for number in range(1, 8)] == [a.capitalize() for a in ANSWERS]
        assert not screen.query_one(Chart).display, "the plot would show the answer"
        assert result_of(pilot, "F_m") == ["434", "N", "?"]
        await pilot.press("right", "f5", "f3", "f4", "down", "home")
        assert screen.standing.asked is asked, "nothing moves until it is answered"
        assert screen.standing.exploration.now is screen.standing.exploration.own
        await pilot.press("4")
        assert shown(pilot, "#said") == asked.told(ANSWERS[3])
        assert screen.query_one(Chart).display
        assert screen.standing.exploration.over == asked.movable
        assert screen.standing.exploration.now.exact[asked.movable.key] == asked.to
        await pilot.press("right")
        assert shown(pilot, "#said").startswith(asked.movable.sign)


async def test_all_questions_come_in_turn_and_one_may_be_left(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        screen = screen_of(pilot)
        there = screen.standing.exploration.predictions
        seen = []
        for _ in range(len(there) + 1):
            await pilot.press("f2")
            seen.append(screen.standing.asked)
        assert seen == [*there, there[0]]
        await pilot.press("escape")
        assert screen.standing.asked is None
        assert screen.query_one(Chart).display
        assert screen_of(pilot) is screen, "the first Esc leaves the question only"
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, HomeScreen)


async def test_all_givens_are_set_back_at_once(shelf):
    app = exploring(shelf)
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        await pilot.press("right", "down", "right")
        assert shown(pilot, "#givens").count("*") == 3, "two moved, and what the sign means"
        await pilot.press("f7")
        assert shown(pilot, "#givens").count("*") == 1
        assert "the problem's own values again" in shown(pilot, "#said")


@pytest.mark.parametrize("size", SIZES, ids=["80", "120"])
async def test_the_cursor_lies_on_the_chosen_row_also_in_a_long_list(shelf, size):
    app = exploring(shelf, "shoulder-raised-arm-bag")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = screen_of(pilot)
        listed = screen.query_one(GivenList)
        await pilot.press(*["up"] * 12)
        for movable in screen.standing.exploration.movables:
            await pilot.pause()
            x, y = pilot.app.cursor_position
            row = str(listed.content).splitlines()[y - listed.content_region.y]
            assert x == listed.content_region.x
            assert row.startswith("›")
            assert row[2:].strip().startswith(movable.sign)
            await pilot.press("down")


async def test_without_equilibrium_it_is_said_and_no_value_is_shown(shelf):
    app = exploring(shelf, "plain-seesaw", "d_c")
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        await pilot.press(*["pagedown"] * 4)
        assert result_of(pilot, "F_h") == ["none"]
        assert "no equilibrium with these numbers: F_h" in shown(pilot, "#said").replace("\n", " ")
        plot, _, below = shown(pilot, "#chart").partition("┆ now, no equilibrium")
        assert below
        assert "●" not in plot.split("\n", 1)[1]


async def test_a_symbol_that_is_not_there_is_told(shelf):
    app = exploring(shelf, over="d_n")
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        assert shown(pilot, "#said").startswith("no given d_n (did you mean ")


async def test_the_problem_that_is_lit_is_explored_with_the_numbers_typed(shelf):
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        home = pilot.app.screen
        listed = home.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index("elbow-pail-of-water")
        home.query_one("#seed").value = "7"
        home.query_one("#own").value = "d_l = 40 cm"
        await pilot.press("ctrl+g")
        await settle(pilot)
        screen = screen_of(pilot)
        assert screen.standing.exploration.own.problem.id == "elbow-pail-of-water"
        assert screen.standing.exploration.own.seed == "7"
        assert screen.standing.exploration.own.exact["given_d_l"] == 40
        await pilot.press("escape")
        assert pilot.app.screen is home
        home.query_one("#own").value = "d_l = 4000 cm"
        listed.focus()
        await pilot.press("ctrl+g")
        await settle(pilot)
        assert pilot.app.screen is home, "it is judged before anything is opened"
        assert "✗ d_l of 4000 cm is outside 26 to 45 cm." in str(
            home.query_one("#guidance").content
        )


async def test_an_unfinished_working_is_explored_with_other_numbers(shelf):
    Practice.start(shelf.problems[PAIL], "7", CATALOGUE).enter("W_f", "1 N")
    app = LeverstepApp(material(shelf))
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        listed = pilot.app.screen.query_one("#choices", OptionList)
        listed.highlighted = listed.get_option_index("go-on:0")
        await pilot.press("ctrl+g")
        await settle(pilot)
        assert screen_of(pilot).standing.exploration.own.problem.id == PAIL
        assert screen_of(pilot).standing.exploration.own.seed != "7"


def right_entries(practice: Practice) -> Iterator[tuple[str, str]]:
    for step in practice.working.steps:
        yield step.key, right_line(practice.question, step)


async def test_a_working_is_explored_at_its_end_and_not_before(shelf):
    app = LeverstepApp(material(shelf), Opening(shelf.problems[PAIL], "7"))
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        work = pilot.app.screen
        assert isinstance(work, WorkScreen)
        assert work.check_action("explore", ()) is False
        await pilot.press("ctrl+g")
        await settle(pilot)
        assert pilot.app.screen is work, "it would give answers away"
        for key, text in right_entries(work.practice):
            work.practice.enter(key, text)
        work.paint()
        await settle(pilot)
        assert "Ctrl+G" in str(work.query_one("#onward", Static).content)
        await pilot.press("ctrl+g")
        await settle(pilot)
        assert screen_of(pilot).standing.exploration.own is work.practice.question
        await pilot.press("escape")
        assert pilot.app.screen is work


async def test_the_given_changes_exactly(shelf):
    """Steps are added as fractions, so that ten of a tenth are one."""
    app = exploring(shelf, over="d_m")
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        screen = screen_of(pilot)
        start = screen.standing.exploration.now.exact["given_d_m"]
        await pilot.press(*["right"] * 10)
        assert screen.standing.exploration.now.exact["given_d_m"] == start + Fraction(1)
