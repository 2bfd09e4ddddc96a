"""With what records are marked: processes of this machine or of several, and how far that is."""

from __future__ import annotations

import argparse
import re
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.faces.commands.usage import whole_number, wrong
from leverstep.faces.crash import begin_worker, workers

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from leverstep.marking.collecting import Student

MOST_WORKERS = 1000

SECONDS_BETWEEN = 10.0
"""How often it is told how many records are marked."""


def add_machines(parser: argparse.ArgumentParser) -> None:
    """Have a command take with what it marks."""
    either = parser.add_mutually_exclusive_group()
    either.add_argument(
        "--workers", type=_count, metavar="N",
        help="how many processes mark on this machine (one for each core unless given)",
    )  # fmt: skip
    either.add_argument(
        "--cluster", type=_address, metavar="ADDRESS",
        help="mark on the workers of this scheduler, such as tcp://10.0.0.5:8786",
    )  # fmt: skip


def _count(text: str) -> int:
    count = whole_number(text)
    if not 1 <= count <= MOST_WORKERS:
        raise wrong(text, f"a whole number from 1 to {MOST_WORKERS}")
    return count


def _address(text: str) -> str:
    if not re.fullmatch(r"(tcp|tls)://[A-Za-z0-9.:\[\]-]+:[0-9]{1,5}", text):
        raise wrong(text, "the address of a scheduler, such as tcp://10.0.0.5:8786")
    return text


@contextmanager
def machines(options: argparse.Namespace, records: Sequence[Path]) -> Iterator[Executor]:
    """Give what marks, as long as it is used.

    Args:
        options: those of the command.
        records: some of the records; workers of a cluster have to see them there.

    Raises:
        FileError: where a cluster can't be used, or is lost.
    """
    if options.cluster is None:
        with workers(options.workers) as pool:
            yield pool
        return
    from leverstep.marking.cluster import cluster

    with cluster(options.cluster, records, begin_worker) as executor:
        yield executor


def _say(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


class MarkingProgress:
    """Says now and then how many of the records are marked; nothing where that is soon done."""

    def __init__(
        self,
        total: int,
        say: Callable[[str], None] = _say,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._total = total
        self._say = say
        self._clock = clock
        self._done = 0
        self._told = clock()

    def add(self, student: Student) -> None:
        """Take a student who is marked."""
        self._done += len(student.sittings)
        if self._clock() - self._told >= SECONDS_BETWEEN:
            self._told = self._clock()
            self._say(f"{self._done} of {self._total} records are marked.")
