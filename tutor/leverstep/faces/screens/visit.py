"""What goes from screen to screen for as long as the program runs. Light, as the first one is."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from leverstep.faces.material import Material

if TYPE_CHECKING:
    from leverstep.slips.habits import Habits


class Visit:
    """The problems and slips there are, the habits shown on the way, and what is said at the end.

    `farewell` is what is still to be told once the screen is gone, "" for nothing.
    """

    def __init__(self, material: Material) -> None:
        self.material = material
        self.farewell = ""

    @cached_property
    def habits(self) -> Habits:
        """Return the slips made again and again, over all that is worked in one sitting."""
        from leverstep.slips.habits import Habits

        return Habits()
