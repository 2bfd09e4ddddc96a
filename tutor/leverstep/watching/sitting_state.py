"""How one sitting stands, as its record has it so far: plain data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from leverstep.course.symbols import sign_of
from leverstep.free_body.body_picture import PICTURE_STEP

SLIP_TO_FIND = "slip to find"
"""What stands in the place of the key of a line while a slip is still to be found."""


@dataclass(frozen=True, slots=True, order=True)
class LineAtHand:
    """A line that a student is at: the number of its task, and its key.

    The key is that of a free-body diagram while that is drawn, and `SLIP_TO_FIND` before a slip in
    somebody else's working is found. `problem` is the title of the problem where that was drawn
    from a bank, else "".
    """

    task: int
    key: str
    problem: str = ""

    @property
    def told(self) -> str:
        """Return what the line is called."""
        if self.key == SLIP_TO_FIND:
            return "the slip to find"
        return "the diagram" if self.key.startswith(PICTURE_STEP) else sign_of(self.key)


@dataclass(frozen=True, slots=True)
class SlipMade:
    """A slip made for sure: its name, where, and when by the clock of the sitting, in seconds."""

    name: str
    at: LineAtHand
    used: float


@dataclass(frozen=True, slots=True)
class SittingState:
    """How a sitting stands. All clocks are its own, in seconds: they stand still while it is left.

    Attributes:
        student: whose it is, as the roster writes the id.
        begun: when it began, None where the record does not tell.
        last: when the last line was written, by the clock of the student's computer.
        seen: when that line was there, by the clock of the computer that watches.
        used: what its clock stood at then.
        is_ended: whether it was handed in.
        is_away: whether the student has left it.
        at: the line that the student is at; None where all are done.
        came: the clock when the student came to that line.
        stepped: the clock when a line was got right last, 0 before the first.
        wrong, unread, hints: wrong tries, lines not read and hints at that line.
        used_up: lines that are not right and can't be tried again.
        slips: all that were made for sure, each by its line.
        done, asked: how many lines are done, and how many are asked for.
    """

    student: str
    begun: datetime | None = None
    last: datetime | None = None
    seen: datetime | None = None
    used: float = 0.0
    is_ended: bool = False
    is_away: bool = False
    at: LineAtHand | None = None
    came: float = 0.0
    stepped: float = 0.0
    wrong: int = 0
    unread: int = 0
    hints: int = 0
    used_up: tuple[LineAtHand, ...] = ()
    slips: tuple[SlipMade, ...] = ()
    done: int = 0
    asked: int = 0

    @property
    def slip(self) -> str:
        """Return the name of the slip made last at that line, "" where none is known for sure."""
        return next((one.name for one in reversed(self.slips) if one.at == self.at), "")
