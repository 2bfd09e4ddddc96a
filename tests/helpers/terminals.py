"""The tutor in a terminal of its own, with every byte that it writes there."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
from codecs import getincrementaldecoder
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic
from types import TracebackType

from helpers.homes import home_after_a_start
from helpers.source import SOURCE

PATIENCE = 20.0
SIZE = (24, 80)

COLOUR = {*range(30, 50), *range(90, 108)}
"""The numbers that set a colour of text or ground, or take it back (ECMA-48, 8.3.117)."""

F1, F2, CTRL_P, CTRL_Q = "\x1bOP", "\x1bOQ", "\x10", "\x11"

_SEQUENCE = r"\x1b(?:\[[^@-~]*[@-~]|[P\]].*?(?:\x07|\x1b\\)|[^\[P\]])"
_PART = re.compile(rf"\x1b\[([\d;]*)H|{_SEQUENCE}|[\r\n]|[^\x1b\r\n]+", re.DOTALL)
"""A place that the cursor goes to, a sequence that is not looked at, the end of a row, or text."""


def been_here(home: Path) -> Path:
    """Return a folder of a user's data, of somebody who has seen the tour."""
    home_after_a_start(home)
    (home / "tour").write_text("seen\n", encoding="utf-8")
    return home


class Terminal:
    """A run of the tutor by somebody who has seen the tour; used with `with`, so that it ends."""

    def __init__(
        self,
        *arguments: str,
        home: Path,
        program: list[str] | None = None,
        quiet: float = 0.3,
        size: tuple[int, int] = SIZE,
        **environment: str,
    ) -> None:
        """Start the tutor, or another `program`; `environment` is what it is told beside `TERM`.

        Before something is typed, nothing has been written for `quiet` seconds. `size` are the rows
        and columns.
        """
        self._quiet = quiet
        self._ours, theirs = pty.openpty()
        self._painted = Painted(*size)
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))
        theirs_only = (
            "NO_COLOR", "COLORTERM", "TEXTUAL", "LEVERSTEP", "TMUX", "COLUMNS", "LINES",
        )  # fmt: skip
        kept = {k: v for k, v in os.environ.items() if not k.startswith(theirs_only)}
        told = {
            "TERM": "xterm-256color",
            "LEVERSTEP_HOME": str(been_here(home)),
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

    @property
    def pid(self) -> int:
        """Return the number of the process, to kill it."""
        return self._program.pid

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
        self._painted.take(part)
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

    def turns_to(self, rows: int, columns: int) -> None:
        """Have another size from now on, as when a window is drawn larger."""
        self.settle()
        self._painted = Painted(rows, columns)
        size = struct.pack("HHHH", rows, columns, 0, 0)
        fcntl.ioctl(self._ours, termios.TIOCSWINSZ, size)
        self._program.send_signal(signal.SIGWINCH)

    def sends(self, keys: str) -> None:
        """Type some keys."""
        os.write(self._ours, keys.encode())

    def stands(self, is_there: Callable[[list[str]], bool]) -> list[str]:
        """Wait until something is true of the rows of the screen; return them."""
        deadline = monotonic() + PATIENCE
        while not is_there(rows := self._painted.rows):
            assert self._read(deadline), "\n".join(rows)
        return rows

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


class Painted:
    """What stands on a screen by what was written to it: text, and where the cursor went."""

    def __init__(self, rows: int, columns: int) -> None:
        self._decoder = getincrementaldecoder("utf-8")("replace")
        self._left = ""
        self._cells = [[" "] * columns for _ in range(rows)]
        self._row = self._column = 0

    @property
    def rows(self) -> list[str]:
        """Return the rows as text."""
        return ["".join(row) for row in self._cells]

    def take(self, written: bytes) -> None:
        """Take what was written, up to a sequence that is not whole yet."""
        text = self._left + self._decoder.decode(written)
        last = text.rfind("\x1b")
        is_whole = last < 0 or re.match(_SEQUENCE, text[last:], re.DOTALL)
        cut = len(text) if is_whole else last
        self._left = text[cut:]
        for part in _PART.finditer(text[:cut]):
            self._put(part)

    def _put(self, part: re.Match[str]) -> None:
        told = part[0]
        if part[1] is not None:
            row, _, column = part[1].partition(";")
            self._row, self._column = int(row or 1) - 1, int(column or 1) - 1
        elif told == "\r":
            self._column = 0
        elif told == "\n":
            self._row += 1
        elif not told.startswith("\x1b"):
            if self._row < len(self._cells):
                row, end = self._cells[self._row], self._column + len(told)
                row[self._column : end] = told[: max(0, len(row) - self._column)]
            self._column += len(told)


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
