"""What ships is read once in each process of a run, though many tests load it anew.

A problem, a shelf and a catalogue are never changed once they are made; where a test makes the
reading itself fail, it reads a file of its own, or has a home of its own for the list of problems.
What reads a call is made once too.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from leverstep.course import problem_file
from leverstep.course import shelf as shelves
from leverstep.course.places import shipped, toml_files
from leverstep.faces.commands import calls
from leverstep.slips import catalogue as catalogues

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_read = catalogues.catalogue_of
_with_file = catalogues.Catalogue.with_file


@lru_cache
def _that_ships() -> tuple[list[Traversable], catalogues.Catalogue]:
    files = [*toml_files(shipped("hints"))]
    return files, _read(files)


def _read_once(files: Sequence[Traversable]) -> catalogues.Catalogue:
    """Return the catalogue of some files; the one that ships is always the same."""
    shipped_files, that_ships = _that_ships()
    return that_ships if [*files] == shipped_files else _read(files)


_grown: dict[tuple[int, str, str], catalogues.Catalogue] = {}
_ours = {0}
"""The catalogues that are kept there, each by its identity, and the empty one."""


def _grown_once(before: catalogues.Catalogue, path: Traversable, name: str) -> catalogues.Catalogue:
    """Return a catalogue with one more file; what ships is added once to what ships before it."""
    is_empty = not (before.files or before.slips or before.general or before.terms)
    key = (0 if is_empty else id(before), str(path), name)
    if key[0] not in _ours or path not in _that_ships()[0]:
        return _with_file(before, path, name)
    if key not in _grown:
        _grown[key] = found = _with_file(before, path, name)
        _ours.add(id(found))
    return _grown[key]


_home = os.environ["LEVERSTEP_HOME"]
_load = shelves.load_shelf
_shelf_that_ships = cache(_load)


def _shelf_once(
    folders: Iterable[Traversable] | None = None, own: Iterable[Traversable] = ()
) -> shelves.Shelf:
    """Return a shelf; of what ships alone there is one, where data lie in the home of the run."""
    asked, of_teacher = None if folders is None else [*folders], [*own]
    ships_alone = asked in (None, [shipped("problems")]) and not of_teacher
    if ships_alone and os.environ.get("LEVERSTEP_HOME") == _home:
        return _shelf_that_ships()
    return _load(asked, of_teacher)


def read_once() -> None:
    """Read what ships once from now on, whoever asks for it."""
    shelves.load_shelf = _shelf_once
    calls.every_command = cache(calls.every_command)
    catalogues.catalogue_of = _read_once
    catalogues.Catalogue.with_file = _grown_once
    problem_file.problem_of = lru_cache(1024)(problem_file.problem_of)
