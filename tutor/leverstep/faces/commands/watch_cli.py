"""The command for a class at work: its records followed while it sits a drill."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import (
    add_command,
    add_drill_file,
    add_part,
    add_plain,
    add_without_names,
)
from leverstep.faces.terminal import is_plain, say, write

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_watch(own: Commands) -> None:
    """Add the command `watch` to those of `drill`."""
    told = "watch a class at work: who to go to next, and which slips are made"
    watch = add_command(own, "watch", told, "drill watch levers.toml records/")
    add_drill_file(watch)
    watch.add_argument("records", type=Path, metavar="DIR", help="the folder of the records")
    add_without_names(watch, "no names and no ids, only how many are where: for a projector")
    add_part(watch, "watch")
    add_plain(watch)
    watch.set_defaults(command=_watch)


def _watch(options: argparse.Namespace, material: Material) -> int:
    from leverstep.course.faults import Fault, FileError
    from leverstep.drill.part_of_class import read_part
    from leverstep.watching.class_watch import ClassWatch

    problems = material.shelf.problems
    drill = read_part(options.file, problems, options.roster, options.section)
    if not options.records.is_dir():
        fault = Fault(str(options.records), "", "it is not there", "the folder of the records")
        raise FileError([fault])
    watch = ClassWatch(drill, material.catalogue, options.records)
    with_names = not options.without_names
    if is_plain(options.plain):
        from leverstep.faces.lines.watch_line import WatchLines

        interrupt = write if sys.stdin.isatty() else None
        WatchLines(watch, say, input, with_names, interrupt).run()
        return 0
    from leverstep.faces.screens.watch_screen import run_watch

    return run_watch(watch, with_names)
