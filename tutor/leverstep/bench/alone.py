"""One writer at a time: a lock on a record for as long as something is added to it.

Not every system adds to the end of a file in one go: Windows does not, nor does a network disk. The
system lets a lock go when the program that holds it ends, however it ends. A disk that knows no
locks is written to without one.
"""

from __future__ import annotations

import errno
import importlib
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

TRIES, PAUSE = 20, 0.05
"""A lock that another program holds is waited for so often, with so many seconds between."""

_FAR = 2**30
"""Where the byte lies that is locked on Windows: past all records, for nobody can read it then."""

_BUSY = frozenset({errno.EACCES, errno.EAGAIN, errno.EDEADLK})


@contextmanager
def alone(descriptor: int) -> Iterator[None]:
    """Hold the lock on a file that is open for writing.

    Raises:
        OSError: where another program holds it all the time.
    """
    lock, unlock = (_lock_on_windows, _unlock_on_windows) if os.name == "nt" else (_lock, _unlock)
    is_held = _is_locked(descriptor, lock)
    try:
        yield
    finally:
        if is_held:
            with suppress(OSError):  # the system lets it go with the file in any case
                unlock(descriptor)


def _is_locked(descriptor: int, lock: Callable[[int], None]) -> bool:
    """Wait for a lock; return whether there is one, which a disk without locks has not."""
    for left in reversed(range(TRIES)):
        try:
            lock(descriptor)
        except OSError as error:
            if error.errno not in _BUSY:
                return False
            if not left:
                raise OSError(errno.EBUSY, "another program is writing to it") from error
            time.sleep(PAUSE)
        else:
            return True
    return False


def _lock(descriptor: int) -> None:
    import fcntl

    fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _unlock(descriptor: int) -> None:
    import fcntl

    fcntl.flock(descriptor, fcntl.LOCK_UN)


def _lock_on_windows(descriptor: int) -> None:
    _of_windows(descriptor, "LK_NBLCK")


def _unlock_on_windows(descriptor: int) -> None:
    _of_windows(descriptor, "LK_UNLCK")


def _of_windows(descriptor: int, what: str) -> None:
    """Lock or unlock one byte; what is added goes to the end of the file all the same."""
    msvcrt: Any = importlib.import_module("msvcrt")
    os.lseek(descriptor, _FAR, os.SEEK_SET)
    msvcrt.locking(descriptor, getattr(msvcrt, what), 1)
