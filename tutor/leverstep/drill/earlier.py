"""Where the records of a drill lie, and a student's earlier sittings among them."""

from __future__ import annotations

import secrets
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.record import Contents, RecordError, contents, read_bytes
from leverstep.course.places import home
from leverstep.course.plain_files import others_write
from leverstep.drill.drill import Drill, file_stem, same_student


def folder_of(drill: Drill, folder: Path | None = None) -> Path:
    """Return where the records of a drill lie: within `folder`, or the user's data folder."""
    return (folder or home() / "drills") / drill.id


def place_of(folder: Path | None, drill: Drill, student: str) -> Path:
    """Return the path of a new record."""
    stamp = f"{datetime.now(UTC):%Y%m%dT%H%M%S}"
    return folder_of(drill, folder) / f"{file_stem(student)}-{stamp}-{secrets.token_hex(4)}.jsonl"


def drill_kept(folder: Path, digest: str) -> Path:
    """Return where a drill is kept beside its records in the user's data folder."""
    return folder / f"{digest}.toml"


def earlier(drill: Drill, student: str, folder: Path | None = None) -> dict[Path, Contents]:
    """Return the records of a student's sittings, by when they began.

    They are looked for in `folder` and in the user's data folder. A record that another one goes on
    from, elsewhere, is left out.
    """
    found = {
        path: read
        for place in dict.fromkeys([folder_of(drill), folder_of(drill, folder)])
        for path, read in _records_in(place)
        if _is_of(read, drill, student)
    }
    whole = [p for p in found if not any(_goes_on(other, found[p]) for other in found.values())]
    return {p: found[p] for p in sorted(whole, key=lambda p: str(found[p].lines[0].get("time")))}


def unfinished(sittings: Mapping[Path, Contents]) -> dict[Path, Contents]:
    """Return those of some sittings that were not handed in, the one written to last at the end."""
    open_still = [path for path in sittings if not is_handed_in(sittings[path])]
    last = {path: str(sittings[path].lines[-1].get("time")) for path in open_still}
    return {path: sittings[path] for path in sorted(open_still, key=lambda path: last[path])}


def is_handed_in(found: Contents) -> bool:
    """Return whether a record says that its sitting was ended by the student."""
    return any(line.get("kind") == "end" for line in found.lines)


def _records_in(folder: Path) -> Iterator[tuple[Path, Contents]]:
    """Yield what can be read of a folder's records; one that others put a link for has none."""
    try:
        is_linked = folder.is_symlink() and others_write(folder.parent)
        paths = [] if is_linked else sorted(folder.glob("*.jsonl"))
    except OSError:
        return
    for path in paths:
        with suppress(RecordError):
            yield path, contents(read_bytes(path))


def _is_of(read: Contents, drill: Drill, student: str) -> bool:
    first = read.lines[0] if read.lines else {}
    mine = same_student(str(first.get("student", ""))) == same_student(student)
    return first.get("drill") == drill.id and mine


def _goes_on(other: Contents, one: Contents) -> bool:
    """Return whether a record has all lines of another, and more."""
    length = len(one.links)
    return len(other.links) > length and other.links[:length] == one.links
