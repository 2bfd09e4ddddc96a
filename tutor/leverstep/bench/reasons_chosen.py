"""When a student wants likely slips to be named in practice, kept from one start to the next."""

from __future__ import annotations

from pathlib import Path

from leverstep.course.places import home, put_by
from leverstep.course.plain_files import read_text
from leverstep.working.rules import Reasons

_LONGEST = 100


def reasons_chosen() -> Reasons:
    """Return what was chosen; slips are named when asked for where nothing was, or can be read."""
    try:
        return Reasons(read_text(_place(), _LONGEST).strip())
    except (OSError, ValueError):
        return Reasons.WHEN_ASKED


def choose_reasons(reasons: Reasons) -> None:
    """Keep a choice for the next start; where nothing can be written, it is for this time only."""
    put_by(_place(), f"{reasons}\n")


def _place() -> Path:
    return home() / "reasons"
