"""Marking one record: every entry is judged again against the drill; no verdict is trusted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction
from itertools import accumulate
from typing import ClassVar, NamedTuple

from leverstep.bench.bench import Bench
from leverstep.bench.contents import Contents, contents, first_of
from leverstep.bench.record_lines import (
    AnswerLine,
    Entered,
    HintLine,
    PlacedLine,
    RecordLine,
    TakenAwayLine,
    Worked,
)
from leverstep.bench.replaying import Replay, keep_nothing
from leverstep.bench.seal_check import SealState
from leverstep.course.phrases import counted
from leverstep.course.symbols import sign_of
from leverstep.drill.benches import benches_of
from leverstep.drill.codes import code_of
from leverstep.drill.drill import Drill, Task
from leverstep.drill.earlier import is_handed_in
from leverstep.drill.fitting import keyed
from leverstep.drill.lines import moment_of, owner_in, up_to_end, used_in
from leverstep.free_body.picture_told import placed_told
from leverstep.marking.answers_made import AnswerMade, answers_made
from leverstep.marking.as_shown import Recorded, as_shown, with_recorded
from leverstep.marking.finding_marks import FindingMark, finding_marks, marked_steps
from leverstep.marking.in_time import Timed, is_in_time
from leverstep.marking.known_lines import know_lines
from leverstep.marking.odd_records import remarks_on
from leverstep.marking.picture_marks import PictureMark, picture_marks
from leverstep.marking.seals import seal_checked
from leverstep.marking.shares import NOTHING, WHOLE, marks_of, share_of
from leverstep.questions.sureness import SUREST
from leverstep.slips.catalogue import Catalogue
from leverstep.statics.step import Step
from leverstep.working.verdict import Outcome, Verdict

LONGEST_SHOWN = 200
"""Characters of what was typed that tables show."""


class LinePlace(NamedTuple):
    """A line of a task: the number of the task and the key of the line.

    `problem` is the id of its problem where that was drawn from a bank, else "": lines of unlike
    problems are never one.
    """

    task: int
    step: str
    problem: str = ""


class Entry(NamedTuple):
    """One entry as it was judged: where, what was typed, what came of it, and when.

    `slips` are the ids of the likeliest explanation, `sure` whether it is told or only asked;
    `used` is the clock in seconds, `moment` the time in UTC where it makes sense. `first` says
    whether it was the first one judged for its line, `link` is the link of its line in the record,
    `hints` how many the line bore by then; `in_symbols` a formula without a value yet.
    `sureness` is how sure the student said to be, from 1 to 3; None where that was not said.
    `could` has, for a first one, the reasons of all slips that could have shown there. `problem` is
    as that of a `LinePlace`.
    """

    task: int
    step: str
    kind: str
    text: str
    outcome: Outcome
    slips: tuple[str, ...]
    sure: bool
    used: float
    moment: datetime | None
    first: bool
    link: str
    hints: int = 0
    in_symbols: bool = False
    sureness: int | None = None
    could: frozenset[str] = frozenset()
    problem: str = ""

    @property
    def is_held(self) -> bool:
        """Return whether the student was sure of it, and it is not right."""
        return self.sureness == SUREST and self.outcome is Outcome.WRONG

    @property
    def counts(self) -> bool:
        """Return whether it is a try of its line."""
        return self.outcome.counts and not self.in_symbols

    @property
    def place(self) -> LinePlace:
        """Return the line of a task that it is at."""
        return LinePlace(self.task, self.step, self.problem)


@dataclass(frozen=True, slots=True)
class HintTaken:
    """A hint as it stands among the entries: on the line that bears it, and which of that it is.

    All else that an entry has it has not.
    """

    task: int
    step: str
    kind: str
    hints: int
    used: float
    text: ClassVar[str] = ""
    outcome: ClassVar[str] = "hint"
    slips: ClassVar[tuple[str, ...]] = ()
    sure: ClassVar[bool] = False
    first: ClassVar[bool] = False
    sureness: ClassVar[None] = None


class LineMark(NamedTuple):
    """What one line asked for earned: a share of its marks, from 0 to 1.

    `closed` says whether no try was left for it, `weight` what it counts beside the other lines of
    its task; `problem` is as that of a `LinePlace`.
    """

    task: int
    step: str
    kind: str
    outcome: Outcome | None
    tries: int
    hints: int
    first_right: bool
    share: Fraction
    closed: bool = False
    problem: str = ""
    weight: Fraction = WHOLE

    @property
    def place(self) -> LinePlace:
        """Return the line of a task that it is for."""
        return LinePlace(self.task, self.step, self.problem)


@dataclass(frozen=True, slots=True)
class RecordFile:
    """A file of a record: what it is called, and the account that it belongs to, "" if not told."""

    name: str
    account: str


@dataclass(frozen=True, slots=True)
class Marked:
    """One record marked. `marks` are those of each task, in order.

    `code` is that of the record, "" where it was not handed in; `start_key` what its start word
    comes to, "" where it has none. `is_intact` says whether each line is linked to all before it
    and nothing stands after its end, and its seal is not broken; `files` are those that it lies in.
    `pictures` are the free-body diagrams that the student drew, `placings` all that was put into
    them, as entries; `answers` are those made to questions beside the lines, `findings` what was
    found of somebody else's slips; `hints_taken` are the hints on lines, in their order. `recorded`
    has the numbers of the record by the number of the task, where it was marked by these, and
    `drawn` the problems that were drawn from banks likewise. `days_late` is how many days after it
    was due something was entered last, `lost_late` the share of the marks that this cost; `by_hand`
    has the tasks whose marks were set by hand. `absent` has the tasks that were not in the drill
    when it was sat, of which nothing else is here, `unknown` those of them that were there with a
    problem which is no more in the bank; `numbers_sat` the number that each other task had then,
    where one had another. `unproved` has the tasks of `recorded` whose numbers no earlier file
    draws; `seal` is how its seal stands.
    """

    student: str
    name: str
    record: str
    begun: str
    last: str
    ended: bool
    entries: tuple[Entry, ...]
    lines: tuple[LineMark, ...]
    marks: tuple[Fraction, ...]
    hints: int
    seconds: float
    remarks: tuple[str, ...]
    code: str = ""
    start_key: str = ""
    is_intact: bool = False
    files: tuple[RecordFile, ...] = ()
    pictures: tuple[PictureMark, ...] = ()
    placings: tuple[Entry, ...] = ()
    answers: tuple[AnswerMade, ...] = ()
    findings: tuple[FindingMark, ...] = ()
    hints_taken: tuple[HintTaken, ...] = ()
    recorded: Mapping[int, Recorded] = field(default_factory=dict, hash=False)
    days_late: int = 0
    lost_late: Fraction = NOTHING
    by_hand: frozenset[int] = frozenset()
    absent: frozenset[int] = frozenset()
    numbers_sat: Mapping[int, int] = field(default_factory=dict, hash=False)
    unproved: frozenset[int] = frozenset()
    drawn: Mapping[int, str] = field(default_factory=dict, hash=False)
    unknown: frozenset[int] = frozenset()
    seal: SealState = SealState.NONE

    def beside(self, task: int) -> tuple[PictureMark | FindingMark, ...]:
        """Return the diagrams and findings of a task, which share its marks with its lines."""
        beside: tuple[PictureMark | FindingMark, ...] = (*self.pictures, *self.findings)
        return tuple(one for one in beside if one.task == task)

    def earning(self, task: int) -> tuple[LineMark | PictureMark | FindingMark, ...]:
        """Return what shares the marks of a task, by its number: lines, diagrams and findings."""
        return (*(line for line in self.lines if line.task == task), *self.beside(task))

    def without(self, tasks: Set[int]) -> Marked:
        """Return it without what was done at some tasks, by number; its marks stay."""
        if not tasks:
            return self
        return replace(
            self,
            entries=tuple(one for one in self.entries if one.task not in tasks),
            lines=tuple(one for one in self.lines if one.task not in tasks),
            pictures=tuple(one for one in self.pictures if one.task not in tasks),
            placings=tuple(one for one in self.placings if one.task not in tasks),
            answers=tuple(one for one in self.answers if one.task not in tasks),
            findings=tuple(one for one in self.findings if one.task not in tasks),
            hints_taken=tuple(one for one in self.hints_taken if one.task not in tasks),
        )

    @property
    def away(self) -> float | None:
        """Return for how many seconds it was left; None where its times make no sense."""
        begun, last = moment_of(self.begun), moment_of(self.last)
        if begun is None or last is None:
            return None
        return max(0.0, (last - begun).total_seconds() - self.seconds)

    @property
    def is_marked(self) -> bool:
        """Return whether there are marks at all: no record that can't be marked has lines."""
        return bool(self.lines)

    @property
    def total(self) -> Fraction:
        """Return the marks of all tasks together."""
        return sum(self.marks, Fraction(0))

    def overlaps(self, other: Marked) -> bool:
        """Return whether another sitting was begun while this one went on, or the reverse."""
        times = [moment_of(t) for t in (self.begun, self.last, other.begun, other.last)]
        if any(time is None for time in times):
            return False
        begun, last, other_begun, other_last = (time for time in times if time is not None)
        return begun < other_last and other_begun < last


