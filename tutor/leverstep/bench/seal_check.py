"""Whether the seals of a record hold, and if not, what was changed: by its keys made once more."""

from __future__ import annotations

import hmac
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum, StrEnum
from itertools import islice
from pathlib import Path

from leverstep.bench.contents import MOST_LINES, fields_on, pieces_of, where_told
from leverstep.bench.record_lines import DrillBegun, Fields, ResumedLine, line_of
from leverstep.bench.sealing import SEAL, LineKey, LineSeal, first_key, key_kept, seal_on
from leverstep.course.phrases import counted, some_named

Opens = Callable[[str], Iterable[bytes]]
"""Returns the secrets that what stands on a line may be, one for each private key at hand."""

_MOST_NAMED = 3
"""Lines that a remark names, and gaps that have a remark of their own."""

_LOOKED_AT = 20
"""Lines by which it is found out whether a key is that of a record: the first may be altered."""

_MOST_BEGUN = 20
"""Beginnings that are looked at: each is a record that goes on without the key beside it."""


class SealState(StrEnum):
    """How the seal of a record stands; each is what a table says of it."""

    HOLDS = "holds"
    OPEN = "open"
    IN_PART = "in part"
    CHANGED = "changed"
    UNKNOWN = "unknown"
    NONE = "none"
    UNCHECKED = "not checked"


class Odd(Enum):
    """What is odd about a line by its seal, as a clause about one or several lines."""

    ALTERED = "altered after it was written"
    UNSEALED = "put in, or its seal taken off"
    FOREIGN = "from another record"
    MOVED = "not where it was written"
    TWICE = "there a second time"


@dataclass(frozen=True, slots=True)
class Checked:
    """What the seals of a record show.

    `remarks` are clauses for who reads marks. `breaks` are the places of lines that were not
    written there, from 0, and of lines before which others are missing.
    """

    state: SealState
    remarks: tuple[str, ...] = ()
    breaks: frozenset[int] = frozenset()

    @property
    def is_broken(self) -> bool:
        """Return whether something stands there that was not written so by who was to."""
        return self.state in (SealState.CHANGED, SealState.UNKNOWN)


def checked(data: bytes, opens: Opens) -> Checked:
    """Return what the seals of a record show, whatever stands in it."""
    pieces = pieces_of(data)[0]
    lines = [fields_on(piece) for piece in pieces]
    if not any(line is not None and (SEAL in line or "sealed" in line) for line in lines):
        return Checked(SealState.NONE)
    check = _Check(opens, lines)
    for place, fields in enumerate(lines):
        check.take(place, fields)
    return check.found(is_ended=any(fields and fields.get("kind") == "end" for fields in lines))


@dataclass
class _Keys:
    """The keys of one beginning, made as they are asked for; each is kept, since lines may move."""

    made: list[LineKey]

    def fits(self, seal: LineSeal, fields: Fields) -> bool:
        """Return whether a line bears the code that it was given at its number."""
        first = self.made[0].number
        if not first <= seal.number <= first + MOST_LINES:
            return False
        while self.made[-1].number < seal.number:
            self.made.append(self.made[-1].next)
        try:
            return hmac.compare_digest(self.made[seal.number - first].code(fields), seal.code)
        except (ValueError, RecursionError):  # what no program writes
            return False


