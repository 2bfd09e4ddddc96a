"""Practice: one question worked freely, kept on disk so that it can be gone on with."""

from __future__ import annotations

import re
import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

from leverstep.bench.bench import Bench
from leverstep.bench.mending import Mending, mending_of
from leverstep.bench.practice_choices import Choice, PracticeChoices, rule_of
from leverstep.bench.record import NeverKept, Record, RecordError, read_record
from leverstep.bench.record_lines import (
    FORMAT,
    EndLine,
    Entered,
    FillLine,
    OpenLine,
    PictureAskedLine,
    PracticeBegun,
    RecordLine,
    UnitsAskedLine,
    UnitsNamedLine,
)
from leverstep.bench.record_note import RecordNote
from leverstep.bench.replaying import Replay, keep_nothing
from leverstep.course.faults import Fault, FileError
from leverstep.course.numbers import is_seed
from leverstep.course.places import home
from leverstep.course.problem import Problem, Question
from leverstep.course.shelf import Shelf
from leverstep.questions.choice_question import ChoiceQuestion
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.habits import Habits
from leverstep.working.conversions import CleanConversions
from leverstep.working.guidance import Guidance, lines_open
from leverstep.working.rules import Pictures, Rules, Thinking, Units
from leverstep.working.verdict import Verdict


def new_seed() -> str:
    """Return a fresh seed, short enough to be told over a shoulder."""
    return str(secrets.randbelow(90_000) + 10_000)


def sound(question: Question) -> Question:
    """Return the question, if there is a working of it.

    Raises:
        FileError: where its numbers have no equilibrium, which vetting the file would have told.
    """
    if question.trouble:
        place = f"the numbers {question.seed}"
        raise FileError([Fault(question.problem.id, place, question.trouble, "an equilibrium")])
    return question


def with_slips(question: Question, catalogue: Catalogue, slips: int) -> Mending:
    """Return what is to be found and mended with the numbers of a question.

    Raises:
        FileError: where no slip would show with them.
    """
    mending = mending_of(question, catalogue, slips)
    if mending is None:
        place = f"the numbers {question.seed}"
        raise FileError([Fault(question.problem.id, place, "no slip shows", "other numbers")])
    return mending


