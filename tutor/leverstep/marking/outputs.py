"""The files that a marking writes into a folder: all of them new, or all as they were before."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import TextIO

from leverstep.course.faults import Fault, FileError
from leverstep.course.new_file import refuse_link
from leverstep.course.sharing import beside


class Outputs:
    """Files written as drafts into a folder, and put in their places together at the end.

    It is entered with `with`. Where something is raised there, the drafts go and nothing changes.
    """

    @classmethod
    def into(cls, folder: Path) -> Outputs:
        """Return the files of a folder, which need not be there yet.

        Raises:
            FileError: where there is a file in its place.
        """
        if folder.exists() and not folder.is_dir():
            raise FileError([Fault(str(folder), "", "it is a file", "a folder for the marks")])
        return cls(folder)

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._files: list[TextIO] = []
        self._drafts: list[tuple[Path, Path | None]] = []
        self._moved: list[tuple[Path, Path | None]] = []

    def __enter__(self) -> Outputs:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        raised: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        try:
            if kind is None:
                for file in self._files:
                    file.close()  # what can't be written whole is told before anything is replaced
                self._put_in_place()
        finally:
            for file in self._files:
                with suppress(OSError):
                    file.close()  # else it could not be removed on Windows
            for _, draft in self._drafts:
                _remove(draft)

    def open(self, name: str) -> TextIO:
        """Open the draft of a file for writing; it is closed at the end at the latest.

        `name` may have one folder in it.

        Raises:
            FileError: where others may have put a link on the way, or a folder lies where a file
                is to, or the reverse.
            OSError: where the folder can't be written.
        """
        place = self.folder / name
        refuse_link(place.parent)
        if place.is_dir() and not place.is_symlink():
            raise FileError([Fault(str(place), "", "it is a folder", "a file, or nothing")])
        self.folder.mkdir(parents=True, exist_ok=True)
        if place.parent.is_file():
            expected = "a folder of its own"
            raise FileError([Fault(str(place.parent), "", "it is a file", expected)])
        draft = beside(self.folder / place.name)
        file = draft.open("x", encoding="utf-8", newline="")
        self._files.append(file)
        self._drafts.append((place, draft))
        return file

    def remove(self, path: Path) -> None:
        """Have a file of an earlier marking gone together with what is put in place."""
        self._drafts.append((path, None))

    def _put_in_place(self) -> None:
        """Put every draft in its place, or none.

        Raises:
            FileError: where another program holds a file, or others put a link.
            OSError: where the folder can't be written.
        """
        place = self.folder
        try:
            for place, draft in self._drafts:
                self._replace(place, draft)
        except BaseException as error:
            self._put_back()
            if isinstance(error, PermissionError):
                raise _held(place) from error
            raise
        for _, before in self._moved:
            _remove(before)

    def _replace(self, place: Path, draft: Path | None) -> None:
        """Put a draft in its place, and note where what was there lies."""
        refuse_link(place.parent)  # others may have put one there since
        place.parent.mkdir(exist_ok=True)
        before = beside(place) if os.path.lexists(place) else None
        if before is not None:
            os.replace(place, before)
        self._moved.append((place, before))
        if draft is not None:
            os.replace(draft, place)

    def _put_back(self) -> None:
        """Have everything as it was before."""
        for place, before in reversed(self._moved):
            with suppress(OSError):
                if before is None:
                    place.unlink(missing_ok=True)
                else:
                    os.replace(before, place)


def left_over(paths: Sequence[Path]) -> Iterator[str]:
    """Yield a line that names what is left over from an earlier marking, where anything is."""
    if paths:
        yield f"Left over from an earlier run: {', '.join(map(str, paths))}"


def _held(place: Path) -> FileError:
    found = "it can't be replaced, perhaps because a spreadsheet has it open"
    return FileError([Fault(str(place), "", found, "a closed file: close it and mark again")])


def _remove(path: Path | None) -> None:
    """Remove a file, where it is there still and can be."""
    if path is not None:
        with suppress(OSError):
            path.unlink()