@dataclass
class _Check:
    """Takes the lines of a record one after the other.

    `keys` are those of each beginning by what tells it from others, `of` the one at hand, "" before
    any. `due` is the number of the line that comes next, and `loose` how many lines stand since the
    last one that was written where it stands: they may be some of those due.
    """

    opens: Opens
    lines: Sequence[Fields | None]
    keys: dict[str, _Keys] = field(default_factory=dict)
    of: str = ""
    due: int = 0
    loose: int = 0
    begun: int = 0
    before: int = 0
    anew: list[int] = field(default_factory=list)
    missing: dict[int, int] = field(default_factory=dict)
    odd: dict[Odd, list[str]] = field(default_factory=dict)
    breaks: set[int] = field(default_factory=set)
    is_unknown: bool = False

    def take(self, place: int, fields: dict[str, object] | None) -> None:
        """Take a line, None where it can't be read."""
        seal = None if fields is None else seal_on(fields)
        bare = _bare(fields or {})
        if seal is not None:
            self._begin(place, seal, bare)
        if not self.of:
            self.before += 1
            self.due = place + 1
        elif seal is None:
            self._note(Odd.ALTERED if fields is None else Odd.UNSEALED, place, bare)
        elif seal.of not in self.keys:
            self._note(Odd.FOREIGN, place, bare)
        elif not self.keys[seal.of].fits(seal, bare):
            self._note(Odd.ALTERED, place, bare)
        else:
            self._place(place, seal.number, bare)

    def _begin(self, place: int, seal: LineSeal, bare: Fields) -> None:
        """Begin anew with a line that has a secret, where one of the keys at hand fits it."""
        line = line_of(bare)
        sealed = line.sealed if isinstance(line, DrillBegun | ResumedLine) else None
        if sealed is None:
            return
        self.begun += 1
        if self.begun > _MOST_BEGUN:
            self.is_unknown = True
            return
        for secret in self.opens(sealed):
            keys = _Keys([first_key(secret, sealed, seal.number)])
            if keys.made[0].of == seal.of and self._fit(keys, place, seal.of):
                self.anew += [place] if place else []
                self.keys[seal.of], self.of = keys, seal.of
                return
        self.is_unknown = True

    def _fit(self, keys: _Keys, place: int, of: str) -> bool:
        """Return whether a line fits some keys: the one at a place, or one soon after it."""
        for fields in self.lines[place : place + _LOOKED_AT]:
            seal = None if fields is None else seal_on(fields)
            if fields and seal and seal.of == of and keys.fits(seal, _bare(fields)):
                return True
        return False

    def _place(self, place: int, number: int, bare: Fields) -> None:
        """Take a line that was written as it stands: at its place, or elsewhere."""
        if number > self.due:
            gone = range(min(self.due + self.loose, number), number)
            self.missing |= dict.fromkeys(gone, place)
        elif number < self.due:
            self._note(Odd.MOVED if number in self.missing else Odd.TWICE, place, bare)
            self.missing.pop(number, None)
            return
        self.due, self.loose = number + 1, 0

    def _note(self, odd: Odd, place: int, bare: Fields) -> None:
        """Note a line that is odd, by its place in the file and in the working."""
        where = where_told(line_of(bare))
        told = f"{place + 1} ({where})" if where else f"{place + 1}"
        self.odd.setdefault(odd, []).append(told)
        self.breaks.add(place)
        self.loose += odd not in (Odd.MOVED, Odd.TWICE)

    def found(self, is_ended: bool) -> Checked:
        """Return what was found; `is_ended` is whether the record was handed in."""
        if not self.of:
            told = "sealed by a key that is not that of the drill, or its first lines were changed"
            return Checked(SealState.UNKNOWN, (told,))
        remarks = tuple(self._remarks())
        breaks = frozenset(self.breaks | set(self.missing.values()))
        if breaks:
            return Checked(SealState.CHANGED, remarks, breaks)
        if self.is_unknown:
            return Checked(SealState.UNKNOWN, remarks)
        if self.before or self.anew:
            return Checked(SealState.IN_PART, remarks)
        return Checked(SealState.HOLDS if is_ended else SealState.OPEN)

    def _remarks(self) -> Iterator[str]:
        """Yield what is odd, by lines of the file from 1."""
        for odd, places in self.odd.items():
            yield f"by its seal, {odd.value}: {_named(places)}"
        gaps = Counter(self.missing.values())
        for place, number in islice(gaps.items(), _MOST_NAMED):
            are = counted(number, "line is", "lines are")
            yield f"by its seal, {are} missing before line {place + 1}"
        if len(gaps) > _MOST_NAMED:
            yield f"by its seal, lines are missing in {len(gaps) - _MOST_NAMED} more places"
        if self.before:
            yield f"sealed only from line {self.before + 1} on"
        if again := [one for one in self.anew if one != self.before]:
            numbers = ", ".join(str(one + 1) for one in again[:_MOST_NAMED])
            yield f"sealed anew from line {numbers} on, since its key was not beside it"
        if self.is_unknown:
            yield "sealed in part by a key that is not that of the drill"


def missing_at_end(record: Path, data: bytes) -> int:
    """Return how many lines of a record are missing at its end, by the key that lies beside it."""
    kept = key_kept(record)
    last = pieces_of(data)[0][-1:] if kept else []
    fields = fields_on(last[0]) if last else None
    seal = seal_on(fields) if fields else None
    if kept is None or seal is None or seal.of != kept.of:
        return 0
    return max(0, kept.number - seal.number - 1)


def _bare(fields: Fields) -> dict[str, object]:
    """Return what stands on a line without its link and its seal."""
    return {key: value for key, value in fields.items() if key not in (SEAL, "link")}


def _named(places: Sequence[str]) -> str:
    """Return the first of some lines, and how many there are besides."""
    return f"line{'' if len(places) == 1 else 's'} {some_named(places, _MOST_NAMED)}"
