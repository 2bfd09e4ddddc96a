"""What changed from an earlier drill to a later one, on pairs of problems alike in structure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from leverstep.course.alike_problems import asked_steps, steps_beside
from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_text import shown
from leverstep.course.problem import Problem
from leverstep.drill.drill import Drill, Item, lines_asked, same_student
from leverstep.drill.problem_pairs import ProblemPair, pairs_of, unlike_pairs
from leverstep.marking.collecting import Student
from leverstep.marking.finding_marks import FindingMark
from leverstep.marking.marking import Marked
from leverstep.marking.picture_marks import PictureMark
from leverstep.marking.shares import share_earned
from leverstep.reports.interval import LEAST, mean_interval
from leverstep.working.page import line_name

MOST_IMPROVED = 3

_RULES = (
    "guidance", "feedback", "hints", "reasons", "conversions", "units", "calculator", "picture",
    "attempts", "tolerance", "minutes",
)  # fmt: skip
"""The rules that change what marks the same knowledge earns, as the file has them."""


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line of both problems by its names, and the share right first time then and now."""

    then: str
    now: str
    students: int
    before: Fraction
    after: Fraction


@dataclass(frozen=True, slots=True)
class PairChange:
    """One pair by the titles of its problems: how many students worked on both, and how well.

    `before` and `after` are mean shares of the marks, 0 to 1, `change` the mean of each student's
    difference, `interval` that of this mean, None where it can't be told. `improved` has the lines
    with the greatest gain. `asked` is how many lines were asked for then and now, None where that
    is the same.
    """

    then: str
    now: str
    students: int
    before: Fraction = Fraction(0)
    after: Fraction = Fraction(0)
    change: Fraction = Fraction(0)
    interval: tuple[float, float] | None = None
    improved: tuple[LineChange, ...] = ()
    asked: tuple[int, int] | None = None

    @property
    def few(self) -> bool:
        """Return whether there are too few students for a claim."""
        return self.students < LEAST


@dataclass(frozen=True, slots=True)
class Changes:
    """All pairs of two drills: the title of the earlier one, and by name the rules that differ."""

    earlier: str
    unlike: tuple[str, ...]
    pairs: tuple[PairChange, ...]


@dataclass(frozen=True, slots=True)
class _Worked:
    """How a student did on a problem: the share of its marks, and of each line right first time."""

    share: Fraction
    lines: Mapping[str, Fraction]


class EarlierSittings:
    """Takes the students of an earlier drill, and keeps how they did on the problems of pairs."""

    def __init__(self, earlier: Drill, later: Drill, earlier_file: str, later_file: str) -> None:
        """Begin with nobody.

        Raises:
            FileError: where the later drill has no pairs, or the earlier has not their problems.
        """
        self.drill = earlier
        self.pairs = pairs_of(later)
        self.tasks = {pair: tuple(_tasks(earlier, pair)) for pair in self.pairs}
        self._worked: dict[str, dict[ProblemPair, _Worked]] = {}
        faults = list(unlike_pairs(later, later_file))
        if not self.pairs:
            expected = 'pair = "…" at an item, with a problem of the earlier drill'
            faults.append(Fault(later_file, "item", "no item has a pair", expected))
        for pair, tasks in self.tasks.items():
            if not tasks:
                found = f"it does not set {shown(pair.earlier.id)}"
                faults.append(Fault(earlier_file, "item", found, "the problem that a pair names"))
        if faults:
            raise FileError(faults)

    def add(self, student: Student) -> None:
        """Keep what a student did in the first sitting, where that can be marked."""
        if student.first is None or student.excused or not student.id:
            return
        found = {
            pair: _worked(student.first, pair.earlier, tasks) for pair, tasks in self.tasks.items()
        }
        self._worked[same_student(student.id)] = {
            pair: one for pair, one in found.items() if one is not None
        }

    def of(self, student: str) -> Mapping[ProblemPair, _Worked]:
        """Return how a student did on the problems that were worked on."""
        return self._worked.get(same_student(student), {})


@dataclass(slots=True)
class _Sums:
    """The students who tried a line in both, and their shares right first time, added up."""

    students: int = 0
    before: Fraction = Fraction(0)
    after: Fraction = Fraction(0)


@dataclass(slots=True)
class _Both:
    """Collects who worked on both problems of a pair: shares, and sums by the key of each line."""

    shares: list[tuple[Fraction, Fraction]] = field(default_factory=list)
    lines: dict[str, _Sums] = field(default_factory=dict)