class Practice(Bench):
    """One question worked freely. A sitting without a record goes on, and says so."""

    def __init__(
        self,
        question: Question,
        catalogue: Catalogue,
        record: Record | None,
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
        choices: PracticeChoices | None = None,
        conversions: CleanConversions | None = None,
        shown: int = 0,
    ) -> None:
        chosen = choices or PracticeChoices()
        rules = Rules(
            reasons=chosen.reasons, conversions=chosen.conversions, units=chosen.units,
            thinking=chosen.thinking,
            pictures=Pictures.OFF if chosen.pictures is Pictures.OFF else Pictures.GIVEN,
        )  # fmt: skip
        super().__init__(
            question, catalogue, self.keep, guidance, habits, rules, conversions, shown=shown
        )
        self._record = record
        self.record_note = None if record is None else RecordNote(record.path)
        self._waiting: list[RecordLine] = []

    @classmethod
    def start(
        cls,
        problem: Problem,
        seed: str,
        catalogue: Catalogue,
        folder: Path | None = None,
        own: Mapping[str, Fraction] | None = None,
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
        choices: PracticeChoices | None = None,
        conversions: CleanConversions | None = None,
        slips_to_find: int = 0,
        stage: int = 0,
    ) -> Practice:
        """Begin a question, with a record of its own in `folder` (the user's data folder).

        `own` holds values measured on the student's own body, by the key of each given;
        `conversions` how cleanly units were converted before. `slips_to_find` is how many slips are
        to be found and mended in the working of an invented student, led line by line; 0 for a
        working of one's own. `stage` is how far examples of this kind have faded for the student,
        which says how much of this one is shown where the guidance is fading.

        Raises:
            FileError: where these numbers have no working, or none with a slip that shows.
        """
        question = sound(problem.question(seed, own))
        mending = with_slips(question, catalogue, slips_to_find) if slips_to_find else None
        guidance = Guidance.LINES if slips_to_find else guidance
        lines = len(question.derivation.asked)
        shown = lines - lines_open(lines, stage) if guidance is Guidance.FADING else 0
        now = datetime.now(UTC)
        name = f"{now:%Y%m%dT%H%M%S}-{problem.id}-{secrets.token_hex(4)}.jsonl"
        first = PracticeBegun(
            time=now.isoformat(timespec="seconds"),
            problem=problem.id,
            seed=seed,
            givens=question.givens_written,
            own={key: str(question.exact[key]) for key in sorted(question.own)},
            guidance=guidance,
            shown=shown or None,
        )
        begun = partial(
            cls, question, catalogue, guidance=guidance, habits=habits, choices=choices,
            conversions=conversions, shown=shown,
        )  # fmt: skip
        try:
            record = Record.create((folder or home() / "practice") / name, first)
        except RecordError as error:
            practice = begun(record=None)
            practice.trouble = str(error)
        else:
            practice = begun(record=record)
        if practice.working.rules.units is Units.NAMED:
            practice.keep(UnitsNamedLine())
        if mending is not None:
            practice.mend(mending)
        elif choices is not None and choices.pictures is Pictures.ASKED:
            practice.begin_pictures()
        practice.fill()
        return practice

    @classmethod
    def resume(
        cls,
        path: Path,
        shelf: Shelf,
        catalogue: Catalogue,
        habits: Habits | None = None,
        choices: PracticeChoices | None = None,
        conversions: CleanConversions | None = None,
    ) -> Practice:
        """Go on with a record: every entry is judged again, as it was typed.

        Raises:
            RecordError: where the record cannot be read, or its problem is no longer here.
            FileError: where its numbers have no working.
        """
        kept = read_practice(path, shelf)
        record = Record.reopen(path)
        chosen = choices or PracticeChoices()
        as_begun = replace(chosen, units=Units.ASKED)  # its record says from where they are named
        practice = cls(
            kept.question, catalogue, record, kept.guidance, habits, as_begun, shown=kept.shown
        )
        Replay([practice], by_task=False).take(kept.lines)
        practice.conversions = conversions or practice.conversions  # which knows these lines
        if practice.working.rules.units is not chosen.units:
            practice.follow(chosen.units)
        practice.fill()
        if practice.working.complete and not is_ended(kept.lines):
            practice.keep(EndLine())
        practice.note_far()
        return practice

    def follow(self, choice: Choice) -> None:
        """Go by another choice from now on; what was filled in stays so."""
        if isinstance(choice, Units):
            self.keep(UnitsNamedLine() if choice is Units.NAMED else UnitsAskedLine())
        changed: dict[str, Any] = {rule_of(choice): choice}
        self.working.rules = replace(self.working.rules, **changed)
        self.fill()

    def think(self, thinking: frozenset[Thinking]) -> None:
        """Ask this beside the lines from now on."""
        self.working.rules = replace(self.working.rules, thinking=thinking)

    def begin_pictures(self) -> bool:
        """Ask for the free-body diagrams, and keep that; return whether there are any to draw.

        There are none where the right ones were at hand for a line already.
        """
        is_new = not self.working.lines and not self.picture_work.pictures
        is_new = is_new and self.mending is None
        if is_new:
            self.ask_pictures()
        if not (is_new and self.picture_work.pictures):
            return False
        self.keep(PictureAskedLine())
        return True

    def fill(self) -> None:
        """Fill in the lines that are to be filled in now, and keep which."""
        for key in self.to_fill:
            self.keep(FillLine(step=key))
            self.working.fill(key)

    @property
    def place(self) -> Path | None:
        """Return where the record lies; None without one."""
        return None if self._record is None else self._record.path

    def judged(self, line: Entered) -> Verdict:
        """Keep and judge an entry; note where the last line is right, and where no more so."""
        done = self.working.complete
        verdict = super().judged(line)
        self.fill()
        if self.working.complete != done:
            self.keep(EndLine() if self.working.complete else OpenLine())
        self.note_far()
        return verdict

    def answer(self, question: ChoiceQuestion, answer: str) -> None:
        """Keep an answer; note where a working that is shown whole is read to its end."""
        was_read = self.is_read_whole
        super().answer(question, answer)
        if self.is_read_whole and not was_read:
            self.keep(EndLine())
            self.note_far()

    def note_far(self) -> None:
        """Note beside the record how far it came, which puts it back on the list."""
        if self.record_note is not None:
            asked, left = len(self.working.asked), len(self.working.to_find)
            self.record_note.hide(False)
            self.record_note.keep_far(*((asked - left, asked) if left else (None, None)))

    def keep(self, line: RecordLine) -> None:
        """Put a line on the disk, after those that could not be put there before.

        One that will never be kept is told of once, and leaves those after it alone.
        """
        if self._record is None:
            return
        now = datetime.now(UTC).isoformat(timespec="milliseconds")
        self._waiting.append(replace(line, time=now))
        self.trouble = ""
        try:
            while self._waiting:
                try:
                    self._record.append(self._waiting[0])
                except NeverKept as error:
                    self.trouble = str(error)
                self._waiting.pop(0)
        except RecordError as error:
            self.trouble = str(error)


@dataclass(frozen=True, slots=True)
class Kept:
    """What a record of practice holds: its question, how far the student is led, all its lines.

    `shown` is how many of the first lines are shown.
    """

    question: Question
    guidance: Guidance
    lines: tuple[RecordLine, ...]
    shown: int = 0


