"""What comes of what a student does, as data: every face shows the same of it in its own way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from leverstep.working.verdict import Outcome, Verdict

NO_HINTS = "There are no hints in this drill."


class Mark(Enum):
    """How a line stands, as far as the rules let it be told."""

    OPEN = auto()
    SKIPPED = auto()
    FILLED = auto()
    TAKEN = auto()
    RIGHT = auto()
    FOLLOWED = auto()
    WRONG = auto()
    CLOSED = auto()
    UNREAD = auto()
    FAILED = auto()
    SAME = auto()
    KEPT = auto()
    UNKEPT = auto()

    @property
    def is_wrong(self) -> bool:
        """Return whether the line is known not to be right, to be tried again or not."""
        return self in (Mark.WRONG, Mark.CLOSED)


MARK_OF = {
    Outcome.RIGHT: Mark.RIGHT,
    Outcome.FOLLOWED: Mark.FOLLOWED,
    Outcome.WRONG: Mark.WRONG,
    Outcome.UNREAD: Mark.UNREAD,
    Outcome.SAME: Mark.SAME,
    Outcome.FAILED: Mark.FAILED,
    Outcome.KEPT: Mark.KEPT,
}
"""The mark of an outcome that is told."""


class Way(Enum):
    """What a face may tell after an answer, in words of its own, of how to go on from there.

    `BACK` is to the line that was skipped, `HINTS` to the hints that were given, `UNITS` to have
    numbers without a unit taken in the unit that the line asks for.
    """

    BACK = auto()
    HINTS = auto()
    UNITS = auto()


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for: one line, or with the key "" any line of the working.

    `place` says where in the working that is, `asks` the question; `aside` what may be written
    besides, "" where that is one line alone. `standing` is what is written there after the symbol.
    """

    key: str
    place: str
    asks: str
    prompt: str
    example: str
    aside: str = ""
    standing: str = ""


@dataclass(frozen=True, slots=True)
class HintGiven:
    """A hint of a line: its number of how many, and what it costs where that is known.

    `is_new` says whether it was given just now; it is told again otherwise, at no cost.
    """

    key: str
    name: str
    number: int
    of: int
    text: str
    cost: str = ""
    is_new: bool = True

    @property
    def heading(self) -> str:
        """Return what stands before the hint: `Hint 1 of 4 for W_s`."""
        costs = f", {'costs' if self.is_new else 'which cost'} {self.cost}" if self.cost else ""
        return f"Hint {self.number} of {self.of} for {self.name}{costs}"


_NOW = {
    Outcome.RIGHT: "is right now",
    Outcome.FOLLOWED: "is right with your earlier value",
    Outcome.WRONG: "is not right any more",
}


@dataclass(frozen=True, slots=True)
class LineChanged:
    """Another line, whose verdict is not what it was before."""

    key: str
    name: str
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class DialogueAnswer:
    """What came of one thing that a student did.

    `key` and `name` are those of the line it was about, "" where it was about none. `told` is a
    sentence or more. Of an entry there are `typed`, its `verdict`, its `mark` and the lines that
    changed by it. `moves_on` says whether what is asked for now is another line, `is_elsewhere`
    that it stands on another line than the one that was asked for; `told` names that then, and
    `name` is "". `is_late` says that it came too late to be taken, `is_free` that it might have
    been any line, so that it is named.
    `moved` says where the record lies now, "" where it was not moved. `is_chosen` says that a
    question beside the lines was answered, which is about no line.
    """

    key: str = ""
    name: str = ""
    told: str = ""
    verdict: Verdict | None = None
    mark: Mark = Mark.OPEN
    typed: str = ""
    changes: tuple[LineChanged, ...] = ()
    hint: HintGiven | None = None
    moves_on: bool = False
    is_elsewhere: bool = False
    is_late: bool = False
    is_free: bool = False
    moved: str = ""
    way: Way | None = None
    is_chosen: bool = False

    @property
    def changed(self) -> str:
        """Return in a sentence which other lines changed, "" for none."""
        if not self.changes:
            return ""
        parts = ", ".join(f"{one.name} {_NOW[one.outcome]}" for one in self.changes)
        return f"Lines that use {self.name or 'this one'} were checked again: {parts}."


class Trouble(Enum):
    """Why something was not written: the disk failed, no try will help, or another window wrote."""

    DISK = auto()
    NEVER = auto()
    ELSEWHERE = auto()


@dataclass(frozen=True, slots=True)
class Unkept:
    """What could not be written, so that nothing came of it.

    `told` says so, and what comes of it as soon as it can be; `stays` which line stays as it was
    until then. `again` is the seconds until it is to be tried again, None where no try will help.
    """

    trouble: Trouble
    told: str
    stays: str = ""
    again: float | None = None

    @property
    def heading(self) -> str:
        """Return what stands before what is told."""
        return "Not saved" if self.trouble is Trouble.DISK else "Not taken"


Reply = DialogueAnswer | Unkept
"""What a sitting says to what a student does."""


@dataclass(frozen=True, slots=True)
class Ending:
    """How a working stands where nothing more is asked for.

    `results` are the values of what was to be found, with what each is; `is_open` says whether a
    line is there to go back to.
    """

    headline: str
    account: str
    results: tuple[str, ...]
    is_open: bool