class ClassChanges:
    """Collects what changed since an earlier drill, one student after the other."""

    def __init__(self, drill: Drill, earlier: EarlierSittings) -> None:
        self._drill = drill
        self._earlier = earlier
        self._both = {pair: _Both() for pair in earlier.pairs}
        self._steps = {pair: steps_beside(pair.earlier, pair.later) for pair in earlier.pairs}

    def add(self, marked: Marked) -> None:
        """Add the first sitting of a student, where the earlier drill was worked on too."""
        for pair, before in self._earlier.of(marked.student).items():
            after = _worked(marked, pair.later, pair.tasks)
            if after is None:
                continue
            both = self._both[pair]
            both.shares.append((before.share, after.share))
            for then, now in self._steps[pair]:
                if then.key in before.lines and now.key in after.lines:
                    sums = both.lines.setdefault(now.key, _Sums())
                    sums.students += 1
                    sums.before += before.lines[then.key]
                    sums.after += after.lines[now.key]

    def figures(self) -> Changes:
        """Return what changed over all students added so far."""
        earlier = self._earlier.drill
        unlike = unlike_rules(earlier, self._drill)
        items = [self._items(pair) for pair in self._both]
        if any(_openings(then) != _openings(now) for then, now in items):
            unlike = ["guidance", *(rule for rule in unlike if rule != "guidance")]
        if any(
            {one.slips_to_find for one in then} != {one.slips_to_find for one in now}
            for then, now in items
        ):
            unlike.append("form")
        return Changes(earlier.title, tuple(unlike), tuple(map(self._pair, self._both)))

    def _items(self, pair: ProblemPair) -> tuple[list[Item], list[Item]]:
        """Return the items of a pair in the earlier drill, and in the later."""
        then, now = self._earlier.drill.task_items, self._drill.task_items
        return [then[n - 1] for n in self._earlier.tasks[pair]], [now[n - 1] for n in pair.tasks]

    def _asked(self, pair: ProblemPair) -> tuple[int, int] | None:
        """Return how many lines were asked for then and now; None where that is the same.

        So it is where a slip was to be found, or several tasks of a problem asked for unlike lines.
        """
        found = []
        drills = self._earlier.drill, self._drill
        problems = pair.earlier, pair.later
        for drill, items, problem in zip(drills, self._items(pair), problems, strict=True):
            steps = asked_steps(problem)
            counts = {
                len(lines_asked(steps, one.rules.get("guidance", drill.guidance), one.open_lines))
                if not one.slips_to_find
                else None
                for one in items
            }
            found.append(counts.pop() if len(counts) == 1 else None)
        then, now = found
        return None if then is None or now is None or then == now else (then, now)

    def _pair(self, pair: ProblemPair) -> PairChange:
        both, titles = self._both[pair], (pair.earlier.title, pair.later.title)
        count = len(both.shares)
        if not count:
            return PairChange(*titles, 0)
        before = sum((then for then, _ in both.shares), Fraction(0)) / count
        after = sum((now for _, now in both.shares), Fraction(0)) / count
        differences = [now - then for then, now in both.shares]
        return PairChange(
            *titles, count, before, after, after - before,
            mean_interval(differences) if count >= LEAST else None,
            tuple(sorted(self._improved(pair), key=lambda one: one.before - one.after))
            [:MOST_IMPROVED],
            self._asked(pair),
        )  # fmt: skip

    def _improved(self, pair: ProblemPair) -> Iterator[LineChange]:
        for then, now in self._steps[pair]:
            sums = self._both[pair].lines.get(now.key, _Sums())
            if sums.students >= LEAST and sums.after > sums.before:
                count = sums.students
                shares = sums.before / count, sums.after / count
                yield LineChange(line_name(then), line_name(now), count, *shares)


def unlike_rules(earlier: Drill, later: Drill) -> list[str]:
    """Return the rules by name that differ, and change what marks the same knowledge earns."""
    unlike = [rule for rule in _RULES if _ruled(earlier, rule) != _ruled(later, rule)]
    is_marked_alike = _ruled(earlier, "scheme") == _ruled(later, "scheme")
    return [*unlike, *([] if is_marked_alike else ["marking"])]


def _ruled(drill: Drill, rule: str) -> set[object]:
    """Return what a rule says in the tasks of a drill, once each."""
    return {getattr(drill.at(task), rule) for task in range(1, len(drill.task_items) + 1)}


def _openings(items: Iterable[Item]) -> set[int | None]:
    """Return how many of the last lines are asked for where the first are shown; else None."""
    return {one.open_lines for one in items}


def _tasks(earlier: Drill, pair: ProblemPair) -> Iterator[int]:
    """Yield the numbers of the tasks of an earlier drill that set the problem of a pair."""
    for number, item in enumerate(earlier.task_items, 1):
        is_sound = pair.earlier.id not in item.faulty
        is_set = is_sound and pair.earlier.id in [problem.id for problem in item.bank]
        if is_set and number not in earlier.withdrawn_tasks:
            yield number


def _is_begun(one: PictureMark | FindingMark) -> bool:
    """Return whether anything was drawn or answered."""
    return one.answered if isinstance(one, FindingMark) else one.is_begun


def _worked(marked: Marked, problem: Problem, tasks: Iterable[int]) -> _Worked | None:
    """Return how a student did on the tasks of a problem, None where nothing was tried there.

    Of several tasks it is the mean, without those where another problem was drawn. Nothing is lost
    for lateness, or set by hand.
    """
    shares: list[Fraction] = []
    first: dict[str, list[bool]] = {}
    for task in tasks:
        if marked.drawn.get(task, problem.id) != problem.id:
            continue
        tried = [line for line in marked.lines if line.task == task and line.tries]
        if tried or any(map(_is_begun, marked.beside(task))):
            shares.append(share_earned(marked.earning(task)))
            for line in tried:
                first.setdefault(line.step, []).append(line.first_right)
    if not shares:
        return None
    rights = {key: Fraction(sum(one), len(one)) for key, one in first.items()}
    return _Worked(sum(shares, Fraction(0)) / len(shares), rights)
