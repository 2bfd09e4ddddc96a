"""What may speak in plain lines while a line is typed, and only then."""

from __future__ import annotations

import threading
from collections.abc import Callable
from types import TracebackType

from leverstep.faces.terminal import Listen

Interrupt = Callable[[str], None]
"""What writes a text at once, as it is, though a line is being typed."""


class SpeakingBeside(threading.Thread):
    """Runs beside a conversation that is held within its `with`. A kind of it says what `run` does.

    Only while something is asked may it speak, so that nothing is said in the middle of something
    else: all besides `listen` is under one lock. What is typed meanwhile is not lost; it is the
    terminal that holds it.
    """

    def __init__(self, interrupt: Interrupt | None) -> None:
        """Make one; `interrupt` is what it speaks with, None to keep silent, for scripts."""
        super().__init__(daemon=True)
        self._interrupt = interrupt
        self._speaking = threading.Lock()
        self._ended = threading.Event()
        self._prompt = ""

    def __enter__(self) -> SpeakingBeside:
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
        """Ask with a prompt; meanwhile it may speak, and repeats the prompt after that."""
        self._prompt = prompt
        self._speaking.release()
        try:
            return listen(prompt)
        finally:
            self._speaking.acquire()
