"""The end of a working on the full screen: what is read there, and where its keys lead."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from helpers.material import material
from helpers.pilots import press, settle
from helpers.screens import PAIL, app_with, right_entry, text_of, work_screen
from hypothesis import given
from hypothesis import strategies as st
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.lookback import look_back
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.lookback_screen import LookBackScreen
from leverstep.faces.screens.page_path import PagePathScreen
from leverstep.faces.screens.work import WorkScreen
from leverstep.faces.screens.written import TEXT_WIDTH, wrapped_lines
from leverstep.working.guidance import Guidance
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Input

SHELF = load_shelf()


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty folder, where pages are written."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    (tmp_path / "place").mkdir()
    monkeypatch.chdir(tmp_path / "place")
    return tmp_path / "place"


async def finish(pilot: Pilot[int], slip: bool = True) -> WorkScreen:
    """Bring the working to its end, with g forgotten once or without a slip."""
    await settle(pilot)
    screen = work_screen(pilot)
    bench = screen.bench
    assert bench is not None
    if slip:
        bench.enter("W_f", f"{bench.question.right['W_f'] / 9.81:.4g} N")
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(screen, step))
    screen.paint()
    await settle(pilot)
    return screen


@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80", "120"])
async def test_the_end_is_read_kept_as_a_page_and_led_on_from(
    size: tuple[int, int], place: Path
) -> None:
    app = app_with(SHELF)
    async with app.run_test(size=size) as pilot:
        screen = await finish(pilot)
        assert screen.practice is not None
        back = look_back(screen.practice)
        (slip,) = back.slips
        assert "Ctrl+O  one for the slip" in text_of(screen, "#onward")
        assert text_of(screen, "#remember") == f"Remember: {slip.remember}"
        await press(pilot, "f10")
        there = app.screen
        assert isinstance(there, LookBackScreen)
        assert there.query_one(VerticalScroll).has_focus
        for told in (*back.remembered, *back.meaning):
            assert told in text_of(there, "#remembered")
        assert "Ctrl+O" in text_of(there, "#ways")
        assert "Ctrl+N" in text_of(there, "#ways")
        lines = " ".join(text_of(there, "#lines").split())
        assert all(" ".join(line.own.split()) in lines for line in back.lines)
        for _ in range(9):
            await pilot.press("pagedown")
        pane = there.query_one(VerticalScroll)
        assert pane.scroll_y == pane.max_scroll_y > 0
        assert there.query_one("#lines").size.width >= TEXT_WIDTH  # so that no line is broken

        await press(pilot, "ctrl+s")
        assert isinstance(app.screen, PagePathScreen)
        field = app.screen.query_one(Input)
        assert field.value == "leverstep-elbow-full-pail-a1.html"
        field.value = "nowhere/page.html"
        await press(pilot, "enter")
        assert "there is no folder" in " ".join(text_of(app.screen, "#trouble").split())
        field.value = "mine.md"
        await press(pilot, "enter")
        assert str(place / "mine.md") in text_of(app.screen, "#trouble")
        await press(pilot, "enter")
        assert [path.name for path in place.iterdir()] == ["mine.md"]
        assert app.screen is screen

        await press(pilot, "f10", "ctrl+o")
        following = work_screen(pilot)
        assert following is not screen
        assert following.opening.problem.id != PAIL
        assert following.practice is not None
        assert following.practice.working.lines == {}


async def test_each_key_leads_on_from_the_end_itself_led_as_before() -> None:
    app = LeverstepApp(
        material(SHELF), Opening(SHELF.problems[PAIL], "a1", guidance=Guidance.LANDMARKS)
    )
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await finish(pilot, slip=False)
        assert text_of(screen, "#remember") == ""
        assert screen.check_action("go_on", ("slip",)) is False
        assert "Ctrl+O" not in text_of(screen, "#onward")
        await press(pilot, "ctrl+o")
        assert app.screen is screen
        await press(pilot, "f10", "escape")
        assert app.screen is screen
        await press(pilot, "f7")
        again = work_screen(pilot)
        assert again.opening.problem.id == PAIL
        assert again.practice is not None
        assert again.practice.working.guidance is Guidance.LANDMARKS
        await press(pilot, "ctrl+n", "ctrl+s", "f10")
        assert app.screen is again, "before its end nothing leads on"
        await finish(pilot, slip=False)
        await press(pilot, "ctrl+n")
        assert work_screen(pilot).opening.problem.id != PAIL


PARTS = st.tuples(
    st.sampled_from(["12.5", "9.81", "0.255 m", "16.19 N", "(3.2", "1e-3", "−0.5"]),
    st.sampled_from(["*", "÷", " + ", "-", "·", ")/", " ("]),
)
ENTRIES = st.lists(PARTS, min_size=1, max_size=40).map(lambda parts: "".join(map("".join, parts)))


@given(ENTRIES, st.integers(12, 62))
def test_no_number_is_cut_where_a_line_is_wrapped(entry: str, width: int) -> None:
    """However a student wrote it, with spaces between or none."""
    parts = wrapped_lines(entry, width)
    assert max(map(len, parts), default=0) <= width
    whole = re.sub(r"\s", "", entry)
    assert re.sub(r"\s", "", "".join(parts)) == whole
    numbers = re.findall(r"\d+(?:\.\d+)*(?:e-\d+)?", whole)
    assert [n for p in parts for n in re.findall(r"\d+(?:\.\d+)*(?:e-\d+)?", p)] == numbers
