"""The screens that README shows, each reached by keys from a problem that ships."""

from __future__ import annotations

import asyncio
import os
import re
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from tempfile import TemporaryDirectory
from unittest.mock import patch

from helpers.material import material
from leverstep.course.shelf import load_shelf
from leverstep.faces.openings import Opening
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.entrances import Exploring, Showing
from leverstep.faces.screens.themes import DARK
from textual.pilot import Pilot

SHELF = load_shelf()
Keys = Callable[[Pilot[int]], Awaitable[None]]

_FONT = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)
_COMMENT = re.compile(r"\s*<!--.*?-->")
_NAME = re.compile(r"terminal-\d+")
_BUTTONS = re.compile(r"\s*<g[^>]*>\s*(?:<circle[^>]*/>\s*)+</g>")
"""The buttons of a window, which are those of one desktop; a terminal has none of its own."""


@dataclass(frozen=True)
class Scene:
    """A screen: what is opened, how large the terminal is, and the keys that lead there."""

    title: str
    opened: Callable[[], Opening | Showing | Exploring | None]
    keys: Keys
    size: tuple[int, int] = (80, 24)


async def _settled(pilot: Pilot[int]) -> None:
    """Wait until no worker runs and the screen is painted."""
    for _ in range(3):
        await pilot.pause()
        while any(not worker.is_finished for worker in pilot.app.workers):
            await pilot.pause(0.02)
    await pilot.pause()


async def _only_look(pilot: Pilot[int]) -> None:
    await _settled(pilot)


async def _slip_with_hint(pilot: Pilot[int]) -> None:
    await _settled(pilot)
    for keys in ([*"12.26 N", "enter"], [*"21.0 N", "enter"], ["f2"], ["f2"]):
        await pilot.press(*keys)
        await _settled(pilot)


async def _board_at_the_muscle(pilot: Pilot[int]) -> None:
    await _settled(pilot)
    await pilot.press(*["right"] * 15)
    await _settled(pilot)


async def _attached_further_in(pilot: Pilot[int]) -> None:
    await _settled(pilot)
    await pilot.press(*["left"] * 7)
    await _settled(pilot)


def _pail() -> Opening:
    return Opening(SHELF.problems["elbow-pail-of-water"], "7")


def _curl() -> Showing:
    return Showing(SHELF.problems["elbow-tilted-forearm"].question("7"))


def _held_pail() -> Exploring:
    problem = SHELF.problems["elbow-pail-of-water"]
    return Exploring(problem.title, lambda: problem.question("7"), "d_m")


SCENES: dict[str, Scene] = {
    "problems": Scene("The problems to choose from", lambda: None, _only_look),
    "working": Scene("A wrong line, what it looks like, and a hint", _pail, _slip_with_hint),
    "board": Scene("The board before a class", _curl, _board_at_the_muscle, (100, 30)),
    "explore": Scene(
        "Force and reaction over the attachment", _held_pail, _attached_further_in, (100, 30)
    ),
}


def picture(name: str) -> str:
    """Return a scene as SVG, the same every time and with nothing to be fetched."""
    with TemporaryDirectory() as home:
        setting = {"LEVERSTEP_HOME": home, "LEVERSTEP_LOOK": DARK.name}
        with patch.dict(os.environ, setting):
            os.environ.pop("NO_COLOR", None)
            drawn = asyncio.run(_drawn(SCENES[name]))
    for left_out in (_FONT, _COMMENT, _BUTTONS):
        drawn = left_out.sub("", drawn)
    return _NAME.sub(f"leverstep-{name}", drawn)


async def _drawn(scene: Scene) -> str:
    app = LeverstepApp(material(SHELF), scene.opened())
    async with app.run_test(size=scene.size) as pilot:
        await scene.keys(pilot)
        return app.export_screenshot(title=scene.title)


def words(svg: str) -> list[str]:
    """Return the texts of a picture, in order."""
    return [text for text in re.findall(r"<text[^>]*>([^<]*)</text>", svg) if text.strip()]
