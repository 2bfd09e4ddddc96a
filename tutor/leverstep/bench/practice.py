"""Practice: one question worked freely, kept on disk so that it can be gone on with."""

from __future__ import annotations

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

from leverstep.bench.bench import Bench, replay
from leverstep.bench.record import NeverKept, Record, RecordError, read_record
from leverstep.course.faults import Fault, FileError
from leverstep.course.numbers import is_seed
from leverstep.course.places import home
from leverstep.course.problem import Problem, Question
from leverstep.course.shelf import Shelf
from leverstep.slips.habits import Habits
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Verdict

FORMAT = 1
"""The format of a record's lines."""


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


class Practice(Bench):
    """One question worked freely. A sitting without a record goes on, and says so."""

    def __init__(
        self,
        question: Question,
        record: Record | None,
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
    ) -> None:
        super().__init__(question, self.keep, guidance, habits)
        self._record = record
        self._waiting: list[dict[str, object]] = []

    @classmethod
    def start(
        cls,
        problem: Problem,
        seed: str,
        folder: Path | None = None,
        own: Mapping[str, Fraction] | None = None,
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
    ) -> Practice:
        """Begin a question, with a record of its own in `folder` (the user's data folder).

        `own` holds values measured on the student's own body, by the key of each given.

        Raises:
            FileError: where these numbers have no working.
        """
        question = sound(problem.question(seed, own))
        now = datetime.now(UTC)
        name = f"{now:%Y%m%dT%H%M%S}-{problem.id}-{secrets.token_hex(4)}.jsonl"
        first = {
            "format": FORMAT,
            "kind": "practice",
            "problem": problem.id,
            "seed": seed,
            "givens": _givens(question),
            "own": {key: str(question.exact[key]) for key in sorted(question.own)},
            "guidance": guidance,
            "time": now.isoformat(timespec="seconds"),
        }
        try:
            record = Record.create((folder or home() / "practice") / name, first)
        except RecordError as error:
            practice = cls(question, None, guidance, habits)
            practice.trouble = str(error)
            return practice
        return cls(question, record, guidance, habits)

    @classmethod
    def resume(cls, path: Path, shelf: Shelf, habits: Habits | None = None) -> Practice:
        """Go on with a record: every entry is judged again, as it was typed.

        Raises:
            RecordError: where the record cannot be read, or its problem is no longer here.
            FileError: where its numbers have no working.
        """
        kept = read_practice(path, shelf)
        practice = cls(kept.question, Record.reopen(path), kept.guidance, habits)
        replay([practice], ((practice, line) for line in kept.lines[1:]))
        if practice.working.complete and not _is_ended(kept.lines):
            practice.keep({"kind": "end"})
        return practice

    @property
    def place(self) -> Path | None:
        """Return where the record lies; None without one."""
        return None if self._record is None else self._record.path

    def judged(self, line: dict[str, object]) -> Verdict:
        """Keep and judge an entry; note where the last line is right, and where no more so."""
        done = self.working.complete
        verdict = super().judged(line)
        if self.working.complete != done:
            self.keep({"kind": "end" if self.working.complete else "open"})
        return verdict

    def keep(self, line: dict[str, object]) -> None:
        """Put a line on the disk, after those that could not be put there before.

        One that will never be kept is told of once, and leaves those after it alone.
        """
        if self._record is None:
            return
        line["time"] = datetime.now(UTC).isoformat(timespec="milliseconds")
        self._waiting.append(line)
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
    """What a record of practice holds: its question, how far the student is led, all its lines."""

    question: Question
    guidance: Guidance
    lines: list[dict[str, object]]


def read_practice(path: Path, shelf: Shelf) -> Kept:
    """Read a record of practice, and leave it as it is.

    Raises:
        RecordError: where the record cannot be read, or its problem is no longer here or has
            other numbers by now.
        FileError: where its numbers have no working.
    """
    problem, seed, lines = _opened(path, shelf)
    question = sound(problem.question(seed, _own_of(problem, lines[0], path)))
    if lines[0].get("givens") != _givens(question):
        raise RecordError(f"{path}: the numbers of its problem have changed since")
    guidance = str(lines[0].get("guidance", Guidance.LINES))
    if guidance not in list(Guidance):
        raise RecordError(f"{path}: this version has no such guidance")
    return Kept(question, Guidance(guidance), lines)


def records_there_are(folder: Path | None = None) -> list[Path]:
    """Return the records of practice in a folder (the user's data folder), the earliest first."""
    return sorted((folder or home() / "practice").glob("*.jsonl"))


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A practice that can be gone on with: where it lies, and how far it came."""

    path: Path
    problem: Problem
    seed: str
    entries: int


def unfinished(shelf: Shelf, folder: Path | None = None) -> list[Unfinished]:
    """Return the practices that have entries but no end, the latest first.

    The entries are counted, not judged, so that this stays quick.
    """
    found = []
    for path in reversed(records_there_are(folder)):
        try:
            problem, seed, lines = _opened(path, shelf)
        except RecordError:
            continue
        entries = sum(line.get("kind") in ("entry", "line") for line in lines)
        if entries and not _is_ended(lines):
            found.append(Unfinished(path, problem, seed, entries))
    return found


def _own_of(problem: Problem, first: Mapping[str, object], path: Path) -> dict[str, Fraction]:
    """Return the measured values that a record was begun with."""
    written = first.get("own", {})
    if not isinstance(written, dict):
        raise RecordError(f"{path}: its own numbers can't be read")
    try:
        own = {str(key): _number(str(value)) for key, value in written.items()}
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


def _is_ended(lines: list[dict[str, object]]) -> bool:
    """Return whether a record says that its working came to its end, and stayed there."""
    ends = [line.get("kind") for line in lines if line.get("kind") in ("end", "open")]
    return ends[-1:] == ["end"]


def _givens(question: Question) -> dict[str, str]:
    """Return what was shown as given, by key."""
    return {given.key: question.written(given) for given in question.givens}


def _opened(path: Path, shelf: Shelf) -> tuple[Problem, str, list[dict[str, object]]]:
    lines = read_record(path)
    first = lines[0] if lines else {}
    problem, seed = first.get("problem"), first.get("seed")
    if first.get("kind") != "practice" or not isinstance(problem, str) or not isinstance(seed, str):
        raise RecordError(f"{path}: not a record of practice")
    if first.get("format") != FORMAT:
        raise RecordError(f"{path}: written by another version of leverstep")
    if not is_seed(seed):
        raise RecordError(f"{path}: its seed is not valid")
    if problem not in shelf.problems:
        raise RecordError(f"{path}: its problem is no longer here")
    try:
        return shelf.problems[problem], seed, lines
    except FileError as error:
        raise RecordError(f"{path}: {error}") from error
