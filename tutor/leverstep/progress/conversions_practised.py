"""How cleanly a student converted units so far, by the records of practice and of drills."""

from __future__ import annotations

from leverstep.course.shelf import Shelf
from leverstep.progress.history import History
from leverstep.working.conversions import CleanConversions


def conversions_practised(history: History, shelf: Shelf) -> CleanConversions:
    """Return how many lines of each unit in a row were right at the first try, without a hint.

    `shelf` has the problems there are; a working of any other tells nothing.
    """
    found = CleanConversions()
    for worked in history.workings:
        if worked.card.id not in shelf.problems:
            continue
        units = shelf.problems[worked.card.id].converted
        for entry in worked.entries:
            if entry.first and entry.step in units:
                found.notice(units[entry.step], entry.right)
    return found
