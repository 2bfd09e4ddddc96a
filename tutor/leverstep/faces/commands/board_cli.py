"""The command for the board: a worked solution, shown line by line before a class."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import (
    add_command,
    add_name,
    add_plain,
    add_slips,
    seed,
    slips_to_find,
)
from leverstep.faces.terminal import is_plain, say

if TYPE_CHECKING:
    from leverstep.faces.commands.usage import Commands
    from leverstep.faces.material import Material


def add_board(commands: Commands) -> None:
    """Add the command `board` to a parser."""
    help_text = "show a worked solution line by line, before a class"
    board = add_command(commands, "board", help_text, "board elbow-pail-of-water --seed 7")
    add_name(board)
    board.add_argument("--seed", type=seed, help="the numbers to show (new ones unless given)")
    add_slips(board, "find")
    add_plain(board)
    board.set_defaults(command=_board)


def _board(options: argparse.Namespace, material: Material) -> int:
    from leverstep.bench.practice import new_seed, sound, with_slips
    from leverstep.faces.openings import refuse_any_numbers

    problem = material.shelf.find(options.name)
    refuse_any_numbers(problem, material.shelf)
    question = sound(problem.question(options.seed or new_seed()))
    slips = slips_to_find(options)
    if slips:
        with_slips(question, material.catalogue, slips)  # where none show, the problem is named
    if is_plain(options.plain):
        from leverstep.board.board import Board
        from leverstep.erroneous.slipped_board import SlippedBoard
        from leverstep.faces.lines.board_line import BoardLines

        catalogue = material.catalogue
        board = SlippedBoard(question, catalogue, slips) if slips else Board(question, catalogue)
        BoardLines(board, say, input).run()
        return 0
    from leverstep.faces.screens.app import run_app
    from leverstep.faces.screens.entrances import Showing

    return run_app(say, material.including(problem), Showing(question, slips))
