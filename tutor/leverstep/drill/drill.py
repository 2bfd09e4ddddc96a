"""A drill: which problems a class works, under which rules, and how they are marked.

A drill is one TOML file; problems/DRILLS.md documents it. Problems of the teacher's own lie inside,
so that the file is all that a room without a network needs.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import StrEnum
from fractions import Fraction
from functools import cached_property
from typing import Any

from leverstep.course.problem import Problem, Question
from leverstep.drill.allowance import Allowance, Late
from leverstep.drill.own_key import own_key
from leverstep.drill.pins import Pins
from leverstep.drill.roster_columns import RosterColumns
from leverstep.drill.same_for_everyone import known_question
from leverstep.drill.seal_key import PrivateKey
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance, led_to
from leverstep.working.rules import Conversions, Pictures, Reasons, Rung, Thinking, Units

ONE = Fraction(1)
"""What a line counts where nothing else is said."""

LARGEST_DRILL = 2_000_000
"""Bytes; one with twenty problems inside is some tens of kilobytes."""

MOST_WORKINGS = 50
"""Workings of one drill, and problems inside it."""

LONGEST_STUDENT = 40
"""Characters of a student's id."""

_EVERYONE = "everyone"
_TRIES = 50
"""Numbers without an equilibrium are drawn anew, at most so often."""


class Hints(StrEnum):
    """Whether hints may be asked for, and at what price."""

    FREE = "free"
    COST = "at a cost"
    NONE = "none"


class Feedback(StrEnum):
    """When a student is told what came of a line."""

    EACH = "each line"
    END = "at the end"


class Counts(StrEnum):
    """Which of several sittings of a student counts."""

    BEST = "best"
    LAST = "last"


class DrillClock(StrEnum):
    """Which time the minutes of a drill are: that in which it is worked on, or all since it began.

    The latter goes on while the sitting is left.
    """

    WORKING = "working"
    WALL = "wall"


class TaskForm(StrEnum):
    """What a student does with a problem: work it, or find and mend the slip of somebody else."""

    WORKING = "working"
    FIND_SLIP = "find the slip"


class Withdrawn(StrEnum):
    """Whether a task has been withdrawn, and what it earns then: nothing, or its marks for all."""

    NO = "no"
    NO_MARKS = "no marks"
    FULL_MARKS = "full marks"


@dataclass(frozen=True)
class Item:
    """One problem of a drill: how many workings of it, with whose numbers, for how many marks.

    With `others` it is a bank, of which each student has one, drawn by lot; `problem` is its first.

    `form` is what is done with it, `slips` how many are made where they are to be found;
    `withdrawn` is how it counts once it was found faulty. It keeps its place then, so that the
    numbers of the others stay as they were. `id` is what its numbers follow from: its place, from
    1, where the file names none. `open_lines` is how many of the last lines are asked for where the
    others are shown, 0 where all are, None where none is. `pair` is the problem of an earlier drill
    that it is compared with, alike in structure. `is_drawn` says that the file does not name it:
    its problem was drawn for a mixed set, or its bank found by what was asked for. `weights` is
    what its lines count, as in a `Task`; `rules` are the fields of the drill that it
    has otherwise. `faulty` are the ids of problems of its bank that were withdrawn: whoever has one
    has all of its marks.
    """

    problem: Problem
    count: int = 1
    fixed: bool = False
    marks: Fraction = Fraction(10)
    form: TaskForm = TaskForm.WORKING
    withdrawn: Withdrawn = Withdrawn.NO
    id: str = ""
    open_lines: int | None = None
    pair: Problem | None = None
    slips: int = 1
    is_drawn: bool = False
    others: tuple[Problem, ...] = ()
    weights: Mapping[str, Fraction] = field(default_factory=dict, hash=False)
    rules: Mapping[str, Any] = field(default_factory=dict, hash=False)
    faulty: tuple[str, ...] = ()

    @property
    def bank(self) -> tuple[Problem, ...]:
        """Return its problems: one, or those of which each student has one."""
        return (self.problem, *self.others)

    @property
    def title(self) -> str:
        """Return what it is called: the title of its problem, or of how many one is drawn."""
        if not self.others:
            return self.problem.title
        return f"one of {len(self.bank)} problems"

    def with_attempts(self, attempts: int | None) -> Item:
        """Return it with so many tries of a line where it has a number of its own; None is none."""
        if attempts is None or "attempts" not in self.rules:
            return self
        return replace(self, rules={**self.rules, "attempts": attempts})

    def withdrawn_as(self, problem: Problem) -> Withdrawn:
        """Return whether it was withdrawn for whoever has one of its problems."""
        is_faulty = problem.id in self.faulty and self.withdrawn is Withdrawn.NO
        return Withdrawn.FULL_MARKS if is_faulty else self.withdrawn

    @property
    def worth(self) -> Fraction:
        """Return the marks that there are for each working of it."""
        return Fraction(0) if self.withdrawn is Withdrawn.NO_MARKS else self.marks

    @property
    def slips_to_find(self) -> int:
        """Return how many slips are to be found in each working, 0 where it is to be worked."""
        return self.slips if self.form is TaskForm.FIND_SLIP else 0


