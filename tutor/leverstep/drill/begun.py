"""The drills begun on this account and not handed in, so that they are found again.

What is kept is a suggestion to whoever the account belongs to: a drill that is chosen is opened as
one whose path was typed.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from leverstep.course.places import home, put_by
from leverstep.course.plain_files import read_text
from leverstep.course.plain_text import plain
from leverstep.drill.drill import same_student
from leverstep.drill.sitting import Sitting

MOST = 20
"""So many sittings are remembered, the latest first."""

_LARGEST = 100_000
"""Bytes of the file that will be read."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A drill that was begun: its title, the path of its file, the folder of its records, by whom.

    `folder` is None for the user's data folder; `student` is "" where all who began it are one.
    """

    title: str
    path: Path
    folder: Path | None
    student: str = ""


def drills_begun() -> tuple[Begun, ...]:
    """Return the drills that are not handed in and whose files are there, the latest first."""
    found = [replace(one, student="") for one in sittings_begun()]
    return tuple(one for one in dict.fromkeys(found) if os.path.isfile(one.path))


def sittings_begun() -> tuple[Begun, ...]:
    """Return the sittings that were begun and not handed in, the latest first."""
    return tuple(
        Begun(plain(one["title"]), Path(one["path"]), _folder(one["records"]), one["student"])
        for one in _kept()
    )


def remember(sitting: Sitting, path: Path) -> None:
    """Note where a sitting can be gone on with, or that it is handed in.

    Nothing is noted where that can't be written. `path` is that of the drill's file.
    """
    folder = sitting.folder
    here = {
        "title": sitting.drill.title,
        "path": str(path),
        "student": sitting.student,
        "records": "" if folder is None else str(folder),
    }
    others = [line for line in _kept() if _whose(line) != _whose(here)]
    lines = others if sitting.ended else [here, *others]
    put_by(_place(), json.dumps(lines[:MOST]))


def _place() -> Path:
    return home() / "begun.json"


def _folder(name: str) -> Path | None:
    return Path(name) if name else None


def _kept() -> list[dict[str, str]]:
    """Return what is kept that makes sense."""
    with suppress(OSError, ValueError, RecursionError):
        lines = json.loads(read_text(_place(), _LARGEST))
        keys = {"title", "path", "student", "records"}
        return [line for line in lines if _holds(line, keys)] if isinstance(lines, list) else []
    return []


def _whose(line: dict[str, str]) -> tuple[str, str]:
    """Return which drill was begun, and by whom."""
    return line["path"], same_student(line["student"])


def _holds(line: object, keys: set[str]) -> bool:
    """Return whether something is a table of just these texts."""
    return (
        isinstance(line, dict)
        and set(line) == keys
        and all(isinstance(text, str) for text in line.values())
    )
