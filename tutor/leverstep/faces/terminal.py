"""What the commands know of the terminal that they run in."""

from __future__ import annotations

import errno
import gc
import io
import os
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from functools import cache
from pathlib import Path
from typing import Any, TextIO, cast

from leverstep.course.plain_text import plain

Say = Callable[[str], None]
"""What tells a line."""

Listen = Callable[[str], str]
"""What asks for a line with a prompt."""

STOP = ("stop", "leave", "quit", "exit")
"""The words that leave, at every prompt of the plain lines."""

DUMB = ("dumb", "unknown")
"""What `TERM` says of a terminal that can do no more than print lines."""


_END = re.compile(r"(\r?\n)")


class _Closed(io.TextIOWrapper):
    """An output that was closed before the start: what is written to it fails as on a full disk."""

    def write(self, text: str, /) -> int:
        """Fail, whatever the text is."""
        del text
        raise OSError(errno.EBADF, "it is closed")


class _Plain:
    """An output that shows ? for each sign of a text that could command a terminal."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write a text; its ends of line stay as they are."""
        parts = _END.split(text)
        return self._stream.write("".join(p if _END.fullmatch(p) else plain(p) for p in parts))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


class _PlainErrors(_Plain):
    """The same for errors, on which nobody is to put colours, since they would not pass."""

    def isatty(self) -> bool:
        """Return that it is no terminal."""
        return False


_GARBAGE = (20_000, 4, 1_250)


def look_for_garbage_seldom() -> None:
    """Have Python look for garbage seldom, and then not through so much that it is felt.

    Each frame of the screen, and each record that is marked, makes many objects that go with it:
    to look for them as often as Python does unasked takes a third of the screen's time. All that
    was made since it looked last is gone through at once, so that seldom is not too seldom.
    """
    gc.set_threshold(*_GARBAGE)


@contextmanager
def plain_output() -> Iterator[None]:
    """Let nothing that is printed command the terminal, whoever wrote it."""
    out, errors = _Plain(sys.stdout), _PlainErrors(sys.stderr)
    with redirect_stdout(cast(TextIO, out)), redirect_stderr(cast(TextIO, errors)):
        yield


def open_streams() -> None:
    """Open what was closed before the start: an input without a line, an output that fails.

    What is wrong is told nowhere where the way for that is closed.
    """
    if sys.stdin is None:
        sys.stdin = Path(os.devnull).open(encoding="utf-8")  # noqa: SIM115
    if sys.stdout is None:
        sys.stdout = _Closed(Path(os.devnull).open("wb"))  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115


def not_written(error: OSError) -> str:
    """Return in a sentence what could not be written."""
    if error.filename:
        return f"{plain(str(error.filename))} can't be written: {error.strerror}."
    try:
        os.getcwd()
    except OSError:
        return "The folder that this was started in is gone; change to one that exists."
    return f"The output can't be written: {error.strerror}."


def is_plain(wished: bool) -> bool:
    """Return whether to show plain lines: because it is wished, or there is no full screen.

    Of a terminal that has none it is said why, once.
    """
    if wished or os.environ.get("LEVERSTEP_PLAIN"):
        return True
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return True
    kind = os.environ.get("TERM", "")
    if kind in DUMB:
        _tell_why(kind)
    return kind in DUMB


@cache
def _tell_why(kind: str) -> None:
    told = f"TERM={kind} has no full screen: here are plain lines, as --plain gives them."
    print(told, file=sys.stderr, flush=True)


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)


def say_json(value: object) -> None:
    """Print a value as JSON, with every sign escaped that would not be shown as it is."""
    import json

    text = json.dumps(value, indent=2, ensure_ascii=False)
    print("".join(c if c.isprintable() or c == "\n" else json.dumps(c)[1:-1] for c in text))


def write(text: str) -> None:
    """Print a text at once as it is, without an end of its own."""
    print(text, end="", flush=True)