@dataclass(frozen=True)
class Scheme:
    """How lines are marked: what a wrong try and hints cost, and what following through earns.

    All are shares of the marks of a line; `hint` has one for each `Rung`.
    """

    wrong_try: Fraction = Fraction(0)
    hint: tuple[Fraction, ...] = (Fraction(1, 4),) * len(Rung)
    follow_through: Fraction = Fraction(1)
    counts: Counts = Counts.BEST


def lines_asked(
    steps: tuple[Step, ...], guidance: Guidance, open_lines: int | None
) -> tuple[Step, ...]:
    """Return the lines of a working that are asked for; with `open_lines` the last so many."""
    if open_lines is None:
        return led_to(steps, guidance)
    return steps[max(0, len(steps) - open_lines) :]


@dataclass(frozen=True)
class Task:
    """One working that a student is set: its number from 1, its question and its marks.

    `slips_to_find` is how many slips are to be found in it, 0 where it is to be worked, and
    `open_lines` that of its item. `drawn` is the id of its problem where that was drawn from a
    bank, "" where all students have the same; `weights` is what lines count, by key
    or by what kind of line they are, where it is not 1; `guidance` is how far students are led,
    None for as far as in the whole drill.
    """

    number: int
    question: Question
    marks: Fraction
    slips_to_find: int = 0
    withdrawn: Withdrawn = Withdrawn.NO
    open_lines: int | None = None
    drawn: str = ""
    weights: Mapping[str, Fraction] = field(default_factory=dict, hash=False)
    guidance: Guidance | None = None

    def weight(self, step: Step) -> Fraction:
        """Return what a line counts beside the others when they share the marks."""
        if not self.weights:
            return ONE
        return self.weights.get(step.key) or self.weights.get(step.kind.name, ONE)

    def led(self, guidance: Guidance) -> Guidance:
        """Return how far students are led, by the guidance of its drill."""
        return self.guidance or guidance

    def asked(self, guidance: Guidance) -> tuple[Step, ...]:
        """Return the lines that are asked for, under the guidance of its drill."""
        steps = self.question.derivation.asked
        return lines_asked(steps, self.led(guidance), self.open_lines)

    @property
    def shown(self) -> int:
        """Return how many of its first lines are shown."""
        if self.open_lines is None:
            return 0
        return max(0, len(self.question.derivation.asked) - self.open_lines)