def mark_record(drill: Drill, catalogue: Catalogue, name: str, data: bytes) -> Marked:
    """Return the marks of a record, whatever it holds.

    Args:
        drill: what it is marked against.
        catalogue: the slips that are looked for.
        name: what the record is called in remarks; it is only ever shown.
        data: the bytes of the record.
    """
    student = owner(drill, data)
    if not student:
        return unmarked(drill, name, "this is not a record of this drill")
    found = contents(data)
    drill = keyed(drill, found.first).for_student(student)
    shown = as_shown(drill, student, found.first)
    tasks = shown.tasks
    benches = benches_of(drill, catalogue, tasks, keep_nothing)
    know_lines(drill, shown, benches)
    both = tuple(zip(tasks, benches, strict=True))
    worked = up_to_end(shown.renumbered(found))
    absent = shown.unmarked
    of_banks = (one for one in tasks if one.drawn and one.number not in absent)
    drawn = {task.number: task.drawn for task in of_banks}
    under = {task.number: drill.at(task.number) for task in tasks}
    judging = _Judging(drill, benches, drawn)
    judging.judge(worked)
    seal = seal_checked(drill, data, found)
    odd = (*remarks_on(drill, student, shown, found), *found.remarks, *seal.remarks)
    tries = judging.tries()
    lines = tuple(
        _line_mark(under[task.number], task, bench, step, tries)
        for task, bench in both
        for step in marked_steps(bench)
    )
    findings = tuple(one for task, bench in both for one in finding_marks(task.number, bench))
    pictures = tuple(
        replace(one, problem=task.drawn)
        for task, bench in both
        for one in picture_marks(under[task.number], task.number, bench)
    )
    asked = sum(bench.hints_given.count for bench in benches) + sum(one.hints for one in pictures)
    days = 0 if drill.late is None else drill.late.days(judging.last)
    left = WHOLE if drill.late is None else drill.late.share(days)
    ended, more = is_handed_in(found), len(found.lines) > len(worked.lines)
    marked = Marked(
        student, drill.students.get(student, ""), name, found.first.time or "",
        worked.lines[-1].time or "", ended, tuple(judging.entries), lines, (), asked,
        used_in(worked), (*odd, *judging.remarks()), code_of(found.reckoned[-1]) if ended else "",
        drill.start_key, not (found.breaks or seal.is_broken) and not more, seal=seal.state,
        pictures=pictures, placings=tuple(judging.placings),
        findings=findings, hints_taken=tuple(judging.hints),
        answers=tuple(made for task, bench in both for made in answers_made(task.number, bench)),
        recorded=shown.recorded, days_late=days, lost_late=1 - left,
        absent=absent, numbers_sat={now: sat for sat, now in (shown.moved or {}).items()},
        unproved=frozenset(() if shown.proved else shown.recorded), drawn=drawn,
        unknown=frozenset(shown.unknown),
    ).without(absent)  # fmt: skip
    marks = (marks_of(task, marked.earning(task.number), left) for task in tasks)
    return replace(marked, marks=tuple(marks))


