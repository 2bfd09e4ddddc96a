"""The command `explore`: what follows when one number of a problem changes."""

from __future__ import annotations

import argparse
import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.new_file import write_new
from leverstep.course.plain_text import plain
from leverstep.faces.commands.usage import add_command, add_name, add_plain, seed
from leverstep.faces.terminal import is_plain, say

if TYPE_CHECKING:
    from leverstep.explore.exploration import Exploration
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material

SIZE = (90, 30)
"""Columns and rows of the grid that a plot as SVG is laid out on."""


def add_explore(commands: Commands) -> None:
    """Add the command `explore` to a parser."""
    example = "explore elbow-pail-of-water --over d_l --csv"
    explore = add_command(commands, "explore", "change a number and see what follows", example)
    add_name(explore)
    explore.add_argument(
        "--seed", type=seed, help="the numbers to begin with (new ones unless given)"
    )
    explore.add_argument("--over", metavar="SYMBOL", help="the given on the horizontal axis")
    forms = explore.add_mutually_exclusive_group()
    forms.add_argument("--csv", action="store_true", help="write a table for a spreadsheet")
    forms.add_argument("--svg", action="store_true", help="write the plot as a picture")
    add_plain(forms)
    explore.add_argument(
        "--out", type=Path, metavar="FILE", help="the file to write; it must be new"
    )
    explore.set_defaults(command=_explore)


def _explore(options: argparse.Namespace, material: Material) -> int:
    """Open the screen, or write a table, a picture or plain lines."""
    from leverstep.faces.openings import Opening, to_explore

    problem = material.shelf.find(options.name)
    make = partial(to_explore, Opening(problem, options.seed or ""), material.shelf)
    written = options.csv or options.svg or options.out
    if not written and not is_plain(options.plain):
        from leverstep.faces.screens.app import run_app
        from leverstep.faces.screens.entrances import Exploring

        exploring = Exploring(problem.title, make, options.over or "")
        return run_app(say, material.including(problem), exploring)
    from leverstep.explore.exploration import Exploration

    exploration = Exploration(make())
    if options.over is not None:
        trouble = exploration.hold(options.over)
        if trouble:
            print(f"{problem.id}: {trouble}", file=sys.stderr)
            return 2
    if written:
        _write(_form(options, exploration), options.out)
        return 0
    from leverstep.faces.lines.explore_line import ExploreLines

    ExploreLines(exploration, say, input).run(sweeps=options.over is not None)
    return 0


def _form(options: argparse.Namespace, exploration: Exploration) -> str:
    """Return the exploration in the form that is asked for; plain lines unless it is."""
    from leverstep.explore.table import as_csv, stated, told
    from leverstep.working.cautions import CAUTION

    if options.csv:
        return as_csv(exploration.now, exploration.over)
    if options.svg:
        return exploration.svg(*SIZE)
    sweep = told(exploration.now, exploration.sweep)
    return "".join(f"{line}\n" for line in (*stated(exploration.now), *sweep, CAUTION))


def _write(text: str, path: Path | None) -> None:
    """Write a text as it stands, its ends of line too, to a new file or the output."""
    if path is None:
        if hasattr(sys.stdout, "reconfigure"):
            sys.stdout.reconfigure(newline="")
        sys.stdout.write(text)
        return
    write_new(path, text)
    print(plain(f"{path} has been written."))
