"""What there is to look back on at the end of a working, as data for every face alike.

Answers are shown only once every line that is asked for is right, so that none is given away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.bench.bench import Bench
from leverstep.course.phrases import counted, either, listed
from leverstep.dialogue.ending import ending
from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.meaning import meaning
from leverstep.dialogue.mending_told import slips_of_other
from leverstep.dialogue.replies import Ending, Mark
from leverstep.free_body.picture_told import remembered
from leverstep.questions.sureness import SUREST
from leverstep.slips.catalogue import Slip
from leverstep.working.page import line_name, written_line
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

_SHOWN = "shown"
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
        return either([slip.name for slip in self.slips])

    @property
    def told(self) -> str:
        """Return slip, lines and what to remember in a sentence or two."""
        return f"{self.name}, at {listed(self.lines)}. Remember: {self.remember}"


@dataclass(frozen=True, slots=True)
class LinePair:
    """A line as the student wrote it, and as it is worked out.

    `own` is "" where nothing is written, `worked` where it is not shown. `standing` says what came
    of it, `tries` how often it was tried, `was_wrong` that an entry there was not right. `is_held`
    says that the student was sure of that entry.
    """

    name: str
    own: str
    worked: str
    mark: Mark
    standing: str
    tries: int
    was_wrong: bool = False
    is_held: bool = False

    @property
    def is_shown(self) -> bool:
        """Return whether it was shown with its reason, as a line of an example."""
        return self.standing == _SHOWN

    @property
    def is_as_worked(self) -> bool:
        """Return whether the student wrote just what is worked out."""
        return bool(self.worked) and self.own in (self.worked, f"{self.name}: {self.worked}")


@dataclass(frozen=True, slots=True)
class LookBack:
    """A whole working at its end. `meaning` is empty while a line asked for is open.

    So is `expected`, what was expected before the first line beside what came out. `sure` says how
    often the student was sure, and rightly.
    `drawn` are the slips that were made in free-body diagrams, or by somebody else whose working
    was mended, with what to remember of each.
    """

    ending: Ending
    slips: tuple[SlipToRemember, ...]
    lines: tuple[LinePair, ...]
    meaning: tuple[str, ...]
    drawn: tuple[str, ...] = ()
    expected: tuple[str, ...] = ()
    sure: tuple[str, ...] = ()

    @property
    def in_turn(self) -> tuple[LinePair, ...]:
        """Return the lines as they are looked at: those first that were held surely and wrong."""
        return tuple(sorted(self.lines, key=lambda line: not line.is_held))

    @property
    def remembered(self) -> tuple[str, ...]:
        """Return what to remember of each slip, or that none was made for sure."""
        if self.slips or self.drawn:
            told = [slip.told for slip in self.slips]
            return tuple(f"Slip: {one}" for one in (*told, *self.drawn))
        return (NO_SLIPS if any(line.was_wrong for line in self.lines) else NO_WRONG,)

    @property
    def meant(self) -> tuple[str, ...]:
        """Return what the result means, or when that is told."""
        return self.meaning or ((OPEN_STILL,) if self.ending.is_open else ())


def look_back(bench: Bench) -> LookBack:
    """Return what there is to look back on. Verdicts must be told by the rules at hand."""
    is_complete = bench.working.complete
    told = meaning(bench.question) if is_complete else ()
    expected = expected_told(bench) if is_complete else ()
    drawn = tuple(
        one
        for picture in bench.picture_work.pictures
        for one in remembered(picture, picture.made, bench.catalogue)
    )
    drawn += slips_of_other(bench)
    return LookBack(
        ending(bench), slips_to_remember(bench), tuple(_lines(bench)), told, drawn, expected,
        sure_told(bench),
    )  # fmt: skip


def sure_told(bench: Bench) -> tuple[str, ...]:
    """Return how often the student was sure, and rightly, and what to look at first; () for never.

    Verdicts must be told by the rules at hand.
    """
    if not bench.sureness:
        return ()
    sure = [one.right for one in bench.sureness if one.sure == SUREST]
    told = ["You were sure of no entry."]
    if sure:
        told = [f"You were sure of {counted(len(sure), 'entry', 'entries')}; {sum(sure)} right."]
    guessed = [one.right for one in bench.sureness if one.sure == 1]
    if any(guessed):
        told.append(f"Of {counted(len(guessed), 'guess', 'guesses')}, {sum(guessed)} right.")
    held = held_wrong(bench)
    if held:
        names = [line_name(step) for step in bench.working.steps if step.key in held]
        told.append(f"Sure, but not right: {listed(names)}. Look at these first.")
    return tuple(told)


def held_wrong(bench: Bench) -> frozenset[str]:
    """Return the keys of the lines at which the student was sure of an entry that was not right."""
    return frozenset(one.step for one in bench.sureness if one.is_held)


def expected_told(bench: Bench) -> tuple[str, ...]:
    """Return what was expected before the first line beside what came out; () for nothing."""
    expected = bench.expected
    if not expected:
        return ()
    right = sum(answer in question.right for question, answer in expected)
    total = len(expected)
    headline = f"Of what you expected, {right} of {total} came out so."
    if right == total:
        headline = "It came out as you expected." if total == 1 else "All came out as you expected."
    return (headline, *(question.came_out(answer) for question, answer in expected))


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


def _lines(bench: Bench) -> Iterator[LinePair]:
    working, question = bench.working, bench.question
    asked = {step.key for step in working.asked}
    held = held_wrong(bench)
    for step in working.steps:
        line = working.lines.get(step.key)
        if line is None and step.key not in asked:
            continue
        yield LinePair(
            line_name(step),
            "" if line is None else written_line(step, line),
            worked_line(question, step, question.right) if working.complete else "",
            line_mark(working, step.key),
            _standing(bench, step.key),
            working.attempts.get(step.key, 0),
            _was_wrong(working, step.key),
            step.key in held,
        )


def _standing(bench: Bench, key: str) -> str:
    """Return how a line stands: as it was judged, unless it was shown or is not written."""
    line = bench.working.lines.get(key)
    if line is None:
        return "not written"
    return _SHOWN if bench.shows(key) else str(line.verdict.outcome)


def _was_wrong(working: Working, key: str) -> bool:
    # where nothing is told, the first entry uses up a try though it may be right
    free = 0 if working.rules.tells else 1
    line = working.lines.get(key)
    wrong = line is not None and line.verdict.outcome is Outcome.WRONG
    return wrong or working.tries_used(key) > free
