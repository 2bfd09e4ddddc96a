"""What takes long to make and serves all tests: made by the first worker that needs it."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Callable
from pathlib import Path

import pytest


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """Return a folder that `make` has filled, once in a run; the other workers wait for it."""
    base = factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:  # each has a folder of its own within that of the run
        base = base.parent
    folder = base / name
    with (base / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not folder.exists():
            folder.mkdir()
            make(folder)
    return folder
