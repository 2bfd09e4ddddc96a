"""Gathering the figures of a class, student by student.

Marks are those of the sitting that counts; what was right at the first try, slips and hints come
from a student's first sitting, since who sits again has seen what came of each line.

What is kept grows with the lines of the drill and with what stands out, not with the records; for
each student it keeps an id, and for each right line the digest in `alike`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import astuple
from typing import Any

from leverstep.course.decimals import half_up
from leverstep.course.phrases import in_problem
from leverstep.drill.drill import Drill
from leverstep.marking.collecting import ATTENDANCE, Student
from leverstep.marking.marking import Entry, LineMark, LinePlace, Marked, tasks_marked
from leverstep.questions.choice_question import QuestionSort
from leverstep.reports.alike import Likeness
from leverstep.reports.bank_figures import Banks
from leverstep.reports.changes import ClassChanges, EarlierSittings
from leverstep.reports.counts_data import counts_as_data, pairs_of, place, whole, word
from leverstep.reports.drawn_diagrams import DrawnDiagrams
from leverstep.reports.figures import (
    SMALL,
    AnswerFigures,
    Doubt,
    Figures,
    GroupFigures,
    Help,
    LineFigures,
    Pair,
    SureFigures,
    Who,
)
from leverstep.reports.measures import LineSums, spread
from leverstep.reports.needs import help_for
from leverstep.reports.slipped import ClassSlips, to_teach
from leverstep.slips.catalogue import Catalogue
from leverstep.working.page import called
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask

_COUNTED = ("sat", "finished", "excused", "unmarked", "absent")
"""What students are counted by."""

HARDEST = 10
"""So many lines are shown as the hardest."""


class ClassFigures:
    """Gathers the figures of a class, one student after the other."""

    def __init__(
        self,
        drill: Drill,
        catalogue: Catalogue,
        shared: Iterable[str] = (),
        strangers: Iterable[str] = (),
        earlier: EarlierSittings | None = None,
    ) -> None:
        """Begin with nobody.

        Args:
            drill: the drill.
            catalogue: the slips that are named.
            shared: what is remarked on all records alike.
            strangers: ids that are not on the roster, and whose records are not marked.
            earlier: what was done in the drill that it is compared with, None for none.
        """
        self._drill = drill
        self._catalogue = catalogue
        self._shared = tuple(shared)
        self._counts: Counter[str] = Counter()
        self._percents: Counter[int] = Counter()
        self._sums: dict[LinePlace, LineSums] = {}
        self._hints: Counter[LinePlace] = Counter()
        self._answers: Counter[tuple[QuestionSort, bool]] = Counter()
        self._sureness: Counter[tuple[int, bool]] = Counter()
        self._names: dict[LinePlace, str] = {}
        self._called: dict[LinePlace, str] = {}
        self._asks: dict[LinePlace, str] = {}
        self._slips = ClassSlips(self._catalogue)
        self._drawn = DrawnDiagrams(catalogue)
        self._changes = None if earlier is None else ClassChanges(drill, earlier)
        self._likeness = Likeness()
        self._banks = Banks(drill)
        self._who: list[Who] = []
        self._help: list[Help] = []
        self._doubts: list[Doubt] = []
        self._strangers = list(strangers)
        self._notes: list[Doubt] = []
        self._absent: list[Who] = []
        self._unfinished: list[Who] = []
        self._groups: dict[str, dict[str, Counter[int]]] = {}
        tasks = enumerate(drill.task_items, 1)
        self._individual = {number for number, item in tasks if not item.fixed}

    def add(self, student: Student) -> None:
        """Add what one student did; who is not on the roster is only listed."""
        self._add_doubts(student)
        if student.id and not self._drill.is_open_to(student.id):
            self._strangers.append(student.id)
            return
        if student.notes:
            self._notes.append(Doubt(self._who_is(student), student.notes))
        if student.excused:
            self._counts["excused"] += 1
            return
        if student.counted is None or student.first is None:
            self._counts["unmarked" if student.sittings else "absent"] += 1
            self._absent += [] if student.sittings else [self._who_is(student)]
            return
        marked, first = (
            one.without(self._drill.withdrawn_for(one.drawn))
            for one in (student.counted, student.first)
        )
        self._counts["finished"] += marked.ended
        self._unfinished += [] if marked.ended else [self._who_is(student)]
        percent = half_up(1000 * marked.total / self._drill.marks)
        self._percents[percent] += 1
        self._add_to_groups(student, percent)
        entries = [entry for sitting in student.sittings for entry in sitting.entries]
        self._likeness.add(len(self._who), entries, self._individual)
        self._counts["sat"] += 1
        self._who.append(self._who_is(student))
        written: list[LineMark | Entry] = [*marked.lines, *first.lines, *entries]
        for one in written:
            if one.place not in self._names:
                title = self._banks.title(one.problem)
                self._names[one.place] = in_problem(called(one.kind, one.step), title)
                self._called[one.place] = called(one.kind, one.step)
        self._add_lines(first)
        self._banks.add(first)
        self._slips.add(first)
        self._drawn.add(first)
        if self._changes is not None:
            self._changes.add(first)
        self._answers.update((one.sort, one.right) for one in first.answers)
        found = (one for one in first.findings if one.answered)
        self._answers.update((one.sort, one.is_right) for one in found)
        self._sureness.update(
            (entry.sureness, entry.outcome is not Outcome.WRONG)
            for entry in first.entries
            if entry.sureness is not None and entry.counts
        )
        helped = help_for(self._drill, marked, first, self._names, self._catalogue)
        self._help += [helped] if helped else []

    def as_data(self) -> dict[str, object]:
        """Return the sums as data that JSON can hold, with no id and no name.

        What is told of single students alone is not in it, nor what changed since another drill.
        """
        return {
            "counts": dict(self._counts),
            "percents": counts_as_data(self._percents),
            "lines": [
                [[*place], {
                    "sums": [*astuple(sums)], "hints": self._hints[place],
                    "asks": self._asks[place],
                }]
                for place, sums in self._sums.items()
            ],
            "names": [[[*one], [name, self._called[one]]] for one, name in self._names.items()],
            "banks": self._banks.as_data(),
            "answers": counts_as_data(self._answers),
            "sureness": counts_as_data(self._sureness),
            "slips": self._slips.as_data(),
            "drawn": self._drawn.as_data(),
            "groups": [
                [heading, [[name, counts_as_data(of)] for name, of in sorted(groups.items())]]
                for heading, groups in self._groups.items()
            ],
        }  # fmt: skip

    def add_data(self, data: Mapping[str, Any]) -> None:
        """Add the sums of another part of the class, as `as_data` has them.

        Raises:
            ValueError, KeyError, TypeError, AttributeError: where it is no such data.
        """
        for key, count in data["counts"].items():
            if key not in _COUNTED:
                raise ValueError("a count is of nothing")
            self._counts[key] += whole(count)
        for tenths, count in pairs_of(data["percents"]):
            self._percents[_tenths(tenths)] += whole(count)
        for one, (name, bare) in pairs_of(data["names"]):
            self._names.setdefault(self._place(one), word(name))
            self._called.setdefault(self._place(one), word(bare))
        for one, found in pairs_of(data["lines"]):
            at = self._place(one)
            sums = LineSums(*map(whole, found["sums"]))
            self._sums.setdefault(at, LineSums()).add_sums(sums)
            self._hints[at] += whole(found["hints"])
            self._asks.setdefault(at, word(found["asks"]))
        for (sort, right), count in pairs_of(data["answers"]):
            self._answers[QuestionSort(sort), bool(right)] += whole(count)
        for (sure, right), count in pairs_of(data["sureness"]):
            self._sureness[whole(sure), bool(right)] += whole(count)
        self._banks.add_data(data["banks"])
        self._slips.add_data(data["slips"])
        self._drawn.add_data(data["drawn"])
        self._add_group_data(data["groups"])

    def _add_group_data(self, data: object) -> None:
        for heading, groups in pairs_of(data):
            there = self._groups.setdefault(word(heading), {})
            for name, percents in pairs_of(groups):
                for tenths, count in pairs_of(percents):
                    there.setdefault(word(name), Counter())[_tenths(tenths)] += whole(count)

    def _place(self, data: object) -> LinePlace:
        """Return a line by its task, which the drill has; ValueError where it is none."""
        found = place(data)
        if not 1 <= found.task <= len(self._drill.task_items):
            raise ValueError("a task is none of the drill")
        return found

    def figures(self) -> Figures:
        """Return the figures of all students added so far."""
        places = sorted(self._sums, key=lambda place: (place.task, place.problem))
        lines = tuple(map(self._line, places))
        facility = {place: line.facility for place, line in zip(places, lines, strict=True)}
        slips, drawn = self._slips.figures(self._names, facility), self._drawn.figures()
        return Figures(
            drill=self._drill,
            sat=self._counts["sat"],
            finished=self._counts["finished"],
            absent=self._counts["absent"],
            unmarked=self._counts["unmarked"],
            marks=spread(self._percents),
            lines=lines,
            slips=slips,
            teach=to_teach((*slips, *drawn.slips)),
            hardest=_hardest(lines),
            pairs=tuple(self._pairs()),
            help=tuple(sorted(self._help, key=lambda one: one.percent)),
            doubts=tuple(self._doubts),
            strangers=tuple(self._strangers),
            notes=tuple(self._notes),
            without_record=tuple(self._absent),
            not_handed_in=tuple(self._unfinished),
            excused=self._counts["excused"],
            groups=tuple(self._group_figures()),
            shared=self._shared,
            drawn=drawn,
            changes=None if self._changes is None else self._changes.figures(),
            answers=tuple(self._answer_figures()),
            sureness=tuple(self._sure_figures()),
            banks=tuple(self._banks.figures()),
        )

    def _add_to_groups(self, student: Student, percent: int) -> None:
        """Add a student's marks to those of each group that the roster has the student in."""
        of = zip(self._drill.roster_columns.more, self._drill.carried(student.id), strict=True)
        for heading, name in of:
            groups = self._groups.setdefault(heading, {})
            groups.setdefault(name, Counter())[percent] += 1

    def _group_figures(self) -> Iterable[tuple[str, tuple[GroupFigures, ...]]]:
        """Yield the groups of each heading that have so many students that they name nobody."""
        for heading, groups in self._groups.items():
            found = [
                GroupFigures(name, percents.total(), marks.median)
                for name, percents in sorted(groups.items())
                if name and percents.total() >= SMALL and (marks := spread(percents)) is not None
            ]
            if found:
                yield heading, tuple(found)

    def _sure_figures(self) -> Iterable[SureFigures]:
        """Yield how many entries there are of each sureness, the surest first."""
        for sure in sorted({sure for sure, _ in self._sureness}, reverse=True):
            right, wrong = self._sureness[sure, True], self._sureness[sure, False]
            yield SureFigures(sure, right + wrong, right)

    def _answer_figures(self) -> Iterable[AnswerFigures]:
        """Yield the figures of each sort of question that was answered."""
        for sort in QuestionSort:
            right, wrong = self._answers[sort, True], self._answers[sort, False]
            if right + wrong:
                yield AnswerFigures(sort, right + wrong, right)

    def _add_doubts(self, student: Student) -> None:
        """Note what is odd about a record; who is absent or has not handed in is counted apart."""
        remarks = tuple(remark for remark in student.remarks if remark not in ATTENDANCE)
        if remarks:
            who = self._who_is(student) if student.id else Who(student.sittings[0].record)
            self._doubts.append(Doubt(who, remarks))

    def _who_is(self, student: Student) -> Who:
        return Who(student.id, student.name, self._drill.carried(student.id))

    def _add_lines(self, marked: Marked) -> None:
        self._note_new([one for one in marked.lines if one.place not in self._sums], marked)
        right = Counter((line.task, line.problem) for line in marked.lines if line.first_right)
        common = sum(number for (_, problem), number in right.items() if not problem)
        for line in marked.lines:
            self._hints[line.place] += line.hints
            if line.tries:
                own = right[line.task, line.problem] if line.problem else 0
                self._sums[line.place].add(line.first_right, common + own - line.first_right)

    def _note_new(self, lines: list[LineMark], marked: Marked) -> None:
        """Note what lines ask for that no student before had; numbers may open other lines."""
        tasks = tasks_marked(self._drill, marked) if lines else ()
        for line in lines:
            question = tasks[line.task - 1].question
            self._sums[line.place] = LineSums()
            self._asks[line.place] = ask(question, question.derivation.step(line.step))

    def _line(self, place: LinePlace) -> LineFigures:
        sums = self._sums[place]
        return LineFigures(
            place.task,
            place.step,
            name=self._called[place],
            asks=self._asks[place],
            tried=sums.tried,
            facility=sums.facility,
            discrimination=sums.discrimination if sums.tried >= SMALL else None,
            hints=self._hints[place],
            problem=self._banks.title(place.problem),
            had=self._banks.had(place) if place.problem else self._counts["sat"],
        )

    def _pairs(self) -> Iterable[Pair]:
        for pair in self._likeness.pairs():
            places = sorted(pair.places, key=list(self._names).index)
            lines = tuple((place[0], self._names[place]) for place in places)
            yield Pair(self._who[pair.right], self._who[pair.wrong], lines)


def _tenths(data: object) -> int:
    """Return marks in tenths of a per cent; ValueError where they are none."""
    if whole(data) > 1000:
        raise ValueError("marks are more than all")
    return whole(data)


def _hardest(lines: Iterable[LineFigures]) -> tuple[LineFigures, ...]:
    """Return the lines that fewest had right at once, of those that half who had them tried.

    One of a bank is there only where enough students had its problem.
    """
    tried = [
        (line.facility, line)
        for line in lines
        if line.facility is not None and line.facility < 1 and 2 * line.tried >= line.had
        if not line.problem or line.had >= SMALL
    ]
    return tuple(line for _, line in sorted(tried, key=lambda one: one[0])[:HARDEST])
