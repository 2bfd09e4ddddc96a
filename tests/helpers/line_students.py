"""A student who sits a drill in plain lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.lines.drill_door import sit
from leverstep.faces.lines.drill_line import DrillLines

from helpers.drills import SHELF, drill_file
from helpers.material import CATALOGUE

Typed = Iterable[str | Callable[[], str]]


class Student:
    """Types lines, or what a call returns when its turn comes, and hears what is said."""

    def __init__(self, typed: Typed) -> None:
        self.said: list[str] = []
        self._typed: Iterator[str | Callable[[], str]] = iter(typed)

    def listen(self, prompt: str) -> str:
        """Return what is typed at a prompt."""
        self.said.append(prompt)
        for entry in self._typed:
            return entry if isinstance(entry, str) else entry()
        raise EOFError

    def sits(self, path: Path, student: str = "", folder: Path | None = None) -> None:
        """Sit the drill of a file."""
        drill = read_drill(path, SHELF.problems)
        sit(
            drill, CATALOGUE, (path, student, folder), self.said.append, self.listen, lambda _: None
        )

    def heard(self, start: str) -> list[str]:
        """Return the lines said that begin so."""
        return [line for line in self.said if line.startswith(start)]


def works(sitting: Sitting, typed: Typed, heard: Callable[[str], None] | None = None) -> Student:
    """Have a sitting that has begun worked; `heard` hears what the clock says meanwhile."""
    student = Student(typed)
    DrillLines(sitting, student.said.append, student.listen, "come", lambda _: None, heard).run()
    return student


def begun(folder: Path, rules: str = "") -> Sitting:
    return Sitting.start(
        read_drill(drill_file(folder, rules), SHELF.problems), CATALOGUE, "s01", folder / "r"
    )


LEFT = "You have left; nothing was begun or changed."
