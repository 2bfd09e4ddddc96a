"""What drives a drill on the full screen in tests."""

from __future__ import annotations

from pathlib import Path

from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.drill_screen import DrillScreen
from leverstep.faces.screens.entrances import Entrance
from textual.pilot import Pilot

from helpers.drills import SHELF
from helpers.material import material
from helpers.pilots import press, settle


def app_at(path: Path, student: str = "s01", folder: Path | None = None) -> LeverstepApp:
    return LeverstepApp(material(SHELF), Entrance(path, student, folder))


def drill_screen(pilot: Pilot[int]) -> DrillScreen:
    assert isinstance(pilot.app.screen, DrillScreen)
    return pilot.app.screen


def sitting_of(pilot: Pilot[int]) -> Sitting:
    return drill_screen(pilot).sitting


async def begin(pilot: Pilot[int]) -> DrillScreen:
    """Go through the door as the student named."""
    await settle(pilot)
    await press(pilot, "enter")
    return drill_screen(pilot)


def all_text(pilot: Pilot[int]) -> str:
    """Return everything that stands on the screen."""
    rows = pilot.app.screen._compositor.render_strips()
    return "\n".join(strip.text for strip in rows)
