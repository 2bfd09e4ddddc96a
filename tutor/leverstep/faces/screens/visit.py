"""What goes from screen to screen for as long as the program runs. Light, as the first one is."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from leverstep.course.shelf import Shelf
    from leverstep.slips.habits import Habits


class Visit:
    """The problems to choose from, the habits shown on the way, and what is said at the end.

    `farewell` is what is still to be told once the screen is gone, "" for nothing.
    """

    def __init__(self, shelf: Shelf | None = None) -> None:
        """Begin a visit; without a shelf it has all problems there are, read on first use."""
        self.farewell = ""
        if shelf is not None:
            self.shelf = shelf

    @cached_property
    def shelf(self) -> Shelf:
        """Return the problems, read on first use."""
        from leverstep.course.shelf import load_shelf

        return load_shelf()

    @cached_property
    def habits(self) -> Habits:
        """Return the slips made again and again, over all that is worked in one sitting."""
        from leverstep.slips.habits import Habits

        return Habits()
