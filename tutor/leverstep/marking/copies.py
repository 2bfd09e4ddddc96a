"""Records that begin alike: which are copies, and which another one goes on from.

What a record holds is told by its links as they are reckoned from what stands there, so that a copy
is one however its lines are written, and whatever links they bear.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from leverstep.bench.contents import contents
from leverstep.drill.earlier import is_handed_in
from leverstep.drill.seal_key import PrivateKey
from leverstep.marking.seals import checked_by

_File = TypeVar("_File")


@dataclass(frozen=True, slots=True)
class Strand:
    """A record as others are laid beside it: its links, where it breaks, whether it has an end."""

    links: tuple[str, ...]
    breaks: frozenset[int]
    has_end: bool


def strand_of(data: bytes, keys: Sequence[PrivateKey] = ()) -> Strand:
    """Return what is compared of the bytes of a record; its seals are checked by keys at hand."""
    found = contents(data)
    breaks = checked_by(keys, data).breaks.union(found.breaks)
    return Strand(found.reckoned, breaks, is_handed_in(found))


def distinct(files: Iterable[tuple[_File, Strand]]) -> dict[_File, list[_File]]:
    """Return the files that are records of their own, each with those that it goes on from.

    Of copies the one with the fewest breaks is kept. A record goes on from one that was not handed
    in, and with no break of its own: one that has any neither stands for another nor shortens it.
    """
    kept: dict[str, tuple[_File, Strand]] = {}
    for file, strand in sorted(files, key=lambda one: len(one[1].breaks)):
        kept.setdefault(strand.links[-1], (file, strand))
    before = {link: list(_before(strand, kept)) for link, (_, strand) in kept.items()}
    gone = {link for links in before.values() for link in links}
    return {
        kept[link][0]: [kept[one][0] for one in before[link]] for link in sorted(kept.keys() - gone)
    }


def _before(strand: Strand, kept: Mapping[str, tuple[_File, Strand]]) -> Iterator[str]:
    """Yield the last links of the records that one goes on from."""
    for link in strand.links[:-1]:
        if link in kept:
            other = kept[link][1]
            if strand.breaks <= other.breaks and not other.has_end:
                yield link
