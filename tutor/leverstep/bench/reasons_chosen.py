"""When a student wants likely slips to be named in practice, kept from one start to the next."""

from __future__ import annotations

from leverstep.course.places import put_by_word, word_put_by
from leverstep.working.rules import Reasons

_PLACE = "reasons"


def reasons_chosen() -> Reasons:
    """Return what was chosen; slips are named when asked for where nothing was, or can be read."""
    try:
        return Reasons(word_put_by(_PLACE))
    except ValueError:
        return Reasons.WHEN_ASKED


def choose_reasons(reasons: Reasons) -> None:
    """Keep a choice for the next start; where nothing can be written, it is for this time only."""
    put_by_word(_PLACE, reasons)
