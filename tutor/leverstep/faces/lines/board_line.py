"""The board line by line, for screen readers: the next line at Enter, its reason beneath it."""

from __future__ import annotations

from leverstep.board.board import Board, BoardLine
from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.wording import CAUTION_IN_SHORT, CAUTION_SAID

HELP = (
    "Enter: the next line of the worked solution.",
    "back: take the last line away.",
    "again: the last line and its reason once more.",
    "change and a given, such as change m_l = 20 lb: all lines are updated.",
    "problem: the statement and the picture again.",
    "lines: all lines so far.",
    "stop: stop here.",
    "Anything else is judged as the class's answer for the next line.",
    CAUTION_SAID,
)


NONE_YET = "No line is on the board yet."


def show_board(board: Board, say: Say, listen: Listen) -> None:
    """Show a board until the input ends, or `stop`. What is said is for the ear: symbols spelt."""
    _show(board, lambda text: say(read_out(text)), listen)


def _show(board: Board, say: Say, listen: Listen) -> None:
    say(f"{board.question.problem.title}, numbers {board.question.seed}.")
    _state(board, say)
    say(CAUTION_SAID)
    say("Type help for what you can type.")
    while True:
        coming = board.next_line
        say("")
        say(f"Next: {coming.name}. {coming.asks}" if coming else "That was the last line.")
        try:
            typed = listen("Board: ").strip()
        except (EOFError, KeyboardInterrupt):
            say("")
            typed = STOP[0]
        if typed.lower() in STOP:
            say("Stopped.")
            return
        _follow(board, typed, say)


def _follow(board: Board, typed: str, say: Say) -> None:
    word, _, rest = typed.partition(" ")
    match word.lower():
        case "":
            if board.next_line is not None:
                board.show(board.shown + 1)
                _last(board, say)
        case "back":
            board.show(board.shown - 1)
            say(f"{board.shown} of {board.count} lines are shown.")
        case "again":
            _last(board, say)
        case "change":
            try:
                board.change(rest)
                say("Changed: all lines are updated. Type lines to hear them.")
            except ValueError as error:
                say(f"Not changed: {error}.")
        case "problem":
            _state(board, say)
            say(CAUTION_IN_SHORT)
        case "lines":
            for line in board.lines:
                say(_told(line))
            if not board.lines:
                say(NONE_YET)
        case "help" | "?":
            for told in HELP:
                say(told)
        case _:
            say(board.judge(typed)[1])


def _last(board: Board, say: Say) -> None:
    """Say the last line and its reason."""
    if not board.lines:
        say(NONE_YET)
        return
    say(_told(board.lines[-1]))
    say(board.lines[-1].reason)


def _told(line: BoardLine) -> str:
    """Return a line with its name, which an equation or a word does not hold."""
    name = "" if line.worked.startswith(f"{line.name} =") else f"{line.name}: "
    return f"{name}{line.worked}."


def _state(board: Board, say: Say) -> None:
    say(board.question.statement)
    for line in describe(board.question, board.found):
        say(line)
