"""Deeds done under other accounts of the same machine, where the one that runs the tests is root.

Each is done in a fork, so that what is loaded by then need not be readable to another account.
"""

from __future__ import annotations

import os
import tempfile
import traceback
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

POSIX = os.name != "nt"
IS_ROOT = POSIX and os.geteuid() == 0
FIRST, SECOND, TEACHER = 54_001, 54_002, 54_003
"""Accounts that the machine need not know, each with a group of the same number."""

CLASS = 54_100
"""A group that all of them are in."""


def as_account(
    account: int, deed: Callable[[], object], umask: int = 0o022, groups: Iterable[int] = (CLASS,)
) -> str:
    """Do something under an account without data; return what went wrong, "" where nothing did."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        told = ""
        try:
            if IS_ROOT:
                os.setgroups(list(groups))
                os.setgid(account)
                os.setuid(account)
            os.umask(umask)
            os.environ["LEVERSTEP_HOME"] = f"/nowhere/{account}"
            deed()
        except BaseException as error:  # noqa: BLE001  (a fork must not go on with the tests)
            told = "".join(traceback.format_exception_only(error)).strip() or repr(error)
        os.write(writing, told.encode()[:4000])
        os._exit(0)
    os.close(writing)
    with open(reading, encoding="utf-8") as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    return told


@contextmanager
def shared_folder(mode: int, group: int | None = None) -> Iterator[Path]:
    """Make a folder that every account can reach, with a mode and a group of its own."""
    with tempfile.TemporaryDirectory(prefix="leverstep-share-") as name:
        Path(name).chmod(0o755)
        share = Path(name) / "share"
        share.mkdir()
        if group is not None and IS_ROOT:
            os.chown(share, -1, group)
        share.chmod(mode)
        yield share


def mode_of(path: Path) -> int:
    """Return the rights on a file or folder, with those of the set-gid and sticky bits."""
    return path.lstat().st_mode & 0o7777
