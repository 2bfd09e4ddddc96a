"""How cleanly a student converted units so far, by the records of practice and of drills."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from leverstep.course.places import home
from leverstep.course.shelf import Shelf
from leverstep.progress.history import read_history
from leverstep.progress.store import Store
from leverstep.slips.catalogue import Catalogue
from leverstep.working.conversions import CleanConversions, converted


def conversions_practised(
    shelf: Shelf, catalogue: Catalogue, now: datetime, data: Path | None = None
) -> CleanConversions:
    """Return how many lines of each unit in a row were right at the first try, without a hint.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        now: what counts as now, with its time zone.
        data: the folder of the records, the user's data folder unless given.
    """
    data = data or home()
    found = CleanConversions()
    with Store(shelf, catalogue, data) as store:
        history = read_history(shelf, catalogue, now, store, data)
    for worked in history.workings:
        if worked.card.id not in shelf.problems:
            continue
        units = converted(shelf.problems[worked.card.id])
        for entry in worked.entries:
            if entry.first and entry.step in units:
                found.notice(units[entry.step], entry.right)
    return found
