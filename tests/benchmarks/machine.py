"""The machine that was measured on."""

from __future__ import annotations

import os
import platform


def machine() -> str:
    """Return the system and its version, the number of processors, and the version of Python.

    What a system's build is called beyond its version says nothing of how fast it is.
    """
    version = platform.release().partition("-")[0]
    processors = f"{os.cpu_count()} processors"
    return f"{platform.system()} {version}, {processors}, Python {platform.python_version()}"
