"""What to practise next by the records, in the words of a list."""

from __future__ import annotations

from datetime import datetime

from leverstep.course.shelf import Shelf
from leverstep.progress.history import Told, tell_nobody
from leverstep.progress.problem_list import Suggested
from leverstep.progress.progress import Progress, read_progress
from leverstep.progress.suggestions import Suggestion
from leverstep.progress.told import why
from leverstep.slips.catalogue import Catalogue


def suggested_now(
    shelf: Shelf, catalogue: Catalogue, told: Told = tell_nobody
) -> tuple[Suggested, ...]:
    """Return what to practise next, as the records of the user's data tell it now.

    Args:
        shelf: the problems there are.
        catalogue: the slips that are looked for.
        told: is told how far the reading is; what it raises ends it.
    """
    progress = read_progress(shelf, catalogue, datetime.now().astimezone(), told=told)
    return tuple(_suggested(one, progress) for one in progress.next)


def _suggested(one: Suggestion, progress: Progress) -> Suggested:
    told = why(one, progress)
    short = ", ".join(slip.name for slip in one.slips)
    return Suggested(one.card.id, told, short or told, bool(one.slips))
