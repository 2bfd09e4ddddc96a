"""What the commands know of the terminal that they run in."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

Say = Callable[[str], None]
"""What tells a line."""

Listen = Callable[[str], str]
"""What asks for a line with a prompt."""

STOP = ("stop", "quit", "exit")
"""The words that leave, at every prompt of the plain lines."""

DUMB = ("dumb", "unknown")
"""What `TERM` says of a terminal that can do no more than print lines."""


def open_streams() -> None:
    """Have what was closed before the start stand for nothing to read, or for nowhere to write."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115


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


def write(text: str) -> None:
    """Print a text at once as it is, without an end of its own."""
    print(text, end="", flush=True)
