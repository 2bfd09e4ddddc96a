"""What is said where the program itself fails: one sentence, and a report that shows no values."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.places import home
from leverstep.course.plain_text import plain
from leverstep.course.sharing import make_folder, write_whole
from leverstep.faces.terminal import look_for_garbage_seldom

if TYPE_CHECKING:
    from concurrent.futures import Executor

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


def report_faults() -> None:
    """Have every fault that the program gets over reported, and nothing printed of it."""
    logging.getLogger("leverstep").handlers = [Reports()]


def workers(count: int | None = None) -> Executor:
    """Return processes to mark with, on every core unless counted; their faults are reported."""
    from concurrent.futures import ProcessPoolExecutor

    return ProcessPoolExecutor(count, initializer=begin_worker)


def begin_worker() -> None:
    """Do what a process that marks does first, whichever machine it is on."""
    look_for_garbage_seldom()
    report_faults()


def told_of(error: BaseException) -> str:
    """Return what to say of a fault of the program, once a report of it is written."""
    place = _reported(error)
    report = f"A report for whoever looks after it: {plain(str(place))}" if place else _UNREPORTED
    return (
        "leverstep has stopped because of a fault of its own. All that you entered is kept; "
        f"start it again to go on where you were. {report}"
    )


def _places(error: BaseException) -> Iterator[str]:
    """Yield the kind of an error and where it was raised, then those that it came from.

    What it says of itself is left out: that may be what was typed.
    """
    while True:
        yield f"{type(error).__name__}\n"
        yield from traceback.format_tb(error.__traceback__)
        cause = error.__cause__ or error.__context__
        if cause is None:
            return
        error = cause
        yield "\nwhich came of\n"


_UNREPORTED = "No report of it could be written."


def _reported(error: BaseException) -> Path | None:
    """Write where the program failed, without the values that it held; return the report.

    None where it can't be written.
    """
    import platform  # these two only where a report is written
    import secrets

    now = datetime.now(UTC)
    place = home() / "faults" / f"{now:%Y%m%dT%H%M%S}-{secrets.token_hex(4)}.txt"
    system = f"Python {platform.python_version()}, {platform.system()} {platform.release()}"
    told = f"{now.isoformat()}\n{system}\n\n{''.join(_places(error))}"
    try:
        make_folder(place.parent)
        write_whole(place, told.encode(errors="replace"))
    except OSError:
        return None
    return place
