"""How many problems of a kind a student worked without a slip: by that an example fades."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.history import read_history
from leverstep.progress.store import Store
from leverstep.slips.catalogue import Catalogue


def clean_workings(
    shelf: Shelf, catalogue: Catalogue, now: datetime, kind: str, data: Path | None = None
) -> int:
    """Return how many workings came to their end with each line right at the first try.

    Those with a hint count as little as those with a slip. Lines that were shown do not matter.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        now: what counts as now, with its time zone.
        kind: what the problems ask for, as their cards have it.
        data: the folder of the records, the user's data folder unless given.
    """
    data = data or home()
    with Store(shelf, catalogue, data) as store:
        history = read_history(shelf, catalogue, now, store, data)
    return sum(
        one.finished
        and one.card.asks == kind
        and all(entry.right for entry in one.entries if entry.first)
        for one in history.workings
    )
