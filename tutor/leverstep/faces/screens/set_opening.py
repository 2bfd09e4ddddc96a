"""The screen that a mixed set is opened on. Light until one is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.screen import Screen

if TYPE_CHECKING:
    from leverstep.faces.openings import SetOpened
    from leverstep.faces.screens.visit import Visit


def screen_of(opened: SetOpened, visit: Visit) -> Screen[None]:
    """Return the screen of the problem at hand of a set, or of how one at its end went."""
    from leverstep.faces.screens.help import ReadScreen
    from leverstep.faces.screens.work import WorkScreen

    if opened.opening is None:
        return ReadScreen(opened.told)
    return WorkScreen(opened.opening, visit)
