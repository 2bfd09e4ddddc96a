"""What lists show of each problem, kept from one start to the next.

Reading a file whole takes a millisecond or two; a list of a thousand must not wait for that. A card
holds for as long as its file, and the code that made it, stay as they are.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from leverstep.course.faults import Fault, FileError, failing_as_fault
from leverstep.course.places import archive, home, put_by
from leverstep.course.plain_files import read_text
from leverstep.course.problem import PLACEHOLDER, Problem
from leverstep.statics.points import Given

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

LARGEST_STORE = 20_000_000
"""Bytes; a card is some hundred."""


@dataclass(frozen=True, slots=True)
class Card:
    """One problem in a list.

    `measurable` says which numbers of the own body it takes, `limits` within which limits; `about`
    is its statement without the numbers of a student.
    """

    id: str
    title: str
    joint: str
    difficulty: int
    lever_class: int | None
    units: str
    asks: str
    measurable: str
    limits: str
    about: str
    path: str
    retired: bool = False


def card_of(problem: Problem) -> Card:
    """Return the card of a problem.

    Raises:
        FileError: where the program fails over its posture.
    """
    givens = [given for given in problem.givens if given.key in problem.own]
    with failing_as_fault(problem.called):
        lever_class = problem.lever_class
    return Card(
        problem.id,
        problem.title,
        problem.joint,
        problem.difficulty,
        lever_class,
        problem.units,
        problem.asks,
        "; ".join(f"{given.sign} = … {given.unit}" for given in givens),
        "; ".join(f"{given.sign} {_limits(problem, given)}" for given in givens),
        PLACEHOLDER.sub(lambda found: _gap(problem, found[1]), problem.statement),
        "" if problem.path is None else str(problem.path),
        problem.retired,
    )


def _limits(problem: Problem, given: Given) -> str:
    """Return within which limits a measured value is taken: `35 to 150 kg`."""
    low, high = problem.own[given.key]
    return f"{float(low):g} to {float(high):g} {given.unit}".rstrip()


def _gap(problem: Problem, sign: str) -> str:
    """Return what stands in a statement for a number that is not drawn yet: `… kg`."""
    return f"… {problem.placeholders[sign].unit}".rstrip()


class CardStore:
    """The cards of the last start, by path; files that changed since are read anew."""

    def __init__(self) -> None:
        self._place = home() / "cards.json"
        self._code = stamp_of_all([Path(__file__).parent, Path(__file__).parent.parent / "statics"])
        self._kept = self._read()
        self._changed = False

    def card(self, path: Traversable) -> Card | tuple[Fault, ...]:
        """Return the card of a problem file, or its faults."""
        stamp = stamp_of(path)
        kept = self._kept.get(str(path))
        if isinstance(kept, dict) and kept.get("stamp") == stamp:
            with suppress(TypeError, KeyError):
                return _as_kept(kept, path)
        found = _read_anew(path)
        as_data = (
            {"card": asdict(found)}
            if isinstance(found, Card)
            else {"faults": [[f.file, f.key, f.found, f.expected] for f in found]}
        )
        self._kept[str(path)] = {"stamp": stamp, **as_data}
        self._changed = True
        return found

    def save(self, paths: Iterable[Traversable]) -> None:
        """Keep the cards of some files for the next start, where that can be written."""
        if not self._changed:
            return
        names = {str(path) for path in paths}
        kept = {path: card for path, card in self._kept.items() if path in names}
        put_by(self._place, json.dumps({"code": self._code, "files": kept}))

    def _read(self) -> dict[str, Any]:
        with suppress(OSError, ValueError, RecursionError):
            kept = json.loads(read_text(self._place, LARGEST_STORE))
            if isinstance(kept, dict) and kept.get("code") == self._code:
                files = kept.get("files")
                return files if isinstance(files, dict) else {}
        return {}


def _as_kept(kept: Mapping[str, Any], path: Traversable) -> Card | tuple[Fault, ...]:
    """Return the card of a file, or its faults, as they were kept.

    Raises:
        TypeError, KeyError: where another hand made what is kept.
    """
    if "card" not in kept:
        return tuple(Fault(*parts) for parts in kept["faults"])
    card = replace(Card(**kept["card"]), path=str(path))
    shown = [str(value) for name, value in kept["card"].items() if name != "path"]
    if all(value.isprintable() for value in shown):
        return card
    raise KeyError


def _read_anew(path: Traversable) -> Card | tuple[Fault, ...]:
    # Here alone, so that a start at which no file changed loads nothing that reads one.
    from leverstep.course.problem_file import read_problem

    try:
        return card_of(read_problem(path))
    except FileError as error:
        return error.faults


def stamp_of(path: Traversable) -> str:
    """Return what changes with a file of the disk: its size and when it was written.

    It is "" where there is none: no file, or one in the archive that carries the program.
    """
    try:
        found = os.stat(str(path))
    except OSError:
        return ""
    return f"{found.st_size}-{found.st_mtime_ns}"


def stamp_of_all(folders: Iterable[Path], files: Iterable[Traversable] = ()) -> str:
    """Return what changes with the code and the tables in some folders, and with more files.

    Where an archive carries the program, it holds the folders.
    """
    inside = sorted(path for folder in folders for path in folder.rglob("*.*"))
    found = [*(path for path in inside if path.suffix in (".py", ".toml")), *files]
    carried = archive()
    found += [] if carried is None else [carried]
    return hashlib.sha256(" ".join(map(stamp_of, found)).encode()).hexdigest()