def tasks_marked(drill: Drill, marked: Marked) -> tuple[Task, ...]:
    """Return the tasks of a drill by whose numbers a record was marked."""
    drill = drill.with_key(marked.start_key)
    return with_recorded(drill, drill.tasks(marked.student), marked.recorded)


def code_reckoned(data: bytes) -> str:
    """Return the code of a record that was handed in, "" of any other."""
    found = contents(data)
    return code_of(found.reckoned[-1]) if is_handed_in(found) else ""


def unmarked(drill: Drill, name: str, remark: str, student: str = "", code: str = "") -> Marked:
    """Return a record that has no marks, with the reason; and whose it is, where that is known."""
    nothing = tuple(Fraction(0) for _ in drill.task_items)
    known = drill.students.get(student, "")
    return Marked(student, known, name, "", "", False, (), (), nothing, 0, 0.0, (remark,), code)


def owner(drill: Drill, data: bytes) -> str:
    """Return the id of the student whose record of a drill this is, "" where it is none."""
    return owner_in(first_of(data), drill)


class _Judging(Replay):
    """Every entry of a record judged again."""

    def __init__(self, drill: Drill, benches: Sequence[Bench], drawn: Mapping[int, str]) -> None:
        super().__init__(benches)
        self.entries: list[Entry] = []
        self.placings: list[Entry] = []
        self.hints: list[HintTaken] = []
        self.last: datetime | None = None
        self._borne: Counter[LinePlace] = Counter()
        self._drill = drill
        self._drawn = drawn
        self._timed: list[Timed] = []
        self._late = self._beyond = self._unexplained = 0

    def judge(self, found: Contents) -> None:
        """Judge what stands behind the first line of a record and was written in time."""
        lines, begun = found.lines[1:], moment_of(found.first.time)
        clocks = accumulate((line.used or 0.0 for line in lines), max)
        for line, link, clock in zip(lines, found.links[1:], clocks, strict=True):
            one = Timed(line, link, clock, moment_of(line.time))
            if is_in_time(self._drill, one, begun):
                self._timed.append(one)
            else:
                self._late += isinstance(line, Worked) and self.bench_of(line) is not None
        self.take(one.line for one in self._timed)

    def note(self, place: int, line: RecordLine, bench: Bench, verdict: Verdict | None) -> None:
        """Keep an entry with what came of it."""
        if isinstance(line, HintLine):
            self._note_hint(bench, self._timed[place])
        if isinstance(line, Entered):
            self._unexplained += not bench.working.explains
        if isinstance(line, PlacedLine):
            self.placings += _placing(bench, line, self._timed[place])
        if verdict is not None:
            entry = _entry(bench, line.task or 0, verdict, self._timed[place])
            drawn = self._drawn.get(entry.task, "")
            self.entries.append(entry._replace(problem=drawn) if drawn else entry)
        moment = self._timed[place].moment
        if moment is not None and _bears_marks(line, bench, verdict):
            self.last = moment if self.last is None else max(self.last, moment)

    def _note_hint(self, bench: Bench, one: Timed) -> None:
        """Keep a hint that was given, on the line that bears one more than before."""
        task = one.line.task or 0
        for key, rungs in bench.hints_given.charged.items():
            if len(rungs) > self._borne[LinePlace(task, key)]:
                self._borne[LinePlace(task, key)] = len(rungs)
                kind = bench.working.step(key).kind.name
                self.hints.append(HintTaken(task, key, kind, len(rungs), one.clock))

    def leave_out(self, line: RecordLine) -> None:
        """Count the entries that are not judged."""
        self._beyond += isinstance(line, Worked)

    def tries(self) -> Mapping[LinePlace, Sequence[Entry]]:
        """Return the entries that are tries of a line, by their lines."""
        found: dict[LinePlace, list[Entry]] = {}
        for entry in self.entries:
            if entry.counts:
                found.setdefault(entry.place, []).append(entry)
        return found

    def remarks(self) -> Iterator[str]:
        """Yield what is odd about the entries."""
        if late := self._late:
            after = "after the time was up"
            entries_are = counted(late, f"entry {after} is", f"entries {after} are")
            yield f"{entries_are} not counted"
        if unexplained := self._unexplained:
            entries_are = counted(unexplained, "entry is", "entries are")
            yield f"too many entries: {entries_are} judged without looking for slips"
        if beyond := self._beyond:
            entries_are = counted(beyond, "entry is", "entries are")
            yield f"too many entries: the last {entries_are} not judged"
        # A fault of the program kept these from being judged: a teacher must look.
        failed = [entry for entry in self.entries if entry.outcome is Outcome.FAILED]
        if failed:
            names = (f"{sign_of(e.step) or 'a line'} of task {e.task}" for e in failed)
            places = ", ".join(dict.fromkeys(names))
            yield f"a fault of the program kept these from being judged; look at them: {places}"


