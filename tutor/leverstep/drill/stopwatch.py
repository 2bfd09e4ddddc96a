"""The time that a sitting is worked on, counted alike on every system.

Some systems let their clocks run on while a computer sleeps, others do not. So what is counted is
the time from one look at the stopwatch to the next, and it is looked at each second: where nobody
looked for longer than `ASLEEP`, the computer slept or the program was stopped, and nobody worked.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

ASLEEP = 60.0
"""Seconds from one look to the next above which none of them count."""


class Stopwatch:
    """Runs from the start until it is stopped, and may be looked at from several threads."""

    def __init__(self, used: float = 0.0, now: Callable[[], float] = time.monotonic) -> None:
        """Begin to run.

        Args:
            used: the seconds counted before.
            now: what tells the seconds of a clock that is never set back.
        """
        self._used = used
        self._now = now
        self._looked: float | None = now()
        self._looking = threading.Lock()

    @property
    def runs(self) -> bool:
        """Return whether time is counted."""
        return self._looked is not None

    def look(self) -> float:
        """Return the seconds counted so far."""
        with self._looking:
            return self._count()

    def stop(self) -> None:
        """Count no more."""
        with self._looking:
            self._count()
            self._looked = None

    def go_on(self) -> None:
        """Count again."""
        with self._looking:
            if self._looked is None:
                self._looked = self._now()

    def _count(self) -> float:
        if self._looked is not None:
            now = self._now()
            passed, self._looked = now - self._looked, now
            self._used += passed if passed <= ASLEEP else 0.0
        return self._used
