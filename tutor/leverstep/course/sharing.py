"""Making files and folders that are as open as the folder they lie in, and no wider.

A folder into which others may write is one to share: whoever may read it may read what is made in
it, and a folder made in it takes its rights and its group, whatever the umask says. Anywhere else
what is made is its owner's alone.
"""

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path

from leverstep.course.plain_files import (
    NEW,
    UNFOLLOWED,
    link_of_others,
    others_write_to,
    refuse_unplain,
)

_FOLDER = stat.S_ISGID | stat.S_ISVTX | 0o777
_FILE = stat.S_IRGRP | stat.S_IROTH
"""The rights that a folder and a file take from a shared folder; a file is its owner's to write."""


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it, where they are not there yet.

    It is there for all who share it, or not yet: it gets its rights under another name.

    Raises:
        OSError: where it can't be made, or others may have put a link on the way to it.
    """
    if link := link_of_others(folder):
        raise OSError(
            errno.ELOOP, f"{link}: it is a link, and links are not followed here", str(link)
        )
    if folder.is_dir():
        return
    if not folder.parent.is_dir():
        make_folder(folder.parent)
    draft = beside(folder)
    draft.mkdir(mode=0o700)
    try:
        _open_as(draft, folder.parent)
        os.rename(draft, folder)
    except OSError:
        with suppress(OSError):
            draft.rmdir()
        if not folder.is_dir():  # else another program was first
            raise


def beside(path: Path) -> Path:
    """Return the path of a draft: in the same folder, with a name that nobody can foresee."""
    return path.with_name(f".{path.name}-{os.urandom(4).hex()}")


def write_whole(path: Path, data: bytes, waits: bool = True) -> None:
    """Write a file that must not exist yet, and wait until it is on the disk, unless told not to.

    Raises:
        OSError: where it can't be written whole; none is left then.
    """
    descriptor = os.open(path, NEW, 0o600)
    try:
        try:
            _share(descriptor, path.parent, 0o600, _FILE)
            put(descriptor, data)
            if waits:
                os.fsync(descriptor)
        finally:
            close(descriptor)
    except BaseException:
        with suppress(OSError):
            path.unlink()
        raise


def put_whole(path: Path, data: bytes, keep_rights: bool = False, waits: bool = True) -> None:
    """Write a file whole, in place of one that may be there; `keep_rights` keeps its rights.

    It `waits` until that is on the disk: a file not waited for outlives the program, but may be
    empty after a power failure.

    Raises:
        OSError: where it can't be written; what was there is then as it was.
    """
    draft = beside(path)
    write_whole(draft, data, waits)
    try:
        if keep_rights:
            os.chmod(draft, stat.S_IMODE(path.stat().st_mode))
        os.replace(draft, path)
    except OSError:
        with suppress(OSError):
            draft.unlink()
        raise


def keep_secret(path: Path, data: bytes) -> None:
    """Write a small file that its owner alone may read, over one of the same length, or make it.

    Nothing of what was there is left, and no draft beside it. A disk without rights is let be.

    Raises:
        OSError: where it can't be written, or what is there is no plain file of the owner's alone.
    """
    try:
        descriptor = os.open(path, NEW, 0o600)
    except FileExistsError:
        descriptor = _own_opened(path)
    try:
        flush(descriptor, data)
        os.ftruncate(descriptor, len(data))
    finally:
        close(descriptor)


def _own_opened(path: Path) -> int:
    """Open a file of the user's own to be written over, for its owner alone.

    Raises:
        OSError: where it is no such file.
    """
    descriptor = os.open(path, os.O_RDWR | UNFOLLOWED)
    try:
        found = os.fstat(descriptor)
        refuse_unplain(path, found.st_mode)
        if os.name != "nt":
            if found.st_uid != os.geteuid() or found.st_nlink != 1:
                raise PermissionError(errno.EPERM, "it is not the user's own", str(path))
            with suppress(OSError):
                os.fchmod(descriptor, 0o600)
    except OSError:
        close(descriptor)
        raise
    return descriptor


def flush(descriptor: int, data: bytes) -> None:
    """Put bytes on the disk with one call, so that those of two programs don't mix.

    Raises:
        OSError: where not all of them can be put there.
    """
    put(descriptor, data)
    os.fsync(descriptor)


def put(descriptor: int, data: bytes) -> None:
    """Hand bytes to the system with one call, which writes them to the disk in its own time.

    Raises:
        OSError: where it does not take all of them.
    """
    if os.write(descriptor, data) != len(data):
        raise OSError(errno.ENOSPC, "the disk is full")


def flush_folder(folder: Path) -> None:
    """Put the name of a new file on the disk too, where the system can."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            close(descriptor)


def close(descriptor: int) -> None:
    """Close a file whose bytes are flushed, or told of as not there."""
    with suppress(OSError):
        os.close(descriptor)


def _open_as(folder: Path, parent: Path) -> None:
    """Give a new folder the rights of the one it lies in, where that is shared."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    try:
        _share(descriptor, parent, 0o700, _FOLDER)
    finally:
        close(descriptor)


def _share(descriptor: int, parent: Path, own: int, taken: int) -> None:
    """Give what was made the group of the folder it lies in, and those of its rights to be taken.

    Rights of a group go to that group or to nobody: where the group can't be given, the group that
    it has gets what all get. A disk without rights or groups is let be.
    """
    folder = parent.stat()
    if not others_write_to(folder):
        return
    with suppress(OSError):
        os.chown(descriptor, -1, folder.st_gid)
    rights = folder.st_mode & taken
    if os.fstat(descriptor).st_gid != folder.st_gid:
        rights = rights & ~stat.S_IRWXG | (rights & stat.S_IRWXO) << 3
    with suppress(OSError):
        os.chmod(descriptor, own | rights)
