"""The command for one's own progress."""

from __future__ import annotations

import argparse
import sys
from datetime import datetime
from typing import TYPE_CHECKING

from tutor.terminal import is_plain, say_json
from tutor.usage import add_command, add_json, add_plain

if TYPE_CHECKING:
    from tutor.course.shelf import Shelf
    from tutor.usage import Commands


def add_progress(commands: Commands) -> None:
    """Add the command `progress` to a parser."""
    help_text = "what you practised, which slips are gone, and what to practise next"
    progress = add_command(commands, "progress", help_text, "progress")
    add_json(progress)
    add_plain(progress)
    progress.set_defaults(command=_progress)


def _progress(options: argparse.Namespace, shelf: Shelf) -> int:
    """Print the progress that the records of practice tell, as text or as JSON.

    What the JSON holds is said at `tutor.progress.export.as_data`.
    """
    from tutor.progress.export import as_data
    from tutor.progress.progress import read_progress
    from tutor.progress.telling import progress_report, spoken_report
    from tutor.slips.catalogue import catalogue_in_use

    for fault in catalogue_in_use().faults:
        print(fault, file=sys.stderr)
    progress = read_progress(shelf, datetime.now().astimezone())
    if options.json:
        say_json(as_data(progress))
    else:
        told = spoken_report if is_plain(options.plain) else progress_report
        print(told(progress), end="")
    return 0
