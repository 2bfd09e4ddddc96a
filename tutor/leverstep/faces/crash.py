"""What is said where the program itself fails: one sentence, and a report that shows no values."""

from __future__ import annotations

import itertools
import logging
import os
import platform
import traceback
from datetime import UTC, datetime
from pathlib import Path

from leverstep.course.faults import plain
from leverstep.course.places import home
from leverstep.course.sharing import make_folder, write_whole

MOST_REPORTS = 20
"""Reports that one run of the program leaves; the same fault may meet every line of a class."""


class Reports(logging.Handler):
    """Writes a report of each fault that the program got over, and prints nothing."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self._left = MOST_REPORTS

    def emit(self, record: logging.LogRecord) -> None:
        """Write a report of what was raised, if there are not too many already."""
        error = record.exc_info[1] if record.exc_info else None
        if error is not None and self._left:
            self._left -= 1
            _reported(error)


def told_of(error: BaseException) -> str:
    """Return what to say of a fault of the program, once a report of it is written."""
    place = _reported(error)
    report = f"A report for whoever looks after it: {plain(str(place))}" if place else _UNREPORTED
    return (
        "leverstep has stopped through a fault of its own. All that you entered is kept; start it "
        f"again to go on where you were. {report}"
    )


_numbers = itertools.count(1)
_UNREPORTED = "No report of it could be written."


def _reported(error: BaseException) -> Path | None:
    """Write where the program failed, without the values that it held; return the report.

    None where it can't be written.
    """
    now = datetime.now(UTC)
    place = home() / "faults" / f"{now:%Y%m%dT%H%M%S}-{os.getpid()}-{next(_numbers)}.txt"
    system = f"Python {platform.python_version()}, {platform.system()} {platform.release()}"
    lines = traceback.format_exception(error)  # frames and lines of code alone, no locals
    told = f"{now.isoformat()}\n{system}\n\n{''.join(lines)}"
    try:
        make_folder(place.parent)
        write_whole(place, told.encode(errors="replace"))
    except OSError:
        return None
    return place
