"""Reading files that others may have put there: plain files only, and no more than a bound.

A pipe would wait for ever, a device may have no end, a link may lead to either.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import BinaryIO

BINARY = getattr(os, "O_BINARY", 0)
"""What a file is opened with so that no system changes the ends of its lines."""

NEW = os.O_CREAT | os.O_EXCL | os.O_WRONLY | BINARY
"""What a file is opened with that is not there yet, to be written."""

_UNWAITING = BINARY | getattr(os, "O_NONBLOCK", 0)
"""The same, and so that no pipe is waited for."""

UNFOLLOWED = _UNWAITING | getattr(os, "O_NOFOLLOW", 0)
"""The same, and so that no link is followed."""


TEXT = "utf-8-sig"
"""How files of a course are read: UTF-8, also with the mark that some editors put before it."""


class TooLarge(OSError):
    """A file larger than what is read of its kind."""


def others_write(folder: Path) -> bool:
    """Return whether others than its owner may put something into a folder.

    A group with the number of its owner is taken for the owner's alone, as most systems give one to
    each account, unless the folder hands that group on. On Windows no mode tells it; there the
    answer is no.

    Raises:
        OSError: where the folder can't be looked at.
    """
    return others_write_to(folder.stat())


def others_write_to(found: os.stat_result) -> bool:
    """Return the same for a folder that was looked at."""
    if os.name == "nt":
        return False
    of_group = found.st_gid != found.st_uid or found.st_mode & stat.S_ISGID
    return bool(found.st_mode & (stat.S_IWOTH | (stat.S_IWGRP if of_group else 0)))


def link_of_others(path: Path, left: int = 40) -> Path | None:
    """Return the first link on the way to a path that others than its owner may have put there.

    Links that only their owner can have put there are followed, `left` of them at most.

    Raises:
        OSError: where the way can't be looked at, or leads in a circle.
    """
    path = path.absolute()
    for place in (*reversed(path.parents), path):
        if place.is_symlink():
            if others_write(place.parent):
                return place
            if not left:
                raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(place))
            if found := link_of_others(place.parent / place.readlink(), left - 1):
                return found
    return None


def is_own(path: Path) -> bool:
    """Return whether a file belongs to the account at hand; on Windows, where none tells, it does.

    Raises:
        OSError: where the file can't be looked at.
    """
    return os.name == "nt" or path.lstat().st_uid == os.geteuid()


def refuse_unplain(path: Path, mode: int) -> None:
    """Do nothing for the mode of a plain file.

    Raises:
        OSError: for that of anything else, with a clause that says what it is.
    """
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if stat.S_ISLNK(mode):
        raise OSError(errno.ELOOP, "it is a link, and links are not followed here", str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "it is a pipe or a device, not a file", str(path))


def open_plain(path: Path, linked: bool = False) -> BinaryIO:
    """Open a plain file to be read.

    Args:
        path: the file.
        linked: whether it may be a link, in a folder in which only its owner can have put that.

    Raises:
        OSError: where it can't be opened, or is no plain file.
    """
    follow = linked and not others_write(path.parent)
    refuse_unplain(path, os.stat(path, follow_symlinks=follow).st_mode)
    descriptor = os.open(path, os.O_RDONLY | (_UNWAITING if follow else UNFOLLOWED))
    try:
        refuse_unplain(path, os.fstat(descriptor).st_mode)  # it may have been put there since
        return os.fdopen(descriptor, "rb")
    except OSError:
        os.close(descriptor)
        raise


def read_plain(path: Path, most: int, linked: bool = False) -> bytes:
    """Return what a plain file holds: `most` bytes at most; `linked` is as `open_plain` has it.

    Raises:
        TooLarge: where it holds more; nothing of it is read then.
        OSError: where it can't be read, or is no plain file.
    """
    with open_plain(path, linked) as file:
        size = os.fstat(file.fileno()).st_size
        data = file.read(most + 1) if size <= most else b""
    if max(size, len(data)) > most:  # it may have grown since
        raise TooLarge(errno.EFBIG, "the file is too large", str(path))
    return data


def read_text(path: Path, most: int, linked: bool = False) -> str:
    """Return the text of a plain file in UTF-8, its lines ended by a line feed on every system.

    Raises:
        OSError: as `read_plain` does.
        UnicodeError: where it is not in UTF-8.
    """
    text = read_plain(path, most, linked).decode(TEXT)
    return text.replace("\r\n", "\n").replace("\r", "\n")
