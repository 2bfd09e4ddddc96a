"""A problem opened on the full screen: what is typed there, and what stands on it."""

from __future__ import annotations

from leverstep.course.shelf import Shelf
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.entrances import Opening
from leverstep.faces.screens.paper import Paper, PaperRow
from leverstep.faces.screens.work import WorkScreen
from leverstep.statics.step import Step
from leverstep.working.writing import substituted, worked_line
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input, Static

from helpers.material import material
from helpers.pilots import settle

PAIL = "elbow-full-pail"


WORDS = ("equation", "class", "reaction_direction")


def app_with(shelf: Shelf, name: str = PAIL, seed: str = "a1") -> LeverstepApp:
    return LeverstepApp(material(shelf), Opening(shelf.problems[name], seed))


def right_entry(screen: WorkScreen, step: Step) -> str:
    assert screen.practice is not None
    question = screen.practice.question
    values = question.graph.values(question.numbers, {})
    written = worked_line if step.kind.name in WORDS else substituted
    return written(question, step, values)


def wrong_entry(step: Step) -> str:
    words = {"equation": "W_f + W_l = 0", "class": "first", "reaction_direction": "up"}
    return words.get(step.kind.name, f"0.0123 {step.unit}".strip())


def work_screen(pilot: Pilot[int]) -> WorkScreen:
    assert isinstance(pilot.app.screen, WorkScreen)
    return pilot.app.screen


async def enter(pilot: Pilot[int], text: str) -> None:
    """Type a line and enter it, quicker than by single keys."""
    entry = work_screen(pilot).query_one("#entry", Input)
    entry.value = text
    await entry.action_submit()
    await settle(pilot)


def text_of(screen: Screen[object], name: str) -> str:
    return str(screen.query_one(name, Static).content)


def said(pilot: Pilot[int]) -> str:
    return text_of(pilot.app.screen, "#said")


def paper(pilot: Pilot[int]) -> dict[str, tuple[str, str]]:
    """Return the margin and the text of each line, by key."""
    rows = pilot.app.screen.query_one(Paper).rows
    return {row.key: (row.mark, row.text) for row in rows if isinstance(row, PaperRow)}
