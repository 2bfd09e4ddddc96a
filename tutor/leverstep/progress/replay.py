"""Records of practice and of drills, with every entry judged again and nothing written.

A habit is known by the reason that its slips share, as in `slips.habits`.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.bench import Bench, within_bounds
from leverstep.bench.practice import read_practice
from leverstep.bench.record import RecordError, contents, read_bytes
from leverstep.course.cards import Card, card_of
from leverstep.course.shelf import Shelf
from leverstep.drill.drill import is_student
from leverstep.drill.drill_file import drill_of
from leverstep.drill.earlier import drill_kept, is_handed_in
from leverstep.drill.fitting import givens_of
from leverstep.drill.lines import shown_in, start_key_in, task_of, up_to_end
from leverstep.drill.sitting import benches_of
from leverstep.slips.catalogue import Catalogue, Slip
from leverstep.slips.hypotheses import reasons_at
from leverstep.working.verdict import Outcome, Verdict

_DIGEST = re.compile("[0-9a-f]{64}")

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
class Worked:
    """One working with at least one line: of which problem, and its entries."""

    card: Card
    finished: bool
    entries: tuple[PractisedEntry, ...]


def practised(path: Path, shelf: Shelf) -> tuple[Worked, ...]:
    """Return the working of a record of practice; none where nothing was judged in it.

    Raises:
        RecordError: where the record can't be used.
        FileError: where its numbers have no working.
        ValueError: where it has no time.
    """
    kept = read_practice(path, shelf)
    bench = Bench(kept.question, _keep_nothing, kept.guidance)
    return _worked([bench], ((bench, line) for line in kept.lines), kept.lines, shelf)


def sat(path: Path, shelf: Shelf) -> tuple[Worked, ...]:
    """Return the workings of a record of a drill, none of one that is not handed in.

    Before that the drill may not tell what came of a line.

    Args:
        path: where the record lies, with the file of its drill beside it.
        shelf: the problems there are.

    Raises:
        RecordError: where the record or the file of its drill can't be used.
        FileError: where its drill can't be used with the problems there are.
        ValueError: where its numbers have no working, or it has no time.
    """
    found = contents(read_bytes(path))
    first = found.lines[0] if found.lines else {}
    digest, student = str(first.get("digest")), first.get("student")
    if first.get("kind") != "drill" or not isinstance(student, str) or not is_student(student):
        raise RecordError(f"{path}: not a record of a drill")
    if not is_handed_in(found):
        return ()
    if not _DIGEST.fullmatch(digest):
        raise RecordError(f"{path}: it names no drill")
    text = read_bytes(drill_kept(path.parent, digest)).decode()
    drill = drill_of(text, shelf.problems, digest)  # without its roster: the record has the id
    if drill.digest != digest:
        raise RecordError(f"{path}: its drill has changed since")
    tasks = drill.with_key(start_key_in(first)).tasks(drill.listed(student))
    if shown_in(first) != [givens_of(task) for task in tasks]:
        raise RecordError(f"{path}: the drill has different numbers now")
    benches = benches_of(drill, tasks, _keep_none_of_a_task)
    by_task = dict(enumerate(benches, 1))
    written = up_to_end(found).lines
    lines = ((by_task.get(task_of(line)), line) for line in written)
    return _worked(benches, lines, written, shelf)


def _keep_nothing(line: dict[str, object]) -> None:
    """Let a line be: it is on the disk already."""


def _keep_none_of_a_task(number: int, line: dict[str, object]) -> None:
    """Let a line of a drill be."""


_Lines = Iterable[Mapping[str, object]]


def _worked(
    benches: Collection[Bench],
    lines: Iterable[tuple[Bench | None, Mapping[str, object]]],
    written: _Lines,
    shelf: Shelf,
) -> tuple[Worked, ...]:
    """Return the workings of a record, each line taken again at its bench."""
    cards = {card.id: card for card in shelf.cards}
    of_bench: dict[int, list[tuple[Mapping[str, object], datetime]]] = {}
    for (bench, line), time in zip(lines, _times(written), strict=True):
        of_bench.setdefault(id(bench), []).append((line, time))
    found = []
    for bench in benches:
        problem = bench.question.problem
        entries = tuple(_entries(bench, benches, of_bench.get(id(bench), ())))
        if entries:
            card = cards.get(problem.id) or card_of(problem)
            found.append(Worked(card, bench.working.complete, entries))
    return tuple(found)


def _times(lines: _Lines) -> list[datetime]:
    """Return when each line was written, where a clock was put back no earlier than the one before.

    A line without a readable time has that of the line before.

    Raises:
        ValueError: where the first line has none, so that nothing of the record has its place.
    """
    found: list[datetime] = []
    for line in lines:
        try:
            time = _time(line.get("time"))
        except ValueError:
            if not found:
                raise
            time = found[-1]
        found.append(max(time, found[-1]) if found else time)
    return found


def _time(written: object) -> datetime:
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


def _entries(
    bench: Bench,
    benches: Collection[Bench],
    lines: Iterable[tuple[Mapping[str, object], datetime]],
) -> Iterator[PractisedEntry]:
    """Yield what came of each entry of a working, as its lines are taken again.

    `benches` are those of the whole record, for which the bounds are.
    """
    met: set[str] = set()
    hinted: set[str] = set()
    for line, time in lines:
        if not within_bounds(benches):
            return
        verdict = bench.replay(line)
        if line.get("kind") == "hint":
            hinted.add(str(line.get("step")))
        if verdict is None or not verdict.counts or _is_symbols_only(bench, verdict):
            continue
        key, first = verdict.step, verdict.step not in met
        met.add(key)
        right = first and verdict.settled and key not in hinted
        could = _could(bench, key) if first else frozenset()
        yield PractisedEntry(
            time, key, first, right, could, _made_for_sure(verdict, bench.catalogue)
        )


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
