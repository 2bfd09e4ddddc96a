"""The command for one's own progress."""

from __future__ import annotations

import argparse
import sys
from datetime import datetime
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command, add_json, add_plain
from leverstep.faces.terminal import is_plain, say_json

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_progress(commands: Commands) -> None:
    """Add the command `progress` to a parser."""
    help_text = "what you practised, which slips are gone, and what to practise next"
    progress = add_command(commands, "progress", help_text, "progress")
    progress.add_argument("--all", action="store_true", help="all figures, not only three lines")
    add_json(progress)
    add_plain(progress)
    progress.set_defaults(command=_progress)


def _progress(options: argparse.Namespace, material: Material) -> int:
    """Print the progress that the records of practice tell: in short, all of it, or as JSON.

    What the JSON holds is said at `leverstep.progress.export.as_data`.
    """
    from leverstep.progress.export import as_data
    from leverstep.progress.progress import read_progress
    from leverstep.progress.told import (
        progress_report,
        short_report,
        spoken_report,
        spoken_short_report,
    )

    catalogue = material.catalogue
    for fault in catalogue.faults:
        print(fault, file=sys.stderr)
    progress = read_progress(material.shelf, catalogue, datetime.now().astimezone())
    if options.json:
        say_json(as_data(progress))
    elif is_plain(options.plain):
        told = spoken_report if options.all else spoken_short_report
        print(told(progress), end="")
    else:
        told = progress_report if options.all else short_report
        print(told(progress), end="")
    return 0
