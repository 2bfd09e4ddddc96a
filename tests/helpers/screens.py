"""A problem opened on the full screen: what is typed there, and what stands on it."""

from __future__ import annotations

from leverstep.course.shelf import Shelf
from leverstep.dialogue.free_page import FreePage
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.bench_screen import BenchScreen
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.page_screen import PageScreen
from leverstep.faces.screens.paper import Paper, PaperRow
from leverstep.faces.screens.work import WorkScreen
from leverstep.statics.step import Step
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input, Static

from helpers.material import material
from helpers.pilots import settle
from helpers.step_lines import right_line, wrong_line

PAIL = "elbow-full-pail"


def app_with(shelf: Shelf, name: str = PAIL, seed: str = "a1") -> LeverstepApp:
    return LeverstepApp(material(shelf), Opening(shelf.problems[name], seed))


def right_entry(screen: WorkScreen, step: Step) -> str:
    assert screen.practice is not None
    return right_line(screen.practice.question, step)


def wrong_entry(step: Step) -> str:
    return wrong_line(step, "W_f + W_l = 0")


def work_screen(pilot: Pilot[int]) -> WorkScreen:
    assert isinstance(pilot.app.screen, WorkScreen)
    return pilot.app.screen


async def enter(pilot: Pilot[int], text: str) -> None:
    """Type a line and enter it, quicker than by single keys."""
    await write_line(work_screen(pilot), text)
    await settle(pilot)


async def write_line(screen: BenchScreen, text: str) -> None:
    """Write a line into the field and enter it, or at the end of the page and leave it."""
    if isinstance(screen, PageScreen) and screen.page is not None:
        screen.editor.action_to_end()
        screen.editor.insert(text)
        screen.editor.action_leave_line()
        return
    entry = screen.query_one("#entry", Input)
    entry.value = text
    await entry.action_submit()


def still_written(screen: BenchScreen) -> str:
    """Return what stands in the field, or on the last line of the page with anything on it."""
    if isinstance(screen, PageScreen) and screen.page is not None:
        return next((line for line in reversed(screen.editor.lines) if line), "")
    return screen.query_one("#entry", Input).value


def text_of(screen: Screen[object], name: str) -> str:
    return str(screen.query_one(name, Static).content)


def said(pilot: Pilot[int]) -> str:
    return text_of(pilot.app.screen, "#said")


def paper(pilot: Pilot[int]) -> dict[str, tuple[str, str]]:
    """Return the margin and the text of each line, by key."""
    screen = pilot.app.screen
    if isinstance(screen, PageScreen) and screen.page is not None:
        return page_lines(screen.page)
    rows = screen.query_one(Paper).rows
    return {row.key: (row.mark.text, row.text) for row in rows if isinstance(row, PaperRow)}


def page_lines(page: FreePage) -> dict[str, tuple[str, str]]:
    """Return the mark in words and the text of each line of a page that stands, by key."""
    lines = zip(page._lines, page.marks, strict=True)
    return {
        page._key_of(line): (MARKS[mark].text, line.text)
        for line, mark in lines
        if page._key_of(line)
    }
