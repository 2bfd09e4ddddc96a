"""The clock of a sitting in line mode: kept on the disk, and told of while a line is typed."""

from __future__ import annotations

import threading
from collections.abc import Callable
from types import TracebackType

from leverstep.bench.record import RecordError
from leverstep.course.plain_text import plain
from leverstep.dialogue.notice import warned_at, warning
from leverstep.drill.sitting import Sitting
from leverstep.faces.terminal import Listen

LOOK = 1.0
"""Seconds between two looks at the clock."""

AGAIN = 3.0
"""Seconds until what can't be written is tried again."""

TIME_UP = "Time is up, and your work is handed in. Press Enter for the result."

Interrupt = Callable[[str], None]
"""What writes a text at once, as it is, though a line is being typed."""


class Clock(threading.Thread):
    """Runs beside a sitting that is worked within its `with`.

    Only while the student is asked something may it speak, so that nothing is said in the middle of
    something else: all besides `listen` is under one lock. What is typed meanwhile is not lost; it
    is the terminal that holds it. When the time is up it hands in.
    """

    def __init__(self, sitting: Sitting, interrupt: Interrupt | None) -> None:
        """Make a clock.

        Args:
            sitting: whose clock it is.
            interrupt: what it speaks with; None to keep silent, for scripts.
        """
        super().__init__(daemon=True)
        self._sitting = sitting
        self._interrupt = interrupt
        self._speaking = threading.Lock()
        self._ended = threading.Event()
        self._prompt = ""
        self._warned = 0
        self._refused = False

    def __enter__(self) -> Clock:
        """Begin to run."""
        self._speaking.acquire()
        self.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Stop; nothing is said after this."""
        self._ended.set()
        self._speaking.release()

    def listen(self, listen: Listen, prompt: str) -> str:
        """Ask with a prompt; meanwhile the clock may speak, and repeats the prompt after that."""
        self._prompt = prompt
        self._speaking.release()
        try:
            return listen(prompt)
        finally:
            self._speaking.acquire()

    def due(self) -> str:
        """Return a warning that little time is left, once for each of `WARNED_AT`, else ""."""
        left = self._sitting.left
        reached, before = warned_at(left), self._warned
        self._warned = reached
        return warning(left) if reached != before else ""

    def run(self) -> None:
        """Look at the clock each second, keep it, and speak when it is time."""
        while not self._ended.wait(AGAIN if self._sitting.over else LOOK):
            if self._sitting.is_due:
                self._sitting.note()
            if self._interrupt is not None:
                with self._speaking:
                    self._speak(self._interrupt)

    def _speak(self, interrupt: Interrupt) -> None:
        if self._ended.is_set() or self._sitting.ended:
            return
        if self._sitting.over:
            self._hand_in(interrupt)
        elif told := self.due():
            interrupt(f"\n{told}\n{self._prompt}")

    def _hand_in(self, interrupt: Interrupt) -> None:
        """Hand in; where that can't be written, say so once, and leave it for the next time."""
        try:
            self._sitting.hand_in()
        except RecordError as error:
            if not self._refused:
                told = "Time is up, but your work can't be saved yet"
                interrupt(f"\n{told}: {plain(str(error))}. Trying again.\n{self._prompt}")
            self._refused = True
        else:
            interrupt(f"\n{TIME_UP}\n")
