"""The clock of a sitting in line mode: kept on the disk, and told of while a line is typed."""

from __future__ import annotations

import threading
from collections.abc import Callable
from types import TracebackType

from leverstep.course.plain_text import plain
from leverstep.dialogue.replies import Unkept
from leverstep.dialogue.sitting_dialogue import AGAIN, TIME_UP, SittingDialogue
from leverstep.faces.terminal import Listen

LOOK = 1.0
"""Seconds between two looks at the clock."""

Interrupt = Callable[[str], None]
"""What writes a text at once, as it is, though a line is being typed."""


class Clock(threading.Thread):
    """Runs beside a sitting that is worked within its `with`.

    Only while the student is asked something may it speak, so that nothing is said in the middle of
    something else: all besides `listen` is under one lock. What is typed meanwhile is not lost; it
    is the terminal that holds it. When the time is up it hands in.
    """

    def __init__(self, dialogue: SittingDialogue, interrupt: Interrupt | None) -> None:
        """Make a clock.

        Args:
            dialogue: that of the sitting whose clock it is.
            interrupt: what it speaks with; None to keep silent, for scripts.
        """
        super().__init__(daemon=True)
        self._dialogue = dialogue
        self._sitting = dialogue.sitting
        self._interrupt = interrupt
        self._speaking = threading.Lock()
        self._ended = threading.Event()
        self._prompt = ""
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
        elif told := self._dialogue.warning_due():
            interrupt(f"\n{told}\n{self._prompt}")

    def _hand_in(self, interrupt: Interrupt) -> None:
        """Hand in; where that can't be written, say so once, and leave it for the next time."""
        reply = self._dialogue.hand_in()
        if not isinstance(reply, Unkept):
            interrupt(f"\n{TIME_UP} Press Enter for the result.\n")
        elif not self._refused:
            self._refused = True
            told = f"{reply.heading}: {plain(reply.told)}"
            interrupt(f"\n{told} Trying again.\n{self._prompt}")
