"""The problems and slips that a command works with. Light: the first screen needs neither."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from leverstep.course.libraries import Libraries
    from leverstep.course.problem import Problem
    from leverstep.course.shelf import Shelf
    from leverstep.slips.catalogue import Catalogue


class Material:
    """The problems and the slips that ship, with those of a teacher's own libraries.

    A command makes it once, and hands it on, or what is needed of it.
    """

    def __init__(self, libraries: Libraries, shelf: Shelf | None = None) -> None:
        """Begin; without a shelf there are all problems, read on first use."""
        self.libraries = libraries
        if shelf is not None:
            self.shelf = shelf

    @cached_property
    def shelf(self) -> Shelf:
        """Return the problems, read on first use."""
        from leverstep.course.shelf import load_shelf

        return load_shelf(own=self.libraries.folders("problems"))

    @cached_property
    def catalogue(self) -> Catalogue:
        """Return the slips and hints, read on first use."""
        from leverstep.slips.catalogue import catalogue_in_use

        return catalogue_in_use(self.libraries)

    def including(self, problem: Problem) -> Material:
        """Return the material with a problem that was found by its path."""
        return Material(self.libraries, self.shelf.including(problem))
