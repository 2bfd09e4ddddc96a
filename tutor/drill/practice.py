"""Practice: one question worked freely, kept on disk so that it can be gone on with."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

from tutor.course.faults import Fault, FileError
from tutor.course.numbers import is_seed
from tutor.course.places import home
from tutor.course.problem import Problem, Question
from tutor.course.shelf import Shelf
from tutor.drill.record import Record, RecordError, mend_tail, read_record
from tutor.slips.catalogue import catalogue_in_use
from tutor.slips.habits import Habits
from tutor.slips.opening import open_working
from tutor.slips.telling import hints, tell
from tutor.working.guidance import Guidance
from tutor.working.verdict import Verdict

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


class Practice:
    """A working with its record. What is typed is on the disk before it is judged.

    `trouble` says why nothing can be kept, "" as long as all is well; a sitting without a record
    goes on, and says so. `habits` may go on over several questions.
    """

    def __init__(
        self,
        question: Question,
        record: Record | None,
        trouble: str = "",
        guidance: Guidance = Guidance.LINES,
        habits: Habits | None = None,
    ) -> None:
        self.question = question
        self.working = open_working(question, guidance=guidance)
        self.catalogue = catalogue_in_use()
        self.habits = habits or Habits()
        self.trouble = trouble
        self._record = record
        self._waiting: list[dict[str, object]] = []
        self.hints_asked = 0
        self._shown: dict[str, int] = {}
        self._habit: tuple[Verdict | None, str] = (None, "")
        self._latest = ""

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
            return cls(question, None, str(error), guidance, habits)
        return cls(question, record, "", guidance, habits)

    @classmethod
    def resume(cls, path: Path, shelf: Shelf, habits: Habits | None = None) -> Practice:
        """Go on with a record: every entry is judged again, as it was typed.

        Raises:
            RecordError: where the record cannot be read, or its problem is not on the shelf.
        """
        problem, seed, lines = _opened(path, shelf)
        question = sound(problem.question(seed, _own_of(problem, lines[0], path)))
        if lines[0].get("givens") != _givens(question):
            raise RecordError(f"{path}: the numbers of its problem have changed since")
        guidance = str(lines[0].get("guidance", Guidance.LINES))
        if guidance not in list(Guidance):
            raise RecordError(f"{path}: its guidance is none that this version has")
        mend_tail(path)
        practice = cls(question, Record(path), "", Guidance(guidance), habits)
        for line in lines[1:]:
            practice._replay(line)
        if practice.working.complete and not _is_ended(lines):
            practice._keep({"kind": "end"})
        return practice

    @property
    def saved(self) -> bool:
        """Return whether everything so far is on the disk."""
        return not self.trouble

    @property
    def place(self) -> Path | None:
        """Return where the record lies; None without one."""
        return None if self._record is None else self._record.path

    def enter(self, key: str, text: str) -> Verdict:
        """Keep an entry, then judge it; note where the last line is right, and where no more so."""
        return self._judged({"kind": "entry", "step": key, "text": text})

    def write(self, text: str) -> Verdict:
        """Keep a line that says itself which one it is, then judge it as `enter` does."""
        return self._judged({"kind": "line", "text": text})

    def _judged(self, line: dict[str, object]) -> Verdict:
        done = self.working.complete
        self._keep(line)
        verdict = self._take(line)
        if self.working.complete != done:
            self._keep({"kind": "end" if self.working.complete else "open"})
        return verdict

    def leave(self, key: str) -> None:
        """Let a line stand for now, and go on with the next."""
        self._keep({"kind": "leave", "step": key})
        self.working.leave(key)

    def hint(self, key: str) -> str | None:
        """Return the next hint of a line; None where all three are shown."""
        texts = hints(self.working, key, self.catalogue)
        shown = self._shown.get(key, 0)
        if shown >= len(texts):
            return None
        self._keep({"kind": "hint", "step": key})
        self._count_hint(key)
        return texts[shown]

    def hint_line(self) -> str:
        """Return the line that a hint is for where none is chosen, "" at the end.

        It is the one judged last while it is not right, else the first that is missing.
        """
        latest, working = self._latest, self.working
        if latest and latest not in working.left and not working.stands(latest):
            return latest
        return next((step.key for step in working.missing()), "")

    def hints(self, key: str) -> tuple[str, ...]:
        """Return the hints shown so far for the entry that stands on a line."""
        return hints(self.working, key, self.catalogue)[: self._shown.get(key, 0)]

    def tell(self, verdict: Verdict) -> str:
        """Return what to say of a verdict, and of a habit where it shows one."""
        told = tell(self.working, verdict, self.catalogue)
        habit = self._habit[1] if verdict is self._habit[0] else ""
        return f"{told} {habit}".rstrip()

    def _take(self, line: Mapping[str, object]) -> Verdict:
        """Judge what a line of the record holds: an entry at a step, or a free line."""
        text = str(line["text"])
        free = line["kind"] == "line"
        verdict = self.working.write(text) if free else self.working.enter(str(line["step"]), text)
        if verdict.counts:
            self._shown[verdict.step] = 0  # the next hint is about this entry
            place = f"{self.question.problem.id} {self.question.seed}"
            self._habit = (verdict, self.habits.notice(place, verdict, self.catalogue))
        if verdict.step:
            self._latest = "" if verdict.settled else verdict.step
        return verdict

    def _keep(self, line: dict[str, object]) -> None:
        """Put a line on the disk, after those that could not be put there before."""
        if self._record is None:
            return
        line["time"] = datetime.now(UTC).isoformat(timespec="milliseconds")
        self._waiting.append(line)
        try:
            while self._waiting:
                self._record.append(self._waiting[0])
                self._waiting.pop(0)
            self.trouble = ""
        except RecordError as error:
            self.trouble = str(error)

    def _replay(self, line: dict[str, object]) -> None:
        """Take one line of the record again; a line that makes no sense is passed over."""
        key, text, kind = line.get("step"), line.get("text"), line.get("kind")
        if kind == "line" and isinstance(text, str):
            self._take(line)
        if not isinstance(key, str) or key not in {step.key for step in self.working.steps}:
            return
        match kind:
            case "entry" if isinstance(text, str):
                self._take(line)
            case "leave":
                self.working.leave(key)
            case "hint":
                self._count_hint(key)

    def _count_hint(self, key: str) -> None:
        self._shown[key] = self._shown.get(key, 0) + 1
        self.hints_asked += 1


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
    for path in sorted((folder or home() / "practice").glob("*.jsonl"), reverse=True):
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
        own = {str(key): Fraction(str(value)) for key, value in written.items()}
    except (ValueError, ZeroDivisionError) as error:
        raise RecordError(f"{path}: its own numbers can't be read") from error
    if any(key not in problem.own or not _within(v, problem.own[key]) for key, v in own.items()):
        raise RecordError(f"{path}: its own numbers are none of this problem")
    return own


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
        raise RecordError(f"{path}: no record of practice")
    if first.get("format") != FORMAT:
        raise RecordError(f"{path}: written by another version of leverstep")
    if not is_seed(seed):
        raise RecordError(f"{path}: its seed is none")
    if problem not in shelf.problems:
        raise RecordError(f"{path}: its problem is not on the shelf")
    try:
        return shelf.problems[problem], seed, lines
    except FileError as error:
        raise RecordError(f"{path}: {error}") from error