def _bears_marks(line: RecordLine, bench: Bench, verdict: Verdict | None) -> bool:
    """Return whether a line of a record can change marks, as an entry that can't be read can't."""
    if isinstance(line, AnswerLine):
        found = bench.mending.questions if bench.mending is not None else ()
        return bool(line.answer) and line.question in [one.key for one in found]
    if verdict is not None:
        return verdict.counts
    return isinstance(line, PlacedLine | TakenAwayLine)


def _entry(bench: Bench, task: int, verdict: Verdict, one: Timed) -> Entry:
    kind = bench.working.step(verdict.step).kind.name if verdict.step else ""
    likeliest = next(iter(bench.explained(verdict).explanations), None)
    slips = () if likeliest is None else tuple(dict.fromkeys(f.slip for f in likeliest.findings))
    first = verdict.counts and bench.working.attempts.get(verdict.step) == 1
    return Entry(
        task, verdict.step, kind, verdict.text[:LONGEST_SHOWN], verdict.outcome, slips,
        likeliest is not None and likeliest.sure, one.clock, one.moment, first,
        one.link, len(bench.hints_given.charged.get(verdict.step, ())), verdict.in_symbols,
        one.line.sure if isinstance(one.line, Entered) else None,
        bench.could_show(verdict.step) if first else frozenset(),
    )  # fmt: skip


