"""The board line by line, for screen readers: the next line at Enter, its reason beneath it."""

from __future__ import annotations

from tutor.board import Board
from tutor.diagram.words import describe
from tutor.terminal import STOP, Listen, Say
from tutor.working.wording import CAUTION

HELP = (
    "Enter: the next line of the worked solution.",
    "back: take the last line away.",
    "change and a given, such as change m_l = 20 lb: all lines follow.",
    "problem: the statement and the picture again.",
    "lines: all lines so far.",
    "stop: stop here.",
    "Anything else is judged as what the class says for the next line.",
)


def show_board(board: Board, say: Say, listen: Listen) -> None:
    """Show a board until the input ends, or `stop`."""
    say(board.question.problem.title)
    _state(board, say)
    say(f"Caution: {CAUTION}")
    say("Type help for what you can type.")
    while True:
        coming = board.next_line
        say("")
        say(f"Next: {coming.name}. {coming.asks}" if coming else "That was the last line.")
        try:
            typed = listen("Board: ").strip()
        except (EOFError, KeyboardInterrupt):
            say("")
            return
        if typed.lower() in STOP:
            return
        _follow(board, typed, say)


def _follow(board: Board, typed: str, say: Say) -> None:
    word, _, rest = typed.partition(" ")
    match word.lower():
        case "":
            if board.next_line is not None:
                board.show(board.shown + 1)
                last = board.lines[-1]
                say(f"{last.worked}.")
                say(last.reason)
        case "back":
            board.show(board.shown - 1)
            say(f"{board.shown} of {board.count} lines stand.")
        case "change":
            try:
                board.change(rest)
                say("Changed: all lines follow.")
            except ValueError as error:
                say(f"Not changed: {error}.")
        case "problem":
            _state(board, say)
        case "lines":
            for line in board.lines:
                say(f"{line.worked}.")
        case "help" | "?":
            for told in HELP:
                say(told)
        case _:
            say(board.judge(typed)[1])


def _state(board: Board, say: Say) -> None:
    say(board.question.statement)
    for line in describe(board.question, board.found):
        say(line)
