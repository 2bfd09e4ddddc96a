"""A teacher's own folders of problems, hints and drills, beside what ships."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from leverstep.course.places import home

VARIABLE = "LEVERSTEP_LIBRARY"
"""The variable that names the libraries of a room, parted as the system parts paths."""


@dataclass(frozen=True, slots=True)
class Libraries:
    """A teacher's own libraries, each a folder, in their order; none of them need be there.

    Each may have folders `problems`, `hints` and `drills` in it; one that has none of them holds
    problems.
    """

    places: tuple[Path, ...] = ()

    def folders(self, kind: str) -> list[Path]:
        """Return the folders of "problems", "hints" or "drills" in the libraries that there are."""
        found = []
        for library in self.places:
            parts = [library / "problems", library / "hints", library / "drills"]
            if any(os.path.isdir(part) for part in parts):
                found.append(library / kind)
            elif kind == "problems":
                found.append(library)
        return [folder for folder in found if os.path.isdir(folder)]


def libraries_in_use(named: Iterable[Path] = ()) -> Libraries:
    """Return the libraries that a command names, then those of the room, then the user's own.

    The room names its own with `LEVERSTEP_LIBRARY`; the user's is `library` in the user's data.
    """
    of_room = [Path(name) for name in os.environ.get(VARIABLE, "").split(os.pathsep) if name]
    places = [place.absolute() for place in (*named, *of_room)]
    return Libraries((*places, home() / "library"))
