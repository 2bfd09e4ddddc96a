"""Where the records of a drill lie, and a student's earlier sittings among them."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path

from leverstep.bench.contents import Contents, sound
from leverstep.bench.record import LARGEST_RECORD, RecordError, head_of, read_bytes
from leverstep.bench.record_lines import EndLine
from leverstep.course.places import home
from leverstep.course.plain_files import is_own, others_write
from leverstep.drill.drill import Drill, file_stem, same_student
from leverstep.drill.fitting import misfits
from leverstep.drill.lines import owner_in

MOST_FILES = 10_000
"""Files of one folder that are looked into: many times those of a class."""

MOST_BYTES = 5 * LARGEST_RECORD
"""Bytes that are read of the records of one student."""

_LEFT_OUT = (
    "Files of another account hold lines in your name; they are left alone here. "
    "If you did not write them, tell your teacher."
)
_ANOTHER_S = (
    "The record in your name was written under another account. "
    "If that was not you, tell your teacher."
)
_CHANGED = (
    "A record of yours was changed after it was written: only the lines before that count here. "
    "Tell your teacher."
)


@dataclass(frozen=True, slots=True)
class Earlier:
    """A student's earlier sittings, by when they began, and sentences on what is odd there."""

    records: dict[Path, Contents]
    remarks: tuple[str, ...] = ()


def folder_of(drill: Drill, folder: Path | None = None) -> Path:
    """Return where the records of a drill lie: within `folder`, or the user's data folder."""
    return (folder or home() / "drills") / drill.id


def place_of(folder: Path | None, drill: Drill, student: str) -> Path:
    """Return the path of a new record."""
    return folder_of(drill, folder) / new_name(student)


def records_in(folder: Path | None, stem: str) -> tuple[Path, ...]:
    """Return what may be records of a student in some drill, by how the names of files begin.

    Args:
        folder: that of the records of all drills, None for the user's data folder.
        stem: what stands for the student in the name of a file.
    """
    try:
        return tuple(islice((folder or home() / "drills").glob(f"*/{stem}-*.jsonl"), MOST_FILES))
    except OSError:
        return ()


def new_name(student: str) -> str:
    """Return what a new record is called."""
    stamp = f"{datetime.now(UTC):%Y%m%dT%H%M%S}"
    return f"{file_stem(student)}-{stamp}-{secrets.token_hex(4)}.jsonl"


def drill_kept(folder: Path, digest: str) -> Path:
    """Return where a drill is kept beside its records in the user's data folder."""
    return folder / f"{digest}.toml"


def earlier(drill: Drill, student: str, folder: Path | None = None) -> Earlier:
    """Return the records of a student's sittings, by when they began.

    They are looked for in `folder` and in the user's data folder. Of each only the lines count that
    follow from those before them; one that another goes on from is left out. What others may have
    put there counts only as long as there is nothing of the student's own, and where it can be
    gone on with.
    """
    own: list[Path] = []
    others: list[Path] = []
    crowded: set[Path] = set()
    for place in dict.fromkeys([folder_of(drill), folder_of(drill, folder)]):
        listed = list(islice(_files_in(place), MOST_FILES + 1))
        if len(listed) > MOST_FILES:
            crowded.add(place)
        for path in sorted(listed[:MOST_FILES]):
            if _is_of(path, drill, student):
                (own if _is_trusted(path) else others).append(path)
    found, strange = _distinct(_read(own, crowded)), _read(others, crowded)
    remarks = []
    if found:
        met = {link for one in found.values() for link in one.links}
        remarks += [_LEFT_OUT] if any(one.links[-1] not in met for one in strange.values()) else []
    elif strange:
        found, remarks = _fitting(drill, student, _distinct(strange)), [_ANOTHER_S]
    remarks += [_CHANGED] if any(one.remarks for one in found.values()) else []
    remarks += [_crowd_told(place) for place in sorted(crowded)]
    begun = sorted(found, key=lambda path: str(found[path].first.time))
    return Earlier({path: found[path] for path in begun}, tuple(remarks))


def unfinished(sittings: Mapping[Path, Contents]) -> dict[Path, Contents]:
    """Return those of some sittings that were not handed in, the one written to last at the end."""
    open_still = [path for path in sittings if not is_handed_in(sittings[path])]
    last = {path: str(sittings[path].lines[-1].time) for path in open_still}
    return {path: sittings[path] for path in sorted(open_still, key=lambda path: last[path])}


def is_handed_in(found: Contents) -> bool:
    """Return whether a record says that its sitting was ended by the student."""
    return any(isinstance(line, EndLine) for line in found.lines)


def _files_in(folder: Path) -> Iterator[Path]:
    """Yield what may be records in a folder; one that others put a link for has none."""
    try:
        if folder.is_symlink() and others_write(folder.parent):
            return
        with os.scandir(folder) as inside:
            yield from (folder / one.name for one in inside if one.name.endswith(".jsonl"))
    except OSError:
        return


def _is_of(path: Path, drill: Drill, student: str) -> bool:
    """Return whether a file is, by its first line, a record of a student in a drill."""
    with suppress(RecordError):
        whose = owner_in(head_of(path).line, drill)
        return bool(whose) and same_student(whose) == same_student(student)
    return False


def _is_trusted(path: Path) -> bool:
    """Return whether a file is the user's own, or lies where nobody else can have put it."""
    with suppress(OSError):
        return is_own(path) or (is_own(path.parent) and not others_write(path.parent))
    return False


def _read(paths: Iterable[Path], crowded: set[Path]) -> dict[Path, Contents]:
    """Return what some records hold as far as it is sound; note where they are too much to read."""
    found = {}
    room = MOST_BYTES
    for path in paths:
        with suppress(RecordError):
            data = read_bytes(path)
            room -= len(data)
            if room < 0:
                crowded.add(path.parent)
                break
            found[path] = sound(data)
    return {path: read for path, read in found.items() if read.lines}


def _distinct(found: Mapping[Path, Contents]) -> dict[Path, Contents]:
    """Return records without copies, and without those that another one goes on from.

    The link of a line stands for all lines before it. Of two that hold the same, the one stays that
    nothing was put behind.
    """
    kept: dict[Path, Contents] = {}
    met: set[str] = set()
    for path in sorted(found, key=lambda p: (-len(found[p].links), bool(found[p].remarks), p)):
        if found[path].links[-1] not in met:
            kept[path] = found[path]
        met.update(found[path].links)
    return kept


def _fitting(drill: Drill, student: str, found: Mapping[Path, Contents]) -> dict[Path, Contents]:
    """Return those of some records that were begun with the drill as it is."""
    reasons = misfits(drill, drill.listed(student), (read.first for read in found.values()))
    return {path: found[path] for path, reason in zip(found, reasons, strict=True) if not reason}


def _crowd_told(folder: Path) -> str:
    return (
        f"There is more in {folder} than can be looked through, so an earlier sitting of yours may "
        "be missing here. Tell your teacher."
    )
