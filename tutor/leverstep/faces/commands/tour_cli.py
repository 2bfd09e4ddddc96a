"""The command for the tour."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import add_command, add_plain
from leverstep.faces.terminal import is_plain, say

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_tour(commands: Commands) -> None:
    """Add the command `tour` to a parser."""
    tour = add_command(commands, "tour", "one line step by step, for anyone new here", "tour")
    add_plain(tour)
    tour.set_defaults(command=_tour)


def _tour(options: argparse.Namespace, material: Material) -> int:
    """Take the tour, on the full screen or in plain lines, then go on to the problems."""
    if is_plain(options.plain):
        from leverstep.faces.lines.home_line import HomeLines

        HomeLines(material, say, input).run(with_tour=True)
        return 0
    from leverstep.faces.screens.app import run_app
    from leverstep.faces.screens.entrances import Touring

    return run_app(say, material, Touring())