def read_practice(path: Path, shelf: Shelf) -> Kept:
    """Read a record of practice, and leave it as it is.

    Raises:
        RecordError: where the record cannot be read, or its problem is no longer here or has
            other numbers by now.
        FileError: where its numbers have no working.
    """
    opened = opened_practice(path, shelf)
    question = sound(opened.problem.question(opened.seed, _own_of(opened, path)))
    if opened.first.givens != question.givens_written:
        raise RecordError(f"{path}: the numbers of its problem have changed since")
    guidance = Guidance.LINES if opened.first.guidance is None else opened.first.guidance
    if guidance not in list(Guidance):
        raise RecordError(f"{path}: this version has no such guidance")
    return Kept(question, Guidance(guidance), opened.lines, opened.first.shown or 0)


def records_there_are(folder: Path | None = None) -> list[Path]:
    """Return the records of practice in a folder (the user's data folder), the earliest first."""
    return sorted((folder or home() / "practice").glob("*.jsonl"))


def reread(path: Path, shelf: Shelf, catalogue: Catalogue) -> Bench:
    """Return the working that a record of practice holds, judged again; the record stays as it is.

    Raises:
        RecordError, FileError: where `read_practice` does.
    """
    kept = read_practice(path, shelf)
    bench = Bench(kept.question, catalogue, keep_nothing, kept.guidance, shown=kept.shown)
    Replay([bench], by_task=False).take(kept.lines)
    return bench


def last_record(shelf: Shelf, problem: Problem, folder: Path | None = None) -> Path | None:
    """Return the record of the last working of a problem that has an entry, None without one."""
    for path in reversed(records_there_are(folder)):
        try:
            opened = opened_practice(path, shelf)
        except RecordError:
            continue
        if opened.problem is problem and any(isinstance(one, Entered) for one in opened.lines):
            return path
    return None


def is_worked_out(shelf: Shelf, problem: Problem, seed: str, folder: Path | None = None) -> bool:
    """Return whether the last working of a problem with some numbers came to its end."""
    for path in reversed(records_there_are(folder)):
        if problem.id not in path.name:
            continue  # a record is called by its problem, and there may be many
        try:
            opened = opened_practice(path, shelf)
        except RecordError:
            continue
        if opened.problem is problem and opened.seed == seed:
            return is_ended(opened.lines)
    return False


def _own_of(opened: PracticeOpened, path: Path) -> dict[str, Fraction]:
    """Return the measured values that a record was begun with."""
    problem, written = opened.problem, opened.first.own or {}
    try:
        own = {key: _number(value) for key, value in written.items()}
    except (ValueError, ZeroDivisionError) as error:
        raise RecordError(f"{path}: its own numbers can't be read") from error
    if any(key not in problem.own or not _within(v, problem.own[key]) for key, v in own.items()):
        raise RecordError(f"{path}: its own numbers do not belong to this problem")
    return own


def _number(text: str) -> Fraction:
    """Return a number as a record has it; one with an exponent could fill the memory."""
    if not re.fullmatch(r"-?\d{1,30}(/\d{1,30})?", text):
        raise ValueError(f"{text[:30]}: not a fraction")
    return Fraction(text)


def _within(value: Fraction, limits: tuple[Fraction, Fraction]) -> bool:
    return limits[0] <= value <= limits[1]


def is_ended(lines: Sequence[RecordLine]) -> bool:
    """Return whether a record says that its working came to its end, and stayed there."""
    ends = (line for line in reversed(lines) if isinstance(line, EndLine | OpenLine))
    return isinstance(next(ends, None), EndLine)


@dataclass(frozen=True, slots=True)
class PracticeOpened:
    """What a record of practice says it is of, and its lines, of which `first` is the first."""

    problem: Problem
    seed: str
    first: PracticeBegun
    lines: tuple[RecordLine, ...]


def opened_practice(path: Path, shelf: Shelf) -> PracticeOpened:
    """Return what a record of practice holds; nothing of it is judged.

    Raises:
        RecordError: where it can't be read, or its problem is no longer here.
    """
    lines = read_record(path)
    first = lines[0] if lines else None
    if not isinstance(first, PracticeBegun) or first.problem is None or first.seed is None:
        raise RecordError(f"{path}: not a record of practice")
    if first.format != FORMAT:
        raise RecordError(f"{path}: written by another version of leverstep")
    if not is_seed(first.seed):
        raise RecordError(f"{path}: its seed is not valid")
    if first.problem not in shelf.problems:
        raise RecordError(f"{path}: its problem is no longer here")
    try:
        return PracticeOpened(shelf.problems[first.problem], first.seed, first, lines)
    except FileError as error:
        raise RecordError(f"{path}: {error}") from error
