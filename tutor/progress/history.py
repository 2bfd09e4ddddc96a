"""What was practised: the records of practice, with every entry judged again, and nothing written.

A habit is known by the reason that its slips share, as in `slips.habits`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from tutor.course.cards import Card
from tutor.course.faults import FileError
from tutor.course.shelf import Shelf
from tutor.drill.bench import Bench
from tutor.drill.practice import Kept, read_practice, records_there_are
from tutor.drill.record import RecordError
from tutor.slips.catalogue import Catalogue, Slip
from tutor.slips.search import reasons_at
from tutor.working.verdict import Outcome, Verdict


@dataclass(frozen=True, slots=True)
class Entry:
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
class Worked:
    """One working of practice with at least one line: of which problem, and its entries."""

    card: Card
    finished: bool
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class History:
    """All workings, the earliest first, and how many records could not be used."""

    workings: tuple[Worked, ...]
    unusable: int = 0


def read_history(shelf: Shelf, now: datetime, folder: Path | None = None) -> History:
    """Return what the records of practice in a folder (the user's data folder) tell.

    Args:
        shelf: the problems there are.
        now: what counts as now, with its time zone; days are those of this zone. Nothing is taken
            as later than that.
        folder: where the records lie.
    """
    cards = {card.id: card for card in shelf.cards}
    workings, unusable = [], 0
    for path in records_there_are(folder):
        try:
            kept = read_practice(path, shelf)
            times = _times(kept.lines, now)
        except (RecordError, FileError, ValueError):
            unusable += 1
            continue
        worked = _worked(kept, times, cards[kept.question.problem.id])
        if worked.entries:
            workings.append(worked)
    return History(tuple(sorted(workings, key=lambda one: one.entries[0].time)), unusable)


def _times(lines: Iterable[Mapping[str, object]], now: datetime) -> list[datetime]:
    """Return when each line was written, where a clock was put back no earlier than the one before.

    A line without a readable time has that of the line before.

    Raises:
        ValueError: where the first line has none, so that nothing of the record has its place.
    """
    found: list[datetime] = []
    for line in lines:
        try:
            time = min(_time(line.get("time"), now), now)
        except ValueError:
            if not found:
                raise
            time = found[-1]
        found.append(max(time, found[-1]) if found else time)
    return found


def _time(written: object, now: datetime) -> datetime:
    """Return a time as a record holds it, in the zone of `now`; one without a zone is UTC.

    Raises:
        ValueError: where it is none.
    """
    time = datetime.fromisoformat(str(written))
    try:
        return (time if time.tzinfo else time.replace(tzinfo=UTC)).astimezone(now.tzinfo)
    except OverflowError as error:
        raise ValueError(f"{written}: out of reach") from error


def _worked(kept: Kept, times: Iterable[datetime], card: Card) -> Worked:
    """Return a working with all its entries judged again."""
    bench = Bench(kept.question, _keep_nothing, kept.guidance)
    entries = tuple(_entries(bench, zip(kept.lines, times, strict=True)))
    return Worked(card, bench.working.complete, entries)


def _keep_nothing(line: dict[str, object]) -> None:
    """Let a line be: it is on the disk already."""


def _entries(
    bench: Bench, lines: Iterable[tuple[Mapping[str, object], datetime]]
) -> Iterator[Entry]:
    """Yield what came of each entry of a record, as its lines are taken again."""
    met: set[str] = set()
    hinted: set[str] = set()
    for line, time in lines:
        verdict = bench.replay(line)
        if line.get("kind") == "hint":
            hinted.add(str(line.get("step")))
        if verdict is None or not verdict.counts or _is_symbols_only(bench, verdict):
            continue
        key, first = verdict.step, verdict.step not in met
        met.add(key)
        right = first and verdict.settled and key not in hinted
        could = _could(bench, key) if first else frozenset()
        yield Entry(time, key, first, right, could, _made_for_sure(verdict, bench.catalogue))


def _is_symbols_only(bench: Bench, verdict: Verdict) -> bool:
    """Return whether an entry is right in symbols and has still to be written with its numbers."""
    line = bench.working.lines.get(verdict.step)
    return verdict.settled and (line is None or line.verdict is not verdict)


def _could(bench: Bench, key: str) -> frozenset[str]:
    """Return the reasons of the habits that could show at a line as it has just been written."""
    written = frozenset(bench.working.own_values(key))
    return reasons_at(bench.question.derivation, bench.catalogue, key, written)


def _made_for_sure(verdict: Verdict, catalogue: Catalogue) -> tuple[Slip, ...]:
    """Return the slips that were told of an entry for sure.

    Where several explanations fit equally well, that is only what all of them have in common.
    """
    if verdict.outcome is not Outcome.WRONG or not verdict.explanations:
        return ()
    likeliest, *others = verdict.explanations
    if not likeliest.sure:
        return ()
    found = [catalogue.slips[finding.slip] for finding in likeliest.findings]
    for other in others:
        reasons = {catalogue.slips[finding.slip].reason for finding in other.findings}
        found = [slip for slip in found if slip.reason in reasons]
    return tuple(dict.fromkeys(found))
