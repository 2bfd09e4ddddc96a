"""A sitting that is taken again line by line while it goes on, and how it stands by then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from leverstep.bench.bench import Bench
from leverstep.bench.record_lines import (
    AwayLine,
    EndLine,
    HintLine,
    MendLine,
    PlacedLine,
    RecordLine,
    ResumedLine,
)
from leverstep.bench.replaying import Replay, keep_nothing
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import Drill
from leverstep.drill.fitting import keyed
from leverstep.drill.lines import moment_of
from leverstep.marking.as_shown import as_shown
from leverstep.marking.finding_marks import marked_steps
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.explained import made_for_sure
from leverstep.watching.sitting_state import (
    SLIP_TO_FIND,
    LineAtHand,
    SittingState,
    SlipMade,
)
from leverstep.working.verdict import Outcome, Verdict


class WatchedSitting(Replay):
    """Judges each line of a record once, as it comes. `state` is how the sitting stands.

    Lines are judged as marking does, so that what a student was not told is known here. Where
    verdicts wait for the end, a line is got past once it is written.
    """

    def __init__(self, drill: Drill, catalogue: Catalogue, student: str, first: RecordLine) -> None:
        """Begin with the first line of a record.

        Raises:
            ValueError: where a problem of the drill has no numbers with an equilibrium.
        """
        drill = keyed(drill, first).for_student(student)
        self._shown = as_shown(drill, student, first)
        super().__init__(benches_of(drill, catalogue, self._shown.tasks, keep_nothing))
        self._catalogue = catalogue
        self._wrong: Counter[LineAtHand] = Counter()
        self._unread: Counter[LineAtHand] = Counter()
        self._hints: Counter[LineAtHand] = Counter()
        self._slips: dict[tuple[str, LineAtHand], SlipMade] = {}
        self._task = 1
        of_banks = (one for one in self._shown.tasks if one.drawn)
        self._drawn = {one.number: one.question.problem.title for one in of_banks}
        begun = moment_of(first.time)
        self.state = SittingState(student, begun, begun)

    def _line(self, task: int, key: str) -> LineAtHand:
        """Return a line of a task, with its problem where students have several."""
        return LineAtHand(task, key, self._drawn.get(task, ""))

    def follow(self, lines: Iterable[RecordLine]) -> None:
        """Take the lines that were added; what stands behind the one that hands in is nothing."""
        for line in lines:
            if self.state.is_ended:
                break
            used = max(self.state.used, line.used or 0.0)
            is_away = isinstance(line, AwayLine) or (self.state.is_away and not _is_back(line))
            self.state = replace(
                self.state,
                last=moment_of(line.time) or self.state.last,
                used=used,
                is_ended=isinstance(line, EndLine),
                is_away=is_away,
            )
            self.take([self._shown.line_renumbered(line)])
        self._note_line_at_hand()
        self._add_up()

    def note(self, place: int, line: RecordLine, bench: Bench, verdict: Verdict | None) -> None:
        """Note what came of a line, and which one the student is at by then."""
        del place
        if isinstance(line, MendLine):  # it is written for every task as the sitting begins
            return
        self._task = task = line.task or 0
        if isinstance(line, HintLine):
            self._hints[self._line(task, line.step or "")] += 1
        elif isinstance(line, PlacedLine):
            self._note_placing(bench, line)
        elif verdict is not None:
            self._note_entry(bench, line, verdict)
        self._note_line_at_hand()

    def _note_entry(self, bench: Bench, line: RecordLine, verdict: Verdict) -> None:
        here = "" if self.state.at is None else self.state.at.key
        at = self._line(line.task or 0, verdict.step or line.step or here)
        if verdict.outcome is Outcome.UNREAD and not verdict.is_remark:
            self._unread[at] += 1
        if verdict.counts:
            self._wrong[at] += verdict.outcome is Outcome.WRONG
            found = made_for_sure(bench.explained(verdict), self._catalogue)
            self._note_slips(at, [slip.name for slip in found])
            if verdict.settled or not bench.working.rules.tells:
                self._step_past(at)

    def _note_placing(self, bench: Bench, line: PlacedLine) -> None:
        """Note what came of something that was put into a diagram."""
        pictures = bench.picture_work.pictures
        latest = next((one.latest for one in pictures if one.key == line.step), None)
        if latest is None or latest.placing.item != line.item:
            return
        at = self._line(line.task or 0, line.step or "")
        self._wrong[at] += not latest.is_right
        words = self._catalogue.diagram_slips
        self._note_slips(at, [words[slip].name for slip in latest.slips])
        if latest.is_right:
            self.state = replace(self.state, stepped=self.state.used)

    def _note_slips(self, at: LineAtHand, names: Iterable[str]) -> None:
        """Note the slips of an entry, in the order they were made."""
        for name in names:
            self._slips.pop((name, at), None)
            self._slips[name, at] = SlipMade(name, at, self.state.used)

    def _step_past(self, at: LineAtHand) -> None:
        """Count nothing more against a line that is done."""
        self.state = replace(self.state, stepped=self.state.used)
        for counter in (self._wrong, self._unread, self._hints):
            counter.pop(at, None)

    def _note_line_at_hand(self) -> None:
        """Note which line the student is at, and since when."""
        at = next(self._open_lines(), None)
        if at != self.state.at:
            self.state = replace(self.state, at=at, came=self.state.used)

    def _add_up(self) -> None:
        """Note what was tried at the line at hand, and how many lines are done."""
        at, done = self.state.at, list(self._done())
        self.state = replace(
            self.state,
            wrong=self._wrong[at] if at else 0,
            unread=self._unread[at] if at else 0,
            hints=self._hints[at] if at else 0,
            used_up=tuple(self._used_up()),
            slips=tuple(self._slips.values()),
            done=sum(done),
            asked=len(done),
        )

    def _done(self) -> Iterator[bool]:
        """Yield for each line asked for whether it is done; with slips to find, theirs alone."""
        for number, bench in enumerate(self.benches, 1):
            if number not in self._shown.unmarked:
                yield from (bench.working.done(step.key) for step in marked_steps(bench))

    def _used_up(self) -> Iterator[LineAtHand]:
        """Yield the lines that are not right and can't be tried again."""
        for number, bench in enumerate(self.benches, 1):
            for step in () if number in self._shown.unmarked else marked_steps(bench):
                if bench.working.closed(step.key) and not bench.working.stands(step.key):
                    yield self._line(number, step.key)

    def _open_lines(self) -> Iterator[LineAtHand]:
        """Yield the line that each task goes on with, that of the task at hand first."""
        order = [*range(self._task, len(self.benches) + 1), *range(1, self._task)]
        for number in order:
            key = "" if number in self._shown.unmarked else _goes_on_with(self.benches[number - 1])
            if key:
                yield self._line(number, key)


def _is_back(line: RecordLine) -> bool:
    """Return whether a line says that the student is there again: that, or that something was done.

    The clock is not kept while the student is away.
    """
    return isinstance(line, ResumedLine) or line.task is not None


def _goes_on_with(bench: Bench) -> str:
    """Return the key of what a task goes on with: the line judged last while it is not right, else
    the first that is missing; before it a diagram or a slip to find. "" where all is done.
    """
    mending = bench.mending
    if mending is not None and mending.due(bench.answers) is not None:
        return SLIP_TO_FIND
    key = bench.hint_line()
    if not key:
        return ""
    picture = bench.picture_work.open_at(bench.working.step(key).mark)
    return key if picture is None else picture.key