def _placing(bench: Bench, line: PlacedLine, one: Timed) -> Iterator[Entry]:
    """Yield what was put into a diagram, with what came of it; nothing where it made no sense."""
    for picture in bench.picture_work.pictures:
        latest = picture.latest
        if picture.key != line.step or latest is None or latest.placing.item != line.item:
            continue
        text = placed_told(picture, latest.placing)[:LONGEST_SHOWN]
        outcome = Outcome.RIGHT if latest.is_right else Outcome.WRONG
        yield Entry(
            line.task or 0, picture.key, "free_body", text, outcome, tuple(map(str, latest.slips)),
            True, one.clock, one.moment, False, one.link, len(picture.given),
        )  # fmt: skip


def _line_mark(
    drill: Drill,
    task: Task,
    bench: Bench,
    step: Step,
    tries: Mapping[LinePlace, Sequence[Entry]],
) -> LineMark:
    """Return what a line earned, by how it stands and by the entries judged for it."""
    judged = tries.get(LinePlace(task.number, step.key, task.drawn), ())
    line = bench.working.lines.get(step.key)
    outcome = None if line is None else line.verdict.outcome
    wrong = sum(entry.outcome is Outcome.WRONG for entry in judged)
    taken = bench.hints_given.charged.get(step.key, [])
    first_right = bool(judged) and judged[0].outcome in (Outcome.RIGHT, Outcome.FOLLOWED)
    return LineMark(
        task.number, step.key, step.kind.name, outcome, len(judged), len(taken), first_right,
        share_of(drill, outcome, wrong, taken), bench.working.closed(step.key), task.drawn,
        task.weight(step),
    )  # fmt: skip
