"""A folder of records that grow, appear and vanish while a class is at work."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from leverstep.drill.earlier import MOST_FILES
from leverstep.watching.growing_record import GrowingRecord


class WatchedFolder:
    """What lies in a folder and in those within it; nothing is ever written there.

    `files` are those found, by their paths within the folder. `trouble` is a sentence that says why
    the folder can't be looked at now, "" where it can: then all is as it was seen last. A file that
    is gone for one look alone, as while it is replaced, is kept as it was.
    """

    def __init__(self, folder: Path) -> None:
        self.files: dict[str, GrowingRecord] = {}
        self.trouble = ""
        self._folder = folder
        self._gone: set[str] = set()
        self._error: OSError | None = None

    def look(self) -> None:
        """Find the files that are there, and read what was added to them."""
        self._error = None
        paths = list(islice(self._paths(), MOST_FILES))
        if self._error is not None:
            told = self._error.strerror or "it is gone"
            self.trouble = f"{self._folder} can't be read at the moment: {told}."
            return
        self.trouble = ""
        there = {os.path.relpath(path, self._folder).replace(os.sep, "/"): path for path in paths}
        self._gone = self.files.keys() - there.keys() - self._gone
        found = {
            name: self.files.get(name) or GrowingRecord(Path(path)) for name, path in there.items()
        }
        for file in found.values():
            file.look()
        found |= {name: self.files[name] for name in self._gone}
        self.files = dict(sorted(found.items()))

    def _paths(self) -> Iterator[str]:
        """Yield the path of each file; no link to a folder is followed."""
        for place, _, names in os.walk(self._folder, onerror=self._note):
            yield from (os.path.join(place, name) for name in names)

    def _note(self, error: OSError) -> None:
        """Note that a folder could not be listed: that which is watched, not one that just went."""
        if error.filename == str(self._folder):
            self._error = error

    @property
    def records(self) -> dict[str, GrowingRecord]:
        """Return the files that are records of a drill, by their names."""
        return {name: file for name, file in self.files.items() if file.is_record}

    @property
    def troubles(self) -> Iterator[str]:
        """Yield a sentence on each record that can't be read, or was changed."""
        for name, file in self.files.items():
            told = file.trouble or file.odd
            if told and (file.is_record or name.endswith(".jsonl")):
                yield f"{name}: {told}."
