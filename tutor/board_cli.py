"""The command for the board: a worked solution, shown line by line before a class."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

from tutor.terminal import is_plain, say

if TYPE_CHECKING:
    from tutor.course.shelf import Shelf

    Adder = Callable[[argparse._SubParsersAction[argparse.ArgumentParser], str, str, str],
                     argparse.ArgumentParser]  # fmt: skip


def add_board(
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    add: Adder,
    seed: Callable[[str], str],
) -> None:
    """Add the command `board` to a parser; `seed` reads what numbers are drawn from."""
    help_text = "show a worked solution line by line, before a class"
    board = add(commands, "board", help_text, "board elbow-full-pail --seed 7")
    board.add_argument("name", metavar="NAME", help="a problem, or the path of a problem file")
    board.add_argument("--seed", type=seed, help="the numbers to show (new ones unless given)")
    board.add_argument("--plain", action="store_true", help="plain lines, for screen readers")
    board.set_defaults(command=_board)


def _board(options: argparse.Namespace, shelf: Shelf) -> int:
    from tutor.drill.practice import new_seed, sound

    problem = shelf.find(options.name)
    question = sound(problem.question(options.seed or new_seed()))
    if is_plain(options.plain):
        from tutor.board import Board
        from tutor.board_line import show_board

        show_board(Board(question), say, input)
        return 0
    from tutor.screens.app import run_app
    from tutor.screens.opening import Showing

    return run_app(say, Showing(question), shelf.including(problem))
