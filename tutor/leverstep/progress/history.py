"""What was practised: the user's records, each judged again where that is not kept from before."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path

from leverstep.bench.practice import records_there_are
from leverstep.bench.record import RecordError
from leverstep.course.faults import FileError
from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.replay import PractisedPicture, Worked, practised, sat
from leverstep.progress.store import Store
from leverstep.slips.catalogue import Catalogue

_log = logging.getLogger(__name__)

Told = Callable[[int, int], None]
"""Is told, before a record is judged, how many have been read of how many.

What it raises ends the reading."""


@dataclass(frozen=True, slots=True)
class History:
    """All workings with lines, and all diagrams, the earliest first.

    `unusable` is how many records could not be used. `read_whole` has the kinds of problem of which
    an example was read that was shown whole.
    """

    workings: tuple[Worked, ...]
    unusable: int = 0
    drawn: tuple[PractisedPicture, ...] = ()
    read_whole: frozenset[str] = frozenset()


def tell_nobody(read: int, of_all: int) -> None:
    """Let the reading go on."""


def read_history(
    shelf: Shelf,
    catalogue: Catalogue,
    now: datetime,
    store: Store,
    data: Path | None = None,
    told: Told = tell_nobody,
) -> History:
    """Return what the records of practice and of drills that were handed in tell.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        now: what counts as now, with its time zone; days are those of this zone. Nothing is taken
            as later than that.
        store: what is kept of records judged before.
        data: the folder of the records, the user's data folder unless given.
        told: is told how far the reading is.
    """
    records = list(_records(shelf, catalogue, data or home()))
    workings: list[Worked] = []
    unusable = 0
    for number, (path, judge) in enumerate(records):
        tell = partial(told, number, len(records))
        found = store.workings(path, partial(_usable, judge, tell))
        if found is None:
            unusable += 1
        else:
            workings.extend(_seen_from(one, now) for one in found)
    written = (one for one in workings if one.entries)
    drawn = (one for working in workings for one in working.drawn)
    return History(
        tuple(sorted(written, key=lambda one: one.entries[0].time)), unusable,
        tuple(sorted(drawn, key=lambda one: one.time)),
        frozenset(one.card.asks for one in workings if one.read_whole),
    )  # fmt: skip


def history_kept(
    shelf: Shelf, catalogue: Catalogue, now: datetime, data: Path | None = None
) -> History:
    """Return what the records tell, as `read_history` does; what was judged is kept for next time.

    `data` is the folder of the records, the user's data folder unless given.
    """
    data = data or home()
    with Store(shelf, catalogue, data) as store:
        return read_history(shelf, catalogue, now, store, data)


Judge = Callable[[], tuple[Worked, ...]]


def _records(shelf: Shelf, catalogue: Catalogue, data: Path) -> Iterator[tuple[Path, Judge]]:
    """Yield every record there is, with what judges it."""
    for path in records_there_are(data / "practice"):
        yield path, partial(practised, path, shelf, catalogue)
    for path in sorted((data / "drills").glob("*/*.jsonl")):
        yield path, partial(sat, path, shelf, catalogue)


def _usable(judge: Judge, tell: Callable[[], None]) -> tuple[Worked, ...] | None:
    """Return what a record holds; None where it can't be used."""
    tell()
    try:
        return judge()
    except (RecordError, FileError, ValueError):
        return None
    except Exception:  # noqa: BLE001  (one record must not stop all the others)
        _log.exception("A record could not be judged again")
        return None


def _seen_from(worked: Worked, now: datetime) -> Worked:
    """Return a working with its times in the zone of `now`, and none later."""

    def seen(time: datetime) -> datetime:
        return min(time, now).astimezone(now.tzinfo)

    return replace(
        worked,
        entries=tuple(replace(one, time=seen(one.time)) for one in worked.entries),
        drawn=tuple(replace(one, time=seen(one.time)) for one in worked.drawn),
    )
