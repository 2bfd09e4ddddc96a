"""What the bytes of a record hold: its lines, and whether each follows from those before it.

A line bears a link, a hash of it and all before it. A last line that was cut short is no line.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass

from leverstep.bench.record_lines import Fields, RecordLine, line_of
from leverstep.course.symbols import sign_of

LONGEST_LINE = 50_000
"""Bytes of one line: an entry has some hundreds, the first one the numbers of up to 50 workings."""

MOST_LINES = 50_000
"""Lines that are read: each that is written has a link and a time, and so more than 100 bytes."""

_LONGEST_STEP, _MOST_TASKS = 40, 1000
"""What names a step or a task of a record in a remark is no longer, and no more, than this."""

_CHANGED = "the record was changed after it was written"

_ENCODER = json.JSONEncoder(ensure_ascii=True, sort_keys=True)


@dataclass(frozen=True, slots=True)
class Contents:
    """What a record holds: the lines that can be read, and what is wrong with it.

    `links` are those that the lines bear, "" where one bears none; `remarks` are clauses for who
    reads marks. `size` is the bytes up to the end of the last whole line. `reckoned` are the links
    as they follow from what stands there, one for each whole line, also one that can't be read, and
    one for all behind `MOST_LINES` together; `breaks` are the places among them of what can't be
    read or bears another link than it should.
    """

    lines: tuple[RecordLine, ...]
    links: tuple[str, ...]
    remarks: tuple[str, ...]
    size: int
    reckoned: tuple[str, ...]
    breaks: tuple[int, ...]

    @property
    def first(self) -> RecordLine:
        """Return the first line, which says what the record is of; one of no kind where none is."""
        return self.lines[0] if self.lines else RecordLine()


def link_of(before: str, fields: Fields) -> str:
    """Return the link of a line: the SHA-256 of the link before it and of all that stands there."""
    return hashlib.sha256((before + as_hashed(fields)).encode()).hexdigest()


def as_hashed(fields: Fields) -> str:
    """Return what stands on a line as it goes into a hash: the same in whatever order it stands."""
    return _ENCODER.encode(fields)


def written(fields: Fields, link: str) -> bytes:
    """Return what stands on the disk of a line with its link."""
    return (_ENCODER.encode({**fields, "link": link}) + "\n").encode()


def first_of(data: bytes) -> RecordLine:
    """Return the first line of a record, which says what it is of; one of no kind for no record."""
    return contents(data[: data.find(b"\n") + 1]).first


def contents(data: bytes, after: str = "") -> Contents:
    """Return what the bytes of a record hold, with a remark on each thing that is wrong.

    They may be what was added to it since: `after` is the link that the last line before bears.
    """
    lines: list[RecordLine] = []
    links: list[str] = []
    reckoned: list[str] = []
    breaks: list[int] = []
    changed: list[str] = []
    link = follows_from = after
    place = "its beginning"
    pieces, beyond, rest = pieces_of(data)
    for number, piece in enumerate(pieces):
        found = _read(piece, follows_from)
        if found is None:
            follows_from = _link_of_unread(follows_from, piece)
            breaks.append(number)
        else:
            line = line_of(found.fields)
            place = where_told(line) or place
            ought = found.ought if link == follows_from else link_of(link, found.fields)
            if found.link != ought:
                changed.append(place)
                breaks.append(number)
            lines.append(line)
            links.append(found.link)
            link, follows_from = found.link, found.ought
        reckoned.append(follows_from)
    if beyond:
        breaks.append(len(reckoned))
        reckoned.append(_link_of_unread(follows_from, beyond))
    remarks = tuple(_remarks(changed, len(breaks) - len(changed), bool(rest)))
    size = len(data) - len(rest)
    return Contents(tuple(lines), tuple(links), remarks, size, tuple(reckoned), tuple(breaks))


def pieces_of(data: bytes) -> tuple[list[bytes], bytes, bytes]:
    """Return the whole lines that are read, all those behind them, and what is cut at the end."""
    *pieces, left = data.split(b"\n", MOST_LINES)
    size = left.rfind(b"\n") + 1
    return pieces, left[:size], left[size:]


def sound(data: bytes) -> Contents:
    """Return what a record holds up to the first line that does not follow from those before it.

    Nothing behind that is read; there is a remark where something was.
    """
    lines: list[RecordLine] = []
    links: list[str] = []
    size = 0
    while end := data.find(b"\n", size) + 1:
        found = _read(data[size : end - 1], links[-1] if links else "")
        if found is None or found.link != found.ought:
            return Contents(tuple(lines), tuple(links), (_CHANGED,), size, tuple(links), ())
        lines.append(line_of(found.fields))
        links.append(found.link)
        size = end
    return Contents(tuple(lines), tuple(links), (), size, tuple(links), ())


def _remarks(changed: list[str], unread: int, is_cut: bool) -> Iterator[str]:
    """Yield what is wrong with a record, as who reads marks knows it: by lines of the working."""
    if changed:
        places = f", in {len(changed)} places" if len(changed) > 1 else ""
        yield f"{_CHANGED}, from {changed[0]} on{places}"
    if unread:
        parts = "a part" if unread == 1 else f"{unread} parts"
        yield f"{parts} of the record can't be read"
    if is_cut:
        yield "the end of the record file is missing"


def where_told(line: RecordLine) -> str:
    """Return where in the working a line of a record belongs, "" where it belongs nowhere."""
    step, task = line.step or "", line.task or 0
    is_step, is_task = len(step) <= _LONGEST_STEP and step.isidentifier(), 0 < task <= _MOST_TASKS
    if not (is_step or is_task):
        return ""
    return (sign_of(step) if is_step else "a line") + (f" of task {task}" if is_task else "")


@dataclass(slots=True)
class _Read:
    """What stands on a line, the link that it bears, and the one that it ought to bear."""

    fields: Fields
    link: str
    ought: str


def _read(piece: bytes, before: str) -> _Read | None:
    """Return what stands on a line whose last link is `before`; None for what is no line."""
    fields = fields_on(piece)
    if fields is None:
        return None
    link = fields.pop("link", None)
    try:
        ought = link_of(before, fields)
    except (ValueError, RecursionError):
        return None
    return _Read(fields, link if isinstance(link, str) and link.isascii() else "", ought)


def fields_on(piece: bytes) -> dict[str, object] | None:
    """Return all that stands on a line, its link too; None for what is no line."""
    if len(piece) > LONGEST_LINE:
        return None
    try:
        fields = json.loads(piece)
    except (ValueError, RecursionError):
        return None
    return fields if isinstance(fields, dict) else None


def _link_of_unread(before: str, piece: bytes) -> str:
    """Return the link that is reckoned for what can't be read."""
    return hashlib.sha256(before.encode() + piece).hexdigest()
