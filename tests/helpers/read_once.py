"""What ships is read once in each process of a run, though many tests load it anew.

A problem and a catalogue are never changed once they are made; where a test makes the reading
itself fail, it reads a file of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING

from leverstep.course import problem_file
from leverstep.course.places import shipped
from leverstep.slips import catalogue as catalogues

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_load = catalogues.load_catalogue


@lru_cache
def _that_ships() -> catalogues.Catalogue:
    return _load([shipped("hints")])


def _load_once(
    folders: Iterable[Traversable], own: Iterable[Traversable] = ()
) -> catalogues.Catalogue:
    """Return the catalogue of some folders; the one that ships is always the same."""
    folders, own = [*folders], [*own]
    return _load(folders, own) if own or folders != [shipped("hints")] else _that_ships()


def read_once() -> None:
    """Read what ships once from now on, whoever asks for it."""
    catalogues.load_catalogue = _load_once
    problem_file.problem_of = lru_cache(1024)(problem_file.problem_of)
