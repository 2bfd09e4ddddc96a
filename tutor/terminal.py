"""What the commands know of the terminal that they run in."""

from __future__ import annotations

import os
import sys


def is_plain(wished: bool) -> bool:
    """Return whether to show plain lines: because it is wished, or there is no terminal."""
    wished = wished or bool(os.environ.get("LEVERSTEP_PLAIN"))
    terminal = sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"
    return wished or not terminal


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)


def write(text: str) -> None:
    """Print a text at once as it is, without an end of its own."""
    print(text, end="", flush=True)
