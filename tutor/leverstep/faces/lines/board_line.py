"""The board line by line, for screen readers: the next line at Enter, its reason beneath it."""

from __future__ import annotations

from leverstep.board.board import Board, BoardLine
from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe
from leverstep.faces.lines.verbs import Conversation, Place
from leverstep.faces.terminal import Listen, Say
from leverstep.working.cautions import CAUTION_IN_SHORT, CAUTION_SAID

NONE_YET = "No line is on the board yet."


class BoardLines(Conversation):
    """A board in words: a line at Enter, and what is said of what the class says."""

    place = Place.BOARD
    prompt = "Board: "

    def __init__(self, board: Board, say: Say, listen: Listen) -> None:
        """Begin. What is said is for the ear: symbols are spelt."""
        super().__init__(lambda text: say(read_out(text)), listen)
        self.board = board

    def run(self) -> None:
        """Show the board until the input ends, or `stop`."""
        question = self.board.question
        self.say(f"{question.problem.title}, numbers {question.seed}.")
        self._state()
        self.say(CAUTION_SAID)
        self.converse()

    def lead_in(self) -> None:
        """Say what the next line is asked for."""
        self.say(self.board.asks)

    def do_next(self, _: str) -> None:
        """Show the next line."""
        if self.board.next_line is not None:
            self.board.show(self.board.shown + 1)
            self.do_again("")

    def do_back(self, _: str) -> None:
        """Take the last line away."""
        self.board.show(self.board.shown - 1)
        self.say(f"{self.board.shown} of {self.board.count} lines are shown.")

    def do_again(self, _: str) -> None:
        """Say the last line and its reason."""
        if not self.board.lines:
            self.say(NONE_YET)
            return
        self.say(_told(self.board.lines[-1]))
        self.say(self.board.lines[-1].reason)
        if note := self.board.lines[-1].note:
            self.say(note)

    def do_change(self, given: str) -> None:
        """Change a given; all lines follow."""
        try:
            self.board.change(given)
            self.say("Changed: all lines are updated. Type lines to hear them.")
        except ValueError as error:
            self.say(f"Not changed: {error}.")

    def do_problem(self, _: str) -> None:
        """Say the statement and the picture again."""
        self._state()
        self.say(CAUTION_IN_SHORT)

    def do_lines(self, _: str) -> None:
        """Say all lines so far."""
        for line in self.board.lines:
            self.say(_told(line))
        if not self.board.lines:
            self.say(NONE_YET)

    def do_judge(self, text: str) -> None:
        """Judge what the class says."""
        self.say(self.board.judge(text)[1])

    def _state(self) -> None:
        self.say(self.board.question.statement)
        for line in describe(self.board.question, self.board.found):
            self.say(line)


def _told(line: BoardLine) -> str:
    """Return a line with its name, which an equation or a word does not hold."""
    name = "" if line.worked.startswith(f"{line.name} =") else f"{line.name}: "
    return f"{name}{line.worked}."
