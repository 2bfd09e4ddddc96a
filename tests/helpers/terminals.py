"""The tutor in a terminal of its own, with every byte that it writes there."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
from collections.abc import Iterator
from pathlib import Path
from time import monotonic
from types import TracebackType

from helpers.homes import home_after_a_start
from helpers.source import SOURCE

PATIENCE = 20.0
SIZE = (24, 80)

COLOUR = {*range(30, 50), *range(90, 108)}
"""The numbers that set a colour of text or ground, or take it back (ECMA-48, 8.3.117)."""

F1, CTRL_P, CTRL_Q = "\x1bOP", "\x10", "\x11"


class Terminal:
    """A run of the tutor; used with `with`, so that it ends in any case."""

    def __init__(
        self,
        *arguments: str,
        home: Path,
        program: list[str] | None = None,
        quiet: float = 0.3,
        **environment: str,
    ) -> None:
        """Start the tutor, or another `program`; `environment` is what it is told beside `TERM`.

        Before something is typed, nothing has been written for `quiet` seconds.
        """
        self._quiet = quiet
        self._ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", *SIZE, 0, 0))
        theirs_only = ("NO_COLOR", "COLORTERM", "TEXTUAL", "LEVERSTEP", "TMUX")
        kept = {k: v for k, v in os.environ.items() if not k.startswith(theirs_only)}
        told = {
            "TERM": "xterm-256color",
            "LEVERSTEP_HOME": str(home_after_a_start(home)),
            "PYTHONPATH": str(SOURCE),
        }
        self._program = subprocess.Popen(
            program or [sys.executable, "-m", "leverstep", *arguments],
            stdin=theirs, stdout=theirs, stderr=theirs, env=kept | told | environment,
        )  # fmt: skip
        os.close(theirs)
        self.written = b""

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None
    ) -> None:
        self._program.kill()
        self._program.wait()
        os.close(self._ours)

    def _read(self, until: float) -> bool:
        """Read what is written by a time; return whether there was anything."""
        left = until - monotonic()
        if left <= 0 or not select.select([self._ours], [], [], left)[0]:
            return False
        try:
            part = os.read(self._ours, 65536)
        except OSError:  # on Linux, when the other end is closed
            return False
        self.written += part
        return bool(part)

    def shows(self, text: str, since: int = 0) -> None:
        """Wait until a text has been written, from some place in `written` on."""
        deadline = monotonic() + PATIENCE
        while text.encode() not in self.written[since:]:
            assert self._read(deadline), f"{text!r} was not shown: {self.written[since:]!r}"

    def types(self, keys: str | bytes, then: str) -> None:
        """Type some keys and wait until a text is written after that."""
        self.settle()
        before = len(self.written)
        os.write(self._ours, keys.encode() if isinstance(keys, str) else keys)
        self.shows(then, before)

    def settle(self) -> None:
        """Read until nothing is written for a while."""
        while self._read(monotonic() + self._quiet):
            pass

    def ends(self) -> int:
        """Read to the end; return the exit code."""
        deadline = monotonic() + PATIENCE
        while self._program.poll() is None:
            self._read(min(deadline, monotonic() + 0.1))
            assert monotonic() < deadline
        self.settle()
        return self._program.returncode


def colours(written: bytes) -> Iterator[list[int]]:
    """Yield the numbers of every sequence that sets colours or attributes: `ESC [ 1;31 m`."""
    for numbers in re.findall(rb"\x1b\[([\d;:]*)m", written):
        yield [int(number or 0) for number in re.split(rb"[;:]", numbers)]


def through_a_problem(terminal: Terminal) -> None:
    """Go from home to a problem, enter a line, look at help and palette, and quit."""
    terminal.shows("Heels just off the floor")
    terminal.types(CTRL_P, "What would you like to do?")
    terminal.types("\x1b", "Heels just off the floor")
    terminal.types("\r", "line 1 of")
    terminal.types("9.99 N\r", "ot yet")
    terminal.types(F1, "Keys here")
    terminal.types("\x1b", "line 1 of")
    terminal.types(CTRL_Q, "\x1b[?1049l")
    assert terminal.ends() == 0
