"""Records of practice and of drills, with every entry judged again and nothing written.

A habit is known by the reason that its slips share, as in `slips.habits`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.bench import Bench
from leverstep.bench.contents import contents
from leverstep.bench.practice import read_practice
from leverstep.bench.record import RecordError, read_bytes
from leverstep.bench.record_lines import DrillBegun, HintLine, PlacedLine, RecordLine
from leverstep.bench.replaying import Replay, keep_nothing
from leverstep.course.cards import Card, card_of
from leverstep.course.shelf import Shelf
from leverstep.drill.benches import benches_of
from leverstep.drill.drill import is_student
from leverstep.drill.drill_file import drill_of
from leverstep.drill.earlier import drill_kept, is_handed_in
from leverstep.drill.lines import digest_in, is_shown, start_key_in, up_to_end
from leverstep.free_body.picture_told import slips_in
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.explained import made_for_sure
from leverstep.slips.picture_slips import PictureSlip
from leverstep.working.verdict import Verdict

_FIRST_YEAR = 1970
"""No record is older; a clock without a battery may begin here."""


@dataclass(frozen=True, slots=True)
class PractisedEntry:
    """One entry that was judged.

    `time` is when it was typed, `step` the key of its line. `first` says whether it is the first on
    that line, `right` whether it is so and right, without a hint before it. `could` holds, for a
    first entry, the reasons of all habits that could have shown there; `made` the slips that were
    made for sure.
    """

    time: datetime
    step: str
    first: bool
    right: bool
    could: frozenset[str] = frozenset()
    made: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True)
class PractisedPicture:
    """One free-body diagram that something was drawn in: when last, and the slips made in it."""

    time: datetime
    slips: tuple[PictureSlip, ...]


@dataclass(frozen=True, slots=True)
class Worked:
    """One working with a line or a diagram at least: of which problem, its entries and diagrams.

    Or one that was shown whole and read to its end (`read_whole`), which has neither.
    """

    card: Card
    finished: bool
    entries: tuple[PractisedEntry, ...]
    drawn: tuple[PractisedPicture, ...] = ()
    read_whole: bool = False


def practised(path: Path, shelf: Shelf, catalogue: Catalogue) -> tuple[Worked, ...]:
    """Return the working of a record of practice; none where nothing was judged in it.

    Raises:
        RecordError: where the record can't be used.
        FileError: where its numbers have no working.
        ValueError: where it has no time.
    """
    kept = read_practice(path, shelf)
    bench = Bench(kept.question, catalogue, keep_nothing, kept.guidance, shown=kept.shown)
    judging = _Practised([bench], by_task=False)
    return judging.worked(kept.lines, shelf)


def sat(path: Path, shelf: Shelf, catalogue: Catalogue) -> tuple[Worked, ...]:
    """Return the workings of a record of a drill, none of one that is not handed in.

    Before that the drill may not tell what came of a line.

    Args:
        path: where the record lies, with the file of its drill beside it.
        shelf: the problems there are.
        catalogue: the slips that are looked for.

    Raises:
        RecordError: where the record or the file of its drill can't be used.
        FileError: where its drill can't be used with the problems there are.
        ValueError: where its numbers have no working, or it has no time.
    """
    found = contents(read_bytes(path))
    first = found.first
    if not isinstance(first, DrillBegun) or not is_student(first.student or ""):
        raise RecordError(f"{path}: not a record of a drill")
    if not is_handed_in(found):
        return ()
    digest, student = digest_in(first), first.student or ""
    if not digest:
        raise RecordError(f"{path}: it names no drill")
    text = read_bytes(drill_kept(path.parent, digest)).decode()
    drill = drill_of(text, shelf.problems, digest)  # without its roster: the record has the id
    if drill.digest != digest:
        raise RecordError(f"{path}: its drill has changed since")
    tasks = drill.with_key(start_key_in(first)).tasks(drill.listed(student))
    if not is_shown(first, tasks):
        raise RecordError(f"{path}: the drill has different numbers now")
    judging = _Practised(benches_of(drill, catalogue, tasks, keep_nothing))
    return judging.worked(up_to_end(found).lines, shelf)


class _Practised(Replay):
    """What came of each entry of a record's workings, as its lines are taken again."""

    def __init__(self, benches: Sequence[Bench], by_task: bool = True) -> None:
        super().__init__(benches, by_task)
        self._times: list[datetime] = []
        self._entries: dict[Bench, list[PractisedEntry]] = {bench: [] for bench in benches}
        self._met: set[tuple[Bench, str]] = set()
        self._hinted: set[tuple[Bench, str]] = set()
        self._placed: dict[tuple[Bench, str], datetime] = {}

    def worked(self, lines: Sequence[RecordLine], shelf: Shelf) -> tuple[Worked, ...]:
        """Take the lines of a record again; return the workings with anything done."""
        self._times = _times(lines)
        self.take(lines)
        cards = {card.id: card for card in shelf.cards}
        problems = {bench: bench.question.problem for bench in self.benches}
        return tuple(
            Worked(
                cards.get(problems[bench].id) or card_of(problems[bench]),
                bench.working.complete and bench.mending is None,
                tuple(entries),
                drawn,
                is_read,
            )
            for bench, entries in self._entries.items()
            for drawn, is_read in [(tuple(self._drawn(bench)), bench.is_read_whole)]
            if entries or drawn or is_read
        )

    def _drawn(self, bench: Bench) -> Iterator[PractisedPicture]:
        """Yield the diagrams that something was drawn in; what is left out counts in one done."""
        for one in bench.picture_work.pictures:
            if time := self._placed.get((bench, one.key)):
                slips = slips_in(one) if one.is_done else tuple(one.made)
                yield PractisedPicture(time, slips)

    def note(self, place: int, line: RecordLine, bench: Bench, verdict: Verdict | None) -> None:
        """Keep an entry that counts with what came of it."""
        if isinstance(line, HintLine):
            self._hinted.add((bench, line.step or ""))
        if isinstance(line, PlacedLine):
            self._placed[bench, line.step or ""] = self._times[place]
        if verdict is None or not verdict.counts:
            return
        key = verdict.step
        first = (bench, key) not in self._met
        self._met.add((bench, key))
        right = first and verdict.settled and (bench, key) not in self._hinted
        could = bench.could_show(key) if first else frozenset()
        made = made_for_sure(bench.explained(verdict), bench.catalogue)
        self._entries[bench].append(
            PractisedEntry(self._times[place], key, first, right, could, made)
        )


def _times(lines: Iterable[RecordLine]) -> list[datetime]:
    """Return when each line was written, where a clock was put back no earlier than the one before.

    A line without a readable time has that of the line before.

    Raises:
        ValueError: where the first line has none, so that nothing of the record has its place.
    """
    found: list[datetime] = []
    for line in lines:
        try:
            time = _time(line.time)
        except ValueError:
            if not found:
                raise
            time = found[-1]
        found.append(max(time, found[-1]) if found else time)
    return found


def _time(written: str | None) -> datetime:
    """Return a time as a record holds it, in UTC; one without a zone is in UTC.

    Raises:
        ValueError: where it is none.
    """
    time = datetime.fromisoformat(str(written))
    if time.year < _FIRST_YEAR:
        raise ValueError(f"{written}: before there were records")
    try:
        return (time if time.tzinfo else time.replace(tzinfo=UTC)).astimezone(UTC)
    except OverflowError as error:
        raise ValueError(f"{written}: out of reach") from error
