"""What ships, as tests work with it: its slips, and any shelf beside them."""

from __future__ import annotations

from leverstep.course.libraries import Libraries
from leverstep.course.shelf import Shelf
from leverstep.faces.material import Material

CATALOGUE = Material(Libraries()).catalogue


def material(shelf: Shelf) -> Material:
    """Return the problems of a shelf with the slips that ship."""
    return Material(Libraries(), shelf)
