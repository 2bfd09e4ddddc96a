"""Where things lie: what ships, and the user's data."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

from leverstep.course.plain_files import read_text
from leverstep.course.sharing import make_folder, put_whole

_LONGEST_WORD = 100
"""Bytes that are read of a file that holds one word."""


def shipped(folder: str) -> Traversable:
    """Return the folder of data that ships with the program: `problems` or `hints`.

    A wheel carries it inside the package, and so does the one file that is made of it; a clone has
    it beside the package.
    """
    from importlib.resources import files

    inside = files("leverstep") / folder
    return inside if inside.is_dir() else Path(__file__).resolve().parents[3] / folder


def archive() -> Path | None:
    """Return the one file that carries the program, None where it lies in a folder."""
    carried = getattr(__spec__.loader, "archive", None)
    return None if carried is None else Path(carried)


def toml_files(folder: Traversable) -> list[Traversable]:
    """Return the TOML files in a folder, and in those within it, in their order."""
    if isinstance(folder, Path):
        return [*sorted(folder.rglob("*.toml"))]  # which follows no links
    return sorted(_toml_files(folder), key=str)


def _toml_files(folder: Traversable) -> Iterator[Traversable]:
    for inside in folder.iterdir():
        if inside.is_dir():
            yield from _toml_files(inside)
        elif inside.name.endswith(".toml"):
            yield inside


def home() -> Path:
    """Return the folder of the user's data: `LEVERSTEP_HOME`, or the system's usual place."""
    named = os.environ.get("LEVERSTEP_HOME")
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("leverstep", appauthor=False)


def path_typed(text: str) -> Path:
    """Return the path that somebody typed: in quotes or not, `~` for the user's own folder."""
    return Path(os.path.expanduser(text.strip().strip('"'))).absolute()


def put_by(place: Path, text: str, waits: bool = True) -> None:
    """Write a file of the user's data whole; where that can't be done, it stays as it was.

    What is written often need not wait for the disk: it is there however the program ends.
    """
    with suppress(OSError):
        make_folder(place.parent)
        put_whole(place, text.encode(), waits=waits)


def put_by_word(name: str, word: str) -> None:
    """Keep what was chosen for the next start; where it can't be, it is for this time only."""
    put_by(home() / name, f"{word}\n")


def word_put_by(name: str) -> str:
    """Return what was kept so; "" for nothing, or nothing that can be read."""
    try:
        return read_text(home() / name, _LONGEST_WORD).strip()
    except (OSError, ValueError):
        return ""
