"""Writing a new file, and saying why that can't be done; nothing is ever written over."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import NEW, link_of_others
from leverstep.course.plain_text import shown
from leverstep.course.reserved import NOT_RESERVED, is_reserved


def refuse_old(path: Path) -> None:
    """Do nothing where a new file can be written.

    Raises:
        FileError: where one is there already, there is no folder for it, others may have put a link
            on the way to it, or Windows could have none of its name.
    """
    if is_reserved(path.name):
        raise FileError([Fault(str(path), "", f"found {shown(path.name)}", NOT_RESERVED)])
    refuse_link(path.parent)
    if path.exists():
        raise _fault(path, "it already exists")
    if not path.parent.is_dir():
        raise _fault(path, f"there is no folder {path.parent}")


def refuse_link(folder: Path) -> None:
    """Do nothing where no link is on the way to a folder but those that only its owner put there.

    Raises:
        FileError: where others may have put one, which may lead to anybody's files.
    """
    try:
        link = link_of_others(folder)
    except OSError as error:
        raise _fault(folder, error.strerror or "it can't be used") from error
    if link is not None:
        raise FileError([Fault(str(link), "", "it is a link", "a folder of its own")])


def write_new(path: Path, text: str, secret: bool = False) -> None:
    """Write a new file, with the same ends of line on every system.

    Where it is `secret`, its owner alone may read it, from its first byte on.

    Raises:
        FileError: where `refuse_old` does, or it can't be written whole; nothing is left of it
            then.
    """
    refuse_old(path)
    try:
        descriptor = os.open(path, NEW, 0o600 if secret else 0o666)
        try:
            with os.fdopen(descriptor, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
        except BaseException:
            with suppress(OSError):
                path.unlink()
            raise
    except OSError as error:
        raise _fault(path, error.strerror or "can't be written") from error


def _fault(path: Path, found: str) -> FileError:
    return FileError([Fault(str(path), "", found, "the path of a new file")])