@dataclass(frozen=True)
class Drill:
    """A drill as its file has it. `text` is that file, `students` the roster's names by id.

    `start_word` is the lock of its start word, "" where it has none; `start_key` what the word
    comes to, "" where that is not known (yet). `own_numbers` is the mark of the secret by which
    each student has a key in its place, `number_secret` that secret where it is at hand. `sat_with`
    are earlier versions of it, with which records may have been begun. `details` are what the
    roster says besides of each student, by id and heading. Where a part of the class is marked
    alone, `elsewhere` has the ids of the others as they are compared; else it is None. `allowances`
    are the exceptions for single students, by id as it is compared; `late` is what is lost by
    working after it was due. `pins` are the hashes of the students' PINs, None where none is asked
    for. `seal` is the public half of the pair by which its records are sealed, "" for none;
    `seal_keys` are the private halves at hand where it is marked.
    """

    id: str
    title: str
    items: tuple[Item, ...]
    text: str
    guidance: Guidance = Guidance.LINES
    feedback: Feedback = Feedback.EACH
    hints: Hints = Hints.FREE
    reasons: Reasons = Reasons.WHEN_ASKED
    conversions: Conversions = Conversions.ASKED
    units: Units = Units.ASKED
    calculator: bool = True
    picture: Pictures = Pictures.GIVEN
    predict: bool = False
    sense: bool = False
    sure: bool = False
    attempts: int | None = None
    sittings: int | None = None
    tolerance: Fraction | None = None
    accepted: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    minutes: int | None = None
    clock: DrillClock = DrillClock.WORKING
    opens: datetime | None = None
    closes: datetime | None = None
    scheme: Scheme = field(default_factory=Scheme)
    students: Mapping[str, str] = field(default_factory=dict)
    start_word: str = ""
    start_key: str = ""
    own_numbers: str = ""
    number_secret: str = field(default="", repr=False)
    pins: Pins | None = None
    seal: str = ""
    seal_keys: tuple[PrivateKey, ...] = field(default=(), repr=False)
    sat_with: tuple[Drill, ...] = ()
    roster_columns: RosterColumns = field(default_factory=RosterColumns)
    details: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    elsewhere: frozenset[str] | None = None
    late: Late | None = None
    allowances: Mapping[str, Allowance] = field(default_factory=dict)

    @cached_property
    def digest(self) -> str:
        """Return what a record names this very file by, with the problems that were drawn.

        In another version these may be others, and then it is another drill.
        """
        drawn = (one.id for item in self.items if item.is_drawn for one in item.bank)
        return hashlib.sha256("\n".join((self.text, *drawn)).encode()).hexdigest()

    def allowance(self, student: str) -> Allowance | None:
        """Return the exception for a student, None where there is none."""
        return self.allowances.get(same_student(student))

    def for_student(self, student: str) -> Drill:
        """Return this drill under the rules that hold for a student; those that it hasn't stay so.

        It has no exceptions any more, so that none is made twice.
        """
        own = self.allowance(student)
        if own is None:
            return self
        late = self.late
        return replace(
            self,
            items=tuple(item.with_attempts(own.attempts) for item in self.items),
            minutes=None if self.minutes is None else own.minutes_of(self.minutes),
            attempts=self.attempts and (own.attempts or self.attempts),
            sittings=self.sittings and (own.sittings or self.sittings),
            closes=self.closes and (own.closes or self.closes),
            late=None if late is None else replace(late, due=own.due or late.due),
            allowances={},
        )

    def at(self, task: int) -> Drill:
        """Return this drill under the rules of one of its tasks, by its number."""
        rules = self.task_items[task - 1].rules
        return replace(self, **rules) if rules else self

    def spent(self, used: float, begun: datetime | None, now: datetime | None) -> float:
        """Return how much of its minutes is spent, in seconds.

        By the time on the wall it is no less than what was worked, so that a clock that is set back
        gains nothing.

        Args:
            used: for how long it was worked on, in seconds.
            begun: when it began, None where that makes no sense.
            now: the moment that is asked about, likewise.
        """
        if self.clock is DrillClock.WORKING or begun is None or now is None:
            return used
        return max(used, (now - begun).total_seconds())

    def seconds_left(self, spent: float) -> float | None:
        """Return how many seconds of its minutes are left after some are spent, None for none."""
        return None if self.minutes is None else max(0.0, 60 * self.minutes - spent)

    @property
    def all_seals(self) -> tuple[str, ...]:
        """Return the public halves of its own pair and of those of earlier versions."""
        return tuple(dict.fromkeys(one.seal for one in (self, *self.sat_with) if one.seal))

    @property
    def is_locked(self) -> bool:
        """Return whether its numbers come of a key that is not known yet."""
        return bool(self.start_word or self.own_numbers) and not self.start_key

    def with_key(self, start_key: str) -> Drill:
        """Return this drill with the numbers that a start word gives."""
        return self if start_key == self.start_key else replace(self, start_key=start_key)

    def as_set(self, problem: Problem) -> Problem:
        """Return a problem of this drill with the drill's tolerance."""
        return problem if self.tolerance is None else replace(problem, tolerance=self.tolerance)

    @property
    def task_items(self) -> tuple[Item, ...]:
        """Return the item that each task is of, in their order."""
        return tuple(item for item in self.items for _ in range(item.count))

    @property
    def thinking(self) -> frozenset[Thinking]:
        """Return what is asked beside the lines."""
        asked = {
            Thinking.PREDICT: self.predict,
            Thinking.SENSE: self.sense,
            Thinking.SURE: self.sure,
        }
        return frozenset(one for one, is_asked in asked.items() if is_asked)

    @property
    def marks(self) -> Fraction:
        """Return the marks of all workings together."""
        return sum((item.worth for item in self.task_items), Fraction(0))

    @cached_property
    def withdrawn_tasks(self) -> frozenset[int]:
        """Return the numbers of the tasks that were withdrawn."""
        items = enumerate(self.task_items, 1)
        return frozenset(number for number, one in items if one.withdrawn is not Withdrawn.NO)

    def withdrawn_for(self, drawn: Mapping[int, str]) -> frozenset[int]:
        """Return the tasks that were withdrawn for who has some problems of banks, by the task."""
        items = self.task_items
        faulty = (task for task, problem in drawn.items() if problem in items[task - 1].faulty)
        return self.withdrawn_tasks.union(faulty)

    def is_open_to(self, student: str) -> bool:
        """Return whether a student is on the roster; anyone is where there is none."""
        return not self.students or same_student(student) in self._as_listed

    def carried(self, student: str) -> tuple[str, ...]:
        """Return what tables and reports say of a student beside the name, by `roster_columns`."""
        known = self.details.get(student, {})
        return tuple(known.get(heading, "") for heading in self.roster_columns.more)

    def listed(self, student: str) -> str:
        """Return a student's id as the roster writes it, or as it is typed where it does not."""
        return self._as_listed.get(same_student(student), student_id(student))

    @cached_property
    def _as_listed(self) -> Mapping[str, str]:
        return {same_student(one): one for one in self.students}

    def tasks(self, student: str) -> tuple[Task, ...]:
        """Return what a student is set.

        It follows from the drill's id, the student's, and the start word or secret where one is.

        Raises:
            ValueError: where a problem has no numbers with an equilibrium.
        """
        if self.number_secret and not self.start_key:
            key = own_key(self.number_secret, self.id, same_student(student))
            return self.with_key(key).tasks(student)
        tasks = []
        for number, (label, item) in enumerate(self._workings(), 1):
            problem = self._drawn(item, student, label) if item.others else item.problem
            problem = self.at(number).as_set(problem)
            question = self._question(problem, _EVERYONE if item.fixed else student, label)
            tasks.append(
                Task(
                    number, question, item.worth, item.slips_to_find, item.withdrawn_as(problem),
                    item.open_lines, problem.id if item.others else "", item.weights,
                    item.rules.get("guidance"),
                )
            )  # fmt: skip
        return tuple(tasks)

    @property
    def labels(self) -> tuple[str, ...]:
        """Return what tells each task from all others: the id of its item, and which copy it is."""
        return tuple(label for label, _ in self._workings())

    @property
    def names_items(self) -> bool:
        """Return whether an item has an id of its own, so that records name the tasks."""
        return any(item.id for item in self.items)

    def _workings(self) -> Iterator[tuple[str, Item]]:
        for place, item in enumerate(self.items, 1):
            for copy in range(1, item.count + 1):
                yield f"{item.id or place}.{copy}", item

    def _drawn(self, item: Item, student: str, label: str) -> Problem:
        """Return the problem of a bank that a student has in the task of a label.

        Each has a lot of its own, so that others may be put in or taken out beside it. Copies of an
        item take the first, the second and so on, and begin anew where there are no more.
        """
        named, _, copy = label.rpartition(".")

        def lot(problem: Problem) -> str:
            return self._lot(same_student(student), named, "bank", problem.id)

        return sorted(item.bank, key=lot)[(int(copy) - 1) % len(item.bank)]

    def _question(self, problem: Problem, whose: str, label: str) -> Question:
        for drawn in range(_TRIES):
            seed = self._lot(same_student(whose), label, str(drawn))[:16]
            question = problem.question(seed, accepted=self.accepted)
            if whose == _EVERYONE:
                question = known_question(question)
            if not question.trouble:
                return question
        raise ValueError(f"{problem.id} has no numbers with an equilibrium")

    def _lot(self, *words: str) -> str:
        """Return the hash of some words with those that every draw of a drill follows from."""
        known = [self.start_key] if self.start_key else []
        return hashlib.sha256("\x1f".join([self.id, *words, *known]).encode()).hexdigest()


def student_id(typed: str) -> str:
    """Return a student's id as it is kept: without spaces around it, its letters composed (NFC)."""
    return unicodedata.normalize("NFC", typed.strip())


def same_student(student: str) -> str:
    """Return a student's id as it is compared: without regard to case, to spaces around it, and to
    how its letters are composed.
    """
    return unicodedata.normalize("NFC", student_id(student).casefold())


def file_stem(student: str) -> str:
    """Return a student's id for the name of a file; of what was typed only letters and digits stay.

    It is not unique.
    """
    return re.sub(r"[^a-z0-9]+", "-", same_student(student)).strip("-")[:30] or "student"


def is_student(student: str) -> bool:
    """Return whether a text can be a student's id."""
    text = student_id(student)
    return 0 < len(text) <= LONGEST_STUDENT and text.isprintable()
