"""No test touches the data of whoever runs it: all write into a folder that goes with the run."""

from __future__ import annotations

import atexit
import gc
import os
import shutil
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from helpers.drills import Disk

_HOME = tempfile.mkdtemp(prefix="leverstep-tests-")
atexit.register(shutil.rmtree, _HOME, ignore_errors=True)
os.environ["LEVERSTEP_HOME"] = _HOME
os.environ.pop("LEVERSTEP_LIBRARY", None)
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # else workers and programs compile all anew
sys.dont_write_bytecode = False

from helpers.read_once import read_once  # noqa: E402  (it may look where the data lie)
from leverstep.faces.terminal import look_for_garbage_seldom  # noqa: E402

read_once()
look_for_garbage_seldom()  # as the program does


def _reach_no_disk(descriptor: int) -> None:
    """Stand in for `os.fsync`, which takes longer than many a test.

    What is written is there for all programs without it, also for those that follow one that was
    killed; only a loss of power would tell, which no test makes.
    """
    os.fstat(descriptor)


os.fsync = _reach_no_disk


def pytest_xdist_auto_num_workers() -> int:
    """Return how many workers share the tests: some wait for programs, and others use that time."""
    cores = os.cpu_count() or 1
    return cores + (cores + 1) // 2


def pytest_sessionfinish() -> None:
    """Leave what is left to the end of the process: pytest would go through all of it twice."""
    gc.freeze()


@pytest.fixture(autouse=True)
def _nothing_in_progress() -> None:
    """Have no drill of an earlier test go on, since its numbers would be refused."""
    (Path(_HOME) / "begun.json").unlink(missing_ok=True)


@pytest.fixture
def home_in_use(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data folder of a test alone, as a first start leaves it."""
    from helpers.homes import home_after_a_start

    folder = home_after_a_start(tmp_path / "home")
    monkeypatch.setenv("LEVERSTEP_HOME", str(folder))
    return folder


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    """Return a disk that can be made to fail."""
    from helpers.drills import Disk

    return Disk(monkeypatch)
