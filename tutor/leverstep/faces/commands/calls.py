"""How the program can be called: every command there is, with what it takes."""

from __future__ import annotations

import argparse

from leverstep.faces.commands.board_cli import add_board
from leverstep.faces.commands.completion_cli import add_completion
from leverstep.faces.commands.course_cli import add_course
from leverstep.faces.commands.drill_cli import add_drill
from leverstep.faces.commands.explore_cli import add_explore
from leverstep.faces.commands.page_cli import add_page
from leverstep.faces.commands.practise_cli import add_practise
from leverstep.faces.commands.problem_cli import add_check, add_problems, add_working
from leverstep.faces.commands.progress_cli import add_progress
from leverstep.faces.commands.sheet_cli import add_sheet
from leverstep.faces.commands.tour_cli import add_tour
from leverstep.faces.commands.usage import Usage, add_plain, library_option
from leverstep.faces.commands.vet_cli import add_vet
from leverstep.working.cautions import CAUTION


def every_command() -> argparse.ArgumentParser:
    """Return what reads a call; without a command its `command` is None."""
    parser: argparse.ArgumentParser = Usage(
        prog="leverstep",
        description="Practise joint statics line by line: from a posture to muscle force, "
        f"mechanical advantage and joint reaction. {CAUTION}",
        epilog="example: leverstep practise elbow-pail-of-water",
        parents=[library_option([])],
    )
    parser.add_argument("--version", action="store_true", help="show the version")
    add_plain(parser, default=False)
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (
        add_practise, add_problems, add_working, add_check, add_page, add_vet, add_explore,
        add_drill, add_course, add_progress, add_board, add_sheet, add_tour,
    ):  # fmt: skip
        add(commands)
    add_completion(commands, parser)
    return parser
