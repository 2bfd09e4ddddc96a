"""What there is to look back on at the end of a working, as data for every face alike.

Answers are shown only once every line that is asked for is right, so that none is given away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.bench.bench import Bench
from leverstep.course.phrases import listed
from leverstep.dialogue.ending import ending
from leverstep.dialogue.meaning import meaning
from leverstep.dialogue.replies import Ending, Mark
from leverstep.dialogue.working_dialogue import line_mark
from leverstep.free_body.picture_told import remembered
from leverstep.slips.catalogue import Slip
from leverstep.working.page import line_name, written_line
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

NO_SLIPS = "No slip was certain."
NO_WRONG = "No slip was made."
OPEN_STILL = (
    "The worked lines, and what they mean, are shown once every line that is asked for is right."
)


@dataclass(frozen=True, slots=True)
class SlipToRemember:
    """A slip that was made for sure: its name, the lines it was made on, what to remember of it.

    `slips` are those of the catalogue that share what is to be remembered.
    """

    slips: tuple[Slip, ...]
    lines: tuple[str, ...]
    remember: str

    @property
    def name(self) -> str:
        """Return what it is called."""
        return " or ".join(slip.name for slip in self.slips)

    @property
    def told(self) -> str:
        """Return slip, lines and what to remember in a sentence or two."""
        return f"{self.name}, at {listed(self.lines)}. Remember: {self.remember}"


@dataclass(frozen=True, slots=True)
class LinePair:
    """A line as the student wrote it, and as it is worked out.

    `own` is "" where nothing is written, `worked` where it is not shown. `standing` says what came
    of it, `tries` how often it was tried.
    """

    name: str
    own: str
    worked: str
    mark: Mark
    standing: str
    tries: int

    @property
    def is_as_worked(self) -> bool:
        """Return whether the student wrote just what is worked out."""
        return bool(self.worked) and self.own in (self.worked, f"{self.name}: {self.worked}")


@dataclass(frozen=True, slots=True)
class LookBack:
    """A whole working at its end. `meaning` is empty while a line asked for is open.

    `drawn` are the slips that were made in free-body diagrams, with what to remember of each.
    """

    ending: Ending
    slips: tuple[SlipToRemember, ...]
    lines: tuple[LinePair, ...]
    meaning: tuple[str, ...]
    drawn: tuple[str, ...] = ()

    @property
    def remembered(self) -> tuple[str, ...]:
        """Return what to remember of each slip, or that none was made for sure."""
        if self.slips or self.drawn:
            told = [slip.told for slip in self.slips]
            return tuple(f"Slip: {one}" for one in (*told, *self.drawn))
        wrong = any(line.tries > 1 or line.standing == Outcome.WRONG for line in self.lines)
        return (NO_SLIPS if wrong else NO_WRONG,)

    @property
    def meant(self) -> tuple[str, ...]:
        """Return what the result means, or when that is told."""
        return self.meaning or ((OPEN_STILL,) if self.ending.is_open else ())


def look_back(bench: Bench) -> LookBack:
    """Return what there is to look back on. Verdicts must be told by the rules at hand."""
    told = meaning(bench.question) if bench.working.complete else ()
    drawn = tuple(one for p in bench.picture_work.pictures for one in remembered(p))
    return LookBack(ending(bench), slips_to_remember(bench), tuple(_lines(bench)), told, drawn)


def slips_to_remember(bench: Bench) -> tuple[SlipToRemember, ...]:
    """Return the slips that were made for sure, with what to remember; that on most lines first."""
    working = bench.working
    found: dict[str, dict[Slip, list[str]]] = {}
    for slip, lines in bench.slips.items():
        found.setdefault(slip.reason, {})[slip] = lines
    told = [
        SlipToRemember(tuple(slips), _names(working, slips), reason)
        for reason, slips in found.items()
    ]
    return tuple(sorted(told, key=lambda one: -len(one.lines)))


def _names(working: Working, slips: dict[Slip, list[str]]) -> tuple[str, ...]:
    keys = {key for lines in slips.values() for key in lines}
    return tuple(line_name(step) for step in working.steps if step.key in keys)


def is_all_right(bench: Bench) -> bool:
    """Return whether every line asked for is right by itself, so that no answer is left to tell."""
    standing = (bench.working.lines.get(step.key) for step in bench.working.asked)
    return all(line is not None and line.verdict.outcome is Outcome.RIGHT for line in standing)


def _lines(bench: Bench) -> Iterator[LinePair]:
    working, question = bench.working, bench.question
    asked = {step.key for step in working.asked}
    for step in working.steps:
        line = working.lines.get(step.key)
        if line is None and step.key not in asked:
            continue
        yield LinePair(
            line_name(step),
            "" if line is None else written_line(step, line),
            worked_line(question, step, question.right) if working.complete else "",
            line_mark(working, step.key),
            "not written" if line is None else str(line.verdict.outcome),
            working.attempts.get(step.key, 0),
        )
