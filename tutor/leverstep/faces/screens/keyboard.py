"""What comes from the keyboard, before the toolkit makes keys of it."""

from __future__ import annotations

import sys
from codecs import IncrementalDecoder, getincrementaldecoder
from collections.abc import Callable
from functools import partial


def _forgiving(encoding: str) -> Callable[[], IncrementalDecoder]:
    """Return what makes a decoder that puts a sign in the place of what it can't read."""
    return partial(getincrementaldecoder(encoding), errors="replace")


def forgive_bytes() -> None:
    """Have bytes that are no UTF-8 come as a sign that stands for what can't be read.

    A terminal that is set to another encoding sends them. The toolkit decodes strictly, and ends
    with the first such byte; its reader of keys has no setting for that, but takes what makes the
    decoder from its own module. The console of Windows sends no bytes.
    """
    if sys.platform != "win32":
        from textual.drivers import linux_driver

        vars(linux_driver)["getincrementaldecoder"] = _forgiving
